from __future__ import annotations

from datetime import timedelta

from pigmap.animals.weight import live_weight
from pigmap.document.edits import add_group, count_and_weigh
from pigmap.records import Farm, GroupEventKind
from tests.document.example_farm import DAY, done, example

LATER = DAY + timedelta(days=10)


def farm_of(mean_kg: float | None = None) -> Farm:
    return done(example(), add_group("Weaners", pigs=12, mean_kg=mean_kg, since=DAY, uid="them"))


def test_a_weight_can_be_added_later() -> None:
    farm = done(farm_of(), count_and_weigh("them", LATER, pigs=12, was=12, mean_kg=31.0))
    weight = live_weight(farm, "them", LATER)
    assert (weight.pigs, weight.mean_kg, weight.weighed) == (12, 31.0, True)


def test_a_weight_of_the_same_day_is_put_right_and_not_averaged() -> None:
    farm = done(farm_of(200.0), count_and_weigh("them", DAY, mean_kg=20.0, was=12))
    assert live_weight(farm, "them", DAY).mean_kg == 20.0
    again = done(farm, count_and_weigh("them", DAY, mean_kg=22.0, was=12))
    assert live_weight(again, "them", DAY).mean_kg == 22.0


def test_a_number_that_was_typed_wrong_is_put_right_from_the_start() -> None:
    farm = done(farm_of(), count_and_weigh("them", LATER, pigs=10, was=12))
    assert live_weight(farm, "them", DAY).pigs == 10
    assert len([each for each in farm.group_events.values() if each.group_uid == "them"]) == 1


def test_pigs_that_died_are_fewer_from_that_day() -> None:
    farm = done(farm_of(), count_and_weigh("them", LATER, pigs=11, was=12, why=GroupEventKind.DIED))
    assert [live_weight(farm, "them", day).pigs for day in (DAY, LATER)] == [12, 11]


def test_pigs_that_were_bought_are_more_from_that_day() -> None:
    farm = done(farm_of(), count_and_weigh("them", LATER, pigs=15, was=12, why=GroupEventKind.BOUGHT))
    assert [live_weight(farm, "them", day).pigs for day in (DAY, LATER)] == [12, 15]
