"""The lines of one page of the books as a table: columns in which nothing stands are left out."""

from __future__ import annotations

from collections.abc import Sequence
from typing import Any

from PySide6.QtCore import QAbstractTableModel, QModelIndex, QPersistentModelIndex, QSize, Qt, Signal
from PySide6.QtGui import QKeyEvent
from PySide6.QtWidgets import QAbstractItemView, QHeaderView, QTableView, QWidget

from pigmap.drawing.cell_words import cell_words
from pigmap.planning.farm_books import COLUMNS, BookLine, BookPage
from pigmap.qt.paintwork import line_height
from pigmap.qt.stage import Stage
from pigmap.qt.theme import font, tokens

MOST_WIDE = 220
"""Breadth of a column at most [px at a text size of 100 %]."""
LEAST_ROWS, MOST_ROWS = 4, 12
_Index = QModelIndex | QPersistentModelIndex


class BookLines(QAbstractTableModel):
    """Words of the lines, column by column."""

    def __init__(self, stage: Stage, page: BookPage, lines: Sequence[BookLine], parent: QWidget) -> None:
        super().__init__(parent)
        self.lines = lines
        columns = COLUMNS[page]
        words = [
            [cell_words(cell, column.unit, language=stage.language, system=stage.units) for cell, column in pairs]
            for pairs in (zip(line.cells, columns, strict=True) for line in lines)
        ]
        shown = [at for at in range(len(columns)) if not words or any(row[at] for row in words)]
        self._words = [[row[at] for at in shown] for row in words]
        self._headings = [stage.words(columns[at].heading) for at in shown]

    def rowCount(self, parent: _Index | None = None) -> int:
        """Return how many lines there are."""
        return 0 if parent is not None and parent.isValid() else len(self._words)

    def columnCount(self, parent: _Index | None = None) -> int:
        """Return how many columns are shown."""
        return 0 if parent is not None and parent.isValid() else len(self._headings)

    def data(self, index: _Index, role: int = Qt.ItemDataRole.DisplayRole) -> Any:
        """Return the words of a cell; those that are cut off are whole in its tip."""
        shown = (Qt.ItemDataRole.DisplayRole, Qt.ItemDataRole.ToolTipRole)
        if not index.isValid() or role not in (*shown, Qt.ItemDataRole.AccessibleTextRole):
            return None
        words = self._words[index.row()][index.column()]
        if role == Qt.ItemDataRole.AccessibleTextRole:
            return f"{self._headings[index.column()]}: {words}" if words else ""
        return words

    def headerData(self, section: int, side: Qt.Orientation, role: int = Qt.ItemDataRole.DisplayRole) -> Any:
        """Return the heading of a column."""
        if side == Qt.Orientation.Horizontal and role == Qt.ItemDataRole.DisplayRole:
            return self._headings[section]
        return None


class BookTable(QTableView):
    """Chooses whole lines; Enter or a double click asks to put one right."""

    asked = Signal()
    chosen = Signal()

    def __init__(self, stage: Stage, parent: QWidget) -> None:
        super().__init__(parent)
        self.stage = stage
        self.setSelectionBehavior(QAbstractItemView.SelectionBehavior.SelectRows)
        self.setSelectionMode(QAbstractItemView.SelectionMode.SingleSelection)
        self.setTabKeyNavigation(False)
        self.setShowGrid(False)
        self.setWordWrap(False)
        self.setFont(font("body", stage))
        self.setHorizontalScrollMode(QAbstractItemView.ScrollMode.ScrollPerPixel)
        self.verticalHeader().hide()
        self.verticalHeader().setDefaultSectionSize(self._row_high())
        heads = self.horizontalHeader()
        heads.setFont(font("second", stage))
        heads.setDefaultAlignment(Qt.AlignmentFlag.AlignLeft | Qt.AlignmentFlag.AlignVCenter)
        heads.setHighlightSections(False)
        heads.setSectionResizeMode(QHeaderView.ResizeMode.Interactive)
        heads.setStretchLastSection(True)
        self.doubleClicked.connect(lambda _: self.asked.emit())
        stage.theme_changed.connect(self._dress)
        self._dress()

    def _row_high(self) -> int:
        return round(line_height(font("body", self.stage)) + 14)

    def _dress(self) -> None:
        theme = tokens(self.stage)
        self.setStyleSheet(
            f"QTableView {{ background: {theme.plate}; border: 1px solid {theme.line}; border-radius: 6px; }}"
            f"QTableView:focus {{ border: 2px solid {theme.plan}; }}"
            f"QTableView::item {{ padding: 2px 8px; border-bottom: 1px solid {theme.line}; color: {theme.ink}; }}"
            f"QTableView::item:selected {{ background: {theme.ink}; color: {theme.paper}; }}"
            f"QHeaderView {{ background: {theme.plate}; border: none; }}"
            f"QHeaderView::section {{ background: {theme.plate}; color: {theme.ink2}; border: none;"
            f" border-bottom: 1px solid {theme.edge}; padding: 4px 8px; }}"
            f"QScrollBar:horizontal {{ background: transparent; height: 10px; }}"
            f"QScrollBar::handle:horizontal {{ background: {theme.edge}; border-radius: 3px; margin: 2px; }}"
        )

    def show_lines(self, page: BookPage, lines: Sequence[BookLine], called: str) -> None:
        """Show other lines; the one that was chosen stays so, else the last is, which was written down last."""
        before = self.line
        self.setAccessibleName(called)
        self.setModel(BookLines(self.stage, page, lines, self))
        most = round(MOST_WIDE * self.stage.text_scale)
        self.resizeColumnsToContents()
        for at in range(self.model().columnCount()):
            self.setColumnWidth(at, min(self.columnWidth(at) + 8, most))
        self.selectionModel().currentRowChanged.connect(lambda *_: self.chosen.emit())
        self.take(self.height())
        if lines:
            kept = (at for at, line in enumerate(lines) if before is not None and line.row.uid == before.row.uid)
            self.selectRow(next(kept, len(lines) - 1))
            self.scrollTo(self.currentIndex())

    def take(self, most: int) -> None:
        """Be as high as its lines take, within some height; a few of them are always seen [px]."""
        head = self.horizontalHeader().sizeHint().height() + 14
        there = min(max((most - head) // self._row_high(), LEAST_ROWS), MOST_ROWS)
        self.setFixedHeight(head + min(max(self.model().rowCount(), LEAST_ROWS), there) * self._row_high())

    @property
    def line(self) -> BookLine | None:
        """The line that is chosen."""
        model, at = self.model(), self.currentIndex().row()
        return model.lines[at] if isinstance(model, BookLines) and 0 <= at < len(model.lines) else None

    def sizeHint(self) -> QSize:
        """Return the room it takes: as high as its lines, however broad."""
        return QSize(200, self.height())

    def keyPressEvent(self, event: QKeyEvent) -> None:
        """Take Enter; Esc and Left and Right at the ends are left to the window."""
        if event.key() in (Qt.Key.Key_Return, Qt.Key.Key_Enter):
            self.asked.emit()
        elif event.key() == Qt.Key.Key_Escape:
            event.ignore()
        else:
            super().keyPressEvent(event)
