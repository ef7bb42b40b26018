"""Shows the ghost on the map: its layers, the plate beside it and the leader between them."""

from __future__ import annotations

from collections.abc import Callable, Sequence

import numpy as np
import shapely
from PySide6.QtCore import QPoint, QRect

from pigmap.builtin.tools.ghost import Ghost
from pigmap.builtin.tools.place_figures import plate_words
from pigmap.builtin.tools.place_look import ghost_layers, leader, offending_spot, waiting_layers
from pigmap.builtin.tools.place_plate import PlacePlate
from pigmap.drawing.layer import Layer
from pigmap.geometry.rectangle import Rectangle
from pigmap.qt.tool import Host
from pigmap.session.placing import Judgement

Row = Sequence[Rectangle]
NOWHERE = (0.0, 0.0)


class Shown:
    """The picture of one placing on a map.

    Parameters
    ----------
    reason
        Called with the words with which a refused place is set all the same.
    """

    def __init__(self, host: Host, reason: Callable[[str], object]) -> None:
        self._host = host
        self.plate = PlacePlate(host.stage, host.widget, reason)
        self._fitted = True
        self._leader: tuple[Layer, ...] = ()
        self._drawn: tuple[tuple[object, ...], Rectangle, tuple[Layer, ...]] | None = None

    def close(self) -> None:
        """Put the plate away."""
        self.plate.hide()
        self.plate.deleteLater()

    def show(self, ghost: Ghost | None, row: Row, judged: Sequence[Judgement], waiting: Sequence[Row]) -> None:
        """Show the ghost and what was set but is not on disk yet.

        Without figures (they come a moment later) the ghost looks as fitting as the last place did, and the plate
        stays where it is.
        """
        layers = [layer for each in waiting for layer in waiting_layers(each)]
        if ghost is None or not row:
            self.plate.hide()
            self._host.carry((), NOWHERE)
            self._host.preview(layers)
            return
        if not judged and len(row) == 1 and not layers:
            self._carry(ghost, row[0])
            return
        if judged:
            self._fitted = all(one.fits for one in judged)
            self._leader = self._beside(ghost, row, judged)
        self._host.carry((), NOWHERE)
        self._host.preview((*layers, *self._leader, *ghost_layers(ghost, row, judged, fitted=self._fitted)))

    def _carry(self, ghost: Ghost, rectangle: Rectangle) -> None:
        """Let the ghost follow the pointer: it is drawn once for its size and direction, then only moved."""
        wanted = (rectangle.turned_deg, rectangle.long_mm, rectangle.wide_mm, ghost.kind, self._fitted)
        if self._drawn is None or self._drawn[0] != wanted:
            self._drawn = wanted, rectangle, ghost_layers(ghost, (rectangle,), (), fitted=self._fitted)
        _, at, layers = self._drawn
        by = rectangle.corner_x_m - at.corner_x_m, rectangle.corner_y_m - at.corner_y_m
        self._host.preview(self._leader)
        self._host.carry(layers, by)

    def _beside(self, ghost: Ghost, row: Row, judged: Sequence[Judgement]) -> tuple[Layer, ...]:
        """Put the plate beside the ghost and return its leader."""
        view = self._host.view
        words = plate_words(self._host.stage, ghost, row, judged)
        spot = next((found for one in judged if (found := offending_spot(one)) is not None), None)
        begin = self.plate.say(words, self._pixels(row), self._pixel(spot) if spot is not None else None)
        start = view.to_ground(begin.x(), begin.y())
        return (leader(start, spot or _nearest(row[0].outline, start), fits=self._fitted),)

    def _pixel(self, point: tuple[float, float]) -> QPoint:
        x, y = self._host.view.to_device(np.array([point]))[0].tolist()
        return QPoint(round(x), round(y))

    def _pixels(self, row: Row) -> QRect:
        device = self._host.view.to_device(np.concatenate([each.corners for each in row]))
        (left, top), (right, bottom) = device.min(axis=0).tolist(), device.max(axis=0).tolist()
        return QRect(QPoint(int(left), int(top)), QPoint(int(right), int(bottom)))


def _nearest(outline: shapely.Polygon, to: tuple[float, float]) -> tuple[float, float]:
    """Return the point of an outline's edge that is nearest to another."""
    edge = outline.exterior
    near = edge.interpolate(edge.project(shapely.Point(to)))
    return near.x, near.y
