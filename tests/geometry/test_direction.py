from __future__ import annotations

import numpy as np
import pytest
import shapely
from hypothesis import given
from hypothesis import strategies as st
from shapely import affinity

from pigmap.geometry.direction import field_direction, frame_origin

L_SHAPE = shapely.Polygon([(0, 0), (200, 0), (200, 60), (80, 60), (80, 150), (0, 150)])


def alike(one: float, other: float) -> bool:
    return abs((one - other + 45) % 90 - 45) < 1e-3


@given(st.floats(0, 360))
def test_the_direction_turns_with_the_field(turned: float) -> None:
    found = field_direction(affinity.rotate(L_SHAPE, turned, origin=(0, 0)))
    assert 0 <= found < 90
    assert alike(found, turned)


def test_a_crooked_hedge_does_not_turn_the_field() -> None:
    hedge = [(200 - x, 100 + 4 * np.sin(x / 9)) for x in range(0, 201, 5)]
    field = affinity.rotate(shapely.Polygon([(0, 0), (200, 0), *hedge]), 20, origin=(0, 0))
    assert alike(field_direction(field), 20)


def test_small_corners_in_a_long_edge_do_not_break_it() -> None:
    edge = [(x, 0.2 * (x % 2)) for x in range(200)]
    field = shapely.Polygon([*edge, (150, 100), (0, 60)])
    assert abs((field_direction(field) + 45) % 90 - 45) < 0.5


def test_a_round_field_takes_its_least_box() -> None:
    oval = affinity.rotate(affinity.scale(shapely.Point(0, 0).buffer(50, quad_segs=32), 2, 1), 35)
    found = field_direction(oval)
    assert abs((found - 35 + 45) % 90 - 45) < 3


def test_cells_begin_at_the_corner_of_the_fields_box() -> None:
    field = affinity.translate(affinity.rotate(shapely.box(0, 0, 200, 100), 30, origin=(0, 0)), 5e5, 6e6)
    assert frame_origin(field, 30.0) == pytest.approx((5e5, 6e6), abs=1e-6)
