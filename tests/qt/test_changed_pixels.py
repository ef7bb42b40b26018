from __future__ import annotations

from collections.abc import Iterator
from dataclasses import replace
from pathlib import Path
from typing import Any, cast

import numpy as np
import pytest
from numpy.typing import NDArray
from PySide6.QtCore import QRect
from PySide6.QtGui import QImage
from PySide6.QtWidgets import QApplication
from pytestqt.qtbot import QtBot

from pigmap.drawing.layer import Cells
from pigmap.drawing.tokens import BARE, UNKNOWN
from pigmap.geometry.frame import CellFrame
from pigmap.qt.changed_pixels import changed_pixels
from pigmap.qt.ground_view import GroundView
from pigmap.qt.pixel_frame import PixelFrame
from tests.qt.window_farm import drop, made_stage

ROUNDED = 2
"""Paint laid over paint by way of a sheet is rounded once more for each layer."""
STRAY = 12
"""Pixels on the very edge of a turned cell may fall to either side: a piece begins to count at its own corner."""
ROWS, COLUMNS = 150, 190
COLOURS = np.random.default_rng(5).integers(0, 256, (256, 4)).astype(np.uint8)
COLOURS[UNKNOWN] = COLOURS[BARE] = 0


def _cells(turned_deg: float) -> Cells:
    shape = (ROWS, COLUMNS)
    frame = CellFrame(0.0, 0.0, turned_deg, 2.0, *shape)
    ring = frame.to_metres(
        np.array([[5.0, 5.0], [185.0, 9.0], [180.0, 140.0], [90.0, 100.0], [8.0, 145.0], [5.0, 5.0]])
    )
    codes = np.full(shape, UNKNOWN, dtype=np.uint8)
    return Cells("f", frame, codes, COLOURS, np.zeros(shape, np.uint8), np.zeros(shape, np.bool_), ring)


def _next(cells: Cells, rng: np.random.Generator) -> Cells:
    """Return the ground on the next day: pigs came to a few places, which are known from then on."""
    codes, clods, seen = cells.codes.copy(), np.array(cells.clods), np.array(cells.seen)
    for _ in range(int(rng.integers(1, 4))):
        row, column = int(rng.integers(0, ROWS - 20)), int(rng.integers(0, COLUMNS - 20))
        high, wide = rng.integers(1, 30, 2).tolist()
        there = slice(row, row + high), slice(column, column + wide)
        codes[there], clods[there], seen[there] = rng.integers(0, 6), rng.integers(0, 5), rng.integers(0, 2)
    return replace(cells, codes=codes, clods=clods, seen=seen)


@pytest.fixture
def view(qtbot: QtBot, tmp_path: Path) -> Iterator[GroundView]:
    with made_stage(tmp_path) as stage:
        made = GroundView(stage)
        made.resize(640, 420)
        made.show()
        QApplication.processEvents()
        yield made
        made.close_down()
        drop(made)


def _pixels(view: GroundView) -> NDArray[np.int16]:
    image = view.grab().toImage().convertToFormat(QImage.Format.Format_RGB32)
    packed = np.frombuffer(cast("Any", image.constBits()), dtype=np.uint8)
    return packed.reshape(image.height(), image.width(), 4)[..., :3].astype(np.int16)


@pytest.mark.parametrize("turned_deg", [0.0, 24.0])
@pytest.mark.parametrize("metres", [0.7, 1.9])
def test_days_shown_one_after_the_other_look_as_if_all_were_painted(
    view: GroundView, turned_deg: float, metres: float
) -> None:
    rng, cells = np.random.default_rng(3), _cells(turned_deg)
    view.show_layers([cells])
    view.aim(130.0, 190.0, metres)
    view.settle()
    QApplication.processEvents()
    for _ in range(12):
        cells = _next(cells, rng)
        view.show_cells([cells])
        shown = _pixels(view)
        view.picture.begin()
        view.settle()
        off = np.abs(shown - _pixels(view))
        assert np.count_nonzero(off.max(axis=2) > ROUNDED) <= STRAY


def test_a_small_change_leaves_most_of_the_map_alone() -> None:
    cells = _cells(0.0)
    codes = cells.codes.copy()
    codes[20:30, 20:30] = 2
    kept = QRect(-100, -100, 900, 700)
    changed = changed_pixels([cells], [replace(cells, codes=codes)], PixelFrame(0.0, 300.0, 1.0), kept, 1.0)
    assert not changed.isEmpty()
    area = changed.boundingRect()
    assert area.width() * area.height() < 0.1 * 300 * 380


def test_where_a_field_comes_or_goes_all_of_it_changes() -> None:
    cells, frame, kept = _cells(0.0), PixelFrame(0.0, 300.0, 1.0), QRect(0, 0, 640, 420)
    for before, after in (([], [cells]), ([cells], [])):
        assert changed_pixels(before, after, frame, kept, 1.0).boundingRect() == QRect(-1, -1, 382, 302)


def test_the_same_ground_told_anew_changes_nothing() -> None:
    cells, frame, kept = _cells(24.0), PixelFrame(0.0, 300.0, 1.0), QRect(0, 0, 640, 420)
    assert changed_pixels([cells], [replace(cells, codes=cells.codes.copy())], frame, kept, 1.0).isEmpty()
