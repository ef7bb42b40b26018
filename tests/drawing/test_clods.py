from __future__ import annotations

import numpy as np

from pigmap.drawing.clods import clods_in
from pigmap.drawing.layer import Cells
from pigmap.drawing.tokens import CLOD_SIZES
from pigmap.drawing.view import View
from pigmap.geometry.frame import CellFrame

FRAME = CellFrame(0.0, 0.0, 0.0, 2.0, 200, 200)


def _cells(rooted: int) -> Cells:
    shape = (FRAME.rows, FRAME.columns)
    return Cells("f", FRAME, np.zeros(shape, np.uint8), np.zeros((256, 4), np.uint8), np.full(shape, rooted, np.uint8))


def _view(metres: float, *, paper: bool = False) -> View:
    return View(200.0, 200.0, metres, 400.0, 400.0, paper)


def test_hardly_rooted_ground_has_no_clods() -> None:
    assert clods_in(_cells(0), _view(1.0)) == {}


def test_clods_keep_their_distance_whatever_the_scale() -> None:
    for metres in (0.3, 1.0):
        spots = clods_in(_cells(2), _view(metres))[2].spots
        some = spots[:300]
        apart = np.hypot(*(some[:, None] - some[None]).transpose(2, 0, 1))
        assert apart[apart > 0].min() >= CLOD_SIZES[2].spacing_px - 0.02


def test_more_rooted_ground_has_more_ink() -> None:
    ink = [len(clods_in(_cells(k), _view(1.0))[k].spots) * CLOD_SIZES[k].radius_px ** 2 for k in (1, 2, 3, 4)]
    assert ink == sorted(ink)
    assert ink[3] > 6 * ink[0]


def test_clods_stay_on_the_ground_when_the_map_moves() -> None:
    here = clods_in(_cells(1), _view(1.0))[1].spots
    there = clods_in(_cells(1), View(200.0 + 30.0, 200.0, 1.0, 400.0, 400.0))[1].spots + np.array([30.0, 0.0])
    common = {tuple(spot) for spot in np.round(here, 3).tolist()} & {tuple(s) for s in np.round(there, 3).tolist()}
    assert len(common) > 0.85 * len(here)


def test_on_paper_clods_have_their_own_size() -> None:
    clods = clods_in(_cells(3), View(200.0, 200.0, 1.0, 400.0, 400.0, paper=True))[3]
    assert clods.radius == CLOD_SIZES[3].radius_mm


def test_clods_fall_only_on_rooted_cells() -> None:
    cells = _cells(0)
    assert cells.clods is not None
    half = cells.clods.copy()
    half[:, :100] = 4
    spots = clods_in(Cells("f", FRAME, cells.codes, cells.colours, half), _view(1.0))[4].spots
    assert (spots[:, 0] < 200.0).all()
