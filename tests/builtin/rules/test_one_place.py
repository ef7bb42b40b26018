from __future__ import annotations

from datetime import timedelta

import pytest

from pigmap.builtin.rules.one_place import rule
from pigmap.records import StayState, remove
from tests.planning.invented import TODAY, farm_with, stay


def test_a_group_that_walks_from_paddock_to_paddock_breaks_nothing() -> None:
    farm = farm_with(*stay("sows", (0, 0), -5, 0), *stay("sows", (50, 0), 0, 5), *stay("sows", (100, 0), 5, 9))
    assert not list(rule.breaches(farm, TODAY))


def test_a_group_in_two_paddocks_is_a_fact_where_both_are_recorded() -> None:
    farm = farm_with(*stay("sows", (0, 0), -9, -3), *stay("sows", (50, 0), -4, 0))
    (breach,) = rule.breaches(farm, TODAY)
    assert str(breach.words) == "Sows are in 0 0 and in 50 0 on 2026-05-16."
    assert str(breach.remedy) == "Put right the day on which they left 0 0."
    assert (breach.weight, breach.table, breach.uid) == ("fact", "stays", "sows 50 0 -4")


def test_a_group_that_is_planned_in_two_paddocks_can_be_planned_anew() -> None:
    farm = farm_with(*stay("sows", (0, 0), -2, 4), *stay("sows", (50, 0), 3, 6))
    (breach,) = rule.breaches(farm, TODAY)
    assert breach.weight == "plan"
    assert breach.day == TODAY + timedelta(days=3)
    assert str(breach.remedy) == "Let the stay in 0 0 end first, or plan the next one later."


def test_a_stay_with_no_day_out_gives_way_to_what_is_planned_after_it() -> None:
    farm = farm_with(*stay("sows", (0, 0), -2, None), *stay("sows", (50, 0), 3, 6))
    assert not list(rule.breaches(farm, TODAY))


def test_two_groups_on_one_ground_are_named_with_the_area() -> None:
    farm = farm_with(*stay("sows", (0, 0), -2, 4), *stay("weaners", (30, 0), -1, 2))
    (breach,) = rule.breaches(farm, TODAY)
    assert str(breach.words) == "Sows and Weaners are both on 1000 m² of 30 0 on 2026-05-19."
    assert breach.weight == "fact"
    assert "If they did meet, nothing is to be done" in str(breach.remedy)


def test_two_groups_planned_on_one_ground_can_be_planned_elsewhere() -> None:
    farm = farm_with(*stay("sows", (0, 0), -2, 4), *stay("weaners", (0, 0), 2, 6))
    (breach,) = rule.breaches(farm, TODAY)
    assert str(breach.remedy) == "Plan Weaners elsewhere, or later."


@pytest.mark.parametrize(("corner", "first"), [((50, 0), -1), ((0, 0), 4)], ids=["beside it", "after it"])
def test_neighbours_and_followers_do_not_meet(corner: tuple[float, float], first: int) -> None:
    farm = farm_with(*stay("sows", (0, 0), -2, 4), *stay("weaners", corner, first, first + 3))
    assert not list(rule.breaches(farm, TODAY))


def test_what_other_software_took_out_is_said_to_be_gone() -> None:
    farm = farm_with(*stay("sows", (0, 0), -9, -3), *stay("sows", (50, 0), -4, 0))
    (breach,) = rule.breaches(farm.after([remove(farm.paddocks["paddock 0 0"])]), TODAY)
    assert str(breach.words) == "Sows are in a paddock that is gone and in 50 0 on 2026-05-16."
    both = farm_with(*stay("sows", (0, 0), -2, 4), *stay("weaners", (30, 0), -1, 2))
    (breach,) = rule.breaches(both.after([remove(both.groups["weaners"])]), TODAY)
    assert str(breach.words).startswith("Sows and pigs of a group that is gone are both on 1000 m²")


def test_a_group_that_is_late_still_meets_the_one_that_comes() -> None:
    late = stay("sows", (0, 0), -9, -1, state=StayState.RUNNING)
    (breach,) = rule.breaches(farm_with(*late, *stay("weaners", (0, 0), 0, 5)), TODAY)
    assert breach.weight == "fact"
    assert all(breach.is_about(uid) for uid in ("sows 0 0 -9", "weaners 0 0 0"))
    assert not breach.is_about("sows")


def test_a_plan_that_is_late_contradicts_nothing() -> None:
    late = stay("sows", (0, 0), -9, -3, state=StayState.RUNNING)
    assert not list(rule.breaches(farm_with(*late, *stay("sows", (50, 0), -3, 5, state=StayState.PLANNED)), TODAY))


def test_a_stay_that_runs_on_though_the_next_is_recorded_is_named() -> None:
    running = stay("sows", (0, 0), -9, None)
    (breach,) = rule.breaches(farm_with(*running, *stay("sows", (50, 0), -5, -2)), TODAY)
    assert str(breach.remedy) == "Put right the day on which they left 0 0."
