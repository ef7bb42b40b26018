from __future__ import annotations

from dataclasses import replace

import numpy as np
import pytest
from hypothesis import given
from hypothesis import strategies as st

from pigmap.drawing.changed_cells import BLOCK, MOST, changed_cells
from pigmap.drawing.layer import Cells
from pigmap.geometry.frame import CellFrame

ROWS, COLUMNS = 200, 333
FRAME = CellFrame(0.0, 0.0, 12.0, 2.0, ROWS, COLUMNS)


def _cells() -> Cells:
    shape = (ROWS, COLUMNS)
    codes, clods, seen = np.zeros(shape, np.uint8), np.ones(shape, np.uint8), np.zeros(shape, np.bool_)
    outline = np.array([[0.0, 0.0], [400.0, 0.0], [400.0, 300.0], [np.nan, np.nan], [0.0, 0.0]])
    return Cells("f", FRAME, codes, np.zeros((256, 4), np.uint8), clods, seen, outline)


def _covered(rectangles: np.ndarray) -> np.ndarray:
    covered = np.zeros((ROWS, COLUMNS), dtype=np.bool_)
    for left, top, right, bottom in rectangles.tolist():
        covered[top:bottom, left:right] = True
    return covered


@given(st.lists(st.tuples(st.integers(0, ROWS - 1), st.integers(0, COLUMNS - 1), st.sampled_from("csk")), max_size=200))
def test_every_cell_that_changed_is_in_a_rectangle_and_these_are_few(spots: list[tuple[int, int, str]]) -> None:
    before = _cells()
    codes, clods, seen = before.codes.copy(), np.ones((ROWS, COLUMNS), np.uint8), np.zeros((ROWS, COLUMNS), np.bool_)
    for row, column, which in spots:
        {"c": codes, "k": clods, "s": seen}[which][row, column] = 1 if which != "k" else 3
    found = changed_cells(before, replace(before, codes=codes, clods=clods, seen=seen))
    assert found is not None
    assert len(found) <= MOST
    covered = _covered(found)
    assert all(covered[row, column] for row, column, _ in spots)
    assert bool(spots) or not len(found)


def test_one_other_cell_is_one_block() -> None:
    before = _cells()
    codes = before.codes.copy()
    codes[ROWS - 1, COLUMNS - 1] = 3
    found = changed_cells(before, replace(before, codes=codes))
    assert found is not None
    ((left, top, right, bottom),) = found.tolist()
    assert (right, bottom) == (COLUMNS, ROWS)
    assert right - left <= BLOCK
    assert bottom - top <= BLOCK


def test_that_clods_were_seen_matters_only_where_there_are_some() -> None:
    before = replace(_cells(), clods=np.zeros((ROWS, COLUMNS), np.uint8))
    found = changed_cells(before, replace(before, seen=np.ones((ROWS, COLUMNS), np.bool_)))
    assert found is not None
    assert not len(found)


@pytest.mark.parametrize(
    "other",
    [
        {"frame": replace(FRAME, turned_deg=13.0)},
        {"colours": np.ones((256, 4), np.uint8)},
        {"clods": None, "seen": None},
        {"outline": np.array([[0.0, 0.0], [400.0, 0.0], [400.0, 300.0]])},
        {"outline": None},
    ],
)
def test_where_more_than_the_cells_differs_all_of_it_may_have_changed(other: dict[str, object]) -> None:
    before = _cells()
    assert changed_cells(before, replace(before, **other)) is None  # type: ignore[arg-type]
