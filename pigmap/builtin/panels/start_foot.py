"""At the foot of the groups of the sample farm: the way to a farm of one's own."""

from __future__ import annotations

from PySide6.QtCore import QSize
from PySide6.QtGui import QResizeEvent
from PySide6.QtWidgets import QWidget

from pigmap.qt.buttons import WordButton
from pigmap.qt.stage import Stage
from pigmap.session.first_farm import is_sample

PAD = 12


class StartFoot(QWidget):
    """One button; it has no height on any other farm."""

    def __init__(self, stage: Stage, parent: QWidget) -> None:
        super().__init__(parent)
        self.button = WordButton(stage, stage.say("Start my farm"), "plain", self)
        self.button.clicked.connect(lambda: stage.start_asked.emit(None))
        self._shown = is_sample(stage.session.path)
        stage.theme_changed.connect(self.button.update)

    def sizeHint(self) -> QSize:
        """Return the room that the button takes with its margins."""
        if not self._shown:
            return QSize(0, 0)
        wanted = self.button.sizeHint()
        return QSize(wanted.width() + 2 * PAD, wanted.height() + 2 * PAD)

    def resizeEvent(self, event: QResizeEvent) -> None:
        """Lay the button out."""
        self.button.setGeometry(PAD, PAD, max(self.width() - 2 * PAD, 0), self.button.sizeHint().height())


class _Panel:
    name = "start-foot"
    place = "foot"
    verb = ""

    def make(self, stage: Stage, parent: QWidget) -> QWidget:
        """Return the foot."""
        return StartFoot(stage, parent)


panel = _Panel()
