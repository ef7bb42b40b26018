"""Fences and earth stakes that read too little or too much (W8, W9)."""

from __future__ import annotations

from collections.abc import Iterable
from datetime import date

from pigmap.fence.cautions.caution import Caution, Level
from pigmap.fence.electric.case import Level as Strength
from pigmap.fence.electric.case import level_of
from pigmap.fence.electric.earth import EarthLevel, earth_level
from pigmap.fence.electric.expected import Expected
from pigmap.fence.electric.tables import EARTH_BAD_KV, EARTH_WARN_KV, STOP_KV, WARN_KV
from pigmap.records import Check, Energizer, EnergizerReading
from pigmap.text import Quantity, Text, Value
from pigmap.text.source import METER_DECIDES

VOLTS_SOURCE = Text("DIN VDE 0131 for 2 kV, sheets of energizers for 3 kV; that they hold for pigs is own choice")
EARTH_SOURCE = Text("own choice: print differs from 0.2 to 0.8 kV")


def weak_reading(called: Value, checks: Iterable[Check]) -> Caution | None:
    """Return what the last reading of a fence says (W8); None where it is enough, or nothing was read.

    Of several on one day the one that was written down last counts.
    """
    read = [check for check in checks if check.fence_kv is not None]
    last = max(reversed(read), key=lambda check: check.checked_on, default=None)
    if last is None or last.fence_kv is None:
        return None
    level = level_of(last.fence_kv)
    if level not in (Strength.STOP, Strength.WARN):
        return None
    stop = level is Strength.STOP
    values: dict[str, Value] = {
        "paddock": called,
        "read": Quantity(last.fence_kv, "kV", 1),
        "day": last.checked_on,
        "least": Quantity(STOP_KV if stop else WARN_KV, "kV", 0),
    }
    if stop:
        words = Text("{paddock} read {read} on {day}; do not rely on a fence below {least}.", values)
        remedy = Text("See to it today: read at the energizer, then walk the fence, and read again at the far end.")
        return Caution("W8", Level.STOP, words, remedy, VOLTS_SOURCE, "reason")
    words = Text("{paddock} read {read} on {day}, below {least}.", values)
    remedy = Text("Mow, clear the bottom strand, look at the clips, then read again at the far end.")
    return Caution("W8", Level.WARN, words, remedy, VOLTS_SOURCE)


def weak_estimate(called: Value, should: Expected) -> Caution | None:
    """Return that a fence is weak by the estimate (W8), where nothing was read; None where it is enough."""
    if should.weak is None:
        return None
    words = Text("{paddock} was not read yet. {weak}", {"paddock": called, "weak": should.weak})
    return Caution("W8", Level.WARN, words, Text("Read it at the far end: the meter decides."), METER_DECIDES)


def earth_test(energizer: Energizer, readings: Iterable[EnergizerReading], today: date) -> Caution | None:
    """Return what the last earth test of an energizer says (W9); None where it is good, or there was none."""
    tests = [each for each in readings if each.earth_kv is not None and each.read_on <= today]
    last = max(tests, key=lambda each: (each.read_on, each.uid), default=None)
    if last is None or last.earth_kv is None or earth_level(last.earth_kv) is EarthLevel.GOOD:
        return None
    bad = earth_level(last.earth_kv) is EarthLevel.BAD
    values: dict[str, Value] = {
        "energizer": energizer.name,
        "read": Quantity(last.earth_kv, "kV", 2),
        "day": last.read_on,
        "most": Quantity(EARTH_BAD_KV if bad else EARTH_WARN_KV, "kV", 1),
    }
    words = Text("{energizer}: the earth test of {day} read {read}, more than {most}.", values)
    remedy = Text("Wet the ground round the earth stakes or set one more, then test again.")
    return Caution("W9", Level.STOP if bad else Level.WARN, words, remedy, EARTH_SOURCE, "reason" if bad else "care")
