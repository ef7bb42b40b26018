from __future__ import annotations

import numpy as np
import pytest
import shapely

from pigmap.geometry.posts import posts
from pigmap.geometry.rectangle import Rectangle
from pigmap.geometry.runs import open_runs

BAYS = (3572,) * 13 + (3564,)


def test_whole_nets_put_a_post_at_each_corner_and_none_beside_it() -> None:
    rectangle = Rectangle(4e5, 5e6, 17.0, 100_000, 50_000, 0.9996)
    (run,) = open_runs(rectangle.outline, [], 0.9996)
    found = posts(run.line, BAYS, 0.9996)
    assert len(found) == 6 * 14 + 1
    for corner in rectangle.corners:
        assert np.hypot(*(found - corner).T).min() < 1e-6
    assert np.hypot(*np.diff(found, axis=0).T).max() == pytest.approx(3.572 / 0.9996)


def test_a_corner_that_falls_between_posts_gets_a_stake() -> None:
    line = shapely.LineString([(0, 0), (10, 0), (10, 10)])
    assert posts(line, (4_000,)).tolist() == [[0, 0], [4, 0], [8, 0], [10, 0], [10, 2], [10, 6], [10, 10]]


def test_uneven_bays_follow_in_their_order() -> None:
    assert posts(np.array([[0.0, 0.0], [12.0, 0.0]]), (4_000, 2_000))[:, 0].tolist() == [0, 4, 6, 10, 12]


def test_points_that_lie_on_each_other_are_one() -> None:
    line = np.array([[0.0, 0.0], [0.0, 0.0], [4.0, 0.0]])
    assert posts(line, (4_000,)).tolist() == [[0, 0], [4, 0]]
