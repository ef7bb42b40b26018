"""What can be done with a ghost that is held, as words on its plate: the same as by keys."""

from __future__ import annotations

from collections.abc import Callable, Mapping

from PySide6.QtWidgets import QWidget

from pigmap.qt.buttons import WordButton
from pigmap.qt.stage import Stage

GAP = 4
OFFERED: Mapping[str, tuple[str, str]] = {
    "set": ("Set it", "Set it (Enter)"),
    "row": ("Fill a row", "Fill a row from here, each time another way (R)"),
    "again": ("Place again", "On the outline of the old paddock here (A)"),
    "free": ("Free corners", "Free corners, set one by one (K)"),
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

    def show(self, names: tuple[str, ...]) -> None:
        """Offer some of them."""
        self._shown = names
        for name, button in self.buttons.items():
            button.setVisible(name in names)

    def lay(self, x: int, y: int, wide: int) -> int:
        """Lay them; return where they end."""
        across, high = x, 0
        for name in self._shown:
            size = self.buttons[name].sizeHint()
            if across > x and across + size.width() > x + wide:
                across, y, high = x, y + high + GAP, 0
            self.buttons[name].setGeometry(across, y, min(size.width(), wide), size.height())
            across, high = across + size.width() + GAP, max(high, size.height())
        return y + high + (GAP if high else 0)
