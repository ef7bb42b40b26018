from __future__ import annotations

from datetime import date

import pytest

from pigmap.cli.dates import day
from pigmap.errors import UsageError


def test_a_day_is_read_as_typed() -> None:
    assert day("2024-02-29") == date(2024, 2, 29)


@pytest.mark.parametrize("typed", ["2023-02-29", "2026-13-01", "yesterday", "26-01-01", "2026-1-1", "", "0000-00-00"])
def test_what_is_no_day_is_refused_with_an_example(typed: str) -> None:
    with pytest.raises(UsageError) as caught:
        day(typed)
    assert str(caught.value.message) == f"{typed} is not a day of the calendar."
    assert str(caught.value.remedy) == "Give year, month and day, such as 2026-03-01."


@pytest.mark.parametrize("typed", ["1899-12-31", "2200-01-01"])
def test_a_day_that_no_farm_file_keeps_is_refused_with_the_range(typed: str) -> None:
    with pytest.raises(UsageError) as caught:
        day(typed)
    assert f"{typed} lies outside the years" in str(caught.value.message)
    assert str(caught.value.remedy) == "Give a day from 1900-01-01 to 2199-12-31."
