"""What the message bar said lately, the newest first."""

from __future__ import annotations

from PySide6.QtWidgets import QListWidget, QWidget

from pigmap.builtin.panels.aside import AsidePlate
from pigmap.qt.stage import Stage
from pigmap.qt.theme import font

HIGH = 320


class Messages(AsidePlate):
    """A list of the last messages, also of those from before it was made."""

    def __init__(self, stage: Stage, parent: QWidget) -> None:
        super().__init__(stage, parent, stage.say("Messages"))
        self.list = QListWidget(self)
        self.list.setFont(font("body", stage))
        self.list.setWordWrap(True)
        self.list.setAccessibleName(stage.say("Messages, newest first"))
        self.list.setFixedHeight(round(HIGH * stage.text_scale))
        self.column.addWidget(self.list)
        stage.noticed.connect(self._follow)

    def _follow(self) -> None:
        if not self.isHidden():
            self.renew()

    def first(self) -> QWidget:
        """Return the list."""
        return self.list

    def renew(self) -> None:
        """Write them out."""
        past = self.stage.notices
        self.list.clear()
        self.list.addItems([self.stage.words(notice.text) for notice in reversed(past)])
        if not past:
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
