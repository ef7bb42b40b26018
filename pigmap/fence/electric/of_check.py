"""What a daily check of a fence says beside what it should read."""

from __future__ import annotations

from datetime import date

from pigmap.fence.electric.cause import Cause, Read, likely_cause
from pigmap.fence.electric.expected import Expected
from pigmap.fence.electric.of_paddock import PaddockFence
from pigmap.records import Farm

EARTH_TEST_DAYS = 180
"""A test of the earth stakes that is older explains nothing: soil dries and wets with the season. Own choice."""


def cause_of(
    farm: Farm, fence: PaddockFence, should: Expected, far_kv: float, on: date, *, soil_on_net: bool | None = None
) -> Cause | None:
    """Return why a reading of a day may be other than it should [kV]; None where it is about as it should be."""
    return likely_cause(fence.case, should, Read(far_kv, last_earth_kv(farm, fence.energizer.uid, on), soil_on_net))


def last_earth_kv(farm: Farm, energizer_uid: str, on: date) -> float | None:
    """Return the last test of the earth stakes up to a day that is not too old [kV]; None where there is none."""
    tests = [
        each
        for each in farm.energizer_readings.values()
        if each.energizer_uid == energizer_uid
        and each.earth_kv is not None
        and 0 <= (on - each.read_on).days <= EARTH_TEST_DAYS
    ]
    return max(tests, key=lambda each: (each.read_on, each.uid)).earth_kv if tests else None
