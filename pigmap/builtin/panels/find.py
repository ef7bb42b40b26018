"""Find: one line to type into, and what on the farm is called so; Enter goes there."""

from __future__ import annotations

from PySide6.QtCore import QEvent, QObject, Qt
from PySide6.QtGui import QKeyEvent
from PySide6.QtWidgets import QLineEdit, QListWidget, QListWidgetItem, QWidget

from pigmap.builtin.panels.aside import AsidePlate
from pigmap.builtin.panels.form_parts import Words
from pigmap.drawing.words import day_words
from pigmap.qt.stage import Picked, Stage
from pigmap.qt.theme import font
from pigmap.session.finding import Found, find

ROW = 34
"""Height of a row at a text size of 100 % [px]."""


class Find(AsidePlate):
    """Up and Down choose while the line has the keys."""

    def __init__(self, stage: Stage, parent: QWidget) -> None:
        super().__init__(stage, parent, stage.say("Find"))
        self.line = QLineEdit(self)
        self.line.setFont(font("body", stage))
        self.line.setAccessibleName(stage.say("What to find"))
        self.line.setPlaceholderText(stage.say("a field, a paddock, a group, a place, a day"))
        self.list = QListWidget(self)
        self.list.setFont(font("body", stage))
        self.list.setAccessibleName(stage.say("What was found"))
        self.list.setFocusPolicy(Qt.FocusPolicy.NoFocus)
        self.list.setHorizontalScrollBarPolicy(Qt.ScrollBarPolicy.ScrollBarAlwaysOff)
        self.nothing = Words(stage, "second", self, "", "ink2")
        for widget in (self.line, self.list, self.nothing):
            self.column.addWidget(widget)
        self._found: tuple[Found, ...] = ()
        self.line.textChanged.connect(self._look)
        self.line.installEventFilter(self)
        self.list.itemClicked.connect(lambda item: self._go(self.list.row(item)))
        self._look("")

    def first(self) -> QWidget:
        """Return the line."""
        return self.line

    def renew(self) -> None:
        """Begin anew."""
        self.line.clear()
        self._look("")

    def _look(self, words: str) -> None:
        stage = self.stage
        self._found = find(stage.session.farm, words, stage.today)
        self.list.clear()
        for each in self._found:
            self.list.addItem(QListWidgetItem(self._words(each)))
        self.list.setCurrentRow(0)
        self.list.setVisible(bool(self._found))
        self.list.setFixedHeight(round(ROW * stage.text_scale) * max(1, len(self._found)) + 4)
        none = words.strip() and not self._found
        said = "Nothing is called {words}. Names of fields, paddocks, groups and places are looked through, and days."
        self.nothing.say(stage.say(said, words=words.strip()) if none else "")
        self.fit()

    def _words(self, found: Found) -> str:
        if found.day is not None:
            return day_words(found.day, "full", language=self.stage.language)
        return self.stage.say("{name}, {kind}", name=found.name, kind=found.kind)

    def _go(self, at: int) -> None:
        if not 0 <= at < len(self._found):
            return
        found, stage = self._found[at], self.stage
        self.put_away()
        if found.day is not None:
            stage.show_day(found.day)
            return
        stage.take_up("pick")
        stage.pick(None)
        stage.pick(Picked(found.table, found.uid))
        stage.sight_asked.emit()

    def eventFilter(self, watched: QObject, event: QEvent) -> bool:
        """Choose and go with the keys of the line."""
        if watched is self.line and event.type() == QEvent.Type.KeyPress and isinstance(event, QKeyEvent):
            step = {Qt.Key.Key_Up: -1, Qt.Key.Key_Down: 1}.get(Qt.Key(event.key()))
            if step is not None and self._found:
                self.list.setCurrentRow((self.list.currentRow() + step) % len(self._found))
                return True
            if event.key() in (Qt.Key.Key_Return, Qt.Key.Key_Enter):
                self._go(self.list.currentRow())
                return True
        return super().eventFilter(watched, event)


class _Panel:
    name = "find"
    place = "aside"
    verb = ""

    def make(self, stage: Stage, parent: QWidget) -> QWidget:
        """Return the plate."""
        return Find(stage, parent)


panel = _Panel()
