from __future__ import annotations

import shapely

from pigmap.builtin.rules.gates_free import rule
from pigmap.planning.gates import gates_covered
from pigmap.records import Place, PlaceKind, StayState
from tests.planning.invented import TODAY, farm_with, stay


def _gate(east: float, north: float, name: str = "Yard gate", kind: PlaceKind = PlaceKind.GATE) -> Place:
    return Place(kind=kind, name=name, point=shapely.Point(east, north))


def test_a_planned_paddock_over_a_gate_wants_care() -> None:
    farm = farm_with(_gate(20, 0.5), *stay("sows", (0, 0), 2, 5))
    (breach,) = rule.breaches(farm, TODAY)
    assert str(breach.words) == "0 0 covers Yard gate: nobody gets through while pigs are there."
    assert str(breach.remedy) == "Leave the gate free, or keep it shut and tell whoever uses it."
    assert (breach.weight, breach.table, breach.uid) == ("care", "stays", "sows 0 0 2")


def test_nets_that_stand_in_a_gate_cover_it_and_farther_ones_leave_it_free() -> None:
    assert len(list(rule.breaches(farm_with(_gate(-1.4, 20), *stay("sows", (0, 0), 2, 5)), TODAY))) == 1
    assert not list(rule.breaches(farm_with(_gate(-1.6, 20), *stay("sows", (0, 0), 2, 5)), TODAY))


def test_what_stood_or_stands_is_not_told_of() -> None:
    farm = farm_with(_gate(20, 20), *stay("sows", (0, 0), -9, -5), *stay("weaners", (0, 0), -2, 5))
    assert {row.state for row in farm.stays.values()} == {StayState.PAST, StayState.RUNNING}
    assert not list(rule.breaches(farm, TODAY))


def test_only_gates_count_and_one_without_a_name_is_told_too() -> None:
    tap = _gate(10, 10, "Tap", PlaceKind.WATER_POINT)
    farm = farm_with(tap, _gate(20, 20, ""), *stay("sows", (0, 0), 2, 5))
    (breach,) = rule.breaches(farm, TODAY)
    assert str(breach.words) == "0 0 covers a gate: nobody gets through while pigs are there."
    assert [gate.name for gate in gates_covered(farm, shapely.box(0, 0, 50, 50))] == [""]
