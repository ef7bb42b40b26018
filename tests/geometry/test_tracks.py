from __future__ import annotations

import pytest
import shapely
from hypothesis import given
from hypothesis import strategies as st
from shapely.affinity import rotate, translate

from pigmap.geometry.runs import shared_runs
from pigmap.geometry.sides import FLUSH_M
from pigmap.geometry.tracks import Stretch, Tracks


def test_a_side_that_two_outlines_share_is_measured_along_both() -> None:
    one = shapely.Polygon([(0, 0), (50, 0), (50, 50), (0, 50)])
    other = shapely.Polygon([(50, 10), (90, 10), (90, 40), (50, 40)])
    tracks = Tracks([one, other])
    assert tracks.length_m == [200.0, 140.0]
    assert tracks.beside[0] == {1: [Stretch(60.0, 90.0, 140.0, 110.0)]}
    assert tracks.beside[1] == {0: [Stretch(110.0, 140.0, 90.0, 60.0)]}


def test_part_of_a_stretch_is_found_along_the_other_way() -> None:
    stretch = Stretch(60.0, 90.0, 140.0, 110.0)
    assert stretch.along(100.0, 120.0) == pytest.approx((80.0, 90.0))
    assert stretch.along(0.0, 110.0) is None


def test_a_line_goes_on_past_the_first_corner_of_a_ring() -> None:
    (line,) = [Tracks([shapely.box(0, 0, 10, 10, ccw=False)]).line(0, 35.0, 45.0)]
    assert line.length == pytest.approx(10.0)
    assert line.equals(shapely.LineString([(5, 0), (0, 0), (0, 5)]))


def test_holes_and_lines_are_tracks_of_their_own() -> None:
    holed = shapely.box(0, 0, 100, 100).difference(shapely.box(40, 40, 60, 60))
    line = shapely.LineString([(40, 40), (60, 40)])
    tracks = Tracks([line, holed])
    assert tracks.of_shape == [(0,), (1, 2)]
    assert tracks.length_m == pytest.approx([20.0, 400.0, 80.0])
    assert [*tracks.beside[0]] == [2]


def test_no_shapes_are_no_tracks() -> None:
    assert Tracks([]).of_shape == []


@given(
    st.integers(-60, 60).map(lambda at: at / 2), st.integers(0, 359), st.sampled_from([0.0, 0.05, 0.3]), st.booleans()
)
def test_sides_in_common_are_as_long_as_one_at_a_time_tells(
    shift: float, degrees: int, apart: float, turned: bool
) -> None:
    one = shapely.box(0, 0, 50, 40)
    other = translate(shapely.box(50 + apart, 0, 90, 30, ccw=not turned), yoff=shift)
    one, other = (rotate(shape, degrees, origin=(7, 3)) for shape in (one, other))
    tracks = Tracks([one, other])
    found = sum(each.end_m - each.begin_m for each in tracks.beside[0].get(1, ()))
    expected = sum(run.length_m for run in shared_runs(one, [other]))
    assert found == pytest.approx(expected, abs=2e-3)
    assert (found > 0) == (apart <= FLUSH_M and min(40, 30 + shift) - max(0, shift) > 0)
