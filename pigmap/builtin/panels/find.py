"""Find: one line to type into, and what on the farm is called so; Enter goes there."""

from __future__ import annotations

from PySide6.QtCore import QEvent, QObject, Qt
from PySide6.QtGui import QKeyEvent, QStandardItem, QStandardItemModel
from PySide6.QtWidgets import QLineEdit, QWidget

from pigmap.builtin.panels.aside import AsidePlate
from pigmap.builtin.panels.form_parts import Words
from pigmap.builtin.panels.list_rows import SECOND, TallList
from pigmap.drawing.words import day_words
from pigmap.qt.stage import Picked, Stage
from pigmap.qt.theme import font
from pigmap.session.finding import Found, find

NOTHING = "Nothing is called {words}. Type a field, paddock, group, place or keep-out by its name, or a day: 14 Oct."
MOST_ROWS = 12
"""Rows in sight at once; the others scroll."""


class Find(AsidePlate):
    """Up and Down choose while the line has the keys."""

    def __init__(self, stage: Stage, parent: QWidget) -> None:
        super().__init__(stage, parent, stage.say("Find"))
        self.line = QLineEdit(self)
        self.line.setFont(font("body", stage))
        self.line.setAccessibleName(stage.say("What to find"))
        self.line.setPlaceholderText(stage.say("a field, a paddock, a group, a place, a day"))
        self.list = TallList(stage, self, stage.say("What was found"), high=0, least=0, under=False)
        self.list.setFocusPolicy(Qt.FocusPolicy.NoFocus)
        self.rows = QStandardItemModel(self)
        self.list.setModel(self.rows)
        self.nothing = Words(stage, "second", self, "", "ink2")
        for widget in (self.line, self.list, self.nothing):
            self.column.addWidget(widget)
        self._found: tuple[Found, ...] = ()
        self.line.textChanged.connect(self._look)
        self.line.installEventFilter(self)
        self.list.clicked.connect(lambda index: self._go(index.row()))
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
        self.rows.clear()
        for each in self._found:
            self.rows.appendRow(self._row(each))
        self.list.ask_for_rows(min(len(self._found), MOST_ROWS))
        self.list.setVisible(bool(self._found))
        none = words.strip() and not self._found
        self.nothing.say(stage.say(NOTHING, words=words.strip()) if none else "")
        self._choose(0)
        self.fit()

    def _row(self, found: Found) -> QStandardItem:
        stage = self.stage
        name = day_words(found.day, "full", language=stage.language) if found.day is not None else found.name
        beside = stage.words(found.beside)
        row = QStandardItem(name)
        row.setData(beside, SECOND)
        row.setData(f"{name}, {beside}", Qt.ItemDataRole.AccessibleTextRole)
        row.setEditable(False)
        return row

    def _choose(self, at: int) -> None:
        """Choose a row, and have the line say which: the keys stay with the line."""
        self.list.setCurrentIndex(self.rows.index(at, 0))
        chosen = self.rows.item(at)
        said = str(chosen.data(Qt.ItemDataRole.AccessibleTextRole)) if chosen is not None else self.nothing.text()
        self.line.setAccessibleDescription(said)

    def _go(self, at: int) -> None:
        if not 0 <= at < len(self._found):
            return
        found, stage = self._found[at], self.stage
        self.put_away()
        if found.day is not None:
            stage.show_day(found.day)
            return
        if found.plate:
            stage.plate_asked.emit(found.plate)
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
                self._choose((self.list.currentIndex().row() + step) % len(self._found))
                return True
            if event.key() in (Qt.Key.Key_Return, Qt.Key.Key_Enter):
                self._go(self.list.currentIndex().row())
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
