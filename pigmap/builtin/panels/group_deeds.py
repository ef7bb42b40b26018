"""The deeds of the day on the card of the picked group in the column: one pair that goes from card to card."""

from __future__ import annotations

from PySide6.QtWidgets import QWidget

from pigmap.builtin.panels.card_facts import CardDeed
from pigmap.builtin.panels.day_deeds import ALL_WELL, MOVED, STANDS, day_deeds, do_day_deed
from pigmap.builtin.panels.group_card import PAD, GroupCard
from pigmap.qt.buttons import WordButton
from pigmap.qt.stage import Stage

TARGET = 44
"""Height of a button that a thumb hits [px]."""
GAP = 8


class GroupDeeds:
    """Buttons over the lower edge of one card; they come next after it on the way of the Tab key.

    Parameters
    ----------
    inside
        What the cards lie in.
    """

    def __init__(self, stage: Stage, inside: QWidget) -> None:
        self.stage = stage
        self._inside = inside
        self._uid = ""
        self._buttons: dict[str, WordButton] = {}

    def _high(self) -> int:
        return round(TARGET * self.stage.text_scale)

    def _deeds(self, card: GroupCard) -> tuple[CardDeed, ...]:
        if not card.isChecked():
            return ()
        deeds = day_deeds(self.stage, self.stage.session.farm.groups.get(card.words.uid))
        return tuple(
            deed for deed in deeds if deed.name in (MOVED, ALL_WELL, STANDS)
        )  # there is room for two; the other card has it

    def foot(self, card: GroupCard) -> int:
        """Return the height that the deeds take on a card [px]."""
        return self._high() + GAP if self._deeds(card) else 0

    def stand_on(self, card: GroupCard | None) -> None:
        """Stand on a card, where there is something to do; on none without one."""
        deeds = self._deeds(card) if card is not None else ()
        names = {deed.name for deed in deeds}
        for name, button in self._buttons.items():
            button.setVisible(name in names)
        if card is None or not deeds:
            return
        self._uid = card.words.uid
        wide = (card.width() - 2 * PAD - (len(deeds) - 1) * GAP) // len(deeds)
        last: QWidget = card
        for at, deed in enumerate(deeds):
            button = self._button(deed)
            top = card.y() + card.height() - PAD - self._high() + 2
            button.setGeometry(card.x() + PAD + at * (wide + GAP), top, wide, self._high())
            button.raise_()
            button.show()
            QWidget.setTabOrder(last, button)
            last = button

    def _button(self, deed: CardDeed) -> WordButton:
        made = self._buttons.get(deed.name)
        if made is None:
            made = self._buttons[deed.name] = WordButton(self.stage, deed.words, "plain", self._inside)
            made.clicked.connect(lambda: do_day_deed(self.stage, deed.name, self._uid))
        made.setText(deed.words)
        made.setAccessibleName(deed.spoken)
        return made
