"""What a fence should read, mown and grown, how far that is from enough, and what one thing more would change."""

from __future__ import annotations

from typing import NamedTuple

from pigmap.fence.electric.case import SOUND, Case, Fault, Level, level_of, volts
from pigmap.fence.electric.earth import EarthLevel, earth_level, earth_test_kv
from pigmap.fence.electric.tables import STOP_KV, WARN_KV, Growth
from pigmap.records.energizer import MOST_OUTPUT_J
from pigmap.text import Quantity, Text

MOWN = (Growth.LIGHT, Growth.CLEAN)
"""What counts as a mown line, from the worse to the better. Own choice."""
GROWN = (Growth.HEAVY, Growth.MEDIUM)
"""What counts as one that grass has grown into. Own choice."""
STEP_KV = 0.5
"""Estimates are told in such steps [kV]: they are not better than that. Own choice."""


_WEAK = {
    Level.STOP: Text(
        "Under {least} is reckoned at the far end once grass grows in: do not rely on it. Mow the line first, and use "
        "fewer nets or a stronger energizer.",
        {"least": Quantity(STOP_KV, "kV", 0)},
    ),
    Level.WARN: Text(
        "Under {least} is reckoned at the far end once grass grows in. Keep the line mown, and read it every day.",
        {"least": Quantity(WARN_KV, "kV", 0)},
    ),
}


class Between(NamedTuple):
    """From the worse to the better of two growths [kV]."""

    low_kv: float
    high_kv: float

    @property
    def words(self) -> Text:
        """Return the two as a keeper says them: ``5 to 6 kV``."""
        low, high = (round(each / STEP_KV) * STEP_KV for each in self)
        if high <= 0:
            return Text("next to nothing")
        if low == high:
            return Text("{volts} kV", {"volts": f"{high:g}"})
        return Text("{low} to {high} kV", {"low": f"{low:g}", "high": f"{high:g}"})


class Expected(NamedTuple):
    """The far end of a fence as it should read."""

    mown: Between
    grown: Between
    opened: Between
    """Mown, with a clip forgotten where it does most."""
    far_m: float
    """Where to read, along the nets from the feed [m]."""
    level: Level
    """Whether it is enough in medium growth."""
    earth_test_kv: float
    """What the test of the earth stakes should read [kV]."""
    earth_level: EarthLevel
    joule_more_kv: float | None
    """What a joule more would add at the far end in medium growth [kV]; None where the output is not known, or is the
    most that there is."""
    net_more_kv: float
    """What one net more would add, which is less than nothing [kV]."""
    stake_more_kv: float | None
    """What one earth stake more would add [kV]; None where nothing is told of the stakes."""

    @property
    def weak(self) -> Text | None:
        """Return the caution where the fence is not enough once grass grows in; None where it is."""
        return _WEAK.get(self.level)


def expected(case: Case) -> Expected:
    """Return what a fence should read."""
    medium = volts(case, Growth.MEDIUM)
    test_kv = earth_test_kv(case.supply, case.earth_ohm)
    return Expected(
        mown=_between(case, MOWN),
        grown=_between(case, GROWN),
        opened=_between(case, MOWN, Fault(forgotten=len(case.nets) - 1)) if case.ring else Between(0.0, 0.0),
        far_m=medium.far_m,
        level=level_of(medium.far_kv),
        earth_test_kv=test_kv,
        earth_level=earth_level(test_kv),
        joule_more_kv=_more(case, _with_a_joule(case), medium.far_kv),
        net_more_kv=_far_kv(case._replace(nets=(*case.nets, case.nets[-1]))) - medium.far_kv,
        stake_more_kv=_more(case, _with_a_stake(case), medium.far_kv),
    )


def series_and_ring(case: Case) -> tuple[Between, Between]:
    """Return the mown voltage at the far end with the nets in a row, and with their ends joined to a ring."""
    return _between(case._replace(ring=False), MOWN), _between(case._replace(ring=True), MOWN)


def _between(case: Case, growths: tuple[Growth, Growth], fault: Fault = SOUND) -> Between:
    return Between(*(volts(case, growth, fault).far_kv for growth in growths))


def _far_kv(case: Case) -> float:
    return volts(case, Growth.MEDIUM).far_kv


def _more(case: Case, other: Case | None, now_kv: float) -> float | None:
    return None if other is None else _far_kv(other) - now_kv


def _with_a_joule(case: Case) -> Case | None:
    if not case.output_j or case.output_j + 1 > MOST_OUTPUT_J:
        return None
    return case._replace(supply=case.supply.at_output(case.output_j, case.output_j + 1))


def _with_a_stake(case: Case) -> Case | None:
    if case.stakes is None:
        return None
    return case._replace(stakes=case.stakes._replace(number=case.stakes.number + 1))
