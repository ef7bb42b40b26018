from __future__ import annotations

import pytest

from pigmap.builtin.panels.bays_typed import bays_typed, bays_words
from pigmap.errors import EditError
from pigmap.units import METRES_PER_FOOT


@pytest.mark.parametrize(
    ("typed", "length_m", "bays"),
    [
        ("14 x 3.57", 50, (3571,) * 13 + (3577,)),
        ("13 x 3.57 + 3.5", 50, (3574,) * 13 + (3538,)),
        ("13 x 3,571 + 3,577", 50, (3571,) * 13 + (3577,)),
        ("7*3.57 m", 25, (3571,) * 6 + (3574,)),
        ("25", 25, (25_000,)),
        ("", 10, (3334, 3333, 3333)),
    ],
)
def test_bays_add_up_to_the_length_of_the_net(typed: str, length_m: float, bays: tuple[int, ...]) -> None:
    assert bays_typed(typed, length_m) == bays
    assert sum(bays) == length_m * 1000


def test_bays_are_shown_as_they_are_typed() -> None:
    bays = (3571,) * 13 + (3577,)
    assert bays_words(bays) == "13 x 3.571 + 3.577"
    assert bays_typed(bays_words(bays), 50) == bays
    assert bays_words((25_000,)) == "25"


def test_bays_can_be_told_in_feet() -> None:
    bays = bays_typed("16 x 10.25", 164 * METRES_PER_FOOT, "us")
    assert len(bays) == 16
    assert sum(bays) == 49_987
    assert bays_words(bays, "us").startswith("15 x 10.2")


@pytest.mark.parametrize(
    ("typed", "length_m", "message", "remedy"),
    [
        (
            "14 x 3.5",
            50,
            "The bays add up to 49 m: 1 m less than the 50 m of the net.",
            "Give 14 x 3.571, or 49 m as the length of the net.",
        ),
        (
            "13 x 3.57 + 3",
            50,
            "The bays add up to 49.41 m: 0.59 m less than the 50 m of the net.",
            "Give 13 x 3.57 + 3.59, or 49.41 m as the length of the net.",
        ),
        (
            "30 x 3.57 + 2",
            50,
            "The bays add up to 109.1 m: 59.1 m more than the 50 m of the net.",
            "Give 14 x 3.571, or 109.1 m as the length of the net.",
        ),
        (
            "14 by 3.57",
            50,
            "'14 by 3.57' does not say how far it is from post to post.",
            "Give how many bays and how long each is, such as 14 x 3.57, or 13 x 3.57 + 3.5 where the last is shorter.",
        ),
        (
            "14 x 0",
            50,
            "'14 x 0' does not say how far it is from post to post.",
            "Give how many bays and how long each is, such as 14 x 3.57, or 13 x 3.57 + 3.5 where the last is shorter.",
        ),
        (
            "9999 x 0.005",
            50,
            "'9999 x 0.005' does not say how far it is from post to post.",
            "Give how many bays and how long each is, such as 14 x 3.57, or 13 x 3.57 + 3.5 where the last is shorter.",
        ),
        (
            "14 x 3.57",
            0,
            "The net is 0 m long.",
            "Give its length from the first post to the last, such as 50 m.",
        ),
    ],
)
def test_bays_that_cannot_be_are_told_with_what_works(typed: str, length_m: float, message: str, remedy: str) -> None:
    with pytest.raises(EditError) as raised:
        bays_typed(typed, length_m)
    assert str(raised.value) == f"{message} {remedy}"


@pytest.mark.parametrize(("typed", "length_m"), [("14 x 3.571", 50), ("13 x 3.57 + 3.59", 50)])
def test_the_bays_that_a_remedy_gives_are_taken(typed: str, length_m: float) -> None:
    assert sum(bays_typed(typed, length_m)) == length_m * 1000
