"""Small rings and lines as Qt's shapes at one scale: made once, since every piece of the map draws them anew."""

from __future__ import annotations

from functools import lru_cache

import numpy as np
from numpy.typing import NDArray
from PySide6.QtCore import QLineF, QPointF
from PySide6.QtGui import QPolygonF

from pigmap.drawing.layer import Outlines
from pigmap.drawing.rings import Rings
from pigmap.drawing.view import View
from pigmap.qt.painter_paths import bounds_of, rings_near

SMALL_UNITS = 400.0
"""Longer things are cut to the view: what lies out of it costs as much to draw as what is seen."""

FINEST_UNITS = 0.5
"""Corners nearer to each other than this are one."""


class ScaledRings:
    """The rings of a layer at a scale, in device units from a point of their own."""

    def __init__(self, layer: Outlines, metres_per_unit: float) -> None:
        self._layer = layer
        self._unit = metres_per_unit
        self._bounds = bounds_of_layer(layer)
        self._anchor = (float(layer.points[0, 0]), float(layer.points[0, 1])) if len(layer.points) else (0.0, 0.0)
        west, south, east, north = self._bounds
        sides = np.maximum(east - west, north - south)
        self._small = sides <= SMALL_UNITS * metres_per_unit
        self._rings = _simplified(layer, self._anchor, metres_per_unit)
        self._polygons: dict[int, QPolygonF] = {}
        self._lines: dict[int, list[QLineF]] = {}

    def near(self, view: View, margin: float) -> list[int] | None:
        """Return which rings reach into a view; None where one of them is too large to be drawn as a whole."""
        near = rings_near(self._bounds, view, margin)
        return near.tolist() if self._small[near].all() else None

    def offset(self, view: View) -> QPointF:
        """Return where their own point lies in a view."""
        (x, y) = self._anchor
        return QPointF(
            (x - view.centre_x_m) / self._unit + view.width / 2, (view.centre_y_m - y) / self._unit + view.height / 2
        )

    def polygon(self, ring: int) -> QPolygonF:
        """Return a ring from its own point."""
        found = self._polygons.get(ring)
        if found is None:
            found = self._polygons[ring] = QPolygonF([QPointF(x, y) for x, y in self._corners(ring)])
        return found

    def lines(self, ring: int) -> list[QLineF]:
        """Return its sides from its own point."""
        found = self._lines.get(ring)
        if found is None:
            corners = self._corners(ring)
            ends = corners[1:] + corners[:1] if self._layer.closed else corners[1:]
            found = self._lines[ring] = [QLineF(*one, *other) for one, other in zip(corners, ends, strict=False)]
        return found

    def _corners(self, ring: int) -> list[list[float]]:
        points, starts = self._rings
        found: list[list[float]] = points[starts[ring] : starts[ring + 1]].tolist()
        return found


def _simplified(layer: Outlines, anchor: tuple[float, float], metres_per_unit: float) -> Rings:
    """Return rings in device units without corners that lie on the one before, to the eye; each keeps its first."""
    scaled = (layer.points - anchor) / (metres_per_unit, -metres_per_unit)
    squares = np.floor(scaled / FINEST_UNITS)
    kept = np.ones(len(scaled), dtype=np.bool_)
    kept[1:] = (squares[1:] != squares[:-1]).any(axis=1)
    kept[layer.starts[:-1]] = True
    starts = np.concatenate([[0], np.cumsum(kept)])[layer.starts].astype(np.int64)
    return Rings(scaled[kept], starts)


@lru_cache(maxsize=256)
def bounds_of_layer(layer: Outlines) -> NDArray[np.float64]:
    """Return where each ring of a layer lies, as `bounds_of`; kept, since every piece of the map asks for it."""
    return bounds_of(Rings(layer.points, layer.starts))


@lru_cache(maxsize=128)
def scaled_rings(layer: Outlines, metres_per_unit: float) -> ScaledRings:
    """Return the rings of a layer at a scale; those asked for last are kept."""
    return ScaledRings(layer, metres_per_unit)
