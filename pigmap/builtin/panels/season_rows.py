"""The rows of the season strip as data: which stays are bars, which moves want the spare set, where each lies."""

from __future__ import annotations

from collections.abc import Iterator
from datetime import date, timedelta
from typing import NamedTuple

from PySide6.QtCore import QRectF

from pigmap.builtin.panels.day_scale import DayScale
from pigmap.qt.whereabouts import Book, short_name
from pigmap.records import Group, Lasting, Stay, StayState
from pigmap.records.frozen import dataclass

GRIP = 6.0
"""Half the breadth of the zone at a planned bar's end that takes a drag [px]."""


class Bar(NamedTuple):
    """One stay as a bar."""

    stay: Stay
    words: str
    box: QRectF


class Move(NamedTuple):
    """One move that the spare set makes."""

    group: Group
    day: date
    row: int


@dataclass(frozen=True, slots=True)
class Strip:
    """Where rows lie in the strip [px]."""

    scale: DayScale
    top: float
    row: float
    groups: tuple[Group, ...]
    visible: int
    """Rows of groups that there is room for."""
    first_row: int = 0
    """The group whose row is the uppermost."""

    @property
    def rows(self) -> tuple[Group, ...]:
        """The groups whose rows are in view."""
        return self.groups[self.first_row : self.first_row + self.visible]

    @property
    def spare_top(self) -> float:
        """Where the spare set's row begins."""
        return self.top + len(self.rows) * self.row

    @property
    def foot(self) -> float:
        """Where the last row ends."""
        return self.spare_top + self.row

    def bar_box(self, at: int, first: date, last: date) -> QRectF:
        """Return the box of a bar in the row `at` of those in view."""
        left = self.scale.x_of(first)
        inset = max(3.0, self.row * 0.14)
        return QRectF(
            left + 0.5,
            self.top + at * self.row + inset,
            max(2.0, self.scale.x_of(last) - left - 1),
            self.row - 2 * inset,
        )


def bars(book: Book, strip: Strip, today: date) -> Iterator[Bar]:
    """Yield the bars in view; a stay with no end in sight runs to the day after today, or to its first.

    Plans that came to nothing lie where they were planned, behind what happened instead.
    """
    left, right = strip.scale.day_at(strip.scale.left), strip.scale.day_at(strip.scale.right)
    for at, group in enumerate(strip.rows):
        really = {each.stay.uid: each for each in book.lasting(group.uid)}
        for stay in sorted(book.stays(group.uid), key=lambda stay: stay.uid in really):
            each = really.get(stay.uid, Lasting(stay, stay.in_on, stay.out_on))
            last = each.end or max(today, each.first) + timedelta(days=1)
            if each.first <= right and last >= left:
                paddock = book.paddock_of(stay)
                words = short_name(paddock.name, book.field_of(paddock)) if paddock else ""
                yield Bar(stay, words, strip.bar_box(at, each.first, last))


def moves(book: Book, strip: Strip) -> Iterator[Move]:
    """Yield the moves in view."""
    left, right = strip.scale.day_at(strip.scale.left), strip.scale.day_at(strip.scale.right)
    for at, group in enumerate(strip.rows):
        for move in book.moves(group.uid):
            if left <= move.day <= right:
                yield Move(group, move.day, at)


def grip_at(book: Book, strip: Strip, today: date, x: float, y: float) -> Bar | None:
    """Return the planned bar, or the running one with a day out, whose right end lies under the pointer."""
    for bar in bars(book, strip, today):
        ends = bar.stay.state is not StayState.PAST and bar.stay.out_on is not None
        if ends and bar.box.top() <= y <= bar.box.bottom() and abs(x - bar.box.right()) <= GRIP:
            return bar
    return None


def bar_at(book: Book, strip: Strip, today: date, x: float, y: float) -> Bar | None:
    """Return the bar under the pointer; of several, the one that began last."""
    found = [bar for bar in bars(book, strip, today) if bar.box.contains(x, y)]
    return found[-1] if found else None
