from __future__ import annotations

import math

import numpy as np
import pytest
import shapely
from hypothesis import given
from hypothesis import strategies as st
from shapely import affinity
from shapely.geometry.base import BaseGeometry

from pigmap.geometry import cells
from pigmap.geometry.cells import cells_inside, frame_over, inside
from pigmap.geometry.frame import CellFrame
from pigmap.records import Field

FRAME = CellFrame(500_000.0, 5_200_000.0, 30.0, 2.0, 40, 50)


def field_of(outline: shapely.Polygon, turned_deg: float = 0.0) -> Field:
    return Field(
        name="Meadow",
        outline=shapely.MultiPolygon([outline]),
        origin_x_m=500_000.0,
        origin_y_m=5_200_000.0,
        turned_deg=turned_deg,
    )


def middles(frame: CellFrame) -> np.ndarray:
    row, column = np.divmod(np.arange(frame.rows * frame.columns), frame.columns)
    return frame.to_metres(np.column_stack((column + 0.5, row + 0.5)))


def near_the_frame(seed: int) -> BaseGeometry:
    rng = np.random.default_rng(seed)
    centre = FRAME.to_metres(rng.uniform((-5, -5), (55, 45), (1, 2)))[0]
    turns = np.sort(rng.uniform(0, 2 * math.pi, 9))
    reach = rng.uniform(3, 40, 9)
    star = shapely.Polygon(centre + np.column_stack((np.cos(turns), np.sin(turns))) * reach[:, None])
    return star.buffer(0).difference(shapely.Point(centre).buffer(2.5))


def test_a_frame_covers_its_field_in_whole_cells_of_the_stored_grid() -> None:
    frame = frame_over(field_of(shapely.box(500_003, 5_200_001, 500_010.5, 5_200_009)))
    assert (frame.origin_x_m, frame.origin_y_m) == (500_002.0, 5_200_000.0)
    assert (frame.columns, frame.rows) == (5, 5)


def test_a_frame_reaches_to_the_other_side_of_the_origin() -> None:
    frame = frame_over(field_of(shapely.box(499_995, 5_199_999, 500_004, 5_200_004)))
    assert (frame.origin_x_m, frame.origin_y_m) == (499_994.0, 5_199_998.0)
    assert (frame.columns, frame.rows) == (5, 3)


@given(st.floats(0, 90), st.floats(-80, 80), st.floats(-80, 80))
def test_cells_keep_their_places_when_a_field_is_reshaped(turned: float, east: float, north: float) -> None:
    small = shapely.box(500_000 + east, 5_200_000 + north, 500_031 + east, 5_200_017 + north)
    before = frame_over(field_of(small, turned_deg=turned))
    after = frame_over(field_of(shapely.box(*small.buffer(23).bounds), turned_deg=turned))
    apart = after.to_cells(np.array([[before.origin_x_m, before.origin_y_m]]))
    assert np.abs(apart - np.round(apart)).max() < 1e-6


def test_a_field_too_large_for_its_cells_gets_coarser_ones(monkeypatch: pytest.MonkeyPatch) -> None:
    monkeypatch.setattr(cells, "MOST_CELLS", 1000)
    frame = frame_over(field_of(shapely.box(499_900, 5_199_900, 500_100, 5_200_100)))
    assert frame.rows * frame.columns <= 1300
    assert frame.cell_m / 2.0 == round(frame.cell_m / 2.0)
    assert frame.cell_m > 2.0


@pytest.mark.parametrize("seed", range(25))
def test_cells_are_inside_when_their_middle_is(seed: int) -> None:
    shape = near_the_frame(seed)
    wanted = shapely.contains_xy(shape, middles(FRAME))
    assert inside(FRAME, shape).ravel().tolist() == wanted.tolist()


def test_many_outlines_at_once_are_the_same_as_one_by_one() -> None:
    shapes = [near_the_frame(seed) for seed in range(12)]
    found, starts = cells_inside(FRAME, shapes)
    for number, shape in enumerate(shapes):
        assert found[starts[number] : starts[number + 1]].tolist() == np.flatnonzero(inside(FRAME, shape)).tolist()


@given(st.floats(0, 90), st.floats(0, 1), st.sampled_from([1.0, 2.0, 2.5, 4.0]))
def test_neighbours_share_out_the_cells_along_their_common_side(turned: float, aside: float, wide: float) -> None:
    frame = CellFrame(500_000.0, 5_200_000.0, turned, 1.0, 30, 30)
    strips = [
        shapely.Polygon(frame.to_metres(np.array([[x, 0], [x + wide, 0], [x + wide, 30], [x, 30]])))
        for x in np.arange(aside, 28, wide)
    ]
    found, _ = cells_inside(frame, strips)
    assert len(found) == len(np.unique(found))


@given(st.floats(0, 360), st.floats(-3, 3))
def test_a_turned_square_holds_its_area_in_cells(turned: float, aside: float) -> None:
    frame = CellFrame(0.0, 0.0, 0.0, 1.0, 200, 200)
    square = affinity.rotate(shapely.box(60 + aside, 60, 140 + aside, 140), turned)
    assert len(cells_inside(frame, [square])[0]) == pytest.approx(6400, rel=0.01)


def test_shapes_without_ground_or_beside_the_frame_hold_no_cell() -> None:
    shapes = [shapely.LineString([(0, 0), (9, 9)]), shapely.box(0, 0, 9, 9), shapely.Polygon()]
    found, starts = cells_inside(FRAME, shapes)
    assert len(found) == 0
    assert starts.tolist() == [0, 0, 0, 0]


def test_no_outlines_hold_no_cell() -> None:
    found, starts = cells_inside(FRAME, [])
    assert len(found) == 0
    assert starts.tolist() == [0]
