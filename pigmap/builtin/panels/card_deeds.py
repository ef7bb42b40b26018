"""The deeds at the foot of a card: buttons in rows, all of a row alike; on a low map only the first rows stay there."""

from __future__ import annotations

from collections.abc import Callable, Sequence
from itertools import pairwise

from PySide6.QtWidgets import QWidget

from pigmap.builtin.panels.card_body import LEFT
from pigmap.builtin.panels.card_facts import CardDeed
from pigmap.qt.buttons import WordButton
from pigmap.qt.stage import Stage

GAP = 8
MOST_ROWS = 99
TARGET = 44
"""Height of a button that a thumb hits [px]."""


class CardDeeds:
    """Makes the buttons of a card and lays them.

    Parameters
    ----------
    card, body
        What holds the rows that are always in sight, and what scrolls with the rest.
    do
        Called with the name of a deed.
    """

    def __init__(self, stage: Stage, card: QWidget, body: QWidget, do: Callable[[str], None]) -> None:
        self._stage = stage
        self._card = card
        self._body = body
        self._do = do
        self._deeds: tuple[CardDeed, ...] = ()
        self.buttons: list[WordButton] = []
        self.kept = MOST_ROWS
        """How many rows are always in sight."""

    def show(self, deeds: tuple[CardDeed, ...], *, visible: bool) -> None:
        """Show these deeds; a deed that stays keeps its button, and that keeps the keys."""
        if [deed.name for deed in self._deeds] != [deed.name for deed in deeds] or not self.buttons:
            had = {deed.name: button for deed, button in zip(self._deeds, self.buttons, strict=True)}
            self.buttons = [had.get(deed.name) or self._button(deed, visible=visible) for deed in deeds]
            for button in (each for each in had.values() if each not in self.buttons):
                button.hide()
                button.deleteLater()
            for before, after in pairwise(self.buttons):
                QWidget.setTabOrder(before, after)
        self._deeds = deeds
        for button, deed in zip(self.buttons, deeds, strict=True):
            button.setText(deed.words)
            button.setAccessibleName(deed.spoken or deed.words)

    def button(self, name: str) -> WordButton | None:
        """Return the button of a deed by the deed's name, if it is offered."""
        return next((button for button, deed in zip(self.buttons, self._deeds, strict=True) if deed.name == name), None)

    def _button(self, deed: CardDeed, *, visible: bool) -> WordButton:
        button = WordButton(self._stage, deed.words, "plain", self._card)
        button.clicked.connect(lambda: self._do(deed.name))
        button.setVisible(visible)
        return button

    def rows(self, wide: int) -> list[list[WordButton]]:
        """Return the buttons in rows, as many in each as have room."""
        rows: list[list[WordButton]] = []
        most = 0
        for button in self.buttons:
            need = button.sizeHint().width()
            row = rows[-1] if rows else []
            if not row or (max(most, need) + GAP) * (len(row) + 1) > wide + GAP:
                rows.append([])
                most = 0
            rows[-1].append(button)
            most = max(most, need)
        return rows

    def high(self, wide: int, kept: int = MOST_ROWS) -> int:
        """Return the height of so many rows, or of all."""
        return len(self.rows(wide)[:kept]) * (self._each_high() + GAP)

    def scrolled_high(self, wide: int) -> int:
        """Return the height of the rows that scroll with the body."""
        return self.high(wide) - self.high(wide, self.kept)

    def lay(self, x: int, y: int, wide: int, body_y: int) -> None:
        """Lay the first rows on the card, and the rest in the body where they scroll."""
        rows = self.rows(wide)
        kept = rows[: self.kept]
        self._lay(kept, self._card, x, y, wide)
        self._lay(rows[len(kept) :], self._body, LEFT, body_y, wide)

    def _lay(self, rows: Sequence[Sequence[WordButton]], holder: QWidget, x: int, y: int, wide: int) -> None:
        high = self._each_high()
        for row in rows:
            each = (wide - (len(row) - 1) * GAP) // len(row)
            for at, button in enumerate(row):
                _move_into(holder, button)
                button.setGeometry(x + at * (each + GAP), y, each, high)
            y += high + GAP

    def _each_high(self) -> int:
        return max(round(TARGET * self._stage.text_scale), *(each.sizeHint().height() for each in self.buttons), 0)


def _move_into(holder: QWidget, button: WordButton) -> None:
    """Have a button lie in another widget, seen and with the keys as before."""
    if button.parentWidget() is holder:
        return
    shown, had = not button.isHidden(), button.hasFocus()
    button.setParent(holder)
    button.setVisible(shown)
    if had:
        button.setFocus()
