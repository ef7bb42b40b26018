"""Shows the ghost on the map: its layers, the plate beside it and the leader between them."""

from __future__ import annotations

from collections.abc import Callable, Sequence
from dataclasses import replace

import numpy as np
import shapely
from numpy.typing import NDArray
from PySide6.QtCore import QPoint, QRect, Qt

from pigmap.builtin.tools.ghost import Ghost
from pigmap.builtin.tools.ghost_slip import GhostSlip
from pigmap.builtin.tools.place_coming import coming_layers
from pigmap.builtin.tools.place_figures import Row as FigureRow
from pigmap.builtin.tools.place_figures import plate_words
from pigmap.builtin.tools.place_free_look import FreeLook, free_layers, moving_layers, set_layers, side_row, told_layers
from pigmap.builtin.tools.place_free_words import crossed_words
from pigmap.builtin.tools.place_look import found_layers, ghost_layers, leader, offending_spot, waiting_layers
from pigmap.builtin.tools.place_plate import PlacePlate
from pigmap.builtin.tools.place_why import Asked
from pigmap.drawing.ghost import plain
from pigmap.drawing.layer import Layer
from pigmap.geometry.free_outline import Placed
from pigmap.geometry.rectangle import Rectangle
from pigmap.qt.tool import Host
from pigmap.session.placing import Judgement
from pigmap.session.placing.walking import Walking

Row = Sequence[Rectangle]
NOWHERE = (0.0, 0.0)
MOST_DRAWN = 32
"""Ghosts that are kept: of the same nets, in the directions of a few fields."""


class Shown:
    """The picture of one placing on a map.

    Parameters
    ----------
    reason
        Called with the words with which a refused place is set all the same.
    why
        Called where the pointer or the keys ask for a menu: they ask what the figures rest on.
    """

    def __init__(self, host: Host, reason: Callable[[str], object], why: Callable[[], object]) -> None:
        self._host = host
        host.widget.setContextMenuPolicy(Qt.ContextMenuPolicy.CustomContextMenu)
        self._asking = host.widget.customContextMenuRequested.connect(lambda _: why())
        self.plate = PlacePlate(host.stage, host.widget, reason)
        self.slip = GhostSlip(host)
        self._fitted = True
        self._leader: tuple[Layer, ...] = ()
        self._free_drawn: tuple[tuple[object, ...], tuple[Layer, ...]] | None = None
        """What of free corners does not follow the pointer, and all that it depends on."""
        self._told: tuple[tuple[tuple[float, float], ...], tuple[Layer, ...]] = ((), ())
        """What was told last of the sides at the pointer, and for which corners."""
        self._drawn: dict[tuple[object, ...], tuple[Rectangle, tuple[Layer, ...]]] = {}

    def close(self) -> None:
        """Put the plate away."""
        self.slip.close()
        self._host.widget.customContextMenuRequested.disconnect(self._asking)
        self._host.widget.setContextMenuPolicy(Qt.ContextMenuPolicy.DefaultContextMenu)
        self.plate.hide()
        self.plate.deleteLater()

    def show(
        self, ghost: Ghost | None, row: Row, judged: Sequence[Judgement], waiting: Sequence[Sequence[Placed]]
    ) -> None:
        """Show the ghost and what was set but is not on disk yet.

        Without figures (they come a moment later) the ghost looks as fitting as the last place did, and the plate
        stays where it is.
        """
        layers = [layer for each in waiting for layer in waiting_layers(each)]
        if ghost is None or not row:
            self.plate.hide()
            self._host.hold(())
            self.slip.carry((), NOWHERE)
            self._host.preview(layers)
            return
        if judged:
            self._fitted = all(one.fits for one in judged)
            self._host.hold(self._beside(ghost, row, judged))
        if len(row) == 1:
            self._show_one(ghost, row[0], judged, layers)
        else:
            self.slip.carry((), NOWHERE)
            self._host.preview(
                (*layers, *ghost_layers(ghost, row, judged, fitted=self._fitted), *coming_layers(ghost, row, judged))
            )

    def show_free(
        self,
        ghost: Ghost,
        walking: Walking,
        look: FreeLook,
        judged: Sequence[Judgement],
        waiting: Sequence[Sequence[Placed]],
        *,
        quick: bool = False,
    ) -> None:
        """Show corners that are set one by one; until figures come they look as fitting as the last ones did."""
        self.slip.carry((), NOWHERE)
        spot = None
        if judged and look.outline is not None:
            self._fitted = judged[0].fits
            spot = offending_spot(judged[0])
            side = side_row(self._host.stage, walking, look)
            self._leader = self._beside(ghost, (look.outline,), judged, side)
        elif look.crossed:
            self._leader = ()
            if not quick:
                self.plate.say(crossed_words(self._host.stage), self._pixels(np.array(look.every)))
        elif look.outline is None:
            self._fitted, self._leader = True, ()
            self.plate.hide()
        fits = self._fitted and not look.crossed
        if not quick or self._free_drawn is None or self._free_drawn[0][0] != tuple(look.points):
            self._host.hold((*self._set_corners(ghost, walking, look, fits=fits), *self._leader))
        moving = moving_layers(look, fits=fits, spot=spot)
        told = self._told_of_next(walking, look, fits=fits, quick=quick)
        self._host.preview((*(layer for each in waiting for layer in waiting_layers(each)), *moving, *told))

    def _told_of_next(self, walking: Walking, look: FreeLook, *, fits: bool, quick: bool) -> tuple[Layer, ...]:
        """Return posts and lengths of the sides at the pointer; while it moves those that were told last."""
        corners = tuple(look.points)
        if not quick:
            self._told = corners, told_layers(self._host.stage, walking, look, fits=fits)
        return self._told[1] if self._told[0] == corners and look.pointer is not None else ()

    def _set_corners(self, ghost: Ghost, walking: Walking, look: FreeLook, *, fits: bool) -> tuple[Layer, ...]:
        """Return what is drawn of corners that are set: made, and painted, once while the next one follows."""
        key = (tuple(look.points), look.closed, fits, walking)
        if self._free_drawn is None or self._free_drawn[0] != key:
            if look.closed:
                made = free_layers(self._host.stage, ghost, walking, look, fits=fits)
            else:
                made = set_layers(self._host.stage, walking, look, fits=fits)
            self._free_drawn = key, made
        return self._free_drawn[1]

    def _show_one(
        self, ghost: Ghost, rectangle: Rectangle, judged: Sequence[Judgement], waiting: Sequence[Layer]
    ) -> None:
        """Show one ghost: it is drawn once for its size and direction, with its figures, and then only moved.

        One that was not drawn yet is an outline until its figures come.
        """
        drawn = self._drawn.get(self._look(ghost, rectangle)) or (self._draw(ghost, rectangle) if judged else None)
        if drawn is None:
            self.slip.carry((), NOWHERE)
            self._host.preview((*waiting, plain(rectangle.corners, fits=self._fitted)))
            return
        at, layers = drawn
        self.slip.carry(layers, (rectangle.corner_x_m - at.corner_x_m, rectangle.corner_y_m - at.corner_y_m))
        self._host.preview(
            (
                *waiting,
                *((*found_layers(ghost, judged[0]), *coming_layers(ghost, (rectangle,), judged)) if judged else ()),
            )
        )

    def _look(self, ghost: Ghost, rectangle: Rectangle) -> tuple[object, ...]:
        """Return all that the drawing of a ghost depends on, but not where it is."""
        return (
            round(rectangle.turned_deg, 6),
            rectangle.long_mm,
            rectangle.wide_mm,
            ghost.kind,
            ghost.told,
            self._fitted,
        )

    def _draw(self, ghost: Ghost, rectangle: Rectangle) -> tuple[Rectangle, tuple[Layer, ...]]:
        if len(self._drawn) >= MOST_DRAWN:
            self._drawn.clear()
        made = rectangle, ghost_layers(ghost, (rectangle,), (), fitted=self._fitted)
        self._drawn[self._look(ghost, rectangle)] = made
        return made

    def _beside(
        self, ghost: Ghost, row: Sequence[Placed], judged: Sequence[Judgement], side: FigureRow | None = None
    ) -> tuple[Layer, ...]:
        """Put the plate beside the ghost and return its leader."""
        view = self._host.view
        words = plate_words(self._host.stage, ghost, row, judged)
        if side is not None:
            words = replace(words, rows=(side, *words.rows))
        spot = next((found for one in judged if (found := offending_spot(one)) is not None), None)
        whys = Asked(self._host.stage, ghost, row, judged).why
        begin = self.plate.say(
            words, self._pixels(_corners(row)), self._pixel(spot) if spot is not None else None, whys
        )
        start = view.to_ground(begin.x(), begin.y())
        return (leader(start, spot or _nearest(row[0].outline, start), fits=self._fitted),)

    def _pixel(self, point: tuple[float, float]) -> QPoint:
        x, y = self._host.view.to_device(np.array([point]))[0].tolist()
        return QPoint(round(x), round(y))

    def _pixels(self, corners: NDArray[np.float64]) -> QRect:
        device = self._host.view.to_device(corners)
        (left, top), (right, bottom) = device.min(axis=0).tolist(), device.max(axis=0).tolist()
        return QRect(QPoint(int(left), int(top)), QPoint(int(right), int(bottom)))


def _corners(row: Sequence[Placed]) -> NDArray[np.float64]:
    return np.concatenate([each.corners for each in row])


def _nearest(outline: shapely.Polygon, to: tuple[float, float]) -> tuple[float, float]:
    """Return the point of an outline's edge that is nearest to another."""
    edge = outline.exterior
    near = edge.interpolate(edge.project(shapely.Point(to)))
    return near.x, near.y
