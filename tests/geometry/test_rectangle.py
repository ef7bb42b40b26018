from __future__ import annotations

import numpy as np
import pytest
from hypothesis import given
from hypothesis import strategies as st

from pigmap.geometry.rectangle import Rectangle

SOMEWHERE = st.floats(-4e6, 1e7)


def test_corners_go_round_anticlockwise_from_the_first() -> None:
    turned = Rectangle(10.0, 20.0, 90.0, 50_000, 25_000)
    assert turned.corners == pytest.approx(np.array([[10, 20], [10, 70], [-15, 70], [-15, 20]]))
    assert turned.outline.exterior.is_ccw


def test_nets_are_ground_metres_and_the_grid_is_shorter() -> None:
    rectangle = Rectangle.of_nets((0.0, 0.0), 0.0, (2, 1), 50_000, ground_per_grid=0.9996)
    assert rectangle.sides_m == pytest.approx((100 / 0.9996, 50 / 0.9996))
    assert rectangle.area_m2 == 5000.0
    assert rectangle.outline.area * 0.9996**2 == pytest.approx(5000.0)


def test_a_square_of_four_nets_of_164_feet_has_the_area_that_was_worked_out() -> None:
    # 4 nets of 49.9872 m: 2498.72 m² (49.9872², derived), to the millimetre of a net.
    assert Rectangle(0, 0, 0, 49_987, 49_987).area_m2 == pytest.approx(2498.72, abs=0.03)


@given(SOMEWHERE, SOMEWHERE, st.floats(-360, 360))
def test_centring_and_turning_keep_the_middle(x: float, y: float, turned: float) -> None:
    rectangle = Rectangle(0.0, 0.0, 12.0, 50_000, 25_000, 0.9996).centred_at(x, y).turned_to(turned)
    assert rectangle.centre == pytest.approx((x, y), abs=1e-6)
    assert rectangle.turned_deg == turned


def test_shifting_goes_along_its_own_sides() -> None:
    rectangle = Rectangle(0.0, 0.0, 90.0, 50_000, 25_000)
    shifted = rectangle.shifted(along_mm=50_000, across_mm=1_000)
    assert (shifted.corner_x_m, shifted.corner_y_m) == pytest.approx((-1.0, 50.0))
