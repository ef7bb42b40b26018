"""What is picked stays in sight: the map moves a little where the card would lie on it."""

from __future__ import annotations

import numpy as np
from PySide6.QtCore import QRectF
from PySide6.QtWidgets import QWidget

from pigmap.drawing.on_day import on_day
from pigmap.drawing.scene import shape_of
from pigmap.qt.canvas import MapView
from pigmap.qt.stage import Stage

ROUND_PX = 24.0
"""Kept free round what is picked, for its brackets."""
MOST_SHARE = 0.5
"""So much of it may lie under the card."""


def bring_into_sight(map_view: MapView, card: QWidget | None, stage: Stage) -> None:
    """Move the map by as little as it takes to have what is picked beside the card, if most of it lies under it.

    What is too large for the room beside the card stays where it is.
    """
    if card is None or not card.isVisible():
        return
    box, cover = picked_box(map_view, stage), QRectF(card.geometry())
    if box is None or _share_under(box, cover) <= MOST_SHARE:
        return
    box.adjust(-ROUND_PX, -ROUND_PX, ROUND_PX, ROUND_PX)
    aside, up = box.right() - cover.left(), box.bottom() - cover.top()
    density = map_view.devicePixelRatioF()
    if box.left() - aside >= 0:
        map_view.pan_by(round(aside * density), 0)
    elif box.top() - up >= 0:
        map_view.pan_by(0, round(up * density))


def go_to_picked(map_view: MapView, stage: Stage) -> None:
    """Move the map so that the middle of what is picked is in its middle, unless all of it is in sight."""
    box = picked_box(map_view, stage)
    if box is None or QRectF(map_view.rect()).contains(box):
        return
    off = box.center() - QRectF(map_view.rect()).center()
    density = map_view.devicePixelRatioF()
    map_view.pan_by(round(off.x() * density), round(off.y() * density))


def picked_box(map_view: MapView, stage: Stage) -> QRectF | None:
    """Return where what is picked lies on the map widget [px]; None where it lies nowhere."""
    farm = stage.session.farm
    shape = shape_of(farm, stage.picked, on_day(farm, stage.day, stage.today))
    if shape is None or shape.is_empty:
        return None
    west, south, east, north = shape.bounds
    (left, top), (right, bottom) = map_view.view.to_device(np.array([(west, north), (east, south)])).tolist()
    return QRectF(left, top, right - left, bottom - top)


def _share_under(box: QRectF, cover: QRectF) -> float:
    """Return the share of a box that lies under another; a point has no area and counts by where it is."""
    grown = box.adjusted(-0.5, -0.5, 0.5, 0.5)
    under = grown.intersected(cover)
    return under.width() * under.height() / (grown.width() * grown.height())
