from __future__ import annotations

from datetime import date
from types import MappingProxyType

import pytest

from pigmap.animals.tables import DROPPED, USUAL_KG
from pigmap.animals.weight import Weight, live_weight
from pigmap.records import Farm, Group, GroupEvent, GroupEventKind, PigClass, Projection

PROJECTION = Projection(name="flat", authority="NONE", code=1, definition="")


def farm_with(*happened: tuple[str, GroupEventKind, int | None, float | None]) -> Farm:
    group = Group(uid="g", name="Tamsin's gilts", pig_class=PigClass.GROWING)
    events = [
        GroupEvent(uid=f"e{n}", group_uid="g", happened_on=date.fromisoformat(on), kind=kind, pigs=pigs, mean_kg=kg)
        for n, (on, kind, pigs, kg) in enumerate(happened)
    ]
    return Farm(
        document_uid="d",
        projection=PROJECTION,
        groups=MappingProxyType({"g": group}),
        group_events=MappingProxyType({event.uid: event for event in events}),
    )


K = GroupEventKind


def test_counts_follow_what_happened_to_the_group() -> None:
    farm = farm_with(
        ("2026-01-01", K.BOUGHT, 20, 30.0),
        ("2026-02-01", K.DIED, 1, None),
        ("2026-03-01", K.JOINED, 5, None),
        ("2026-03-01", K.SPLIT, 4, None),
        ("2026-04-01", K.SOLD, 12, None),
        ("2026-05-01", K.BORN, 9, None),
        ("2026-06-01", K.SERVED, 3, None),
    )
    days = ["2026-01-01", "2026-02-01", "2026-03-01", "2026-04-01", "2026-05-01", "2026-06-01"]
    assert [live_weight(farm, "g", date.fromisoformat(day)).pigs for day in days] == [20, 19, 20, 8, 17, 17]


def test_weight_is_linear_between_weighings_and_level_outside() -> None:
    farm = farm_with(
        ("2026-01-01", K.BOUGHT, 10, 30.0), ("2026-01-11", K.WEIGHED, 10, 36.0), ("2026-01-21", K.WEIGHED, 10, 46.0)
    )
    days = ["2025-12-01", "2026-01-06", "2026-01-11", "2026-01-16", "2026-03-01"]
    assert [live_weight(farm, "g", date.fromisoformat(day)).mean_kg for day in days] == [30.0, 33.0, 36.0, 41.0, 46.0]


def test_two_weighings_on_one_day_count_by_their_pigs() -> None:
    farm = farm_with(("2026-01-01", K.WEIGHED, 3, 50.0), ("2026-01-01", K.WEIGHED, 1, 70.0))
    assert live_weight(farm, "g", date(2026, 1, 1)).mean_kg == 55.0


def test_pigs_bought_into_a_group_do_not_count_as_its_weighing() -> None:
    farm = farm_with(("2026-01-01", K.BOUGHT, 10, 60.0), ("2026-02-01", K.BOUGHT, 2, 10.0))
    assert live_weight(farm, "g", date(2026, 2, 1)) == Weight(12, 60.0, 720.0)


def test_before_anything_was_written_down_there_are_as_many_as_afterwards() -> None:
    farm = farm_with(("2026-01-01", K.BOUGHT, 10, 60.0))
    assert live_weight(farm, "g", date(2025, 1, 1)).pigs == 10


def test_a_group_that_was_only_weighed_has_the_pigs_on_the_scale() -> None:
    farm = farm_with(("2026-01-01", K.WEIGHED, 7, 60.0))
    assert live_weight(farm, "g", date(2026, 5, 1)) == Weight(7, 60.0, 420.0)


def test_a_group_of_which_nothing_is_known_has_no_pigs_of_the_usual_weight() -> None:
    assert live_weight(farm_with(), "g", date(2026, 1, 1)) == Weight(0, USUAL_KG[PigClass.GROWING], 0.0, weighed=False)


def test_no_more_pigs_leave_than_there_were() -> None:
    farm = farm_with(("2026-01-01", K.BOUGHT, 3, 60.0), ("2026-02-01", K.SOLD, 5, None))
    assert live_weight(farm, "g", date(2026, 2, 1)).pigs == 0


def test_a_group_that_is_not_there_is_a_fault_of_the_program() -> None:
    with pytest.raises(KeyError):
        live_weight(farm_with(), "nobody", date(2026, 1, 1))


@pytest.mark.parametrize("pig_class", list(PigClass))
def test_every_class_has_its_figures(pig_class: PigClass) -> None:
    assert DROPPED[pig_class].nitrogen_g > DROPPED[pig_class].phosphorus_g > 0
    assert USUAL_KG[pig_class] > 0
