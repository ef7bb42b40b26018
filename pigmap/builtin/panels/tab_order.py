"""The way of the Tab key through a panel: as it is read, column by column, from top to bottom."""

from __future__ import annotations

from collections.abc import Sequence
from itertools import pairwise

from PySide6.QtCore import QPoint, Qt
from PySide6.QtWidgets import QWidget


def tab_as_read(panel: QWidget, column_px: int) -> None:
    """Let the Tab key go through all that takes it in a panel whose columns have a breadth [px]."""
    # The list of a box to choose from is a window of its own.
    here = (each for each in panel.findChildren(QWidget) if each.window() is panel.window())
    stops = [each for each in here if each.focusPolicy() & Qt.FocusPolicy.TabFocus]

    def place(stop: QWidget) -> tuple[int, int, int]:
        at = stop.mapTo(panel, QPoint(0, 0))
        return at.x() // max(column_px, 1), at.y(), at.x()

    for before, after in pairwise(sorted(stops, key=place)):
        QWidget.setTabOrder(before, after)


def tab_in_order(widgets: Sequence[QWidget]) -> None:
    """Let the Tab key go from one of some widgets to the next, through what takes it in each."""
    stops = [stop for widget in widgets for stop in _stops(widget)]
    for before, after in pairwise(stops):
        QWidget.setTabOrder(before, after)


def _stops(widget: QWidget) -> list[QWidget]:
    inside = [each for each in widget.findChildren(QWidget) if each.window() is widget.window()]
    return [each for each in (widget, *inside) if each.focusPolicy() & Qt.FocusPolicy.TabFocus]
