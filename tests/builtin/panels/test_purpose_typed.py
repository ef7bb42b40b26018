from __future__ import annotations

import pytest

from pigmap.builtin.panels.purpose_typed import typed_month_day, typed_rest, typed_rooting
from pigmap.errors import EditError


@pytest.mark.parametrize(
    ("typed", "day"),
    [
        ("16 March", "03-16"),
        (" 16 mar ", "03-16"),
        ("16. Mar", "03-16"),
        ("March 16", "03-16"),
        ("03-16", "03-16"),
        ("3-1", "03-01"),
        ("29 February", "02-29"),
        ("1 sept", "09-01"),
        ("31dec", "12-31"),
    ],
)
def test_a_day_of_the_year_is_understood_as_people_write_it(typed: str, day: str) -> None:
    assert typed_month_day(typed) == day


@pytest.mark.parametrize(
    ("typed", "named"),
    [
        ("30 February", "30 February"),
        ("31 April", "31 April"),
        ("13-01", "13-01"),
        ("spring", "spring"),
        ("", "An empty line"),
        ("1 ma", "1 ma"),
        ("0 May", "0 May"),
        ("16", "16"),
    ],
)
def test_what_is_no_day_of_the_year_is_refused(typed: str, named: str) -> None:
    with pytest.raises(EditError) as error:
        typed_month_day(typed)
    assert str(error.value.message) == f"{named} is not a day of the year."
    assert str(error.value.remedy) == "Give day and month, such as 16 March or 03-16."


def test_empty_lines_keep_to_what_is_usual() -> None:
    assert typed_rest("  ") is None
    assert typed_rooting(" % ") is None


def test_days_and_percentages() -> None:
    assert (typed_rest("85"), typed_rest("0")) == (85, 0)
    assert (typed_rooting("40"), typed_rooting("12,5 %"), typed_rooting("100%")) == (0.4, 0.125, 1.0)


@pytest.mark.parametrize(
    ("typed", "said", "remedy"),
    [
        ("-3", "The rest wanted in days is -3.", "Give a number from 0 to 3650."),
        ("9999", "The rest wanted in days is 9999.", "Give a number from 0 to 3650."),
        ("long", "The rest wanted in days is 'long': that is no number.", "Give a number, such as 85."),
        ("1.5", "The rest wanted in days is '1.5': that is no number.", "Give a number, such as 85."),
    ],
)
def test_rest_that_cannot_be_is_refused(typed: str, said: str, remedy: str) -> None:
    with pytest.raises(EditError) as error:
        typed_rest(typed)
    assert (str(error.value.message), str(error.value.remedy)) == (said, remedy)


@pytest.mark.parametrize(
    ("typed", "said", "remedy"),
    [
        ("101", "101 % of the ground cannot be rooted.", "Give a percentage from 0 to 100, such as 25."),
        ("-1", "-1 % of the ground cannot be rooted.", "Give a percentage from 0 to 100, such as 25."),
        ("half", "The rooting that is welcome is 'half': that is no number.", "Give a number, such as 25."),
    ],
)
def test_rooting_that_cannot_be_is_refused(typed: str, said: str, remedy: str) -> None:
    with pytest.raises(EditError) as error:
        typed_rooting(typed)
    assert (str(error.value.message), str(error.value.remedy)) == (said, remedy)
