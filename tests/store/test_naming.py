from __future__ import annotations

from datetime import date

import pytest
import shapely

from pigmap.records import TABLES
from pigmap.store.naming import called, value_words
from tests.store.made import one_of_each


@pytest.mark.parametrize(
    ("value", "said"),
    [
        (None, "empty"),
        ("", "empty"),
        ((), "empty"),
        (True, "yes"),
        (False, "no"),
        (0, "0"),
        (0.1 + 0.2, "0.3"),
        (("late", "half outside"), "late, half outside"),
        (date(2026, 3, 1), "2026-03-01"),
        (shapely.box(0, 0, 50, 50), "an outline of 2500.0 m² at 25.0, 25.0"),
        (shapely.LineString([(0, 0), (0, 25), (0, 50)]), "a line of 50.0 m at 0.0, 25.0"),
        (shapely.Point(3, 4), "a point at 3.0, 4.0"),
    ],
)
def test_values_are_shown_as_a_person_reads_them(value: object, said: str) -> None:
    assert str(value_words(value)) == said


def test_every_row_has_a_name_in_words() -> None:
    said = {str(called(row)) for row in one_of_each().values()}
    assert len(said) == len(TABLES)
    assert {"field Long Field", "a stay", "net kind 50 m nets", "setting units"} <= said
