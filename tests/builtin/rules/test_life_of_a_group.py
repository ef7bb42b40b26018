"""Rules about slaughter, farrowing, newcomers and boars: each with a farm on which it speaks and one on which not."""

from __future__ import annotations

from dataclasses import replace
from datetime import date, timedelta
from typing import Any

import pytest
import shapely

from pigmap.builtin.rules import (
    arrivals_apart,
    boars_apart,
    farrowing,
    slaughter_bookings,
    small_piglets,
    standstill,
    withdrawal,
)
from pigmap.planning.rule import Breach, Rule
from pigmap.records import (
    Direction,
    Farm,
    GroupEvent,
    GroupEventKind,
    Litter,
    PigClass,
    Place,
    PlaceKind,
    Record,
    RegisterEntry,
    Setting,
    SlaughterBooking,
    Treatment,
    WeighedBy,
    change,
)
from tests.planning.invented import TODAY, farm_with, stay


def day(offset: int) -> date:
    return TODAY + timedelta(days=offset)


def came(pigs: int = 10, kg: float | None = 100.0, on: int = -50, group: str = "sows") -> GroupEvent:
    kind = GroupEventKind.BOUGHT
    return GroupEvent(uid=f"{group} {on}", group_uid=group, happened_on=day(on), kind=kind, pigs=pigs, mean_kg=kg)


def booked(goes: int = 10, **columns: Any) -> SlaughterBooking:
    return SlaughterBooking(**{"uid": "b", "group_uid": "sows", "goes_on": day(goes), "pigs": 4, **columns})


def given(on: int = -5, **columns: Any) -> Treatment:
    columns = {"uid": "t", "group_uid": "sows", "product": "Wormer", "withdrawal_days": 28, **columns}
    return Treatment(given_on=day(on), **columns)


def of_class(farm: Farm, **kinds: PigClass) -> Farm:
    groups = farm.groups
    return farm.after([change(groups[uid], replace(groups[uid], pig_class=kind)) for uid, kind in kinds.items()])


def found(rule: Rule, *rows: Record) -> list[Breach]:
    return list(rule.breaches(farm_with(*rows), TODAY))


def said(breach: Breach) -> str:
    return f"{breach.words} {breach.remedy}"


# Withdrawal


def test_pigs_booked_within_the_days_of_the_label_are_named_with_the_first_day_after() -> None:
    (breach,) = found(withdrawal.rule, came(), given(), booked())
    assert said(breach) == (
        "Sows are booked for 2026-05-30; they are free of Wormer on 2026-06-13, by the label. "
        "Book them for 2026-06-13 or later."
    )
    assert (breach.weight, breach.table, breach.uid, breach.day) == ("plan", "slaughter_bookings", "b", day(10))


def test_pigs_booked_for_the_first_day_after_withdrawal_may_go() -> None:
    assert not found(withdrawal.rule, came(), given(), booked(24))
    assert found(withdrawal.rule, came(), given(), booked(23))
    assert not found(withdrawal.rule, came(), given(group_uid="weaners"), booked())


def test_pigs_that_went_too_soon_are_a_fact() -> None:
    (breach,) = found(withdrawal.rule, came(), given(), booked(-1, gone=4))
    assert breach.weight == "fact"
    assert "Sows went to slaughter on 2026-05-19; they are free of Wormer on 2026-06-13" in str(breach.words)
    assert "Tell the slaughterhouse and the vet" in str(breach.remedy)


def test_days_that_nobody_typed_hold_a_booking_until_they_are() -> None:
    (breach,) = found(withdrawal.rule, came(), given(withdrawal_days=None), booked())
    assert said(breach) == (
        "Sows, booked for 2026-05-30, had Wormer on 2026-05-15; its days of withdrawal are not typed. "
        "Type them from the label; 0 where it asks for none."
    )
    assert not found(withdrawal.rule, came(), given(-300, withdrawal_days=None), booked())
    assert not found(withdrawal.rule, came(), given(withdrawal_days=0), booked())


def test_where_only_some_had_it_the_others_may_go() -> None:
    (breach,) = found(withdrawal.rule, came(), given(pigs=3, which="12, 13, 14"), booked())
    assert breach.weight == "care"
    assert str(breach.remedy) == "Leave those that had it at home, by their marks."
    (breach,) = found(withdrawal.rule, came(), given(pigs=3), booked(pigs=9))
    assert breach.weight == "plan"


def test_pigs_bring_what_they_were_given_to_another_group() -> None:
    joined = GroupEvent(
        uid="j", group_uid="sows", happened_on=day(-2), kind=GroupEventKind.JOINED, pigs=2, other_group_uid="weaners"
    )
    (breach,) = found(withdrawal.rule, came(), joined, given(group_uid="weaners"), booked())
    assert "Wormer" in str(breach.words)
    later = given(-1, group_uid="weaners")
    assert not found(withdrawal.rule, came(), joined, later, booked())


def test_what_was_told_as_treated_holds_a_booking_too() -> None:
    event = GroupEvent(
        uid="e", group_uid="sows", happened_on=day(-1), kind=GroupEventKind.TREATED, withdrawal_days=20, note="Drench"
    )
    (breach,) = found(withdrawal.rule, came(), event, booked())
    assert str(breach.words) == "Sows are booked for 2026-05-30; they are free of Drench on 2026-06-09, by the label."


def test_pigs_that_were_sold_while_they_were_held_are_told_of() -> None:
    sold = GroupEvent(uid="s", group_uid="sows", happened_on=TODAY, kind=GroupEventKind.SOLD, pigs=2)
    (breach,) = found(withdrawal.rule, came(), given(), sold)
    assert said(breach) == (
        "Pigs of Sows were sold on 2026-05-20; they are free of Wormer on 2026-06-13. "
        "Tell the buyer in writing what they had, and on which day they are free of it."
    )
    assert breach.weight == "care"
    assert not found(withdrawal.rule, came(), given(-40), sold)
    (breach,) = found(withdrawal.rule, came(), given(), sold, booked(0, gone=2))
    assert breach.table == "slaughter_bookings"


# Bookings


def test_more_pigs_than_there_will_be_are_named() -> None:
    (breach,) = found(slaughter_bookings.rule, came(), booked(pigs=12))
    assert said(breach) == (
        "12 of Sows are booked for 2026-05-30; 10 pigs will be there. "
        "Book fewer, or take the others from another group."
    )
    assert breach.weight == "plan"
    assert not found(slaughter_bookings.rule, came(), booked(pigs=10))


def test_what_an_earlier_booking_takes_is_gone_for_the_next() -> None:
    first = booked(5, uid="a", pigs=8)
    (breach,) = found(slaughter_bookings.rule, came(), first, booked(pigs=4))
    assert "2 pigs will be there" in str(breach.words)


def test_pigs_that_will_be_too_light_are_told_with_how_they_were_weighed() -> None:
    weighed = GroupEvent(
        uid="w",
        group_uid="sows",
        happened_on=TODAY,
        kind=GroupEventKind.WEIGHED,
        mean_kg=60.0,
        weighed_by=WeighedBy.EYE,
    )
    farm = of_class(farm_with(came(kg=None), weighed, booked(1, least_kg=100.0)), sows=PigClass.GESTATING)
    (breach,) = slaughter_bookings.rule.breaches(farm, TODAY)
    assert said(breach) == (
        "4 of Sows from 100 kg are booked for 2026-05-21; about 0 will be as heavy (mean 60 kg, by eye of 2026-05-20). "
        "Weigh some of them, and book later or fewer if it is so. "
        "That they differ by 0.1 of their weight is assumed."
    )
    assert breach.weight == "care"
    heavy = of_class(farm_with(came(kg=110.0), booked(1, least_kg=100.0)), sows=PigClass.GESTATING)
    assert not list(slaughter_bookings.rule.breaches(heavy, TODAY))


def test_how_pigs_were_weighed_is_said_where_nobody_did() -> None:
    (breach,) = found(slaughter_bookings.rule, came(kg=None), booked(1, least_kg=100.0))
    assert "as such pigs usually weigh" in str(breach.words)
    (breach,) = found(slaughter_bookings.rule, came(kg=20.0, on=-1), booked(1, least_kg=100.0))
    assert "as they were when they came on 2026-05-19" in str(breach.words)


def test_a_group_far_from_its_loading_place_is_told_of() -> None:
    yard = Place(uid="yard", name="Yard", kind=PlaceKind.LOADING_PLACE, point=shapely.Point(600, 25))
    rows = [came(), booked(3), yard, *stay("sows", (0, 0), -2, 9)]
    (breach,) = found(slaughter_bookings.rule, *rows)
    assert said(breach) == (
        "Sows go on 2026-05-23 and are in 0 0 before, 550 m from Yard. "
        "Plan a paddock within 300 m of it for the 2 d before, or walk them in good time. Both are assumed."
    )
    far = Setting(key="loading distance", value_json="600", unit="m")
    assert not found(slaughter_bookings.rule, *rows, far)
    near = [came(), booked(3), yard, *stay("sows", (250, 0), -2, 9)]
    assert not found(slaughter_bookings.rule, *near, Setting(key="loading distance", value_json="310", unit="m"))


def test_a_booking_whose_day_has_passed_asks_how_many_went() -> None:
    (breach,) = found(slaughter_bookings.rule, came(), booked(-2))
    assert said(breach) == (
        "Sows were booked for slaughter on 2026-05-18; how many went is not told. Tell how many went; 0 where none did."
    )
    assert not found(slaughter_bookings.rule, came(), booked(-2, gone=0))


# Farrowing


def litter(due: int | None = 10, **columns: Any) -> Litter:
    columns = {"uid": "l", "group_uid": "sows", "sow": "Berta", **columns}
    return Litter(due_on=None if due is None else day(due), **columns)


@pytest.mark.parametrize(("first", "speaks"), [(4, False), (5, True), (17, True), (18, False)])
def test_a_move_around_the_day_a_sow_is_due_is_named(first: int, *, speaks: bool) -> None:
    rows = [litter(), *stay("sows", (0, 0), -3, first), *stay("sows", (50, 0), first, first + 5)]
    assert bool(found(farrowing.rule, *rows)) is speaks


def test_a_move_around_farrowing_says_what_to_do() -> None:
    (breach,) = found(farrowing.rule, litter(), *stay("sows", (0, 0), -3, 8), *stay("sows", (50, 0), 8, 14))
    assert said(breach) == (
        "Sows move on 2026-05-28; Berta is due on 2026-05-30. "
        "Move them before 2026-05-25, or let them stay until 2026-06-07. 5 d before and 7 d after are assumed."
    )
    assert (breach.table, breach.uid, breach.weight) == ("stays", "sows 50 0 8", "plan")


def test_a_sow_with_young_piglets_stays() -> None:
    born = litter(None, farrowed_on=day(-2))
    moves = [*stay("sows", (0, 0), -3, 2), *stay("sows", (50, 0), 2, 9)]
    (breach,) = found(farrowing.rule, born, *moves)
    assert said(breach) == (
        "Sows move on 2026-05-22; Berta farrowed on 2026-05-18. "
        "Let them stay until 2026-05-26, or leave her and her litter behind. 7 d after farrowing are assumed."
    )
    assert not found(farrowing.rule, replace(born, weaned_on=TODAY), *moves)
    assert not found(farrowing.rule, replace(born, farrowed_on=day(-20)), *moves)


def test_hut_and_straw_are_asked_for_before_she_is_due() -> None:
    (breach,) = found(farrowing.rule, litter(4))
    assert said(breach) == (
        "Berta of Sows is due on 2026-05-24: hut and straw are to be out. "
        "Set the hut on dry, level ground, its back to the wind, with fresh straw. 5 d before are assumed."
    )
    assert breach.weight == "care"
    assert not found(farrowing.rule, litter(6))


def test_a_sow_that_is_overdue_is_asked_after() -> None:
    (breach,) = found(farrowing.rule, litter(-6))
    assert said(breach) == (
        "Berta of Sows was due on 2026-05-14; whether she farrowed is not told. "
        "Tell the day she farrowed, or the day she was served again. It is asked after 5 d: assumed."
    )


# Piglets


def test_small_piglets_behind_nets_want_care() -> None:
    rows = [litter(None, farrowed_on=day(-10)), *stay("sows", (0, 0), -12, 5)]
    (breach,) = found(small_piglets.rule, *rows)
    assert str(breach.words) == "Sows have small piglets, of Berta, behind nets."
    assert str(breach.remedy).endswith("Small means under 8 kg, or up to 35 d old: assumed.")
    assert "slip through a net or are caught in it: look several times a day" in str(breach.remedy)
    assert (breach.weight, breach.table, breach.uid) == ("care", "groups", "sows")
    assert not found(small_piglets.rule, litter(None, farrowed_on=day(-50)), *stay("sows", (0, 0), -12, 5))
    assert not found(small_piglets.rule, litter(None, farrowed_on=day(-10)))


def test_light_weaned_pigs_behind_nets_want_care() -> None:
    def at(kg: float) -> list[Breach]:
        rows = [came(8, kg, on=0, group="weaners"), *stay("weaners", (0, 0), 0, 5)]
        return list(small_piglets.rule.breaches(of_class(farm_with(*rows), weaners=PigClass.WEANED), TODAY))

    (breach,) = at(6.0)
    assert str(breach.words) == "Weaners weigh about 6 kg each and are behind nets."
    assert not at(12.0)


# Newcomers


def line(on: int = -3, group: str | None = "weaners") -> RegisterEntry:
    return RegisterEntry(uid="r", happened_on=day(on), direction=Direction.ON, pigs=8, group_uid=group)


def test_newcomers_beside_others_are_told_of_for_thirty_days() -> None:
    stays = [*stay("sows", (0, 0), -5, 9), *stay("weaners", (50, 0), -3, 9)]
    (breach,) = found(arrivals_apart.rule, line(), *stays)
    assert said(breach) == (
        "Weaners came on 2026-05-17 and stand beside Sows from 2026-05-17. "
        "Keep a paddock's breadth between them until 2026-06-16, and see to them last. "
        "Beside means nearer than 3 m: assumed."
    )
    assert breach.weight == "care"
    assert "at least 30 days" in str(breach.source)
    assert not found(arrivals_apart.rule, line(-31), *stays)
    assert not found(arrivals_apart.rule, line(), *stay("sows", (0, 0), -5, 9), *stay("weaners", (100, 0), -3, 9))


def test_a_farm_that_is_begun_has_no_newcomers() -> None:
    stays = [*stay("sows", (0, 0), -5, 9), *stay("weaners", (50, 0), -3, 9)]
    assert not found(arrivals_apart.rule, came(on=-2), came(on=-2, group="weaners"), *stays)


def test_pigs_bought_into_a_group_are_told_of() -> None:
    (breach,) = found(arrivals_apart.rule, came(), came(3, None, on=-2))
    assert said(breach) == (
        "Pigs from elsewhere came to Sows on 2026-05-18. "
        "Newcomers stand apart for about 30 days; watch all of Sows until 2026-06-17."
    )


def test_pigs_that_leave_soon_after_others_came_are_told_of() -> None:
    (breach,) = found(standstill.rule, line(), booked())
    assert said(breach) == (
        "Sows are to leave on 2026-05-30; pigs came onto the farm on 2026-05-17. In England that keeps pigs from "
        "leaving until 2026-06-06, with exceptions. Ask what holds where you are and for this journey: "
        "local rules come first."
    )
    assert breach.weight == "care"
    assert "general licence" in str(breach.source)
    assert not found(standstill.rule, line(), booked(17))
    assert found(standstill.rule, line(), booked(16))
    assert not found(standstill.rule, came(), booked())


# Boars


@pytest.mark.parametrize("kind", [PigClass.GILT, PigClass.GESTATING])
def test_boars_beside_gilts_or_sows_are_named(kind: PigClass) -> None:
    rows = [*stay("sows", (0, 0), -2, 6), *stay("weaners", (50, 0), 2, 6)]
    farm = of_class(farm_with(*rows), sows=kind, weaners=PigClass.BOAR)
    (breach,) = boars_apart.rule.breaches(farm, TODAY)
    assert said(breach) == (
        "Weaners stand beside Sows from 2026-05-22, with one fence between. "
        "Boars go through a fence to them. Plan one of the two elsewhere, or give a reason."
    )
    assert (breach.weight, breach.uid, breach.also) == ("plan", "weaners 50 0 2", ("sows 0 0 -2",))


def test_boars_that_stand_there_already_are_a_fact() -> None:
    rows = [*stay("sows", (0, 0), -2, 6), *stay("weaners", (50, 0), -1, 6)]
    (breach,) = boars_apart.rule.breaches(of_class(farm_with(*rows), sows=PigClass.GILT, weaners=PigClass.BOAR), TODAY)
    assert breach.weight == "fact"
    assert str(breach.remedy) == "Boars go through a fence to them. If it is not wanted, move one of the two."


def test_boars_away_from_gilts_or_at_another_time_break_nothing() -> None:
    kinds = {"sows": PigClass.GILT, "weaners": PigClass.BOAR}
    apart = farm_with(*stay("sows", (0, 0), -2, 6), *stay("weaners", (100, 0), 2, 6))
    later = farm_with(*stay("sows", (0, 0), -2, 6), *stay("weaners", (50, 0), 7, 9))
    beside = farm_with(*stay("sows", (0, 0), -2, 6), *stay("weaners", (50, 0), 2, 6))
    assert not list(boars_apart.rule.breaches(of_class(apart, **kinds), TODAY))
    assert not list(boars_apart.rule.breaches(of_class(later, **kinds), TODAY))
    assert not list(boars_apart.rule.breaches(beside, TODAY))


def test_a_farm_without_books_breaks_none_of_them() -> None:
    farm = farm_with(*stay("sows", (0, 0), -2, 6), *stay("weaners", (100, 0), 2, 6), came(), came(group="weaners"))
    for each in (arrivals_apart, boars_apart, farrowing, slaughter_bookings, small_piglets, standstill, withdrawal):
        assert not list(each.rule.breaches(farm, TODAY))
