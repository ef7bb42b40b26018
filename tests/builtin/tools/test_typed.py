from __future__ import annotations

import pytest

from pigmap.builtin.tools.typed import typed_corner
from pigmap.errors import UsageError


@pytest.mark.parametrize(
    ("words", "corner"),
    [
        ("50 at 90", (150.0, 200.0)),
        ("50 m at 180", (100.0, 150.0)),
        ("50,5@0", (100.0, 250.5)),
        ("100 ft at 90", (130.48, 200.0)),
        ("E 7 N 8", (7.0, 8.0)),
        ("e 500120.5, n 5230040", (500120.5, 5230040.0)),
    ],
)
def test_a_corner_is_a_length_and_a_direction_or_a_place(words: str, corner: tuple[float, float]) -> None:
    assert typed_corner(words, (100.0, 200.0)) == pytest.approx(corner)


def test_lengths_are_ground_metres() -> None:
    assert typed_corner("50 at 90", (0.0, 0.0), ground_per_grid=1.0004)[0] == pytest.approx(49.98, abs=0.001)


def test_lengths_without_a_unit_are_feet_where_the_farm_has_feet() -> None:
    assert typed_corner("100 at 90", (0.0, 0.0), feet=True)[0] == pytest.approx(30.48)
    assert typed_corner("100 m at 90", (0.0, 0.0), feet=True)[0] == pytest.approx(100.0)


@pytest.mark.parametrize(
    ("words", "last", "message", "remedy"),
    [
        ("fifty", (0.0, 0.0), "fifty is not a length and a direction.", "Type 50 at 90 for 50 east"),
        ("", (0.0, 0.0), "An empty line is not a length and a direction.", "Type 50 at 90"),
        ("50 at 90", None, "50 at 90 needs a corner to start from.", "Click the first corner, or type it as E and N"),
    ],
    ids=["words", "nothing", "no corner yet"],
)
def test_what_is_no_corner_is_said_in_words(
    words: str, last: tuple[float, float] | None, message: str, remedy: str
) -> None:
    with pytest.raises(UsageError) as refused:
        typed_corner(words, last)
    assert str(refused.value.message) == message
    assert str(refused.value.remedy).startswith(remedy)
