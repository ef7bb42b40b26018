from __future__ import annotations

import math

import numpy as np
import pytest

from pigmap.geometry.slope import slope_deg


@pytest.mark.parametrize("degrees", [0.0, 1.0, 7.0, 12.0, 30.0, 60.0])
@pytest.mark.parametrize("towards", [0.0, 33.0, 90.0, 250.0])
def test_a_plane_is_as_steep_everywhere_as_it_was_made(degrees: float, towards: float) -> None:
    rows, columns = np.mgrid[0:9, 0:7] * 5.0
    rise = math.tan(math.radians(degrees))
    plane = rise * (columns * math.cos(math.radians(towards)) + rows * math.sin(math.radians(towards)))
    assert slope_deg(plane, 5.0)[1:-1, 1:-1] == pytest.approx(degrees, abs=1e-9)


def test_horns_weights_count_neighbours_beside_twice() -> None:
    """One height of 1 m beside, at a corner: 2 and 1 eighths of a metre over 10 m."""
    flat = np.zeros((3, 3))
    flat[1, 2] = 1.0
    assert slope_deg(flat, 10.0)[1, 1] == pytest.approx(math.degrees(math.atan(2 / 80)))
    flat[1, 2], flat[0, 0] = 0.0, 1.0
    assert slope_deg(flat, 10.0)[1, 1] == pytest.approx(math.degrees(math.atan(math.hypot(1, 1) / 80)))


def test_nothing_is_known_at_the_edge_and_beside_a_height_that_is_none() -> None:
    heights = np.zeros((6, 6))
    heights[2, 2] = np.nan
    known = np.isfinite(slope_deg(heights, 5.0))
    assert not known[0].any()
    assert not known[:, -1].any()
    assert not known[1:4, 1:4].any()
    assert known[4, 4]


def test_two_rows_of_heights_have_no_slope() -> None:
    assert np.isnan(slope_deg(np.zeros((2, 9)), 5.0)).all()
