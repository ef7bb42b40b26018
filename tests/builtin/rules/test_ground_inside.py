from __future__ import annotations

from dataclasses import replace
from datetime import timedelta

import pytest
import shapely

from pigmap.builtin.rules.ground_inside import rule
from pigmap.records import KeepOut, Reason, Stay, StayState, add, change, remove
from tests.planning.invented import TODAY, farm_with, stay


def _pond(**more: str) -> KeepOut:
    return KeepOut(uid="pond", name="Pond", reason=Reason.POND, shape=shapely.box(104, 60, 130, 80), net_m=6.0, **more)  # type: ignore[arg-type]


def test_ground_inside_its_field_and_clear_of_the_pond_breaks_nothing() -> None:
    farm = farm_with(_pond(), *stay("sows", (0, 0), -2, 3), *stay("sows", (40, 50), 3, 6))
    assert not list(rule.breaches(farm, TODAY))


def test_ground_outside_every_field_is_named_with_its_area() -> None:
    farm = farm_with(*stay("sows", (280, 0), -2, 3))
    (breach,) = rule.breaches(farm, TODAY)
    assert str(breach.words) == "1500 m² of 280 0 lie outside every field."
    assert str(breach.remedy) == "Move the paddock, or draw the edge of the field where it really is."
    assert breach.weight == "fact"


def test_a_farm_without_fields_has_all_ground_outside() -> None:
    farm = farm_with(*stay("sows", (0, 0), 2, 3))
    bare = farm.after(remove(field) for field in farm.fields.values())
    (breach,) = rule.breaches(bare, TODAY)
    assert str(breach.words).startswith("2500 m² of 0 0")


def test_nets_too_near_the_pond_are_named_with_the_distance() -> None:
    farm = farm_with(_pond(), *stay("sows", (50, 50), 2, 3))
    (breach,) = rule.breaches(farm, TODAY)
    assert str(breach.words) == "50 50 reaches into the keep-out Pond, from which nets stay 6 m away."
    assert str(breach.remedy) == "Set the paddock farther off, or correct the keep-out if it is drawn too wide."
    assert breach.weight == "plan"


@pytest.mark.parametrize(("first", "last", "found"), [("05-01", "06-30", 1), ("11-01", "02-28", 0)])
def test_a_keep_out_of_some_months_counts_in_them(first: str, last: str, found: int) -> None:
    farm = farm_with(_pond(from_month_day=first, to_month_day=last), *stay("sows", (50, 50), 2, 3))
    assert len(list(rule.breaches(farm, TODAY))) == found


def test_ground_used_again_and_again_is_named_once() -> None:
    twice = [*stay("sows", (280, 0), -20, -15), *stay("sows", (280, 0), -5, 0)]
    farm = farm_with(*twice)
    (breach,) = rule.breaches(farm, TODAY)
    assert breach.uid == "sows 280 0 -20"


def test_a_keep_out_of_some_months_finds_a_later_stay_on_the_same_ground() -> None:
    twice = [*stay("sows", (50, 50), -200, -195), *stay("sows", (50, 50), -5, 0)]  # November and May
    farm = farm_with(_pond(from_month_day="05-01", to_month_day="06-30"), *twice)
    (breach,) = rule.breaches(farm, TODAY)
    assert breach.uid == "sows 50 50 -5"


def test_a_keep_out_that_begins_during_a_stay_counts() -> None:
    farm = farm_with(_pond(from_month_day="05-22", to_month_day="06-30"), *stay("sows", (50, 50), -2, 3))
    assert len(list(rule.breaches(farm, TODAY))) == 1
    farm = farm_with(_pond(from_month_day="05-23", to_month_day="06-30"), *stay("sows", (50, 50), -2, 3))
    assert not list(rule.breaches(farm, TODAY))


def test_ground_of_a_paddock_that_is_gone_is_told_of_all_the_same() -> None:
    farm = farm_with(_pond(), *stay("sows", (50, 50), 2, 3), *stay("weaners", (280, 0), 2, 3))
    bare = farm.after(remove(paddock) for paddock in farm.paddocks.values())
    assert sorted(str(breach.words) for breach in rule.breaches(bare, TODAY)) == [
        "1500 m² of a paddock that is gone lie outside every field.",
        "A paddock that is gone reaches into the keep-out Pond, from which nets stay 6 m away.",
    ]


def test_a_keep_out_that_is_drawn_moved_or_removed_later_counts_as_it_is_now() -> None:
    farm = farm_with(*stay("sows", (50, 50), -9, -5), *stay("sows", (50, 50), -3, 0))
    assert not list(rule.breaches(farm, TODAY))
    drawn = farm.after([add(_pond())])
    (breach,) = rule.breaches(drawn, TODAY)
    assert all(breach.is_about(f"sows 50 50 {first}") for first in (-9, -3))
    away = replace(_pond(), shape=shapely.box(200, 100, 210, 110))
    assert not list(rule.breaches(drawn.after([change(_pond(), away)]), TODAY))
    assert not list(rule.breaches(drawn.after([remove(_pond())]), TODAY))


def test_pigs_that_are_still_there_when_the_months_of_a_keep_out_begin_are_in_it() -> None:
    pond = _pond(from_month_day="05-18", to_month_day="06-30")
    farm = farm_with(pond, *stay("sows", (50, 50), -9, -4, state=StayState.RUNNING))
    assert len(list(rule.breaches(farm, TODAY))) == 1
    assert not list(rule.breaches(farm, TODAY - timedelta(days=3)))


def test_a_keep_out_smaller_than_the_play_of_a_net_is_no_place_for_pigs() -> None:
    well = KeepOut(uid="well", reason=Reason.WELL, shape=shapely.Point(70, 70), radius_m=0.4, net_m=0.0)
    assert len(list(rule.breaches(farm_with(well, *stay("sows", (50, 50), -9, -4)), TODAY))) == 1


def test_ground_of_a_damaged_file_whose_edges_cross_is_judged_all_the_same() -> None:
    crossed = shapely.Polygon([(10, 10), (40, 40), (40, 10), (10, 40), (-4000, 20)])
    paddock, there = stay("sows", (0, 0), -2, 3)
    assert isinstance(there, Stay)
    (breach,) = rule.breaches(farm_with(paddock, replace(there, ground=crossed)), TODAY)
    assert "lie outside every field" in str(breach.words)
