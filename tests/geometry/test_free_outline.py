from __future__ import annotations

import pytest
import shapely

from pigmap.geometry.free_outline import FreeOutline

L_SHAPE = ((0.0, 0.0), (40.0, 0.0), (40.0, 20.0), (20.0, 20.0), (20.0, 40.0), (0.0, 40.0))


def test_its_corners_run_anticlockwise_however_it_was_walked() -> None:
    walked, back = FreeOutline(L_SHAPE), FreeOutline(L_SHAPE[::-1])
    assert (walked.clockwise, back.clockwise) == (False, True)
    for each in (walked, back):
        assert shapely.is_ccw(shapely.LinearRing(each.corners))
        assert each.outline.equals(shapely.Polygon(L_SHAPE))
    assert back.corners[0].tolist() == [0.0, 40.0]


def test_area_and_sides_are_those_of_the_ground() -> None:
    wide = FreeOutline(L_SHAPE, 1.25)
    assert wide.area_m2 == pytest.approx(1200 * 1.25**2)
    assert wide.round_m == pytest.approx(160 * 1.25)


def test_its_middle_lies_inside_an_l_too() -> None:
    thin = FreeOutline(((0, 0), (40, 0), (40, 5), (5, 5), (5, 40), (0, 40)))
    assert thin.outline.contains(shapely.Point(thin.centre))


def test_sides_that_cross_and_corners_on_one_line_are_not_sound() -> None:
    assert FreeOutline(L_SHAPE).is_sound
    assert not FreeOutline(((0, 0), (10, 10), (10, 0), (0, 10))).is_sound
    assert not FreeOutline(((0, 0), (10, 0), (20, 0))).is_sound
    assert not FreeOutline(((0, 0), (10, 0))).is_sound
