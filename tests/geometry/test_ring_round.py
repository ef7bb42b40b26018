from __future__ import annotations

import math
from itertools import permutations

import pytest
import shapely
from hypothesis import given
from hypothesis import strategies as st

from pigmap.errors import OutlineError
from pigmap.geometry.ring_round import ring_round

SQUARE = [(0.0, 0.0), (50.0, 0.0), (50.0, 50.0), (0.0, 50.0)]


def test_corners_in_order_are_taken_as_they_are_also_round_a_hollow() -> None:
    hollow = [(0.0, 0.0), (50.0, 0.0), (10.0, 10.0), (0.0, 50.0)]
    ring = ring_round(hollow)
    assert not ring.put_in_order
    assert ring.outline.equals(shapely.Polygon(hollow))


@pytest.mark.parametrize("corners", list(permutations(SQUARE)))
def test_corners_set_crosswise_are_put_in_order(corners: list[tuple[float, float]]) -> None:
    ring = ring_round(corners)
    assert ring.outline.equals(shapely.Polygon(SQUARE))
    assert ring.put_in_order == (not shapely.Polygon(corners).is_valid)


@given(st.integers(4, 9), st.randoms())
def test_corners_on_a_ring_close_the_same_ground_in_any_order(count: int, order: object) -> None:
    corners = [(math.cos(turn * 6.28 / count), math.sin(turn * 6.28 / count)) for turn in range(count)]
    whole = shapely.Polygon(corners)
    order.shuffle(corners)  # type: ignore[attr-defined]
    ring = ring_round(corners)
    assert ring.outline.is_valid
    assert ring.put_in_order is False or ring.outline.equals(whole)


@pytest.mark.parametrize(
    ("corners", "said"),
    [
        ([], "A paddock has three corners or more; 0 are there. Click each corner of it once."),
        ([(0.0, 0.0)], "A paddock has three corners or more; 1 is there. Click each corner of it once."),
        (
            [(0.0, 0.0), (5.0, 5.0), (0.0, 0.0)],
            "A paddock has three corners or more; 2 are there. Click each corner of it once.",
        ),
        (
            [(0.0, 0.0), (5.0, 5.0), (9.0, 9.0)],
            "The corners lie on one line, so they close no ground. Click the corners on the other side too.",
        ),
    ],
)
def test_corners_that_enclose_nothing_are_refused_in_words(corners: list[tuple[float, float]], said: str) -> None:
    with pytest.raises(OutlineError) as raised:
        ring_round(corners)
    assert str(raised.value) == said
