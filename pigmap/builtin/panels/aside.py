"""A plate that comes over the map's right edge when it is asked for: a title, a cross, and what it is about."""

from __future__ import annotations

from PySide6.QtCore import QEvent, QObject, QPoint, Qt
from PySide6.QtGui import QKeyEvent
from PySide6.QtWidgets import QApplication, QHBoxLayout, QVBoxLayout, QWidget

from pigmap.builtin.panels.close_button import CloseButton
from pigmap.builtin.panels.form_parts import Words
from pigmap.qt.coming import Slide
from pigmap.qt.map_plate import MapPlate
from pigmap.qt.motion import PANEL_MS
from pigmap.qt.over_map import MARGIN, SLIDE_PX, TOP_ROOM
from pigmap.qt.paintwork import SHADOW
from pigmap.qt.stage import Stage

WIDE = 400
PAD = 16 + SHADOW


class AsidePlate(MapPlate):
    """Hidden until `open_plate`; Esc or the cross puts it away, and the keys go back to where they were.

    Parameters
    ----------
    title
        What it says over all.
    """

    slides = True
    """Whether it brings itself to its place; what the window lays out does not."""
    wide = WIDE
    """The breadth that it wants at a text size of 100 % [px]."""

    def __init__(self, stage: Stage, parent: QWidget, title: str) -> None:
        super().__init__(stage, parent)
        self._map = parent
        self._keys_from: QWidget | None = None
        self._slide = Slide(self)
        self.setAccessibleName(title)
        self.setFocusPolicy(Qt.FocusPolicy.ClickFocus)  # a press on it leaves the keys here: else the map has them
        self.setProperty("no_ring", True)
        self.close_button = CloseButton(stage, self)
        self.close_button.clicked.connect(self.put_away)
        head = QHBoxLayout()
        head.addWidget(Words(stage, "heading", self, title), 1)
        head.addWidget(self.close_button)
        self.column = QVBoxLayout(self)
        self.column.setContentsMargins(PAD, PAD - 4, PAD, PAD)
        self.column.setSpacing(8)
        self.column.addLayout(head)
        parent.installEventFilter(self)
        self.hide()

    def first(self) -> QWidget:
        """Return what gets the keys when it opens."""
        return self.close_button

    def renew(self) -> None:
        """Take in what it shows; called when it opens."""

    def open_plate(self) -> None:
        """Come up, with the keys."""
        comes = self.isHidden()
        if comes:
            self._keys_from = QApplication.focusWidget()
        self.renew()
        self.fit()
        if comes and self.slides:
            self._slide.begin(QPoint(SLIDE_PX, 0), PANEL_MS)
        self.show()
        self.raise_()
        self.first().setFocus(Qt.FocusReason.OtherFocusReason)

    def put_away(self) -> None:
        """Go, and give the keys back."""
        self.hide()
        back = self._keys_from if self._keys_from is not None and self._keys_from.isVisible() else self._map
        back.setFocus(Qt.FocusReason.OtherFocusReason)

    def fit(self) -> None:
        """Lie at the right of the map, as high as what it shows; over scale bar and north only where it must."""
        self._slide.stop()
        most = self._map.size()
        wide = min(round(self.wide * self.stage.text_scale) + 2 * SHADOW, most.width() - 2 * MARGIN)
        self.setFixedWidth(wide)
        wanted = max(self.sizeHint().height(), self.heightForWidth(wide) if self.hasHeightForWidth() else 0)
        top = TOP_ROOM if wanted <= most.height() - TOP_ROOM - MARGIN else MARGIN
        high = min(wanted, most.height() - top - MARGIN)
        self.setGeometry(most.width() - wide - MARGIN, top, wide, max(high, 80))

    def _refit(self) -> None:
        """Take the height anew of what it shows, once it is shown."""
        if not self.isHidden():
            self.fit()

    def eventFilter(self, watched: QObject, event: QEvent) -> bool:
        """Follow the map's size."""
        if event.type() == QEvent.Type.Resize and not self.isHidden():
            self.fit()
        return False

    def keyPressEvent(self, event: QKeyEvent) -> None:
        """Go on Esc."""
        if event.key() == Qt.Key.Key_Escape:
            self.put_away()
        else:
            super().keyPressEvent(event)
