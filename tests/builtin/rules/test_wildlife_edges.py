from __future__ import annotations

import shapely

from pigmap.builtin.rules.wildlife_edges import rule
from pigmap.records import Way, WayKind
from tests.planning.invented import TODAY, farm_with, stay


def _brook(east: float) -> Way:
    return Way(kind=WayKind.WATERCOURSE, name="Brook", line=shapely.LineString([(east, -100), (east, 300)]))


def test_sides_along_water_are_worth_knowing_of_what_stands_and_what_comes() -> None:
    for first, last in ((-2, 5), (2, 5)):
        (breach,) = rule.breaches(farm_with(_brook(54.9), *stay("sows", (0, 0), first, last)), TODAY)
        assert (breach.weight, breach.caution) == ("care", "W12")
        assert str(breach.words) == "0 0 has a side along Brook, where wild animals pass."
        assert str(breach.remedy).startswith("Look along that side first every day")


def test_farther_off_and_long_ago_nothing_is_said() -> None:
    assert not list(rule.breaches(farm_with(_brook(55.1), *stay("sows", (0, 0), 2, 5)), TODAY))
    assert not list(rule.breaches(farm_with(_brook(52), *stay("sows", (0, 0), -9, -5)), TODAY))
