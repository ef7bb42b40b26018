"""The field that stands in the title's place of a card while a name or a day is typed."""

from __future__ import annotations

import re
from datetime import date

from PySide6.QtCore import QEvent, Qt, Signal
from PySide6.QtGui import QKeyEvent
from PySide6.QtWidgets import QLineEdit, QWidget

from pigmap.errors import EditError

_FORM = re.compile(r"\d{4}-\d{2}-\d{2}")


class CardField(QLineEdit):
    """Takes one line; Enter takes it, Esc leaves things as they were."""

    taken = Signal(str)
    dropped = Signal()

    def __init__(self, parent: QWidget) -> None:
        super().__init__(parent)
        self.setMaxLength(120)
        self.hide()

    def begin(self, typed: str, what: str, example: str = "") -> None:
        """Take what is to change, what it is, and what it could look like."""
        self.setText(typed)
        self.setAccessibleName(what)
        self.setPlaceholderText(example)
        self.show()
        self.raise_()
        self.selectAll()
        self.setFocus(Qt.FocusReason.OtherFocusReason)

    def keyPressEvent(self, event: QKeyEvent) -> None:
        """Enter takes what is typed, Esc leaves it."""
        if event.key() in (Qt.Key.Key_Return, Qt.Key.Key_Enter):
            self.taken.emit(self.text())
        elif event.key() == Qt.Key.Key_Escape:
            self.dropped.emit()
        else:
            super().keyPressEvent(event)

    def event(self, event: QEvent) -> bool:
        """Keep letters that are keys of the window."""
        if event.type() == QEvent.Type.ShortcutOverride:
            event.accept()
            return True
        return super().event(event)


def typed_day(typed: str) -> date | None:
    """Return the day that was typed as YYYY-MM-DD, None where nothing was.

    Raises
    ------
    EditError
        If it is no day of the calendar.
    """
    words = typed.strip()
    if not words:
        return None
    try:
        return date.fromisoformat(words) if _FORM.fullmatch(words) else _no_day(words)
    except ValueError:
        return _no_day(words)


def _no_day(words: str) -> date:
    raise EditError(
        "{typed} is not a day of the calendar.", remedy="Give year, month and day, such as 2026-03-01.", typed=words
    )
