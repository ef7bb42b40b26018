from __future__ import annotations

from collections.abc import Sequence
from itertools import pairwise

import pytest

from pigmap.geometry.rectangle import Rectangle
from pigmap.geometry.row import Heading, next_after, reach_of, row_in_strips, row_towards
from pigmap.geometry.runs import shared_runs

FIRST = Rectangle(0.0, 0.0, 30.0, 100_000, 50_000)


@pytest.mark.parametrize(("along", "across", "count"), [(0, 0, 1), (149, 0, 2), (151, 0, 3), (0, -120, 3), (30, 40, 2)])
def test_paddocks_join_once_the_pointer_is_past_their_middle(along: float, across: float, count: int) -> None:
    (ux, uy), (vx, vy) = FIRST.axes
    x, y = FIRST.centre
    row = row_towards(FIRST, x + along * ux + across * vx, y + along * uy + across * vy)
    assert len(row) == count
    assert row[0] == FIRST


def test_each_shares_a_whole_side_with_the_one_before() -> None:
    x, y = FIRST.centre
    (_, _), (vx, vy) = FIRST.axes
    row = row_towards(FIRST, x - 200 * vx, y - 200 * vy)
    assert len(row) == 5
    for before, after in pairwise(row):
        assert [run.length_mm for run in shared_runs(after.outline, [before.outline])] == [100_000]


def test_a_row_has_an_end() -> None:
    assert len(row_towards(FIRST, 1e9, 0.0)) == 60
    assert len(row_towards(FIRST, 1e9, 0.0, most=3)) == 3


def inside(each: Rectangle) -> bool:
    """Whether a square lies in a field of 3 by 3 of them."""
    x, y = each.centre
    return 0 < x < 150 and 0 < y < 150


def cells(row: Sequence[Rectangle]) -> list[tuple[int, int]]:
    return [(round(each.corner_x_m / 50), round(each.corner_y_m / 50)) for each in row]


SQUARE = Rectangle(0.0, 0.0, 0.0, 50_000, 50_000)
EAST = Heading(lengthwise=True, sign=1)


def test_a_row_reaches_to_the_end_of_the_field() -> None:
    assert reach_of(SQUARE, EAST, inside) == 2
    assert reach_of(SQUARE, Heading(lengthwise=True, sign=-1), inside) == 0
    assert reach_of(SQUARE, EAST, inside, most=2) == 1


def test_beyond_the_end_the_next_paddock_goes_to_the_next_strip() -> None:
    assert cells(row_in_strips(SQUARE, 175, 20, EAST, inside)) == [(0, 0), (1, 0), (2, 0), (2, 1)]
    assert cells(row_in_strips(SQUARE, 225, 20, EAST, inside)) == [(0, 0), (1, 0), (2, 0), (2, 1), (1, 1)]


def test_it_turns_to_the_side_of_the_pointer_where_that_is_inside() -> None:
    middle = SQUARE.shifted(0, 50_000)
    assert cells(row_in_strips(middle, 175, 70, EAST, inside))[-1] == (2, 0)
    assert cells(row_in_strips(middle, 175, 80, EAST, inside))[-1] == (2, 2)


def test_it_turns_to_the_free_side_first() -> None:
    middle = SQUARE.shifted(0, 50_000)

    def free(each: Rectangle) -> bool:
        return inside(each) and each.centre[1] > 50

    assert cells(row_in_strips(middle, 175, 70, EAST, inside, free=free))[-1] == (2, 2)


def test_in_a_strip_beside_the_row_runs_up_to_the_pointer_and_each_shares_a_side_with_the_one_before() -> None:
    row = row_in_strips(SQUARE, 75, 130, EAST, inside)
    assert cells(row) == [(0, 0), (1, 0), (2, 0), (2, 1), (1, 1), (0, 1), (0, 2), (1, 2)]
    for one, other in pairwise(row):
        assert one.outline.intersection(other.outline).length == pytest.approx(50)
    assert len(row_in_strips(SQUARE, 75, 130, EAST, inside, most=5)) == 5


def test_a_field_of_one_strip_ends_the_row() -> None:
    def strip(each: Rectangle) -> bool:
        return inside(each) and each.centre[1] < 50

    assert cells(row_in_strips(SQUARE, 300, 20, EAST, strip)) == [(0, 0), (1, 0), (2, 0)]


@pytest.mark.parametrize(
    ("shared", "corner"), [((0, 25), (50, 0)), ((50, 25), (-50, 0)), ((25, 0), (0, 50)), ((25, 50), (0, -50))]
)
def test_the_next_lies_across_from_the_shared_side(shared: tuple[float, float], corner: tuple[float, float]) -> None:
    found = next_after(SQUARE, shared)
    assert (found.corner_x_m, found.corner_y_m) == pytest.approx(corner)
