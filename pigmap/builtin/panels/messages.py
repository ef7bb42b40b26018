"""What the message bar said lately, the newest first."""

from __future__ import annotations

from PySide6.QtWidgets import QListWidget, QWidget

from pigmap.builtin.panels.aside import AsidePlate
from pigmap.qt.stage import Notice, Stage
from pigmap.qt.theme import font

KEPT = 50
HIGH = 320


class Messages(AsidePlate):
    """Keeps the last messages from the moment it is made."""

    def __init__(self, stage: Stage, parent: QWidget) -> None:
        super().__init__(stage, parent, stage.say("Messages"))
        self.past: list[Notice] = []
        self.list = QListWidget(self)
        self.list.setFont(font("body", stage))
        self.list.setWordWrap(True)
        self.list.setAccessibleName(stage.say("Messages, newest first"))
        self.list.setFixedHeight(round(HIGH * stage.text_scale))
        self.column.addWidget(self.list)
        stage.noticed.connect(self._keep)

    def _keep(self, notice: Notice) -> None:
        self.past = [*self.past, notice][-KEPT:]
        if not self.isHidden():
            self.renew()

    def first(self) -> QWidget:
        """Return the list."""
        return self.list

    def renew(self) -> None:
        """Write them out."""
        self.list.clear()
        self.list.addItems([self.stage.words(notice.text) for notice in reversed(self.past)])
        if not self.past:
            self.list.addItem(self.stage.say("Nothing was said yet."))
        self.list.setCurrentRow(0)


class _Panel:
    name = "messages"
    place = "aside"
    verb = ""

    def make(self, stage: Stage, parent: QWidget) -> QWidget:
        """Return the plate."""
        return Messages(stage, parent)


panel = _Panel()
