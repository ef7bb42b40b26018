"""The contract of a panel: a part of the window."""

from __future__ import annotations

from typing import Literal, Protocol

from PySide6.QtWidgets import QWidget

from pigmap.qt.stage import Stage

Place = Literal["verbs", "column", "season", "card", "key", "message", "start", "foot", "aside", "beside"]


class Panel(Protocol):
    """Makes one part of the window.

    The widget it returns reads the stage, repaints when the stage's signals say so, and holds no state of the farm.
    """

    name: str
    place: Place
    """Where it lies: the row of verbs, the column or its foot, the season strip, over the map, or beside it."""
    verb: str
    """The verb whose panel takes the column's place while it runs; empty for a panel that is always there."""

    def make(self, stage: Stage, parent: QWidget) -> QWidget:
        """Return the widget."""
        ...
