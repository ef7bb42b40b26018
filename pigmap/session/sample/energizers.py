"""Rows of the sample farm's energizers: one in the yard, and one that moves with the pigs in the wood."""

from __future__ import annotations

from collections.abc import Iterator
from datetime import date, timedelta
from random import Random

from pigmap.records import Energizer, EnergizerReading, PowerSource, Soil
from pigmap.session.sample.ids import uid
from pigmap.session.sample.timeline import PORKERS

YARD = uid("energizer", "yard")
WITH_PORKERS = uid("energizer", "with porkers")
_WEEKS = 8
_FULL_V, _LOSS_V = 12.8, 0.25
"""A battery after a swap, and what it loses in a week [V]; invented."""
_SWAP_WEEKS = 4


def energizers(today: date) -> list[Energizer]:
    """Return both; all figures are invented."""
    return [
        Energizer(
            uid=YARD,
            name="Yard energizer",
            source=PowerSource.MAINS,
            place_uid=uid("place", "Yard energizer"),
            output_j=2.5,
            rods=4,
            rod_m=1.8,
            rod_mm=16.0,
            rods_apart_m=3.0,
            soil=Soil.LOAM,
            lead_m=80.0,
        ),
        Energizer(
            uid=WITH_PORKERS,
            name="Battery unit of the wood",
            source=PowerSource.BATTERY,
            group_uid=uid("group", PORKERS),
            output_j=0.8,
            rods=2,
            rod_m=1.0,
            rod_mm=12.0,
            rods_apart_m=2.0,
            soil=Soil.CLAY,
            swap_on=_last_swap(today) + timedelta(weeks=_SWAP_WEEKS),
        ),
    ]


def readings(today: date) -> Iterator[EnergizerReading]:
    """Yield what was read at the battery week by week, and one earth test."""
    chance = Random("energizers")
    for week in range(_WEEKS, 0, -1):
        day = today - timedelta(weeks=week) + timedelta(days=2)
        used = ((day - _last_swap(today)).days // 7) % _SWAP_WEEKS
        volts = round(_FULL_V - _LOSS_V * used - chance.random() * 0.1, 1)
        yield EnergizerReading(
            uid=uid("reading", day), energizer_uid=WITH_PORKERS, read_on=day, battery_v=volts, earth_kv=None
        )
    yield EnergizerReading(uid=uid("earth test"), energizer_uid=YARD, read_on=today - timedelta(days=40), earth_kv=0.2)


def _last_swap(today: date) -> date:
    return today - timedelta(days=12)
