"""Rows of a list with something quieter beside or under what they say first."""

from __future__ import annotations

from PySide6.QtCore import QModelIndex, QPersistentModelIndex, QRectF, QSize, Qt
from PySide6.QtGui import QPainter
from PySide6.QtWidgets import QListView, QStyle, QStyledItemDelegate, QStyleOptionViewItem, QWidget

from pigmap.qt.paintwork import Left, Right, breadth, line_height, plate, write
from pigmap.qt.stage import Stage
from pigmap.qt.theme import RADIUS_BAR, font, tokens

SECOND = int(Qt.ItemDataRole.UserRole) + 1
"""Role of the quieter words of a row."""
PAD_X, PAD_Y = 10, 6
FRAME = 5
"""Padding and edge of a list [px]."""
LEAST_ROWS = 3
APART = 16
"""Between the two columns of a row [px]."""


class QuietRows(QStyledItemDelegate):
    """Paints rows: the quieter words stand in a second column, or on a line of their own.

    Parameters
    ----------
    under
        Whether they stand on a line of their own.
    """

    def __init__(self, stage: Stage, parent: QWidget, *, under: bool) -> None:
        super().__init__(parent)
        self.stage = stage
        self.under = under

    def row_height(self) -> int:
        """Return the height of each row at the window's text size [px]."""
        high = line_height(font("body", self.stage)) + 2 * PAD_Y
        return round(high + (line_height(font("second", self.stage)) if self.under else 0))

    def sizeHint(self, option: QStyleOptionViewItem, index: QModelIndex | QPersistentModelIndex) -> QSize:
        """Return the room of a row: as broad as the list."""
        return QSize(10, self.row_height())

    def paint(
        self, painter: QPainter, option: QStyleOptionViewItem, index: QModelIndex | QPersistentModelIndex
    ) -> None:
        """Draw a row, on an ink plate where it is the chosen one."""
        theme, box = tokens(self.stage), QRectF(option.rect)
        chosen = bool(option.state & QStyle.StateFlag.State_Selected)
        if chosen:
            plate(painter, box, theme.ink, radius=RADIUS_BAR)
        first, second = str(index.data() or ""), str(index.data(SECOND) or "")
        body, quiet = font("body", self.stage), font("second", self.stage)
        ink, ink2 = (theme.paper, theme.paper) if chosen else (theme.ink, theme.ink2)
        box.adjust(PAD_X, PAD_Y, -PAD_X, -PAD_Y)
        if self.under:
            top = line_height(body)
            write(painter, QRectF(box.x(), box.y(), box.width(), top), first, body, ink, Left)
            write(painter, QRectF(box.x(), box.y() + top, box.width(), box.height() - top), second, quiet, ink2, Left)
            return
        left = box.width() - APART - min(breadth(first, body), box.width() * 0.4)
        taken = min(breadth(second, quiet) + 1, left)
        write(painter, box.adjusted(0, 0, -taken - APART, 0), first, body, ink, Left)
        write(painter, box.adjusted(box.width() - taken, 0, 0, 0), second, quiet, ink2, Right)


class TallList(QListView):
    """A list that wants a height of its own and takes less where the plate has no room.

    Parameters
    ----------
    high, least
        Heights at a text size of 100 % [px].
    called
        Its accessible name.
    """

    def __init__(self, stage: Stage, parent: QWidget, called: str, *, high: int, least: int, under: bool) -> None:
        super().__init__(parent)
        self._high = round(high * stage.text_scale)
        self.rows = QuietRows(stage, self, under=under)
        self.setItemDelegate(self.rows)
        self.setFont(font("body", stage))
        self.setUniformItemSizes(True)
        self.setAccessibleName(called)
        self.setHorizontalScrollBarPolicy(Qt.ScrollBarPolicy.ScrollBarAlwaysOff)
        self.setMinimumHeight(round(least * stage.text_scale))
        self.setMaximumHeight(self._high)
        stage.theme_changed.connect(self.viewport().update)

    def ask_for_rows(self, count: int) -> None:
        """Want as much height as some rows take."""
        self._high = count * self.rows.row_height() + 2 * FRAME
        self.setMaximumHeight(self._high)
        self.setMinimumHeight(min(self._high, self.rows.row_height() * LEAST_ROWS))
        self.updateGeometry()

    def sizeHint(self) -> QSize:
        """Return the height it wants."""
        return QSize(200, self._high)
