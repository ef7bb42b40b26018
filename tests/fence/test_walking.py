"""How far is walked with nets, so many at a time."""

from __future__ import annotations

import pytest
import shapely
from hypothesis import given
from hypothesis import strategies as st

from pigmap.fence.moving import trips
from pigmap.fence.walking import NETS_A_TRIP, nets_a_trip, walked
from pigmap.records import Farm, Projection, Setting, add

THREE = [
    shapely.LineString([(50, 0), (100, 0)]),
    shapely.LineString([(100, 0), (100, 50)]),
    shapely.LineString([(100, 50), (50, 50)]),
]
MIDDLE = shapely.Point(75, 25)


def test_three_sides_of_a_square_from_its_middle() -> None:
    corner = (25**2 + 25**2) ** 0.5
    assert walked(THREE, MIDDLE, 1).walk_m == pytest.approx(150 + 6 * corner)
    assert walked(THREE, MIDDLE, 2).walk_m == pytest.approx(150 + 4 * corner)
    assert walked(THREE, MIDDLE, 3).walk_m == pytest.approx(150 + 2 * corner)
    assert walked(THREE, MIDDLE, 2, 1.001).walk_m == pytest.approx((150 + 4 * corner) * 1.001)
    assert walked([], MIDDLE, 2).walk_m == 0.0


@given(st.integers(0, 9), st.integers(1, 4))
def test_there_are_as_many_trips_as_one_person_makes(nets: int, a_trip: int) -> None:
    assert walked((THREE * 3)[:nets], MIDDLE, a_trip).trips == trips(nets, 1, a_trip)


def test_nets_that_do_not_follow_each_other_are_walked_between() -> None:
    apart = [THREE[0], THREE[2]]
    found = walked(apart, shapely.Point(50, 0), 2)
    assert found.walk_m == pytest.approx(50 + 50 + 50 + 50)


@pytest.mark.parametrize(("told", "nets"), [("3", 3), ("1", 1), ("0", NETS_A_TRIP), ("true", NETS_A_TRIP), ('"x"', 2)])
def test_a_farm_tells_how_many_one_carries(told: str, nets: int) -> None:
    bare = Farm(document_uid="", projection=Projection(name="", authority="NONE", code=0, definition=""))
    assert nets_a_trip(bare) == NETS_A_TRIP
    assert nets_a_trip(bare.after([add(Setting(key="nets a trip", value_json=told))])) == nets
