"""Distances of any ground, held against plain distances of points and sides."""

from __future__ import annotations

import math
from itertools import pairwise

import numpy as np
import pytest
import shapely

from pigmap.fence.cautions.caution import LiveGround
from pigmap.fence.cautions.energizers import two_energizers
from pigmap.fence.cautions.overhead import overhead_lines
from pigmap.records import Energizer, Way, WayKind
from tests.fence.cautions.invented import farm_with, fed_by

ONE, OTHER = Energizer(uid="one", name="One"), Energizer(uid="other", name="Other")
Points = list[tuple[float, float]]


def _square(rng: np.random.Generator, reach: float) -> Points:
    east, north, turned = rng.uniform(-reach, reach), rng.uniform(-reach, reach), rng.uniform(0, math.pi)
    along, across = rng.uniform(5, 30, 2)
    cos, sin = math.cos(turned), math.sin(turned)
    corners = [(0.0, 0.0), (along, 0.0), (along, across), (0.0, across)]
    return [(east + x * cos - y * sin, north + x * sin + y * cos) for x, y in corners]


def _off(points: Points, others: Points) -> float:
    """Return the least distance of the ends of sides from other sides, both ways [m]."""
    return min(
        *(_from_side(point, side) for point in points for side in pairwise(others)),
        *(_from_side(point, side) for point in others for side in pairwise(points)),
    )


def _from_side(point: tuple[float, float], side: tuple[tuple[float, float], tuple[float, float]]) -> float:
    (ax, ay), (bx, by) = side
    share = ((point[0] - ax) * (bx - ax) + (point[1] - ay) * (by - ay)) / ((bx - ax) ** 2 + (by - ay) ** 2)
    share = min(max(share, 0.0), 1.0)
    return math.hypot(point[0] - ax - share * (bx - ax), point[1] - ay - share * (by - ay))


@pytest.mark.parametrize("ground_per_grid", [1.0, 0.97])
def test_two_energizers_are_told_of_exactly_where_their_fences_are_too_near(ground_per_grid: float) -> None:
    rng = np.random.default_rng(1)
    farm, near = farm_with(ONE, OTHER, ground_per_grid=ground_per_grid), 0
    for _ in range(300):
        one, other = _square(rng, 20), _square(rng, 20)
        grounds = shapely.Polygon(one), shapely.Polygon(other)
        if grounds[0].intersects(grounds[1]):
            continue
        off = _off([*one, one[0]], [*other, other[0]]) * ground_per_grid
        found = two_energizers(farm, fed_by(ONE, grounds[0]), fed_by(OTHER, grounds[1]))
        assert (found is not None) is (off < 2.499)
        near += found is not None
    assert near > 10


@pytest.mark.parametrize(("volts", "least"), [(0.4, 3.0), (11.0, 4.0), (110.0, 8.0), (None, 8.0)])
def test_overhead_lines_stop_exactly_what_is_too_near_to_them(volts: float | None, least: float) -> None:
    rng = np.random.default_rng(2)
    stopped = 0
    for _ in range(150):
        square = _square(rng, 15)
        points: Points = [tuple(each) for each in rng.uniform(-60, 60, (3, 2)).tolist()]
        way = Way(kind=WayKind.OVERHEAD_LINE, line=shapely.LineString(points), voltage_kv=volts)
        ground = shapely.Polygon(square)
        off = 0.0 if way.line.intersects(ground) else _off([*square, square[0]], points)
        found = [each for each in overhead_lines(farm_with(way), LiveGround("A", ground)) if each.level == "stop"]
        assert bool(found) is (off < least - 0.001)
        stopped += bool(found)
    assert 10 < stopped < 140
