"""Markdown in the look of the program: its font, its colours, room between the lines, keys on a well."""

from __future__ import annotations

from PySide6.QtGui import (
    QColor,
    QFont,
    QTextBlock,
    QTextBlockFormat,
    QTextCharFormat,
    QTextCursor,
    QTextDocument,
    QTextFormat,
    QTextFrameFormat,
    QTextLength,
    QTextTable,
)

from pigmap.qt.stage import Stage
from pigmap.qt.theme import Role, font, tokens

HEADINGS: dict[int, Role] = {1: "title", 2: "heading", 3: "strong"}
LINE_PERCENT = 128.0
"""Height of a line, to that of the font."""
PROPORTIONAL = QTextBlockFormat.LineHeightTypes.ProportionalHeight.value


def dress(document: QTextDocument, stage: Stage) -> None:
    """Give every block, table and piece of a document its look."""
    block = document.begin()
    while block.isValid():
        _dress_block(block, stage)
        block = block.next()
    for frame in document.rootFrame().childFrames():
        if isinstance(frame, QTextTable):
            _dress_table(frame, stage)


def _dress_block(block: QTextBlock, stage: Stage) -> None:
    level = block.blockFormat().headingLevel()
    in_table = QTextCursor(block).currentTable() is not None
    cursor = QTextCursor(block)
    shape = QTextBlockFormat()
    shape.setLineHeight(100.0 if level or _has_picture(block) else LINE_PERCENT, PROPORTIONAL)
    scale = stage.text_scale
    shape.setTopMargin((18 if level == 2 else 0) * scale)
    shape.setBottomMargin(0 if in_table else (6 if level or block.textList() is not None else 10) * scale)
    cursor.mergeBlockFormat(shape)
    usual = font(HEADINGS.get(level, "body"), stage)
    for first, last, old in _pieces(block):
        piece = QTextCursor(block)
        piece.setPosition(first)
        piece.setPosition(last, QTextCursor.MoveMode.KeepAnchor)
        piece.setCharFormat(_format(old, usual, stage, heading=bool(level)))


def _has_picture(block: QTextBlock) -> bool:
    return any(old.isImageFormat() for _, _, old in _pieces(block))


def _pieces(block: QTextBlock) -> list[tuple[int, int, QTextCharFormat]]:
    found = []
    at = block.begin()
    while not at.atEnd():
        piece = at.fragment()
        found.append((piece.position(), piece.position() + piece.length(), piece.charFormat()))
        at += 1
    return found


def _format(old: QTextCharFormat, usual: QFont, stage: Stage, *, heading: bool) -> QTextCharFormat:
    theme = tokens(stage)
    made = QTextCharFormat(old)
    if old.isImageFormat():
        return made
    made.clearProperty(QTextFormat.Property.FontSizeAdjustment)
    face = QFont(usual)
    key = old.fontFixedPitch()
    if not heading and (key or old.fontWeight() > QFont.Weight.Medium):
        face.setWeight(QFont.Weight.DemiBold)
    made.setFont(face)
    made.setForeground(QColor(theme.plan if old.isAnchor() else theme.ink))
    made.setFontUnderline(old.isAnchor())
    made.setFontFixedPitch(False)
    if key:
        made.setBackground(QColor(theme.well))
    return made


def _dress_table(table: QTextTable, stage: Stage) -> None:
    look = table.format()
    look.setBorder(1)
    look.setBorderCollapse(True)
    look.setBorderStyle(QTextFrameFormat.BorderStyle.BorderStyle_Solid)
    look.setBorderBrush(QColor(tokens(stage).line))
    look.setCellPadding(6 * stage.text_scale)
    look.setCellSpacing(0)
    look.setBottomMargin(12)
    look.setWidth(QTextLength(QTextLength.Type.PercentageLength, 100))
    if table.columns() == 2:
        percent = QTextLength.Type.PercentageLength
        look.setColumnWidthConstraints([QTextLength(percent, 34), QTextLength(percent, 66)])
    table.setFormat(look)
