"""What can be chosen in the tray, and the button of one choice."""

from __future__ import annotations

from typing import NamedTuple

from PySide6.QtCore import QRectF, QSize
from PySide6.QtGui import QPainter, QPaintEvent
from PySide6.QtWidgets import QWidget

from pigmap.builtin.panels.group_words import pigs_words
from pigmap.document.edits import add_net_kind, even_bays
from pigmap.drawing.on_day import letter_of
from pigmap.fence.needs import Tally
from pigmap.qt.buttons import Button
from pigmap.qt.group_sign import draw_group_sign
from pigmap.qt.icons import paint_icon
from pigmap.qt.nets import tallies
from pigmap.qt.paintwork import breadth, line_height, plate, write
from pigmap.qt.stage import Stage
from pigmap.qt.theme import RADIUS_BUTTON, font, tokens
from pigmap.qt.whereabouts import book_of
from pigmap.records import Edit
from pigmap.text import Quantity, Text


class Choice(NamedTuple):
    """One thing to choose."""

    uid: str
    first: str
    second: str = ""
    sign: tuple[int, str] | None = None


def choices_of_kinds(stage: Stage) -> list[Choice]:
    """Return the kinds of net, with how many of each are spare on the day that is shown."""
    counted = tallies(stage.session.farm, stage.day, stage.today)
    made = []
    for uid, kind in stage.session.farm.net_kinds.items():
        length = Quantity(kind.length_m, "m")
        tape = stage.say(", {colour} tape", colour=kind.tape) if kind.tape else ""
        first = stage.say("{length}, {posts} posts{tape}", length=length, posts=kind.posts, tape=tape)
        made.append(Choice(uid, first, _counted_words(stage, counted[uid])))
    return made


def _counted_words(stage: Stage, counted: Tally) -> str:
    """Return how many are spare and owned; where more stand than that, how many stand."""
    if counted.standing > counted.owned:
        return stage.say("{standing} stand, {owned} owned", standing=counted.standing, owned=counted.owned)
    return stage.say("{spare} spare, {owned} owned", spare=counted.spare, owned=counted.owned)


FIRST_KINDS = {"first 50 m": (50, 15), "first 25 m": (25, 8)}
"""Kinds offered to a farm without any: metres and posts. Common practice."""


def first_kinds(stage: Stage) -> list[Choice]:
    """Return the usual kinds of net, for a farm that has none yet."""
    return [
        Choice(
            uid,
            stage.say("{length} nets", length=Quantity(metres, "m")),
            stage.say("{posts} posts each", posts=posts),
        )
        for uid, (metres, posts) in FIRST_KINDS.items()
    ]


def first_kind(uid: str, name: str, nets: int) -> Edit:
    """Return the edit that adds one of the usual kinds, and the nets of it that the farm owns."""
    metres, posts = FIRST_KINDS[uid]
    return add_net_kind(name, even_bays(metres * 1000, posts), nets=nets)


def choices_of_groups(stage: Stage) -> list[Choice]:
    """Return the groups a paddock can be placed for, and none of them."""
    made = [
        Choice(
            group.uid,
            group.name,
            pigs_words(stage, group.uid),
            (group.colour_index, letter_of(group, stage.session.farm)),
        )
        for group in book_of(stage.session.farm, stage.today).groups(stage.day)
    ]
    return [*made, Choice("", stage.words(Text("No group")), stage.say("the paddock alone"))]


class ChoiceButton(Button):
    """One choice of several; the chosen one is inked."""

    def __init__(self, stage: Stage, choice: Choice, parent: QWidget) -> None:
        super().__init__(stage, parent)
        self.choice = choice
        self.setCheckable(True)
        self.setText(choice.first)
        self._folded = False
        self.setAccessibleName(f"{choice.first}, {choice.second}")

    def fold(self, folded: bool) -> None:
        """Show that the other choices come with a click."""
        self._folded = folded
        name = f"{self.choice.first}, {self.choice.second}"
        self.setAccessibleName(self.stage.say("{chosen}; others to choose from", chosen=name) if folded else name)
        self.update()

    def wide(self) -> float:
        """Return the breadth in which both its lines are whole [px]."""
        words = max(
            breadth(self.choice.first, font("strong", self.stage)),
            breadth(self.choice.second, font("second", self.stage)),
        )
        return 14 + (36 if self.choice.sign is not None else 0) + words + (36 if self._folded else 12)

    def nextCheckState(self) -> None:
        """Stay chosen when pressed again."""
        self.setChecked(True)

    def least_high(self) -> int:
        """Return the least height in which both its lines are whole [px]."""
        return round(line_height(font("strong", self.stage)) + line_height(font("second", self.stage)) + 8)

    def sizeHint(self) -> QSize:
        """Return the room it takes."""
        least = 46 if self.choice.sign is not None or not self.choice.uid else 52
        return QSize(200, max(round(least * self.stage.text_scale), self.least_high()))

    def paintEvent(self, event: QPaintEvent) -> None:
        """Draw plate, sign and words."""
        theme = tokens(self.stage)
        with QPainter(self) as painter:
            on = self.isChecked() and not self._folded  # of one alone nothing is to be told apart
            fill = theme.ink if on else (theme.well if self.hovered else theme.plate)
            plate(painter, QRectF(self.rect()), fill, "" if on else theme.edge, width=1.4, radius=RADIUS_BUTTON)
            strong, second = font("strong", self.stage), font("second", self.stage)
            x = 14.0
            if self.choice.sign is not None:
                index, letter = self.choice.sign
                edge = theme.paper if on else ""
                sign = QRectF(x - 2, (self.height() - 28) / 2, 28, 28)
                draw_group_sign(painter, sign, index, letter, strong, edge=edge)
                x += 36
            room = self.width() - x - (34 if self._folded else 10)
            if self._folded:
                box = QRectF(self.width() - 30, (self.height() - 18) / 2, 18, 18)
                paint_icon(painter, "open", box, theme.paper if on else theme.ink)
            top = (self.height() - line_height(strong) - line_height(second)) / 2
            first = QRectF(x, top, room, line_height(strong))
            write(painter, first, self.choice.first, strong, theme.paper if on else theme.ink)
            below = QRectF(x, top + line_height(strong), room, line_height(second))
            write(painter, below, self.choice.second, second, theme.paper if on else theme.ink2)
