"""What is wrong with the plan first, below the rows of the season strip: whole, over as many lines as it needs."""

from __future__ import annotations

from PySide6.QtCore import QRectF
from PySide6.QtGui import QPainter

from pigmap.builtin.panels.season_rows import Strip
from pigmap.drawing.words import day_words
from pigmap.planning.rule import Breach
from pigmap.qt.paintwork import breadth, line_height, plate, wrapped_height, write_wrapped
from pigmap.qt.stage import Stage
from pigmap.qt.theme import font, tokens

APART_PX = 8
PAD_PX = 8
BARE_FOOT_PX = 4.0
"""What is left below the rows where there is nothing to say."""


def breach_words(stage: Stage, breach: Breach) -> str:
    """Return a breach as one line: its day, and what is wrong."""
    words = stage.words(breach.words)
    if breach.day is None:
        return words
    return f"{day_words(breach.day, 'short', language=stage.language)}: {words}"


def complaint_high(stage: Stage, breach: Breach | None, wide: float) -> float:
    """Return the height that it takes on a strip whose days are so broad [px]; little where nothing is wrong."""
    if breach is None:
        return BARE_FOOT_PX
    words, face = breach_words(stage, breach), font("tick", stage, weight=600)
    return wrapped_height(words, face, max(wide - 2 * APART_PX - 2 * PAD_PX, 1.0)) + 8


def draw_complaint(painter: QPainter, stage: Stage, breach: Breach | None, strip: Strip, height: float) -> None:
    """Write it below the last row of a strip of some height [px], near its day."""
    face = font("tick", stage, weight=600)
    if breach is None or height - strip.foot < line_height(face) + 2:
        return
    words, theme = breach_words(stage, breach), tokens(stage)
    left, right = strip.scale.left + APART_PX, strip.scale.right - APART_PX
    wide = min(breadth(words, face) + 2 * PAD_PX + 2, max(right - left, 2 * PAD_PX + 1))
    middle = strip.scale.middle_of(breach.day) if breach.day else left
    x = min(max(middle - wide / 2, left), right - wide)
    high = wrapped_height(words, face, wide - 2 * PAD_PX)
    box = QRectF(x, strip.foot + 1, wide, min(height - strip.foot - 2, high + 4))
    plate(painter, box, theme.nobg, theme.no, radius=4)
    write_wrapped(painter, box.adjusted(PAD_PX, 2, -PAD_PX, 0), words, face, theme.no)
