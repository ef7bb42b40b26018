"""The map that the goals name: 0.9 gigapixels, 500,000 cells with clods, 5,000 polygons with names, 1920 by 1080."""

from __future__ import annotations

import gc
from collections.abc import Iterator, Sequence
from contextlib import contextmanager
from datetime import timedelta
from functools import lru_cache, partial
from itertools import pairwise
from pathlib import Path
from typing import cast

import numpy as np
from PySide6.QtCore import QCoreApplication
from PySide6.QtGui import QImage

from pigmap.builtin.tints.rest_and_rooting import tint
from pigmap.drawing.layer import Cells, Label, Labels, Layer, Outlines, Size, Stroke, Tiles
from pigmap.geometry.projection import projection_for
from pigmap.ground import prepare
from pigmap.imagery.source import open_source
from pigmap.qt.field_tint import field_cells
from pigmap.qt.ground_view import GroundView
from pigmap.qt.photo import Photo
from pigmap.qt.stage import Stage
from pigmap.qt.starting import application
from pigmap.session import Session
from tests.benchmarks.ground_case import FIELD_UID, FIRST_DAY, SIDE_M, SOUTH_M, WEST_M, big_ground
from tests.benchmarks.loop_date import OnlyShown
from tests.benchmarks.map_rasters import CRS, LARGE, NORTH, PIXEL_M, WEST, large_jpeg

POLYGONS = 5_000
SIZE = (1920, 1080)
MIDDLE = WEST_M + SIDE_M / 2, SOUTH_M + SIDE_M / 2
PROJECTION = projection_for(CRS, (-93.0, 47.0))


@lru_cache(maxsize=1)
def polygons() -> Outlines:
    """Return 5,000 shapes: nine in ten with four corners, the others with 80."""
    rng = np.random.default_rng(11)
    rings = []
    for number in range(POLYGONS):
        at = np.array([WEST_M, SOUTH_M]) + rng.uniform(12, SIDE_M - 12, 2)
        if number % 10:
            wide, high = rng.uniform(6, 10, 2)
            ring = np.array([[-wide, -high], [wide, -high], [wide, high], [-wide, high]])
        else:
            turn = np.linspace(0, 2 * np.pi, 80, endpoint=False)
            ring = np.stack([np.cos(turn), np.sin(turn)], axis=1) * (8 + 2 * np.sin(5 * turn))[:, None]
        angle = rng.uniform(0, np.pi)
        cos, sin = np.cos(angle), np.sin(angle)
        rings.append(at + ring @ np.array([[cos, sin], [-sin, cos]]))
    starts = np.concatenate([[0], np.cumsum([len(ring) for ring in rings])])
    strokes = (Stroke("#121A17", Size(1.5, 0.3)),)
    return Outlines(np.concatenate(rings), starts.astype(np.int64), closed=True, strokes=strokes, fill="#FFFFFF40")


@lru_cache(maxsize=1)
def names() -> Labels:
    """Return a name for each of them."""
    shapes = polygons()
    ends = shapes.starts
    middles = [shapes.points[start:end].mean(axis=0).tolist() for start, end in pairwise(ends.tolist())]
    return Labels(tuple(Label(x, y, f"P {n}", priority=n % 7) for n, (x, y) in enumerate(middles)))


@lru_cache(maxsize=1)
def cells(day: int = 900) -> Cells:
    """Return the tinted ground with its clods."""
    farm = big_ground(1, snapped=True)
    state = prepare(farm, FIELD_UID).cursor().move_to(FIRST_DAY + timedelta(days=day))
    return field_cells(farm.fields[FIELD_UID], state, tint, computed=False)


def everything() -> Sequence[Layer]:
    """Return all layers of the case."""
    return [Tiles("large"), cells(), polygons(), names()]


def overview_of(path: Path, longest: int = 1536) -> tuple[QImage, tuple[float, float, float, float]]:
    """Return the small picture of an image, as the program keeps one of each, and where it lies."""
    with open_source(path, PROJECTION) as source:
        pixels = source.read(source.bounds, (longest, longest), smooth=False)
    small = QImage(pixels.tobytes(), longest, longest, longest * 4, QImage.Format.Format_RGBA8888)
    return small.convertToFormat(QImage.Format.Format_RGB32), (
        WEST,
        NORTH - LARGE * PIXEL_M,
        WEST + LARGE * PIXEL_M,
        NORTH,
    )


@contextmanager
def shown(layers: Sequence[Layer], metres_per_pixel: float = PIXEL_M) -> Iterator[GroundView]:
    """Show a view of the layers alone, at a scale, settled."""
    application()
    path = large_jpeg()
    view = GroundView(Stage(cast("Session", OnlyShown(big_ground(1, snapped=True))), FIRST_DAY))
    view.resize(*SIZE)
    small, bounds = overview_of(path)
    view.show_photos({"large": Photo(partial(open_source, path, PROJECTION), lambda: small, bounds)})
    view.show_layers(layers)
    look(view, MIDDLE, metres_per_pixel)
    view.show()
    QCoreApplication.processEvents()
    view.settle()
    QCoreApplication.processEvents()
    gc.freeze()  # as the window does after its first frame
    try:
        yield view
    finally:
        view.close_down()
        view.close()


def look(view: GroundView, at: tuple[float, float], metres_per_pixel: float) -> None:
    """Show a spot at just this scale: to look at ground would leave a rim round it and shrink the image."""
    view.aim(*at, metres_per_pixel)
