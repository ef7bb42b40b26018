from __future__ import annotations

from datetime import date

import pytest

from pigmap.ground.purposes import Wanted, purposes_of, usual_rest, wanted_on
from pigmap.ground.tables import READY_COVER, ROOTING_WELCOME
from pigmap.records import Field, GroundCover, Purpose, Use
from tests.ground.invented import farm, field

MAY = date(2026, 5, 15)


def part(use: Use, first: str = "01-01", last: str = "12-31", **more: float | int | None) -> Purpose:
    return Purpose(uid=f"{use}{first}", field_uid="f", from_month_day=first, to_month_day=last, purpose=use, **more)  # type: ignore[arg-type]


def wanted(*parts: Purpose, cover: GroundCover = GroundCover.PASTURE, day: date = MAY) -> Wanted:
    its: Field = field(cover=cover)
    return wanted_on(farm(its, *parts), its, day)


def test_where_nobody_said_anything_a_field_is_grazed_lightly_all_year() -> None:
    assert wanted() == Wanted(Use.GRAZE_LIGHTLY, 30, 0.25)
    assert wanted(cover=GroundCover.WOODLAND).rest_days == 90
    assert wanted(part(Use.TURN_OVER, "09-01", "10-31")).use is Use.GRAZE_LIGHTLY


def test_turning_over_and_winter_ground_welcome_all_rooting() -> None:
    assert wanted(part(Use.TURN_OVER)).rooting == 1.0
    assert wanted(part(Use.WINTER_GROUND)).rooting == 1.0


def test_grazing_welcomes_no_more_than_leaves_the_cover_that_is_ready() -> None:
    assert ROOTING_WELCOME[Use.GRAZE_LIGHTLY] == pytest.approx(1 - READY_COVER)


@pytest.mark.parametrize("use", list(Use))
def test_every_use_has_a_usual_rest_and_rooting(use: Use) -> None:
    assert 0.0 <= ROOTING_WELCOME[use] <= 1.0
    assert usual_rest(use, GroundCover.WOODLAND) == 90
    assert usual_rest(use, GroundCover.PASTURE) == (90 if use in (Use.CLEAR_SCRUB, Use.WINTER_GROUND) else 30)


def test_what_was_typed_counts_and_says_so() -> None:
    assert wanted(part(Use.GRAZE_LIGHTLY, rest_days_wanted=85, rooting_wanted=0.4)) == Wanted(
        Use.GRAZE_LIGHTLY, 85, 0.4, True, True
    )
    assert wanted(part(Use.GRAZE_LIGHTLY, rest_days_wanted=0)).rest_days == 0


def test_of_two_on_one_day_the_longest_rest_and_the_least_rooting_count() -> None:
    found = wanted(part(Use.TURN_OVER, rest_days_wanted=70), part(Use.GRAZE_LIGHTLY, "05-01", "05-31"))
    assert found == Wanted(Use.TURN_OVER, 70, 0.25, True, False)


def test_parts_of_a_year_come_in_order_of_their_first_day() -> None:
    made = farm(field(), part(Use.CLOSED, "11-01", "02-28"), part(Use.TURN_OVER, "03-01", "10-31"))
    assert [each.purpose for each in purposes_of(made, "f")] == [Use.TURN_OVER, Use.CLOSED]
    assert purposes_of(made, "g") == []
