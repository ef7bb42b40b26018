from __future__ import annotations

import shapely

from pigmap.builtin.rules.watercourses import rule
from pigmap.records import Way, WayKind
from tests.planning.invented import TODAY, farm_with, stay


def test_what_is_planned_across_water_can_be_changed_and_what_stands_is_a_fact() -> None:
    brook = Way(kind=WayKind.WATERCOURSE, line=shapely.LineString([(0, 25), (300, 25)]))
    rows = [*stay("sows", (0, 0), -2, 4), *stay("sows", (50, 0), 4, 9), *stay("weaners", (100, 60), -2, 9)]
    found = [*rule.breaches(farm_with(brook, *rows), TODAY)]
    assert [(breach.uid, breach.weight, breach.caution) for breach in found] == [
        ("sows 0 0 -2", "fact", "W12"),
        ("sows 50 0 4", "plan", "W12"),
    ]
    assert all(str(breach.words).endswith("lies across the watercourse.") for breach in found)


def test_without_a_watercourse_nothing_is_told() -> None:
    assert not list(rule.breaches(farm_with(*stay("sows", (0, 0), -2, 4)), TODAY))
