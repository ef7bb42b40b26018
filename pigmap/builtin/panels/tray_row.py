"""The tray in a narrow window: what is needed at every paddock in two lines or so, the rest when it is asked for."""

from __future__ import annotations

from collections.abc import Sequence
from typing import NamedTuple

from PySide6.QtWidgets import QWidget

from pigmap.builtin.panels.tab_order import tab_in_order
from pigmap.builtin.panels.tray_choices import ChoiceButton
from pigmap.builtin.panels.tray_parts import Head, Laid, Parts
from pigmap.qt.buttons import WordButton
from pigmap.qt.paintwork import line_height
from pigmap.qt.stage import Stage
from pigmap.qt.stepper import Stepper
from pigmap.qt.theme import font

MARGIN, GAP = 16, 8
TARGET = 44
"""Height of what a thumb hits [px]."""
TALLEST_SHARE = 0.45
"""The opened tray takes so much of the window at most, and scrolls."""
COUNT_WIDE, DAY_WIDE, OWN_WIDE, LINE_WIDE = 120, 196, 190, 210
"""Least breadths at a text size of 100 %: steppers of a count, a day, nets owned, and the line for others [px]."""
SNAP_GAP = 6


class _Item(NamedTuple):
    """Widgets that stay side by side, the breadth that each needs, and how much of a line's rest they take."""

    widgets: tuple[QWidget, ...]
    wide: tuple[float, ...]
    high: float
    gap: float = SNAP_GAP
    grows: bool = True

    @property
    def whole(self) -> float:
        return sum(self.wide) + self.gap * (len(self.wide) - 1)


class Row:
    """Lays the parts in lines, each as full as it goes; what is on a line stands on one foot."""

    def __init__(self, stage: Stage, parts: Parts, width: int, *, opened: bool) -> None:
        self._stage = stage
        self._parts = parts
        self._width = width
        self._opened = opened
        self._label = line_height(font("second", stage)) + 4
        self._step_high = round(self._label + 46 * stage.text_scale)
        self._laid: list[QWidget] = []

    def lay(self) -> Laid:
        """Lay them out; what is not asked for is hidden."""
        first, second = self._choices(), self._numbers()
        y = float(GAP)
        for items in (*first, second, *self._rest()):
            for line in self._lines(items):
                y = self._lay_line(line, y)
        tab_in_order(self._laid)
        shown = [snap for snap in self._parts.snaps if not snap.isHidden()]
        heads = [Head(snap.x(), snap.y() - self._label, self._stage.say("Snap to")) for snap in shown[:1]]
        return Laid(y, tuple(heads))

    def _choices(self) -> list[list[_Item]]:
        """Return the lines of what is chosen: one with the chosen of each, or all of them."""
        parts = self._parts
        kinds = [self._choice(each) for each in parts.kinds if not each.isHidden()]
        groups = [self._choice(each) for each in parts.groups if not each.isHidden()]
        if self._opened:
            return [kinds, groups]
        return [[*kinds, *groups, self._word(parts.more)]]

    def _numbers(self) -> list[_Item]:
        """Return the steppers, and the snaps where they need no line of their own or are asked for."""
        parts, scale = self._parts, self._stage.text_scale
        items = [self._stepper(each, COUNT_WIDE) for each in parts.sides.steppers if not each.isHidden()]
        if not parts.day.isHidden():
            items.append(self._stepper(parts.day, DAY_WIDE))
        wide = tuple(float(each.sizeHint().width()) for each in parts.snaps)
        snaps = _Item(tuple(parts.snaps), wide, round(46 * scale))
        has_room = self._opened or len(self._lines([*items, snaps])) <= len(self._lines(items))
        has_room = has_room and not parts.sides.steppers[0].isHidden()
        for each in parts.snaps:
            each.setVisible(has_room)
        return [*items, snaps] if has_room else items

    def _rest(self) -> list[list[_Item]]:
        """Return what is needed seldom, where it is asked for."""
        parts, scale = self._parts, self._stage.text_scale
        what, another = (parts.what.next, parts.what.stands), parts.stock.line
        for each in (another, *what):
            each.setVisible(self._opened)
        if not self._opened:
            return []
        high = round(TARGET * scale)
        items = [self._words(what, high), *(self._words(each, high) for each in self._ways())]
        if not parts.stock.own.isHidden():
            items.append(self._stepper(parts.stock.own, OWN_WIDE))
        items.append(_Item((another,), (LINE_WIDE * scale,), high))
        if not parts.more.isHidden():
            items.append(self._word(parts.more))
        return [items]

    def _ways(self) -> list[tuple[WordButton, ...]]:
        """Return how to place, where there are nets to place."""
        ways = self._parts.ways
        return [] if ways.nets.isHidden() else [ways.switches, (*ways.deeds, *ways.more)]

    def _words(self, buttons: tuple[WordButton, ...], high: float) -> _Item:
        return _Item(buttons, tuple(float(each.sizeHint().width()) for each in buttons), high)

    def _choice(self, button: ChoiceButton) -> _Item:
        return _Item((button,), (button.wide(),), max(TARGET, button.least_high()))

    def _stepper(self, stepper: Stepper, wide: int) -> _Item:
        return _Item((stepper,), (wide * self._stage.text_scale,), self._step_high)

    def _word(self, button: WordButton) -> _Item:
        size = button.sizeHint()
        return _Item((button,), (float(size.width()),), round(TARGET * self._stage.text_scale), grows=False)

    def _lines(self, items: Sequence[_Item]) -> list[list[_Item]]:
        """Share items out to lines: as many on each as have room."""
        lines: list[list[_Item]] = []
        left = 0.0
        for item in items:
            if not lines or item.whole + GAP > left:
                lines.append([])
                left = float(self._width - 2 * MARGIN + GAP)
            lines[-1].append(item)
            left -= item.whole + GAP
        return lines

    def _lay_line(self, line: Sequence[_Item], y: float) -> float:
        """Lay one line, its widgets broadened to the line's end; return where the next begins."""
        high = max(item.high for item in line)
        fixed = sum(item.whole for item in line if not item.grows) + GAP * (len(line) - 1)
        fixed += sum(item.gap * (len(item.wide) - 1) for item in line if item.grows)
        growing = sum(sum(item.wide) for item in line if item.grows)
        share = (self._width - 2 * MARGIN - fixed) / growing if growing else 1.0
        x = float(MARGIN)
        for item in line:
            for widget, wide in zip(item.widgets, item.wide, strict=True):
                each = wide * (share if item.grows else 1.0)
                tall = round(high if isinstance(widget, ChoiceButton) else item.high)
                widget.setGeometry(round(x), round(y + high) - tall, int(each), tall)
                self._laid.append(widget)
                x += each + item.gap
            x += GAP - item.gap
        return y + high + GAP
