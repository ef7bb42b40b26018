"""What may be higher than its plate has room for: it can be scrolled then, and is whole where there is room."""

from __future__ import annotations

from PySide6.QtCore import QSize, Qt
from PySide6.QtGui import QResizeEvent
from PySide6.QtWidgets import QFrame, QScrollArea, QSizePolicy, QVBoxLayout, QWidget

FOR_BAR = 10
"""Kept free for the bar that scrolls it [px]."""
LEAST_HIGH = 60
"""So much of it is always seen [px]."""


class Tall(QScrollArea):
    """A column that asks for all of its height; the control that gets the keys comes into sight."""

    def __init__(self, parent: QWidget) -> None:
        super().__init__(parent)
        self.inner = QWidget(self)
        self.column = QVBoxLayout(self.inner)
        self.column.setContentsMargins(0, 0, FOR_BAR, 0)
        self.column.setSpacing(8)
        self.setWidget(self.inner)
        self.setFrameShape(QFrame.Shape.NoFrame)
        self.setHorizontalScrollBarPolicy(Qt.ScrollBarPolicy.ScrollBarAlwaysOff)
        self.setFocusPolicy(Qt.FocusPolicy.NoFocus)
        self.setStyleSheet("QScrollArea { background: transparent; }")
        self.inner.setAutoFillBackground(False)
        self.viewport().setAutoFillBackground(False)
        policy = QSizePolicy(QSizePolicy.Policy.Preferred, QSizePolicy.Policy.Preferred)
        policy.setHeightForWidth(True)
        self.setSizePolicy(policy)

    def lay_out(self) -> None:
        """Give what is in it the height that it takes at this breadth: the area itself would give it more."""
        self.column.invalidate()
        wide = self.viewport().width()
        self.inner.resize(wide, self.heightForWidth(wide))

    def resizeEvent(self, event: QResizeEvent) -> None:
        """Lay it out."""
        super().resizeEvent(event)
        self.lay_out()

    def hasHeightForWidth(self) -> bool:
        """Whether its height follows from its breadth: it does."""
        return True

    def heightForWidth(self, width: int) -> int:
        """Return the height of all that is in it."""
        return self.column.totalHeightForWidth(width)

    def sizeHint(self) -> QSize:
        """Return the room that it takes."""
        wide = self.column.sizeHint().width()
        return QSize(wide, LEAST_HIGH)

    def minimumSizeHint(self) -> QSize:
        """Return the least room."""
        return QSize(0, LEAST_HIGH)
