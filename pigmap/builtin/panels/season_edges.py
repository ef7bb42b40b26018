"""Scrolling while something is dragged: at an edge of the strip the days beyond it come into view."""

from __future__ import annotations

from collections.abc import Callable

from PySide6.QtCore import QObject, QPointF, QTimer

from pigmap.builtin.panels.day_scale import DayScale

EDGE_PX = 28.0
"""So near to an edge of the days the strip begins to scroll."""
MOST_PX = 40.0
"""Farthest that one step scrolls, with the pointer at the edge or beyond: a year takes some three seconds."""
STEP_MS = 25


def step_at(scale: DayScale, x: float) -> float:
    """Return how far to scroll with the pointer at a place [px]: 0 away from the edges, earlier below 0."""
    before, after = scale.left + EDGE_PX - x, x - (scale.right - EDGE_PX)
    depth = min(max(before, after, 0.0), EDGE_PX)
    return (-MOST_PX if before > after else MOST_PX) * depth / EDGE_PX


class EdgeScroll(QObject):
    """Goes on scrolling while the pointer rests at an edge.

    Parameters
    ----------
    scroll
        Called with the step [px] and where the pointer is.
    parent
        Whose life it shares.
    """

    def __init__(self, scroll: Callable[[float, QPointF], None], parent: QObject) -> None:
        super().__init__(parent)
        self._scroll = scroll
        self._step, self._at = 0.0, QPointF()
        self._timer = QTimer(self, interval=STEP_MS)
        self._timer.timeout.connect(self._go_on)

    def follow(self, scale: DayScale, at: QPointF) -> None:
        """Take where the pointer is now."""
        self._step, self._at = step_at(scale, at.x()), at
        if not self._step:
            self._timer.stop()
        elif not self._timer.isActive():
            self._timer.start()

    def stop(self) -> None:
        """Stop, as at the end of a drag."""
        self._timer.stop()

    def _go_on(self) -> None:
        self._scroll(self._step, self._at)
