from __future__ import annotations

import pytest

from pigmap.builtin.tools.typed_shift import typed_shift
from pigmap.errors import UsageError


@pytest.mark.parametrize(
    ("words", "shift"),
    [
        ("3 at 90", (3.0, 0.0)),
        ("3 @ 180°", (0.0, -3.0)),
        ("3 east", (3.0, 0.0)),
        ("2,5 west", (-2.5, 0.0)),
        ("2 west 1 south", (-2.0, -1.0)),
        ("E 3 N 1.5", (3.0, 1.5)),
        ("e -3, n 2", (-3.0, 2.0)),
        ("10 ft north", (0.0, 3.048)),
    ],
)
def test_a_shift_is_typed_as_people_say_it(words: str, shift: tuple[float, float]) -> None:
    assert typed_shift(words) == pytest.approx(shift)


def test_lengths_are_on_the_ground_and_feet_where_the_farm_has_feet() -> None:
    assert typed_shift("5 east", ground_per_grid=1.25) == (4.0, 0.0)
    assert typed_shift("10 north", feet=True) == pytest.approx((0.0, 3.048))
    assert typed_shift("10 m north", feet=True) == (0.0, 10.0)


@pytest.mark.parametrize("words", ["3", "east", "3 up", "3 east and a bit", "", "E 500120 N"])
def test_what_is_no_shift_is_said_with_what_to_type(words: str) -> None:
    with pytest.raises(UsageError, match="does not say how far and which way") as caught:
        typed_shift(words)
    assert caught.value.remedy is not None
    assert "Type 3 east" in str(caught.value)
