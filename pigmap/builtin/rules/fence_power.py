"""The rule that fences that stand have power enough, and that their earth carries it back."""

from __future__ import annotations

from collections.abc import Iterable, Iterator
from datetime import date

from pigmap.fence.cautions.caution import Caution
from pigmap.fence.cautions.readings import earth_test, weak_estimate, weak_reading
from pigmap.fence.cautions.weather import earth_return
from pigmap.fence.electric.of_paddock import fence_of
from pigmap.planning.cautions import of_stay, weight_of
from pigmap.planning.names import paddock_called
from pigmap.planning.rule import Breach
from pigmap.planning.uses import Use
from pigmap.records import Check, EnergizerReading, Farm, Stay, StayState, lasting_on
from pigmap.text import Text


class FencePower:
    """Looks at the last readings of fences and earth stakes, and at frost and drought."""

    api = 1
    name = "fence-power"
    title = Text("Fences have power enough")

    def breaches(self, farm: Farm, today: date) -> Iterable[Breach]:
        """Yield them: earth stakes first, then fence by fence."""
        yield from _earths(farm, today)
        there = [each for each in lasting_on(farm, today).values() if each.covers(today)]
        running = [each.stay for each in there if each.stay.state is StayState.RUNNING]
        checks = _checks(farm, running, today)
        for stay in sorted(running, key=lambda stay: (stay.in_on, stay.uid)):
            called = paddock_called(farm, stay.paddock_uid)
            volts = _volts(farm, stay, checks[stay.uid], today)
            for caution in (volts, earth_return(farm, called, today)):
                if caution is not None:
                    yield of_stay(Use(stay, ()), caution)


def _volts(farm: Farm, stay: Stay, checks: list[Check], today: date) -> Caution | None:
    """Return what is said of a fence's power: by what was read, else by the estimate."""
    called = paddock_called(farm, stay.paddock_uid)
    if any(check.fence_kv is not None for check in checks):
        return weak_reading(called, checks)
    fence = fence_of(farm, stay.paddock_uid, stay.ground, stay.group_uid, today, today=today)
    return weak_estimate(called, fence.expected) if fence is not None else None


def _checks(farm: Farm, stays: list[Stay], today: date) -> dict[str, list[Check]]:
    """Return the daily checks of each stay up to today."""
    found: dict[str, list[Check]] = {stay.uid: [] for stay in stays}
    by_paddock: dict[str, list[Stay]] = {}
    for stay in stays:
        by_paddock.setdefault(stay.paddock_uid, []).append(stay)
    for check in farm.checks.values():
        for stay in by_paddock.get(check.paddock_uid, ()):
            if stay.in_on <= check.checked_on <= today:
                found[stay.uid].append(check)
    return found


def _earths(farm: Farm, today: date) -> Iterator[Breach]:
    readings: dict[str, list[EnergizerReading]] = {}
    for reading in farm.energizer_readings.values():
        readings.setdefault(reading.energizer_uid, []).append(reading)
    for energizer in farm.energizers.values():
        caution = earth_test(energizer, readings.get(energizer.uid, ()), today)
        if caution is not None:
            yield Breach(
                "energizers",
                energizer.uid,
                caution.words,
                caution.remedy,
                weight_of(caution, planned=False),
                caution=caution.id,
                source=caution.source,
            )


rule = FencePower()
