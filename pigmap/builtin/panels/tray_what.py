"""The choice at the head of the tray: the next paddock is planned, or what stands today is clicked as it stands."""

from __future__ import annotations

from PySide6.QtWidgets import QWidget

from pigmap.qt.buttons import WordButton
from pigmap.qt.paintwork import breadth
from pigmap.qt.stage import Picked, Stage
from pigmap.qt.theme import font

GAP = 6
LEAST_PAD = 10
"""Room beside the words of a switch, at least [px]."""


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
        self.stands = WordButton(stage, stage.say("Stands today"), "switch", parent)
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
        """Lay them side by side, or one under the other where their words have no room; return where they end."""
        buttons = (self.next, self.stands)
        high = round(36 * self._stage.text_scale)
        share = (wide - GAP) / sum(button.sizeHint().width() for button in buttons)
        face = font("strong", self._stage)
        if any(breadth(each.text(), face) + LEAST_PAD > int(each.sizeHint().width() * share) for each in buttons):
            self.next.setGeometry(round(x), round(y), round(wide), high)
            self.stands.setGeometry(round(x), round(y) + high + GAP, round(wide), high)
            return y + 2 * high + GAP
        for button in buttons:
            each = int(button.sizeHint().width() * share)
            button.setGeometry(round(x), round(y), each, high)
            x += each + GAP
        return y + high
