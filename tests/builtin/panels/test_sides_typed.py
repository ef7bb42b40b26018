"""Nets of a side as they are typed, and what is refused with which remedy."""

from __future__ import annotations

import pytest

from pigmap.builtin.panels.sides_typed import SideTyped, side_typed, side_words
from pigmap.drawing.words import render
from pigmap.errors import EditError
from pigmap.records import Farm, NetKind, Projection

PLANE = Projection(name="plane", authority="NONE", code=0, definition="")
FIFTY = NetKind(uid="fifty", name="50 m", bays_mm=(3572,) * 13 + (3564,))
HALF = NetKind(uid="half", name="25 m", bays_mm=(5_000,) * 5)
FARM = Farm(document_uid="d", projection=PLANE, net_kinds={"fifty": FIFTY, "half": HALF})
BOTH = (("fifty", 2), ("half", 1))


@pytest.mark.parametrize(
    ("typed", "nets"),
    [
        ("2 of 50 m and 1 of 25 m", BOTH),
        ("2x50+1x25", BOTH),
        ("2 \u00d7 50 m, 1 \u00d7 25 m", BOTH),
        ("2 nets of 50 and 1 of 25", BOTH),
        ("1 of 50 m and 1 of 50 m and 1 of 25 m", BOTH),
        ("3", (("half", 3),)),
        ("1 of 50 m + 2", (("fifty", 1), ("half", 2))),
        ("2 of 164 ft", (("fifty", 2),)),
    ],
)
def test_nets_are_read_as_people_write_them(typed: str, nets: tuple[tuple[str, int], ...]) -> None:
    assert side_typed(FARM, typed, HALF, "metric") == SideTyped(nets, nets)


def test_the_side_across_may_have_other_nets_of_one_length_together() -> None:
    assert side_typed(FARM, "1 of 50 m / 2 of 25 m", HALF, "metric") == SideTyped((("fifty", 1),), (("half", 2),))


def test_bare_lengths_are_in_the_units_that_are_shown() -> None:
    assert side_typed(FARM, "1 of 164 and 1 of 82", FIFTY, "us").nets == (("fifty", 1), ("half", 1))


@pytest.mark.parametrize(
    ("typed", "said", "remedy"),
    [
        ("a few", r"^'a few' does not say which nets a side has", "such as 2 of 50 m and 1 of 25 m."),
        ("", r"^'' does not say which nets", "Say how many of which length"),
        ("1 of 50 m / 1 / 1", r"does not say which nets", "Say how many of which length"),
        ("1 of 30 m", r"^There are no nets of 30(\.0)? m", "Say nets of 50 m or 25 m, or add that length"),
        ("0 of 50 m", r"^A side has 0 nets", "Give it 1 to 20."),
        ("12 of 50 m and 9 of 25 m", r"^A side has 21 nets", "Give it 1 to 20."),
        (
            "1 of 50 m and 1 of 25 m / 1 of 50 m",
            r"^One side would be 75 m, the one across from it 50 m: such sides do not close",
            "Make both as long: 1 of 50 m and 1 of 25 m are 75 m.",
        ),
    ],
)
def test_what_cannot_be_is_refused_with_what_would_do(typed: str, said: str, remedy: str) -> None:
    with pytest.raises(EditError, match=said) as refused:
        side_typed(FARM, typed, HALF, "metric")
    assert remedy in str(refused.value)


def test_nets_of_a_side_in_words() -> None:
    assert render(side_words(FARM, BOTH)) == "2 of 50 m and 1 of 25 m"
