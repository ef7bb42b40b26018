"""The key's table, drawn by the very code that draws the ground."""

from __future__ import annotations

from PySide6.QtCore import QPointF, QRectF, Qt
from PySide6.QtGui import QColor, QPainter, QPen

from pigmap.drawing.key import (
    COMPUTED,
    NEVER_USED,
    NOT_KNOWN,
    SEEN,
    Key,
    key_field,
    shows_unknown,
    swatch,
    unknown_swatch,
)
from pigmap.drawing.layer import Cells
from pigmap.drawing.tint import Tint, tells_use
from pigmap.drawing.tokens import BARE, CASING, MAP_INK, MAP_PLAN, REST_COLOURS, REST_FROM_DAY, UNKNOWN
from pigmap.drawing.view import View
from pigmap.qt.painter import paint
from pigmap.qt.paintwork import Left, Middle, breadth, line_height, write
from pigmap.qt.stage import Stage
from pigmap.qt.theme import font, tokens

ROW_HIGH = 21.0
"""Height of a row of the table at text size 100 % [px]."""
_GRASS = "#7C8A5C"
"""What ground without a colour is drawn on in the key: the photo shows there."""
SHORT = 4
"""Letters of a column's heading up to which it fits over its column."""


def row_high(stage: Stage) -> float:
    """Return the height of a row of the table [px]."""
    return max(ROW_HIGH, line_height(font("tick", stage)) + 3)


def as_table(key: Key, stage: Stage) -> bool:
    """Return whether a key is a table with headings, or a list of steps with words."""
    return bool(key.rows) or all(len(stage.words(words)) <= SHORT for words in key.columns)


def draw_cells(painter: QPainter, cells: Cells, box: QRectF) -> None:
    """Draw tinted ground into a box; one of its metres is one pixel."""
    painter.save()
    painter.setClipRect(box)
    painter.translate(box.topLeft())
    view = View(box.width() / 2, box.height() / 2, 1.0, box.width(), box.height())
    paint([cells], painter, view)
    painter.restore()


def label_wide(key: Key, stage: Stage) -> float:
    """Return the breadth of the words left of the table."""
    if not key.rows:
        return 0.0
    face = font("tick", stage)
    return max(breadth(stage.words(words), face) for words in key.rows) + 8


def table_high(key: Key, stage: Stage) -> float:
    """Return the height of table, headings and the line on clods [px]."""
    line = line_height(font("tick", stage))
    if not as_table(key, stage):
        return _list_top(key, stage) + len(key.columns) * (line + 6)
    head = line * (2 if stage.words(key.across) else 1) + 2 if len(key.columns) > 1 else 0.0
    clods = line + 16 if key.rows else 4.0
    return head + max(len(key.rows), 1) * row_high(stage) + clods


def table_box(box: QRectF, key: Key, stage: Stage) -> QRectF:
    """Return where the coloured fields of a table lie in the box of the whole key."""
    line, left = line_height(font("tick", stage)), label_wide(key, stage)
    head = line * (2 if stage.words(key.across) else 1) + 2 if len(key.columns) > 1 else 0.0
    return QRectF(box.x() + left, box.y() + head, box.width() - left, max(len(key.rows), 1) * row_high(stage))


def draw_pointed(painter: QPainter, box: QRectF, key: Key, stage: Stage, step: int, rooted: int) -> None:
    """Outline the field of the key that the ground under the pointer is shown as."""
    if not 0 <= step < len(key.columns):
        return
    if as_table(key, stage):
        table = table_box(box, key, stage)
        wide, high = table.width() / len(key.columns), row_high(stage)
        row = rooted if key.rows else 0
        field = QRectF(table.x() + step * wide, table.y() + row * high, wide, high)
    else:
        line = line_height(font("tick", stage)) + 6
        field = QRectF(box.x(), box.y() + _list_top(key, stage) + step * line + 2, 30, line - 4)
    for colour, width in (("#FFFFFF", 5.0), (MAP_INK, 2.2)):
        painter.setPen(QPen(QColor(colour), width))
        painter.drawRect(field)


def draw_table(painter: QPainter, box: QRectF, tint: Tint, key: Key, stage: Stage, mark: int | None) -> None:
    """Draw the key; `mark` are the days of rest that are wanted, for the blue mark across it."""
    if not as_table(key, stage):
        _draw_list(painter, box, key, stage)
        return
    theme, face = tokens(stage), font("tick", stage)
    line = line_height(face)
    left = label_wide(key, stage)
    table = table_box(box, key, stage)
    if len(key.columns) > 1:
        heads = table.translated(0, -line - 2)
        if stage.words(key.across):
            above = QRectF(table.x(), heads.y() - line, table.width(), line)
            write(painter, above, stage.words(key.across), face, theme.ink)
        _headings(painter, heads, key, stage)
        if key.rows:
            corner = QRectF(box.x(), heads.y(), left, line)
            write(painter, corner, stage.say("rooted"), face, theme.ink)
    rows, high = max(len(key.rows), 1), row_high(stage)
    columns = max(len(key.columns), 1)
    cells = key_field(tint, columns=columns, rows=rows, wide=table.width() / columns, high=high)
    draw_cells(painter, cells, table)
    painter.setPen(QPen(QColor(theme.edge), 1))
    painter.drawRect(table)
    for at, words in enumerate(key.rows):
        row = QRectF(box.x(), table.y() + at * high, left, high)
        write(painter, row, stage.words(words), face, theme.ink, Left)
    if mark is not None and columns == len(REST_FROM_DAY):
        _draw_mark(painter, table, mark, stage)
    if key.rows:
        _draw_clods(painter, QRectF(box.x(), table.bottom() + 8, box.width(), line), stage)


def _headings(painter: QPainter, table: QRectF, key: Key, stage: Stage) -> None:
    theme, face = tokens(stage), font("tick", stage)
    step = table.width() / len(key.columns)
    for at, words in enumerate(key.columns):
        box = QRectF(table.x() + at * step - 6, table.y(), step + 12, line_height(face))
        write(painter, box, stage.words(words), face, theme.ink, Middle)


def _draw_mark(painter: QPainter, table: QRectF, mark: int, stage: Stage) -> None:
    step = table.width() / len(REST_FROM_DAY)
    at = max(index for index, first in enumerate(REST_FROM_DAY) if first <= max(mark, 0))
    last = REST_FROM_DAY[at + 1] if at + 1 < len(REST_FROM_DAY) else REST_FROM_DAY[at] * 2
    share = min(1.0, (mark - REST_FROM_DAY[at]) / (last - REST_FROM_DAY[at]))
    x = table.x() + (at + share) * step
    painter.setPen(QPen(QColor("#FFFFFF"), 4))
    painter.drawLine(QPointF(x, table.top()), QPointF(x, table.bottom()))
    painter.setPen(QPen(QColor("#1650B8"), 2.2))
    painter.drawLine(QPointF(x, table.top() - 3), QPointF(x, table.bottom() + 3))


def _draw_clods(painter: QPainter, box: QRectF, stage: Stage) -> None:
    theme, face = tokens(stage), font("tick", stage)
    x = box.x()
    parts = (
        (stage.say("clods"), None),
        (stage.words(SEEN), True),
        (stage.words(COMPUTED), False),
    )
    for words, seen in parts:
        if seen is not None:
            field = QRectF(x, box.y() + (box.height() - 16) / 2, 22, 16)
            draw_cells(painter, swatch(REST_COLOURS[4], 2, seen=seen, wide=22, high=16), field)
            painter.setPen(QPen(QColor(theme.edge), 1))
            painter.drawRect(field)
            x += 28
        wide = breadth(words, face)
        write(painter, QRectF(x, box.y(), wide + 2, box.height()), words, face, theme.ink, Left)
        x += wide + 12


def _list_top(key: Key, stage: Stage) -> float:
    """Return the height of the line over a list that says what its steps are [px]."""
    return line_height(font("tick", stage)) + 2 if stage.words(key.across) else 0.0


def _draw_list(painter: QPainter, box: QRectF, key: Key, stage: Stage) -> None:
    theme, face = tokens(stage), font("tick", stage)
    line, top = line_height(face) + 6, box.y() + _list_top(key, stage)
    write(painter, QRectF(box.x(), box.y(), box.width(), line_height(face)), stage.words(key.across), face, theme.ink)
    for at, (colour, words) in enumerate(zip(key.colours, key.columns, strict=True)):
        y = top + at * line
        painter.fillRect(QRectF(box.x(), y + 2, 30, line - 4), QColor(colour))
        painter.setPen(QPen(QColor(theme.edge), 1))
        painter.drawRect(QRectF(box.x(), y + 2, 30, line - 4))
        write(painter, QRectF(box.x() + 40, y, box.width() - 40, line), stage.words(words), face, theme.ink, Left)
    if key.mark_at_step is not None:
        y = top + key.mark_at_step * line
        for colour, width, out in ((CASING, 4.0, 0.0), (MAP_PLAN, 2.2, 3.0)):
            painter.setPen(QPen(QColor(colour), width))
            painter.drawLine(QPointF(box.x() - out, y), QPointF(box.x() + 30 + out, y))


def unknown_high(tint: Tint, stage: Stage) -> float:
    """Return the height of the lines on ground without a colour [px]."""
    return line_height(font("tick", stage)) + 9 if shows_unknown(tint) else 0.0


def draw_unknown(painter: QPainter, box: QRectF, tint: Tint, stage: Stage, pointed: int | None = None) -> None:
    """Draw what bare ground means, and ground that nobody knows; `pointed` is the step of the one that is outlined."""
    theme, face = tokens(stage), font("tick", stage)
    x = box.x()
    bare = ((NEVER_USED, BARE),) if tells_use(tint) else ()
    for words, step in (*bare, (NOT_KNOWN, UNKNOWN)):
        field = QRectF(x, box.y() + 2, 22, 18)
        painter.fillRect(field, QColor(_GRASS))
        if step == UNKNOWN:
            painter.save()
            painter.setClipRect(field)
            painter.translate(field.topLeft())
            paint([unknown_swatch(field.width(), field.height())], painter, View(0, 0, 1.0, 22, 18))
            painter.restore()
        painter.setBrush(Qt.BrushStyle.NoBrush)
        for colour, width in (("#FFFFFF", 5.0), (MAP_INK, 2.2)) if pointed == step else ((theme.edge, 1.0),):
            painter.setPen(QPen(QColor(colour), width))
            painter.drawRect(field)
        wide = breadth(stage.words(words), face)
        write(painter, QRectF(x + 28, field.y(), wide + 2, field.height()), stage.words(words), face, theme.ink, Left)
        x += 28 + wide + 12


def draw_ramp(painter: QPainter, box: QRectF, tint: Tint, key: Key) -> None:
    """Draw the steps of a tint in one small row, rooted ever more to the lower edge where it has clods."""
    columns = max(len(key.colours), 1)
    rows = 2 if key.rows else 1
    cells = key_field(tint, columns=columns, rows=rows, wide=box.width() / columns, high=box.height() / rows)
    draw_cells(painter, cells, box)
