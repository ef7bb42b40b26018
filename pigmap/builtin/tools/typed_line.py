"""A line to type into, over the map: it opens with the first figure or T and closes with Enter or Esc."""

from __future__ import annotations

from collections.abc import Callable

from PySide6.QtCore import Qt
from PySide6.QtGui import QKeyEvent
from PySide6.QtWidgets import QWidget

from pigmap.qt.kept_keys import KeptKeysLine
from pigmap.qt.stage import Stage
from pigmap.qt.theme import font

WIDE_PX = 300
TOP_PX = 12


def starts_typing(event: QKeyEvent) -> bool:
    """Whether a key opens the line: a figure, which is its first letter, or T."""
    plain = not event.modifiers() & ~Qt.KeyboardModifier.KeypadModifier
    return plain and (event.text().isdigit() or event.key() == Qt.Key.Key_T)


class TypedLine(KeptKeysLine):
    """Takes one line; `taken` returns whether it was understood, and the line stays open where it was not."""

    def __init__(self, stage: Stage, parent: QWidget, words: str, taken: Callable[[str], bool]) -> None:
        super().__init__(parent)
        self._over = parent
        self._taken = taken
        self.setPlaceholderText(words)
        self.setAccessibleName(words)
        self.setFont(font("body", stage))
        self.resize(round(WIDE_PX * stage.text_scale), self.sizeHint().height())
        self.hide()
        self.returnPressed.connect(self._take)

    def open(self, begun: str = "") -> None:
        """Open the line in the middle of the map's upper edge, with what was typed already."""
        self.move((self._over.width() - self.width()) // 2, TOP_PX)
        self.setText(begun)
        self.show()
        self.raise_()
        self.setFocus(Qt.FocusReason.OtherFocusReason)  # one of a shortcut would select the figure it begins with

    def shut(self) -> None:
        """Close the line and give the keys back to the map."""
        if self.isVisible():
            self.hide()
            self._over.setFocus(Qt.FocusReason.OtherFocusReason)

    def _take(self) -> None:
        if self._taken(self.text()):
            self.shut()

    def escape(self, event: QKeyEvent) -> None:
        """Close the line."""
        self.shut()
