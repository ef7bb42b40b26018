"""The contract of a tool: a verb that has the pointer on the map."""

from __future__ import annotations

from collections.abc import Sequence
from typing import NamedTuple, Protocol

from PySide6.QtCore import Qt
from PySide6.QtGui import QKeyEvent
from PySide6.QtWidgets import QWidget

from pigmap.drawing.layer import Layer
from pigmap.drawing.view import View
from pigmap.qt.stage import Stage


class Pointer(NamedTuple):
    """Where the pointer is, on the ground and on the map widget."""

    x_m: float
    y_m: float
    x: float
    y: float
    metres_per_pixel: float
    modifiers: Qt.KeyboardModifier


class Host(Protocol):
    """What a tool sees of the map."""

    stage: Stage

    @property
    def view(self) -> View:
        """Which ground lies where on the map widget."""
        ...

    @property
    def widget(self) -> QWidget:
        """The map widget: plates of a tool lie over it as its children."""
        ...

    def preview(self, layers: Sequence[Layer]) -> None:
        """Show layers over the map until the next call; only what they cover is painted again."""
        ...

    def carry(self, layers: Sequence[Layer], by: tuple[float, float]) -> None:
        """Show layers over the map, moved by east and north [m]: painted once, however often they move."""
        ...

    def hold(self, layers: Sequence[Layer]) -> None:
        """Show layers over the map where they are, painted once, while others are carried past them."""
        ...


class Tool(Protocol):
    """Turns gestures on the map into one edit each; while a gesture runs it shows a preview of its own.

    A tool never changes the farm itself: it hands an `Edit` to ``host.stage.session.do``. Dragging with the left
    button belongs to the tool only if `press` returns True; otherwise the map moves.
    """

    name: str
    cursor: Qt.CursorShape

    def begin(self, host: Host) -> None:
        """Start: the verb was taken up."""
        ...

    def end(self) -> None:
        """Drop any preview: another verb was taken up."""
        ...

    def hover(self, pointer: Pointer) -> None:
        """Follow the pointer, which moved without a button."""
        ...

    def press(self, pointer: Pointer) -> bool:
        """Take the left button going down; return whether the tool takes the drag."""
        ...

    def drag(self, pointer: Pointer) -> None:
        """Follow the pointer, which moved with the button down."""
        ...

    def release(self, pointer: Pointer) -> None:
        """Take the button coming up; a click is a press and a release within 4 pixels."""
        ...

    def double(self, pointer: Pointer) -> None:
        """Take the second press of a double click."""
        ...

    def key(self, event: QKeyEvent) -> bool:
        """Take a key; return whether the tool used it."""
        ...


class IdleTool:
    """A tool that does nothing with any gesture: tools that do something with some of them begin from it."""

    name = ""
    cursor = Qt.CursorShape.ArrowCursor
    _host: Host | None = None

    @property
    def host(self) -> Host:
        """The map that this tool works on; there is one from `begin` to `end`."""
        assert self._host is not None
        return self._host

    @property
    def running(self) -> bool:
        """Whether the tool has the pointer."""
        return self._host is not None

    def begin(self, host: Host) -> None:
        """Start: the verb was taken up."""
        self._host = host

    def end(self) -> None:
        """Drop any preview: another verb was taken up."""
        if self._host is not None:
            self._host.preview(())
            self._host.carry((), (0.0, 0.0))
            self._host.hold(())
            self._host = None

    def hover(self, pointer: Pointer) -> None:
        """Follow the pointer."""

    def press(self, pointer: Pointer) -> bool:
        """Leave drags to the map."""
        return False

    def drag(self, pointer: Pointer) -> None:
        """Follow the pointer, which moved with the button down."""

    def release(self, pointer: Pointer) -> None:
        """Take the button coming up."""

    def double(self, pointer: Pointer) -> None:
        """Take the second press of a double click."""

    def key(self, event: QKeyEvent) -> bool:
        """Leave keys to the map and the window."""
        return False
