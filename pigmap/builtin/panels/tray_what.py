"""The choice at the head of the tray: the next paddock is planned, or what stands today is clicked as it stands."""

from __future__ import annotations

from PySide6.QtWidgets import QWidget

from pigmap.qt.buttons import WordButton
from pigmap.qt.stage import Picked, Stage

GAP = 6


class WhatToPlace:
    """Two switches; the first is on while the tray is there, since the other leads on to the corners.

    Parameters
    ----------
    stage, parent
        Where they stand.
    """

    def __init__(self, stage: Stage, parent: QWidget) -> None:
        self._stage = stage
        self.next = WordButton(stage, stage.say("Next paddock"), "switch", parent)
        self.stands = WordButton(stage, stage.say("It stands today"), "switch", parent)
        self.next.clicked.connect(self.begin)
        self.stands.clicked.connect(self._lead_on)
        self.begin()

    def begin(self) -> None:
        """Begin with the next paddock."""
        self.next.setChecked(True)
        self.stands.setChecked(False)

    def _lead_on(self) -> None:
        self.begin()
        stage, group_uid = self._stage, self._stage.placing.group_uid
        if group_uid:
            stage.pick(Picked("groups", group_uid))
        stage.take_up("stand")

    def lay(self, x: float, y: float, wide: float) -> float:
        """Lay them side by side, each with room by the length of its words; return where they end."""
        buttons = (self.next, self.stands)
        high = round(36 * self._stage.text_scale)
        share = (wide - GAP) / sum(button.sizeHint().width() for button in buttons)
        for button in buttons:
            each = int(button.sizeHint().width() * share)
            button.setGeometry(round(x), round(y), each, high)
            x += each + GAP
        return y + high
