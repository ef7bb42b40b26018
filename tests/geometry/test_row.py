from __future__ import annotations

from itertools import pairwise

import pytest

from pigmap.geometry.rectangle import Rectangle
from pigmap.geometry.row import row_towards
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
