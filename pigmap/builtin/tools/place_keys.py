"""The keys of placing: turn, nudge, change nets, set."""

from __future__ import annotations

from collections.abc import Callable
from typing import Protocol

from PySide6.QtCore import Qt
from PySide6.QtGui import QKeyEvent

from pigmap.builtin.tools.ghost import Ghost
from pigmap.builtin.tools.place_free import FreeCorners
from pigmap.builtin.tools.row_fill import next_filling
from pigmap.builtin.tools.typed_line import starts_typing
from pigmap.geometry.rectangle import Rectangle
from pigmap.qt.placing_choice import PlacingChoice
from pigmap.records import Farm

TURN_DEG = 5.0
FINE_TURN_DEG = 1.0
Key = Qt.Key
_ARROWS = {Key.Key_Left: (-1, 0), Key.Key_Right: (1, 0), Key.Key_Up: (0, 1), Key.Key_Down: (0, -1)}
_MORE = (Key.Key_Plus, Key.Key_Equal, Key.Key_Asterisk)
_FEWER = (Key.Key_Minus, Key.Key_Underscore)


class Placing(Protocol):
    """What the keys work on."""

    row: tuple[Rectangle, ...]

    @property
    def ghost(self) -> Ghost | None:
        """The placing that is under way."""
        ...

    @property
    def choice(self) -> PlacingChoice:
        """What is to be placed."""
        ...

    @property
    def farm(self) -> Farm:
        """The farm as it is."""
        ...

    def start_in_the_middle(self) -> None:
        """Have a ghost."""
        ...

    def hold_at(self, *row: Rectangle) -> None:
        """Put the ghost somewhere."""
        ...

    def let_go(self) -> bool:
        """Let it follow the pointer again."""
        ...

    def beside(self) -> None:
        """Put the ghost beside where the group stands; each time at its next side."""
        ...

    def again(self) -> None:
        """Put the ghost where an old paddock was."""
        ...

    def go_round(self) -> None:
        """Have it go round what is in its way."""
        ...

    def open_line(self, begun: str) -> None:
        """Open the line to type into."""
        ...

    def turn_free(self) -> None:
        """Set corners one by one, or rectangles of whole nets again."""
        ...

    def ask_reason(self) -> None:
        """Open the line for a reason."""
        ...

    def ask_why(self) -> None:
        """Show what the figures rest on, or put that away."""
        ...

    def set(self) -> bool:
        """Place what the ghost shows; whether it was."""
        ...


def take_key(tool: Placing, event: QKeyEvent) -> bool:
    """Do what a key asks for; return whether it asked for anything."""
    if event.modifiers() & ~(Qt.KeyboardModifier.ShiftModifier | Qt.KeyboardModifier.KeypadModifier):
        return False
    key = Key(event.key())
    shift = bool(event.modifiers() & Qt.KeyboardModifier.ShiftModifier)
    deed = _deed(tool, key, shift)
    if deed is not None:
        deed()
        return True
    if key == Key.Key_Escape:
        return tool.let_go()
    if starts_typing(event):
        tool.open_line(event.text() if event.text().isdigit() else "")
        return True
    return False


class FreePlacing(Placing, Protocol):
    """What the keys work on while corners are set one by one."""

    free: FreeCorners

    def close(self) -> None:
        """Set what the corners close."""
        ...


def take_free_key(tool: FreePlacing, event: QKeyEvent) -> bool:
    """Do what a key asks for while corners are free; return whether it asked for anything."""
    if event.modifiers() & ~Qt.KeyboardModifier.KeypadModifier:
        return False
    key = Key(event.key())
    if key in (Key.Key_Return, Key.Key_Enter) and tool.free.corners.points:
        tool.close()
        return True
    deed = _other_deed(tool, key)
    if deed is not None:
        deed()
        return True
    if key == Key.Key_Escape and tool.let_go():
        return True
    return tool.free.key(event)


def _other_deed(tool: Placing, key: Qt.Key) -> Callable[[], None] | None:
    """Return what a key does whether corners are free or not."""
    named = {Key.Key_A: tool.again, Key.Key_K: tool.turn_free, Key.Key_G: tool.go_round}
    if key in named:
        return named[key]
    if key == Key.Key_N:
        return lambda: tool.choice.next_kind(tool.farm)
    if key in (Key.Key_O, Key.Key_Y):
        return tool.ask_reason if key == Key.Key_O else tool.ask_why
    return None


def _deed(tool: Placing, key: Qt.Key, shift: bool) -> Callable[[], None] | None:
    if key in (Key.Key_Q, Key.Key_E):
        by = (FINE_TURN_DEG if shift else TURN_DEG) * (1 if key == Key.Key_Q else -1)
        return lambda: _turn(tool, by)
    if key in _ARROWS:
        return lambda: _nudge(tool, *_ARROWS[key], nets=shift)
    if key in _MORE or key in _FEWER:
        return lambda: _lengthen(tool.choice, 1 if key in _MORE else -1, wide=shift)
    if key == Key.Key_L:
        return lambda: tool.choice.mix(not tool.choice.mixed)
    if key == Key.Key_F:
        return tool.beside
    if key == Key.Key_R:
        return lambda: fill(tool, strips=shift)
    if key in (Key.Key_Return, Key.Key_Enter):
        return lambda: _set(tool)
    return _other_deed(tool, key)


def _set(tool: Placing) -> None:
    if not tool.row:
        tool.start_in_the_middle()
    elif not tool.set():
        tool.ask_reason()


def _turn(tool: Placing, by_deg: float) -> None:
    tool.start_in_the_middle()
    now = tool.row[0].turned_deg
    turned = tool.row[0].turned_to(now + by_deg)
    tool.choice.choose(turned_deg=now + by_deg)
    tool.hold_at(turned)


def _nudge(tool: Placing, along: int, across: int, *, nets: bool) -> None:
    tool.start_in_the_middle()
    if tool.ghost is not None:
        tool.hold_at(tool.ghost.nudged(tool.row[0], along, across, nets=nets))


def fill(tool: Placing, *, strips: bool) -> None:
    """Lay as many in a row as fit, each time another way."""
    tool.start_in_the_middle()
    if tool.ghost is not None:
        tool.hold_at(*next_filling(tool.ghost, tool.row, strips=strips))


def _lengthen(choice: PlacingChoice, by: int, *, wide: bool) -> None:
    choice.step(choice.kind_uid, by, wide=wide)
