"""A plate over the map whose content can be higher than the map."""

from __future__ import annotations

from PySide6.QtWidgets import QWidget

from pigmap.builtin.panels.aside import AsidePlate
from pigmap.builtin.panels.tall import Tall
from pigmap.qt.stage import Stage


class TallPlate(AsidePlate):
    """What it shows stands in `tall`, which scrolls where the map is low."""

    def __init__(self, stage: Stage, parent: QWidget, title: str) -> None:
        super().__init__(stage, parent, title)
        self.tall = Tall(self)
        self.column.addWidget(self.tall, 1)

    def fit(self) -> None:
        """Take the height of what is shown now."""
        self.tall.lay_out()
        self.tall.updateGeometry()
        self.column.invalidate()
        super().fit()
        self.tall.lay_out()
