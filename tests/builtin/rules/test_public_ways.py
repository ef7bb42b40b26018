from __future__ import annotations

from dataclasses import replace

import shapely

from pigmap.builtin.rules.public_ways import rule
from pigmap.planning.accepted import with_reasons
from pigmap.records import Way, WayKind, change
from tests.planning.invented import TODAY, farm_with, stay


def _path(east: float) -> Way:
    return Way(kind=WayKind.PATH, name="Mill path", line=shapely.LineString([(east, -100), (east, 300)]))


def test_a_plan_across_a_path_is_held_until_there_is_a_reason() -> None:
    farm = farm_with(_path(25), *stay("sows", (0, 0), 2, 5))
    across, signs = rule.breaches(farm, TODAY)
    assert (across.weight, across.reason_helps, across.caution) == ("plan", "ground", "W5")
    assert str(across.words) == "0 0 lies across Mill path."
    assert "gate or stile" in str(across.remedy)
    assert signs.weight == "care"
    planned = farm.stays["sows 0 0 2"]
    told = farm.after([change(planned, replace(planned, why_planned="a stile is there"))])
    assert with_reasons(told, list(rule.breaches(told, TODAY)))[0].accepted == "a stile is there"


def test_along_a_path_signs_are_counted_for_what_stands_and_what_comes() -> None:
    (running,) = rule.breaches(farm_with(_path(57.9), *stay("sows", (0, 0), -2, 5)), TODAY)
    assert (running.weight, str(running.words)) == ("care", "0 0 stands along Mill path for 50 m: 2 warning signs.")
    assert not list(rule.breaches(farm_with(_path(58.1), *stay("sows", (0, 0), -2, 5)), TODAY))
    assert not list(rule.breaches(farm_with(_path(25), *stay("sows", (0, 0), -9, -5)), TODAY))
