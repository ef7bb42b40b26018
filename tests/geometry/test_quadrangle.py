from __future__ import annotations

import pytest
import shapely

from pigmap.geometry.quadrangle import rectangle_in
from pigmap.geometry.rectangle import Rectangle


@pytest.mark.parametrize("turned", [0.0, 30.0, 95.0, 179.0])
@pytest.mark.parametrize(("long", "wide"), [(1, 1), (2, 1), (1, 3)])
@pytest.mark.parametrize("per_grid", [1.0, 1.02])
def test_what_was_placed_is_found_again(turned: float, long: int, wide: int, per_grid: float) -> None:
    placed = Rectangle.of_nets((430_000.0, 5_600_000.0), turned, (long, wide), 50_000, per_grid)
    found = rectangle_in(placed.outline, 50_000, long, per_grid)
    assert found is not None
    assert (found.long_mm, found.wide_mm) == (placed.long_mm, placed.wide_mm)
    assert shapely.hausdorff_distance(found.outline, placed.outline) < 1e-6


def test_the_longer_side_is_the_long_one_where_nothing_is_told() -> None:
    found = rectangle_in(shapely.box(0, 0, 50, 100), 50_000)
    assert found is not None
    assert (found.long_mm, found.wide_mm) == (100_000, 50_000)


@pytest.mark.parametrize(
    "outline",
    [
        shapely.box(0, 0, 50, 60),
        shapely.box(0, 0, 10, 10),
        shapely.Polygon([(0, 0), (50, 0), (0, 50)]),
        shapely.Polygon([(0, 0), (50, 0), (60, 50), (10, 50)]),
    ],
)
def test_what_is_no_rectangle_of_whole_nets_is_none(outline: shapely.Polygon) -> None:
    assert rectangle_in(outline, 50_000) is None
