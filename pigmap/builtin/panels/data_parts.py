"""Parts of the plate for data: a list under its label, and a button that a thumb hits."""

from __future__ import annotations

from collections.abc import Sequence

from PySide6.QtCore import Qt
from PySide6.QtWidgets import QVBoxLayout, QWidget

from pigmap.builtin.panels.form_parts import Words
from pigmap.qt.buttons import WordButton
from pigmap.qt.choice_box import ChoiceBox
from pigmap.qt.stage import Stage
from pigmap.qt.theme import font
from pigmap.text import Text

TARGET = 44
"""Height of what a thumb hits [px]."""


class LabelledBox(ChoiceBox):
    """A list to choose from that shows and hides its label with itself."""

    label: Words

    def show_all(self, shown: bool) -> None:
        """Show it and its label, or neither."""
        self.label.setVisible(shown)
        self.setVisible(shown)


def labelled_box(
    stage: Stage, parent: QWidget, rows: QVBoxLayout, words: Text, choices: Sequence[tuple[str, Text]] = ()
) -> LabelledBox:
    """Return a list to choose from, laid out under its label."""
    made = LabelledBox(stage, parent)
    made.setFont(font("body", stage))
    made.setAccessibleName(stage.words(words))
    made.setFixedHeight(round(TARGET * stage.text_scale))
    made.label = Words(stage, "second", parent, stage.words(words), "ink2")
    made.label.setBuddy(made)
    for data, each in choices:
        made.addItem(stage.words(each), data)
    rows.addWidget(made.label)
    rows.addWidget(made)
    return made


class BusyButton(WordButton):
    """A button that rests while its work is done, and has the keys again afterwards if it had them."""

    _had_keys = False

    def rest(self) -> None:
        """Rest while work is done."""
        self._had_keys = self.hasFocus()
        self.setEnabled(False)

    def wake(self) -> None:
        """Be there again."""
        self.setEnabled(True)
        if self._had_keys and self.isVisible():
            self.setFocus(Qt.FocusReason.OtherFocusReason)


def tall_button(stage: Stage, parent: QWidget, words: Text) -> BusyButton:
    """Return a button as high as a thumb wants it."""
    made = BusyButton(stage, stage.words(words), "plain", parent)
    made.setFixedHeight(round(TARGET * stage.text_scale))
    return made
