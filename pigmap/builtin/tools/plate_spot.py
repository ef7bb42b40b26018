"""Where the plate of a ghost lies: beside it, in view, on no other plate; and where its leader begins."""

from __future__ import annotations

from collections.abc import Sequence

from PySide6.QtCore import QPoint, QRect, QSize

SHADOW_PX = 6
APART_PX = 44
"""Room between ghost and plate, for the leader."""


def beside(size: QSize, room: QSize, clear: QRect, others: Sequence[QRect]) -> QPoint:
    """Return where a plate fits beside a rectangle: below, above, right or left of it, all in view, on no other."""
    size = size - QSize(2 * SHADOW_PX, 2 * SHADOW_PX)
    right, bottom = max(8, room.width() - size.width() - 8), max(8, room.height() - size.height() - 8)

    def held(x: int, y: int) -> QPoint:
        return QPoint(min(max(x, 8), right), min(max(y, 8), bottom))

    across, down = clear.center().x() - size.width() // 2, clear.center().y() - size.height() // 2
    after, before = clear.right() + APART_PX, clear.left() - APART_PX - size.width()
    below, above = clear.bottom() + APART_PX, clear.top() - APART_PX - size.height()
    ways = [held(*way) for way in ((across, below), (after, down), (before, down), (across, above))]
    ways += [held(*way) for way in ((after, below), (after, above), (before, above), (right, 8), (right, bottom))]

    def cost(at: QPoint) -> int:
        box = QRect(at, size)
        return 4 * _overlap(box, clear) + sum(_overlap(box, other) for other in others)

    return min(ways, key=cost)


def _overlap(box: QRect, clear: QRect) -> int:
    both = box.intersected(clear.adjusted(-8, -8, 8, 8))
    return max(both.width(), 0) * max(both.height(), 0)


def nearest(box: QRect, to: QPoint) -> QPoint:
    """Return the point of a box's edge that is nearest to a point outside it."""
    x = min(max(to.x(), box.left() + 12), box.right() - 12) if not box.top() <= to.y() <= box.bottom() else to.x()
    return QPoint(min(max(x, box.left()), box.right()), min(max(to.y(), box.top()), box.bottom()))
