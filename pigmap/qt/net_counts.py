"""How many nets of each length stand: a stepper for each, laid one below the other."""

from __future__ import annotations

from collections.abc import Mapping

from PySide6.QtCore import Signal
from PySide6.QtWidgets import QVBoxLayout, QWidget

from pigmap.qt.paintwork import line_height
from pigmap.qt.stage import Stage
from pigmap.qt.stepper import Stepper
from pigmap.qt.theme import font
from pigmap.text import Quantity, Text

BOX = 46
"""Height of what a thumb hits [px]."""


class NetCounts(QWidget):
    """Shows what was counted or guessed; each step is a count of a person's."""

    counted = Signal()
    """Someone stepped a number."""

    def __init__(self, stage: Stage, parent: QWidget) -> None:
        super().__init__(parent)
        self.stage = stage
        self.counts: dict[str, int] = {}
        """Nets of each kind, by its uid."""
        self.steppers: dict[str, Stepper] = {}
        self._rows = QVBoxLayout(self)
        self._rows.setContentsMargins(0, 0, 0, 0)
        self._rows.setSpacing(6)

    def show_counts(self, counts: Mapping[str, int]) -> None:
        """Show so many nets of each kind that the farm has."""
        kinds = sorted(self.stage.session.farm.net_kinds.values(), key=lambda kind: -kind.length_mm)
        self.counts = {kind.uid: counts.get(kind.uid, 0) for kind in kinds}
        for uid in [uid for uid in self.steppers if uid not in self.counts]:
            gone = self.steppers.pop(uid)
            gone.hide()
            gone.deleteLater()
        lengths = [kind.length_mm for kind in kinds]
        for kind in kinds:
            if kind.uid not in self.steppers:
                length = self.stage.words(Text("{length} nets", {"length": Quantity(kind.length_m, "m")}))
                label = kind.name if lengths.count(kind.length_mm) > 1 else length
                self.steppers[kind.uid] = self._made(kind.uid, label)
            self.steppers[kind.uid].show_words(str(self.counts[kind.uid]))

    def _made(self, uid: str, label: str) -> Stepper:
        stepper = Stepper(self.stage, label, self)
        stepper.stepped.connect(lambda by: self._step(uid, by))
        high = line_height(font("second", self.stage)) + 4 + BOX * self.stage.text_scale
        stepper.setFixedHeight(round(high))
        self._rows.addWidget(stepper)
        return stepper

    def _step(self, uid: str, by: int) -> None:
        after = self.counts.get(uid, 0) + by
        if uid in self.counts and after >= 0:
            self.counts[uid] = after
            self.steppers[uid].show_words(str(after))
            self.counted.emit()
