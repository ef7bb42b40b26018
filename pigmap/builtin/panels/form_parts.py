"""Parts of a form on a plate: words over several lines, and a line to type into that keeps its keys."""

from __future__ import annotations

from PySide6.QtCore import Qt
from PySide6.QtWidgets import QLabel, QSizePolicy, QWidget

from pigmap.qt.kept_keys import KeptKeysLine
from pigmap.qt.stage import Stage
from pigmap.qt.theme import Role, font, tokens


def high_at(form: QWidget, width: int) -> int:
    """Return the height that a form takes at a breadth [px], by what it shows now."""
    rows = form.layout()
    assert rows is not None
    rows.invalidate()
    rows.activate()
    return rows.heightForWidth(width) if rows.hasHeightForWidth() else rows.sizeHint().height()


class Words(QLabel):
    """Words over as many lines as they take; hidden while there are none."""

    def __init__(self, stage: Stage, role: Role, parent: QWidget, words: str = "", colour: str = "ink") -> None:
        super().__init__(parent)
        self.stage = stage
        self._colour = colour
        self.setFont(font(role, stage))
        self.setWordWrap(True)
        self.setTextFormat(Qt.TextFormat.PlainText)
        self.setSizePolicy(QSizePolicy.Policy.Preferred, QSizePolicy.Policy.Minimum)
        stage.theme_changed.connect(self._dress)
        self._dress()
        self.say(words)

    def _dress(self) -> None:
        self.setStyleSheet(f"color: {getattr(tokens(self.stage), self._colour)}; background: transparent;")

    def colour(self, colour: str) -> None:
        """Take another of the colours of words."""
        if colour != self._colour:
            self._colour = colour
            self._dress()

    def say(self, words: str) -> None:
        """Show words, or nothing."""
        self.setText(words)
        self.setAccessibleName(words)
        self.setVisible(bool(words))


class FormLine(KeptKeysLine):
    """A line to type into; Esc is left to the form, all other keys stay here."""

    def __init__(self, stage: Stage, called: str, parent: QWidget, example: str = "") -> None:
        super().__init__(parent)
        self.setAccessibleName(called)
        self.setPlaceholderText(example)
        self.setFont(font("body", stage))
