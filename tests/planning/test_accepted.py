from __future__ import annotations

from dataclasses import replace

import shapely

from pigmap.builtin.rules.ground_inside import rule as ground_inside
from pigmap.builtin.rules.nets_enough import rule as nets_enough
from pigmap.builtin.rules.one_place import rule as one_place
from pigmap.planning.accepted import all_the_same, with_reasons
from pigmap.planning.rule import Breach
from pigmap.planning.verify import breaches
from pigmap.records import Farm, KeepOut, Reason, Record, Stay
from tests.planning.invented import TODAY, farm_with, stay

RULES = (ground_inside, nets_enough, one_place)


def _because(rows: list[Record], why: str) -> list[Record]:
    return [replace(row, why_planned=why) if isinstance(row, Stay) else row for row in rows]


def _pond(reason: Reason = Reason.POND) -> KeepOut:
    return KeepOut(uid="pond", name="Old pond", reason=reason, shape=shapely.box(20, 20, 30, 30), net_m=2.0)


def _found(farm: Farm) -> dict[str, list[Breach]]:
    kept: dict[str, list[Breach]] = {}
    for rule, breach in breaches(farm, RULES, TODAY):
        kept.setdefault(rule, []).append(breach)
    return kept


def test_a_planned_stay_with_a_reason_is_accepted_and_one_without_is_not() -> None:
    rows = _because([*stay("sows", (0, 0), 3, 8)], "the pond is dry")
    (breach,) = _found(farm_with(_pond(), *rows))["ground-inside"]
    assert breach.accepted == "the pond is dry"
    (breach,) = _found(farm_with(_pond(), *stay("sows", (0, 0), 3, 8)))["ground-inside"]
    assert breach.accepted == ""


def test_it_stays_accepted_once_the_pigs_have_come() -> None:
    rows = _because([*stay("sows", (0, 0), -2, 3)], "the pond is dry")
    (breach,) = _found(farm_with(_pond(), *rows))["ground-inside"]
    assert (breach.weight, breach.accepted) == ("fact", "the pond is dry")


def test_no_reason_is_accepted_near_an_overhead_line() -> None:
    rows = _because([*stay("sows", (0, 0), 3, 8)], "it is off")
    (breach,) = _found(farm_with(_pond(Reason.OVERHEAD_LINE), *rows))["ground-inside"]
    assert breach.accepted == ""


def test_a_reason_for_the_ground_is_none_for_nets_that_are_short() -> None:
    rows = _because([*stay("sows", (0, 0), 3, 8)], "the pond is dry")
    assert [breach.accepted for breach in _found(farm_with(_pond(), *rows, nets=3))["nets-enough"]] == [""]
    found = _found(farm_with(*_because(rows, "nets are borrowed for it"), nets=3))
    assert [breach.accepted for breach in found["nets-enough"]] == ["nets are borrowed for it"]


def test_a_group_cannot_be_in_two_places_for_any_reason() -> None:
    rows = _because([*stay("sows", (0, 0), 1, 6), *stay("sows", (100, 0), 3, 8)], "it must be")
    assert [breach.accepted for breach in _found(farm_with(*rows))["one-place"]] == [""]


def test_breaches_of_other_tables_stay_as_they_are() -> None:
    breach = Breach("nets", "uid", all_the_same("a"), all_the_same("b"))
    assert with_reasons(farm_with(), [breach]) == (breach,)


def test_the_sentence_ends_once_however_the_reason_was_typed() -> None:
    assert str(all_the_same(" the pond is dry. ")) == "Placed all the same: the pond is dry."
