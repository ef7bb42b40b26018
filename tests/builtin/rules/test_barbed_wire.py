from __future__ import annotations

import shapely

from pigmap.builtin.rules.barbed_wire import rule
from pigmap.records import Way, WayKind
from tests.planning.invented import TODAY, farm_with, stay


def _fence(east: float, note: str = "Old barbed wire.") -> Way:
    line = shapely.LineString([(east, -100), (east, 300)])
    return Way(kind=WayKind.PERMANENT_FENCE, name="March fence", line=line, note=note)


def test_a_plan_against_barbed_wire_is_held_until_there_is_a_reason() -> None:
    (breach,) = rule.breaches(farm_with(_fence(50.1), *stay("sows", (0, 0), 2, 5)), TODAY)
    assert (breach.weight, breach.reason_helps, breach.caution) == ("plan", "ground", "W6")
    assert str(breach.words).startswith("0 0 stands against March fence, which has barbed wire")
    assert str(breach.remedy).startswith("Keep live wires 0.15 m or more off it")


def test_a_hand_farther_off_or_not_called_so_nothing_is_said() -> None:
    assert not list(rule.breaches(farm_with(_fence(50.2), *stay("sows", (0, 0), 2, 5)), TODAY))
    assert not list(rule.breaches(farm_with(_fence(50.1, ""), *stay("sows", (0, 0), 2, 5)), TODAY))


def test_what_stood_there_is_a_fact() -> None:
    (breach,) = rule.breaches(farm_with(_fence(50), *stay("sows", (0, 0), -9, -5)), TODAY)
    assert breach.weight == "fact"
