"""What can be done with a ghost that is held, as words on its plate: the same as by keys."""

from __future__ import annotations

from collections.abc import Callable, Mapping

from PySide6.QtWidgets import QWidget

from pigmap.qt.buttons import WordButton
from pigmap.qt.stage import Stage
from pigmap.text import Text

GAP = 4
LINK_PAD = 4
"""Room beside the words of a link, in its own box [px]."""
OFFERED: Mapping[str, tuple[str, str]] = {
    "set": ("Set it", "Set it (Enter)"),
    "row": ("Fill a row", "Fill a row from here, each time another way (R)"),
    "again": ("Place again", "On the outline of the old paddock here (A)"),
    "round": ("Go round it", "Go round what is in its way, with free corners (G)"),
    "free": ("Free corners", "Free corners, set one by one (K)"),
    "more": ("More", "What else there is to say of this place"),
}
"""Words of each, and what a screen reader says."""


class PlaceDeeds:
    """A line of words, or several where one has no room.

    Parameters
    ----------
    stage, parent
        Where they stand.
    do
        Called with what is asked for.
    """

    def __init__(self, stage: Stage, parent: QWidget, do: Callable[[str], object]) -> None:
        self._stage = stage
        self.buttons = {name: self._button(name, parent, do) for name in OFFERED}
        self._shown: tuple[str, ...] = ()

    def _button(self, name: str, parent: QWidget, do: Callable[[str], object]) -> WordButton:
        words, spoken = OFFERED[name]
        look = "plain" if name == "set" else "link"
        button = WordButton(self._stage, self._stage.say(words), look, parent)  # type: ignore[arg-type]
        button.setAccessibleName(self._stage.say(spoken))
        button.clicked.connect(lambda: do(name))
        button.hide()
        return button

    def count_more(self, more: int) -> None:
        """Say how many parts the next page begins with, or that it leads back to the first."""
        words = Text("1 more", plural="{count} more", count=more) if more else Text("Back")
        self.buttons["more"].setText(self._stage.words(words))

    def show(self, names: tuple[str, ...]) -> None:
        """Offer some of them."""
        self._shown = names
        for name, button in self.buttons.items():
            button.setVisible(name in names)

    def lay(self, x: int, y: int, wide: int) -> int:
        """Lay them, with the words of the first of a line and the edge of a button at `x`; return where they end."""
        for line in self._lines(wide):
            high = max(button.sizeHint().height() for button in line)
            across = x - (LINK_PAD if line[0].look == "link" else 0)
            for button in line:
                size = button.sizeHint()
                button.setGeometry(across, y + (high - size.height()) // 2, min(size.width(), wide), size.height())
                across += size.width() + GAP
            y += high + GAP
        return y

    def _lines(self, wide: int) -> list[list[WordButton]]:
        lines: list[list[WordButton]] = []
        room = 0
        for name in self._shown:
            button = self.buttons[name]
            taken = button.sizeHint().width()
            if not lines or taken > room:
                lines.append([])
                room = wide + 2 * LINK_PAD
            lines[-1].append(button)
            room -= taken + GAP
        return lines
