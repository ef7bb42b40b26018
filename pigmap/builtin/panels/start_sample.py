"""What the sample farm says of itself at the first start."""

from __future__ import annotations

from PySide6.QtCore import Signal
from PySide6.QtWidgets import QHBoxLayout, QVBoxLayout, QWidget

from pigmap.builtin.panels.form_parts import Words
from pigmap.qt.buttons import WordButton
from pigmap.qt.stage import Stage


class SamplePage(QWidget):
    """One sentence and two buttons."""

    start_asked = Signal()
    kept_looking = Signal()

    def __init__(self, stage: Stage, parent: QWidget) -> None:
        super().__init__(parent)
        said = stage.say("This is a sample farm. Look round, then start your own.")
        start = WordButton(stage, stage.say("Start my farm"), "plain", self)
        keep = WordButton(stage, stage.say("Keep looking"), "link", self)
        start.setObjectName("start")
        keep.setObjectName("keep")
        start.clicked.connect(self.start_asked)
        keep.clicked.connect(self.kept_looking)
        row = QHBoxLayout()
        row.setSpacing(12)
        row.addWidget(start)
        row.addWidget(keep)
        row.addStretch()
        column = QVBoxLayout(self)
        column.setContentsMargins(0, 0, 0, 0)
        column.setSpacing(12)
        column.addWidget(Words(stage, "strong", self, said))
        column.addLayout(row)
