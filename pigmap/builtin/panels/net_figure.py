"""The two lines on nets in the row of verbs, as a button that opens the plate on nets."""

from __future__ import annotations

from PySide6.QtCore import QRectF
from PySide6.QtGui import QFont, QPainter, QPaintEvent
from PySide6.QtWidgets import QWidget

from pigmap.builtin.panels.net_line import net_lines, net_ways
from pigmap.qt.buttons import Button
from pigmap.qt.paintwork import breadth, line_height, plate, write
from pigmap.qt.stage import Stage
from pigmap.qt.theme import RADIUS_PANEL, font, tokens

PAD = 8
"""Between the words and the edge of the plate under them [px]."""
LEAST = 44
"""Less room shows nothing [px]."""


class NetFigure(Button):
    """As broad as its words, which are the fullest that the row has room for."""

    def __init__(self, stage: Stage, parent: QWidget) -> None:
        super().__init__(stage, parent)
        self._lines = ("", "")
        self._box = (0, 0, 0)
        self.clicked.connect(lambda: stage.plate_asked.emit("stock"))
        for signal in (stage.day_changed, stage.farm_changed, stage.theme_changed, stage.came_up):
            signal.connect(self._renew)

    def lay(self, left: int, right: int, high: int) -> None:
        """Lie between two edges of a row [px]."""
        self._box = (left, right, high)
        self._renew()

    def _renew(self, *_: object) -> None:
        left, right, high = self._box
        room = right - left
        ways = zip(net_ways(self.stage), self._faces(), strict=True)
        first, rest = (next((each for each in said if breadth(each, face) <= room), "") for said, face in ways)
        self._lines = first, rest
        wide = round(max(breadth(each, face) for each, face in zip(self._lines, self._faces(), strict=True)))
        self.setVisible(room >= LEAST and wide > 0)
        self.setGeometry(left - PAD, 6, wide + 2 * PAD + 1, max(high - 12, 0))
        said = ", ".join(filter(None, net_lines(self.stage)))  # all of it, however short the row
        self.setAccessibleName(self.stage.say("Nets: {words}", words=said))
        self.setToolTip(self.stage.say("Nets ({key})", key="N"))
        self.update()

    def _faces(self) -> tuple[QFont, QFont]:
        return font("strong", self.stage, weight=500), font("second", self.stage)

    def paintEvent(self, event: QPaintEvent) -> None:
        """Write the two lines; on a plate where it can be pressed now."""
        theme = tokens(self.stage)
        strong, second = self._faces()
        with QPainter(self) as painter:
            if self.hovered or self.isDown():
                plate(painter, QRectF(self.rect()), theme.line if self.isDown() else theme.well, radius=RADIUS_PANEL)
            wide = self.width() - 2 * PAD
            if not all(self._lines):  # a row that has room for one only
                box = QRectF(PAD, 0, wide, self.height())
                write(painter, box, self._lines[0] or self._lines[1], strong if self._lines[0] else second, theme.ink)
                return
            top = (self.height() - line_height(strong) - line_height(second) - 2) / 2
            first, rest = self._lines
            write(painter, QRectF(PAD, top, wide, line_height(strong)), first, strong, theme.ink)
            below = QRectF(PAD, top + line_height(strong) + 2, wide, line_height(second))
            write(painter, below, rest, second, theme.ink2)
