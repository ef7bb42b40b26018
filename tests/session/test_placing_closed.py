"""Fields that are closed, or given up, on days of the stay that is placed."""

from __future__ import annotations

from datetime import date, timedelta

import pytest
import shapely

from pigmap.document.edits import add_field, amend, record_stay, set_purpose
from pigmap.drawing.words import render
from pigmap.geometry.rectangle import Rectangle
from pigmap.records import Edit, Farm, Use
from pigmap.session.placing import PlacingGround, PlacingWarning, judge
from tests.document.example_farm import DAY, FIELD, GROUP, KIND, PADDOCK, done, example, square

CLOSED = set_purpose(FIELD, "06-10", "06-30", Use.CLOSED)


def farm(*edits: Edit) -> Farm:
    return done(example(), record_stay(GROUP, PADDOCK, DAY), *edits)


def warnings(
    on: Farm, day: date, out_on: date | None = None, place: Rectangle | None = None
) -> tuple[PlacingWarning, ...]:
    ground = PlacingGround(on, day, GROUP, out_on=out_on)
    return judge(on, {}, place or square(1), on.net_kinds[KIND], day, group_uid=GROUP, ground=ground).warnings


def said(*found: PlacingWarning) -> list[tuple[str, str]]:
    return [(render(warning.text), render(warning.remedy)) for warning in found]


def june(day: int) -> date:
    return date(2026, 6, day)


def test_a_field_that_closes_during_the_stay_is_told_of_before_it_begins() -> None:
    found = warnings(farm(CLOSED), june(7), june(12))
    assert said(*found) == [
        (
            "Long Field is closed from Wed 10 Jun 2026 to Tue 30 Jun 2026; the stay would go on until Fri 12 Jun 2026.",
            "Let the pigs go out on Wed 10 Jun 2026 or before, or choose another field.",
        )
    ]
    assert not found[0].care
    assert not found[0].hard


@pytest.mark.parametrize(("into", "out", "warned"), [(5, 10, 0), (5, 11, 1), (30, 35, 1), (31, 36, 0)])
def test_the_day_out_is_no_day_of_the_stay_and_both_ends_of_the_closing_are_closed(
    into: int, out: int, warned: int
) -> None:
    first = june(1) - timedelta(days=1)
    found = warnings(farm(CLOSED), first + timedelta(days=into), first + timedelta(days=out))
    assert len(found) == warned


def test_without_a_day_out_the_usual_days_are_asked_for() -> None:
    assert len(warnings(farm(CLOSED), june(6))) == 1  # for five days
    assert warnings(farm(CLOSED), june(5)) == ()


def test_the_day_is_put_into_words_as_all_days_are() -> None:
    assert said(*warnings(farm(CLOSED), june(10))) == [
        ("Long Field is closed until Tue 30 Jun 2026.", "Choose a day after that, or another field.")
    ]


def test_over_new_year_the_year_is_that_of_the_end() -> None:
    winter = farm(set_purpose(FIELD, "11-15", "02-29", Use.CLOSED))
    texts = [text for text, _ in said(*warnings(winter, date(2026, 12, 30)))]
    assert texts == ["Long Field is closed until Sun 28 Feb 2027."]


def test_two_closings_that_follow_each_other_are_one() -> None:
    on = farm(CLOSED, set_purpose(FIELD, "07-01", "08-15", Use.CLOSED))
    assert [text for text, _ in said(*warnings(on, june(20)))] == ["Long Field is closed until Sat 15 Aug 2026."]


def test_a_field_that_is_always_closed_has_no_day_after() -> None:
    always = farm(set_purpose(FIELD, "01-01", "12-31", Use.CLOSED))
    assert said(*warnings(always, june(1))) == [("Long Field is closed all year.", "Choose another field.")]


def test_a_field_that_is_given_up_during_the_stay_is_told_of() -> None:
    found = warnings(farm(amend("fields", FIELD, retired_on=june(4))), june(1), june(8))
    assert said(*found) == [
        (
            "Long Field is given up on Thu 4 Jun 2026; the stay would go on until Mon 8 Jun 2026.",
            "Let the pigs go out on Thu 4 Jun 2026 or before, or choose another field.",
        )
    ]
    assert warnings(farm(amend("fields", FIELD, retired_on=june(8))), june(1), june(8)) == ()


def test_the_smaller_part_in_a_closed_field_counts_too() -> None:
    on = farm(
        add_field("Next", shapely.box(400, 0, 600, 120), uid="next"), set_purpose("next", "06-01", "06-30", Use.CLOSED)
    )
    over = Rectangle(360, 10, 0, 50_000, 50_000)
    assert [text for text, _ in said(*warnings(on, june(1), place=over))] == ["Next is closed until Tue 30 Jun 2026."]
    beside = Rectangle(350, 10, 0, 50_000, 50_000)
    assert warnings(on, june(1), place=beside) == ()
