"""What a figure rests on, for whoever asks: its own inputs and the rule, then the source."""

from __future__ import annotations

from typing import NamedTuple

from PySide6.QtCore import QRectF
from PySide6.QtGui import QPainter

from pigmap.qt.paintwork import plate, wrapped_height, write_wrapped
from pigmap.qt.stage import Stage
from pigmap.qt.theme import RADIUS_BUTTON, font, tokens
from pigmap.text import Text

PAD = 10.0


class Why(NamedTuple):
    """What a figure rests on."""

    words: str
    """What went into this very figure, and the rule."""
    source: str


def why(stage: Stage, words: Text, *sources: Text) -> Why:
    """Return what a figure rests on, in words; of several sources each is named."""
    return Why(stage.words(words), "; ".join(dict.fromkeys(stage.words(each) for each in sources)))


def joined(*whys: Why) -> Why:
    """Return several as one, where a figure stands beside another; a source that they share is named once."""
    sources = dict.fromkeys(source for each in whys for source in each.source.split("; ") if source)
    return Why(" ".join(each.words for each in whys), "; ".join(sources))


def listed(stage: Stage, parts: list[Text], most: int = 3) -> str:
    """Return the first few of some parts in words, and how many more there are."""
    said = [stage.words(part) for part in parts[:most]]
    if more := len(parts) - len(said):
        said.append(stage.words(Text("{count} more", plural="{count} more", count=more)))
    return "; ".join(said)


def spoken(why: Why) -> str:
    """Return it for a screen reader."""
    return f"{why.words} {why.source}"


def why_height(stage: Stage, why: Why, wide: float) -> float:
    """Return the height that it takes at a breadth [px]."""
    face = font("second", stage)
    return sum(wrapped_height(line, face, wide - 2 * PAD) for line in _lines(stage, why)) + 16


def write_why(painter: QPainter, stage: Stage, why: Why, x: float, y: float, wide: float) -> None:
    """Write it on a quiet plate whose top is a little above `y`, as high as `why_height` says."""
    theme, face = tokens(stage), font("second", stage)
    plate(painter, QRectF(x, y - 4, wide, why_height(stage, why, wide) - 4), theme.well, radius=RADIUS_BUTTON)
    top = y + 2
    for line in _lines(stage, why):
        part = wrapped_height(line, face, wide - 2 * PAD)
        write_wrapped(painter, QRectF(x + PAD, top, wide - 2 * PAD, part + 2), line, face, theme.ink)
        top += part


def _lines(stage: Stage, why: Why) -> tuple[str, str]:
    return why.words, stage.say("Source: {source}.", source=why.source)
