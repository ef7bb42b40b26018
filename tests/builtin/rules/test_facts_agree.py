from __future__ import annotations

from dataclasses import replace
from datetime import timedelta

import shapely

from pigmap.builtin.rules.facts_agree import rule
from pigmap.planning.rule import Breach
from pigmap.records import Check, Farm, Group, GroupEvent, GroupEventKind, Net, NetUse, Record, add, change
from pigmap.session.sample import sample_farm
from tests.planning.invented import TODAY, farm_with, stay

NET = Net(uid="n36", net_kind_uid="kind", number="36")
ROWS: list[Record] = [*stay("sows", (0, 0), -9, -4), *stay("sows", (50, 0), -4, None)]


def _found(farm: Farm) -> list[Breach]:
    return list(rule.breaches(farm, TODAY))


def _use(uid: str, paddock: str, x: float, first: int, last: int | None) -> NetUse:
    return NetUse(
        uid=uid,
        net_uid="n36",
        net_kind_uid="kind",
        paddock_uid=f"paddock {paddock}",
        run=shapely.LineString([(x, 0), (x, 50)]),
        set_on=TODAY + timedelta(days=first),
        taken_on=None if last is None else TODAY + timedelta(days=last),
    )


def _check(day: int, paddock: str) -> Check:
    return Check(
        uid="c",
        group_uid="sows",
        paddock_uid=f"paddock {paddock}",
        checked_on=TODAY + timedelta(days=day),
        all_well=True,
    )


def test_a_net_in_two_places_on_one_day_is_flagged_and_stands() -> None:
    farm = farm_with(NET, *ROWS, _use("a", "0 0", 0, -9, None), _use("b", "50 0", 100, -4, None))
    (breach,) = _found(farm)
    assert str(breach.words) == "Net 36 stands at 0 0 and at 50 0 on 2026-05-16."
    assert str(breach.remedy) == "Look which of the two it is, and put the other right."
    assert breach.weight == "fact"


def test_a_net_that_was_taken_up_on_the_day_it_was_set_elsewhere_is_in_one_place() -> None:
    assert not _found(farm_with(NET, *ROWS, _use("a", "0 0", 0, -9, -4), _use("b", "50 0", 100, -4, None)))


def test_a_check_where_the_group_is_not_recorded_is_flagged() -> None:
    (breach,) = _found(farm_with(*ROWS, _check(-2, "0 0")))
    assert str(breach.words) == "Sows were checked in 0 0 on 2026-05-18 and are recorded in 50 0."
    assert str(breach.remedy) == "If it was so, nothing is to be done; if not, put right the day or the paddock."
    assert not _found(farm_with(*ROWS, _check(-2, "50 0")))
    assert not _found(farm_with(*ROWS, _check(-4, "0 0")))  # the day of the move: they were in both


def test_a_stay_over_before_the_first_pigs_came_is_flagged() -> None:
    came = GroupEvent(uid="e", group_uid="sows", happened_on=TODAY, kind=GroupEventKind.BOUGHT, pigs=8)
    (breach,) = _found(farm_with(*ROWS, came))
    assert str(breach.words) == "Sows are recorded on 2026-05-11, before their first pigs came on 2026-05-20."
    assert str(breach.remedy) == "Put right one of the two days."


def test_an_event_after_the_end_of_a_group_is_flagged() -> None:
    farm = farm_with()
    weighed = GroupEvent(uid="e", group_uid="sows", happened_on=TODAY, kind=GroupEventKind.WEIGHED, mean_kg=80.0)
    sows = farm.groups["sows"]
    assert isinstance(sows, Group)
    farm = farm.after([change(sows, replace(sows, closed_on=TODAY - timedelta(days=3)))])
    (breach,) = _found(farm.after([add(weighed)]))
    assert str(breach.words) == "Sows are recorded on 2026-05-20, after the group ended on 2026-05-17."
    assert str(breach.remedy) == "Put right one of the two days."


def test_the_sample_farm_agrees_with_itself() -> None:
    assert not list(rule.breaches(sample_farm(TODAY), TODAY))


def test_a_check_of_a_day_long_before_any_pigs_came_is_flagged_and_stands() -> None:
    (breach,) = _found(farm_with(*ROWS, _check(-36_500, "0 0")))
    assert str(breach.words) == "0 0 was checked on 1926-06-14; no pigs are recorded there before 2026-05-11."
    assert str(breach.remedy) == "If it was so, nothing is to be done; if not, put right the day or the paddock."
    assert breach.weight == "fact"
    unnamed = replace(_check(-36_500, "0 0"), group_uid=None)
    assert len(_found(farm_with(*ROWS, unnamed))) == 1
    assert not _found(farm_with(*ROWS, _check(-8, "0 0")))


def test_a_check_whose_place_lies_outside_its_paddock_is_flagged_with_how_far() -> None:
    there = replace(_check(-2, "50 0"), point=shapely.Point(75, 20))
    assert not _found(farm_with(*ROWS, there))
    assert not _found(farm_with(*ROWS, replace(there, point=shapely.Point(75, 70))))
    (breach,) = _found(farm_with(*ROWS, replace(there, point=shapely.Point(75, 130))))
    assert str(breach.words) == "The daily check of 50 0 on 2026-05-18 lies 80 m outside of it."
    assert str(breach.remedy) == (
        "If it was there, nothing is to be done; if not, put right the paddock or the place. A phone errs by less than "
        "30 m: assumed."
    )
    assert breach.weight == "fact"


def test_a_soil_that_no_class_is_named_by_is_told_with_its_words() -> None:
    farm = farm_with(*ROWS)
    told = farm.after([change(farm.fields["field"], replace(farm.fields["field"], soil="red earth"))])
    (breach,) = _found(told)
    assert str(breach.words) == "The soil of Long Field is red earth, and nobody knows how much water that holds."
    assert str(breach.remedy) == (
        "Say whether its soil is sand, loam, clay or peat; the longer name of a soil may go with it."
    )
    assert not _found(farm.after([change(farm.fields["field"], replace(farm.fields["field"], soil="sandy loam"))]))
