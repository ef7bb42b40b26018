"""Corners that are set one after the other: clicked, typed, taken back; kept while another verb runs."""

from __future__ import annotations

from collections.abc import Callable

from PySide6.QtCore import Qt
from PySide6.QtGui import QKeyEvent

from pigmap.builtin.tools.typed import typed_corner
from pigmap.builtin.tools.typed_line import TypedLine, starts_typing
from pigmap.errors import PigmapError
from pigmap.qt.following import sentence
from pigmap.qt.stage import Stage
from pigmap.qt.tool import Host, Pointer
from pigmap.session.phone_corners import corner_shown, is_phone_pair
from pigmap.text import Text

SAME_PX = 4.0
"""A corner this near to the one before is the same click."""


def left_half_done(stage: Stage, verb: str, corners: Corners) -> None:
    """Say that corners wait to be gone on with, where another verb was taken up before they were closed."""
    count = len(corners.points)
    if count and stage.verb != verb:
        many = "{count} corners wait where you left them."
        stage.notice(Text("1 corner waits where you left it.", plural=many, count=count), "care", verb)


class Corners:
    """The corners of one line or outline while it is drawn.

    Parameters
    ----------
    hint
        What stands in the line to type into while it is empty.
    tell_dropped
        Whether it is said that Esc dropped corners, and how they come back.
    """

    def __init__(self, hint: str, *, tell_dropped: bool = False) -> None:
        self._tell_dropped = tell_dropped
        self._dropped: list[tuple[float, float]] = []
        self.points: list[tuple[float, float]] = []
        self.pointer: tuple[float, float] | None = None
        """Where the next corner would be; None where the pointer is not followed."""
        self._hint = hint
        self._finished = False
        self._reach = 0.0
        self._host: Host | None = None
        self._line: TypedLine | None = None

    def begin(self, host: Host, changed: Callable[[], None]) -> None:
        """Go on on a map."""
        self._host, self._changed = host, changed
        self._line = TypedLine(host.stage, host.widget, host.stage.say(self._hint), self._take)

    def end(self) -> None:
        """Leave the map; the corners stay."""
        self.pointer = None
        if self._line is not None:
            self._line.shut()
            self._line.deleteLater()
        self._line = self._host = None

    def follow(self, pointer: Pointer) -> None:
        """Let the next corner follow the pointer."""
        self._reach = SAME_PX * pointer.metres_per_pixel
        self.pointer = None if self._finished or not self.points else (pointer.x_m, pointer.y_m)

    def add(self, x_m: float, y_m: float) -> None:
        """Set a corner; after `finish` it is the first of a new line."""
        if self._finished:
            self.clear()
        self._dropped = []
        if not self.points or max(abs(x_m - self.points[-1][0]), abs(y_m - self.points[-1][1])) > self._reach:
            self.points.append((x_m, y_m))

    def finish(self) -> None:
        """Let no more corner follow."""
        self._finished = bool(self.points)
        self.pointer = None

    def clear(self) -> None:
        """Drop all corners."""
        self.points = []
        self._dropped = []
        self.pointer = None
        self._finished = False

    def key(self, event: QKeyEvent) -> bool:
        """Take back with Backspace, drop with Esc, open the line to type into with a figure or T.

        Enter sets the first corner, in the middle of the map: the arrow keys bring its place there.
        """
        key = event.key()
        if key == Qt.Key.Key_Backspace and (self.points or self._dropped):
            self._take_back()
        elif key == Qt.Key.Key_Escape and self.points:
            self.drop()
        elif key in (Qt.Key.Key_Return, Qt.Key.Key_Enter) and not self.points and self._host is not None:
            self.add(self._host.view.centre_x_m, self._host.view.centre_y_m)
        elif starts_typing(event) and self._line is not None:
            self._line.open(event.text() if event.text().isdigit() else "")
            return True
        else:
            return False
        self._changed()
        return True

    def _take_back(self) -> None:
        """Take the last corner back; where all were dropped, bring them back."""
        if self.points:
            self.points.pop()
        else:
            self.points, self._dropped = self._dropped, []
        self._finished = False

    def drop(self) -> None:
        """Drop all corners; Backspace brings them back."""
        points, finished = self.points, self._finished
        self.clear()
        if self._tell_dropped and not finished and self._host is not None:
            self._dropped = points
            many = "{count} corners dropped. Backspace brings them back."
            self._host.stage.notice(
                Text("1 corner dropped. Backspace brings it back.", plural=many, count=len(points)), "care"
            )

    def _take(self, words: str) -> bool:
        """Take one corner, or several with semicolons between; where one is none, all stay typed."""
        assert self._host is not None
        stage = self._host.stage
        before = list(self.points), self._finished
        self._reach = 0.0
        try:
            for part in [each for each in words.split(";") if each.strip()] or [words]:
                self.add(*self._typed(part, stage))
        except PigmapError as error:
            self.points, self._finished = before
            stage.notice(sentence(error), "refused")
            return False
        self._changed()
        return True

    def _typed(self, words: str, stage: Stage) -> tuple[float, float]:
        """Return the corner that was typed: the pair of numbers of a phone, or as `typed_corner` says."""
        projection = stage.session.farm.projection
        if is_phone_pair(words):
            return corner_shown(words, projection)
        last = self.points[-1] if self.points and not self._finished else None
        return typed_corner(words, last, ground_per_grid=projection.ground_per_grid, feet=stage.units == "us")
