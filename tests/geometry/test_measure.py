from __future__ import annotations

import pytest

from pigmap.geometry.measure import measure


def test_lengths_and_areas_are_those_of_the_ground() -> None:
    found = measure([(5e5, 6e6), (5e5 + 100, 6e6), (5e5 + 100, 6e6 + 50)], 0.9996)
    assert found.legs_m == pytest.approx((99.96, 49.98))
    assert found.length_m == pytest.approx(149.94)
    assert found.area_m2 == pytest.approx(2500 * 0.9996**2)


def test_direction_is_clockwise_from_north() -> None:
    assert measure([(0, 0), (1, 0)]).bearing_deg == pytest.approx(90)
    assert measure([(0, 0), (-1, 0)]).bearing_deg == pytest.approx(270)


@pytest.mark.parametrize("points", [[], [(1.0, 2.0)]])
def test_less_than_two_points_measure_nothing(points: list[tuple[float, float]]) -> None:
    assert measure(points) == ((), 0.0, 0.0, 0.0)
