from __future__ import annotations

import numpy as np
import pytest

from pigmap.drawing.rings import Rings, joined
from pigmap.drawing.stretches import Stretch, sides_near, stretches

VIEW = (100.0, 100.0)


def _ring(*corners: tuple[float, float]) -> Rings:
    return joined([np.array(corners, dtype=np.float64)])


def _found(rings: Rings, *, closed: bool, from_start: bool, reach: float = 2.0) -> list[Stretch]:
    sides = sides_near(rings, closed=closed, size=VIEW, reach=reach)
    return list(stretches(sides, closed=closed, from_start=from_start))


def test_a_ring_in_view_is_one_whole_stretch() -> None:
    (only,) = _found(_ring((10, 10), (90, 10), (90, 90)), closed=True, from_start=False)
    assert only.whole
    assert only.points.tolist() == [[10, 10], [90, 10], [90, 90]]


def test_nothing_far_away_is_left() -> None:
    assert _found(_ring((300, 0), (400, 0), (400, 50)), closed=True, from_start=False) == []
    assert _found(Rings(np.empty((0, 2)), np.zeros(1, dtype=np.int64)), closed=True, from_start=False) == []


def test_a_side_within_reach_of_the_edge_counts() -> None:
    line = _ring((-50, 101.5), (150, 101.5))
    assert len(_found(line, closed=False, from_start=False, reach=2.0)) == 1
    assert _found(line, closed=False, from_start=False, reach=1.0) == []


def test_a_stretch_runs_on_over_the_corner_where_its_ring_starts() -> None:
    ring = _ring((50, 50), (300, 50), (300, 300), (50, 300))
    (only,) = _found(ring, closed=True, from_start=False)
    assert only.points.tolist() == [[50, 300], [50, 50], [300, 50]]
    assert not only.whole


def test_dashes_begin_where_their_ring_starts_and_know_how_far_they_are() -> None:
    ring = _ring((50, 50), (300, 50), (300, 300), (50, 300))
    first, last = _found(ring, closed=True, from_start=True)
    assert (first.points.tolist(), first.begun) == ([[50, 50], [300, 50]], 0.0)
    assert (last.points.tolist(), last.begun) == ([[50, 300], [50, 50]], 750.0)


@pytest.mark.parametrize("from_start", [True, False])
def test_a_line_never_closes(from_start: bool) -> None:
    line = _ring((10, 10), (90, 10), (300, 10), (300, 90), (90, 90))
    first, last = _found(line, closed=False, from_start=from_start)
    assert first.points.tolist() == [[10, 10], [90, 10], [300, 10]]
    assert last.points.tolist() == [[300, 90], [90, 90]]


def test_several_lines_stay_apart() -> None:
    two = joined([np.array([[10.0, 10.0], [20.0, 10.0]]), np.array([[30.0, 10.0], [40.0, 10.0], [50.0, 10.0]])])
    assert [len(each.points) for each in _found(two, closed=False, from_start=False)] == [2, 3]
    sides = sides_near(two, closed=False, size=VIEW, reach=0.0)
    assert sides.ends.tolist() == [[[10, 10], [20, 10]], [[30, 10], [40, 10]], [[40, 10], [50, 10]]]
