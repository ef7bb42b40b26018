"""What a group needs, in its card's place: rows that say what they rest on, and the ways to put them right."""

from __future__ import annotations

from PySide6.QtCore import Qt, Signal
from PySide6.QtGui import QKeyEvent, QResizeEvent
from PySide6.QtWidgets import QWidget

from pigmap.builtin.panels.card_body import LEFT, RIGHT, CardBody
from pigmap.builtin.panels.card_facts import CardFacts
from pigmap.builtin.panels.needs_facts import needs_cares, needs_facts
from pigmap.qt.buttons import WordButton
from pigmap.qt.stage import Stage
from pigmap.records import Group

TARGET = 44
"""Height of what a thumb hits [px]."""
GAP = 8


class NeedsForm(QWidget):
    """Stands in the card's place; Esc and Done lead back to the card."""

    ended = Signal()
    grown = Signal()
    """It asks for another height."""
    shows = Signal(QWidget)
    """A part of it is to be seen."""
    asks = Signal(str)
    """Another form is wanted: ``days`` or ``kept``."""

    def __init__(self, stage: Stage, group: Group, parent: QWidget) -> None:
        super().__init__(parent)
        self.stage, self._uid = stage, group.uid
        self.setAccessibleName(stage.say("What {group} need", group=group.name))
        self.body = CardBody(stage, self)
        self.body.grown.connect(self._grow)
        self.buttons: list[WordButton] = []
        if not stage.session.read_only:
            self._add(stage.say("Days a paddock lasts"), lambda: self.asks.emit("days"))
            self._add(stage.say("Feed and water"), lambda: self.asks.emit("kept"))
        self._add(stage.say("Done"), self.ended.emit)
        stage.farm_changed.connect(self._renew)
        stage.day_changed.connect(self._renew)
        stage.theme_changed.connect(self._grow)
        self._renew()

    @property
    def head(self) -> QWidget:
        """What keeps clear of the button that closes the card; the body does so by itself."""
        return self.body

    @property
    def first(self) -> QWidget:
        """What has the keys first."""
        return self.body

    def _add(self, words: str, do: object) -> None:
        button = WordButton(self.stage, words, parent=self)
        button.clicked.connect(do)
        button.show()
        self.buttons.append(button)

    def _renew(self, *_: object) -> None:
        group = self.stage.session.farm.groups.get(self._uid)
        if group is None:
            self.ended.emit()
            return
        facts = needs_facts(self.stage, group)
        title = self.stage.say("What {group} need", group=group.name)
        second = "" if facts else self.stage.say("no pigs on this day")
        self.body.facts = CardFacts(title, second, facts=tuple(facts), warnings=needs_cares(self.stage, group))
        self._grow()

    def _grow(self, *_: object) -> None:
        self._lay_out()
        self.body.update()
        self.grown.emit()

    def _high(self) -> int:
        return round(TARGET * self.stage.text_scale)

    def _rows(self, wide: int) -> list[list[WordButton]]:
        """Return the buttons in rows: all in one where they have room, else the last below the others."""
        need = sum(button.sizeHint().width() + GAP for button in self.buttons) - GAP
        if need <= wide:
            return [self.buttons]
        return [[button] for button in self.buttons]

    def high_at(self, width: int) -> int:
        """Return the height it takes at a breadth [px]."""
        return self.body.heightForWidth(width - LEFT - RIGHT) + len(self._rows(width)) * (self._high() + GAP)

    def resizeEvent(self, event: QResizeEvent) -> None:
        """Lay it out."""
        self._lay_out()

    def _lay_out(self) -> None:
        wide = self.width()
        high = self.body.heightForWidth(wide - LEFT - RIGHT)
        self.body.setGeometry(0, 0, wide, high)
        y = high + GAP
        for row in self._rows(wide):
            each = (wide - (len(row) - 1) * GAP) // len(row)
            for at, button in enumerate(row):
                button.setGeometry(at * (each + GAP), y, each, self._high())
            y += self._high() + GAP

    def keyPressEvent(self, event: QKeyEvent) -> None:
        """End with Esc."""
        if event.key() == Qt.Key.Key_Escape:
            self.ended.emit()
            return
        super().keyPressEvent(event)
