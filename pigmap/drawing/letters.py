"""The breadth of words in the bundled font, without a window system."""

from __future__ import annotations

import json
from functools import cache

from pigmap.paths import resource

CAP_HEIGHT = 0.668
"""Height of a capital letter [em]."""
_UNKNOWN, _WIDE = 600, 1000
"""Breadth of a letter that the font lacks, and of one that fills a square [thousandths of an em]. Own choice."""
_NO_BREADTH = ("Mn", "Me", "Cf", "Cc")
"""Marks above and below letters, and what only says which way they run."""


class _Widths(dict[str, int]):
    """Breadths of letters in thousandths of an em; one that the font lacks is as broad as most of its kind."""

    def __missing__(self, letter: str) -> int:
        import unicodedata  # few names need it

        if unicodedata.category(letter) in _NO_BREADTH:
            return 0
        return _WIDE if unicodedata.east_asian_width(letter) in ("W", "F") else _UNKNOWN


@cache
def _widths() -> dict[int, _Widths]:
    table = json.loads(resource("fonts", "widths.json").read_text(encoding="utf-8"))
    return {int(weight): _Widths(widths) for weight, widths in table.items()}


def breadth(words: str, size: float, weight: int = 400) -> float:
    """Return the breadth of a line of words in the unit of `size`, the height of the type (its em).

    Examples
    --------
    >>> breadth("", 10.0)
    0.0
    >>> 20.0 < breadth("Pond", 10.0) < 26.0
    True
    """
    return sum(map(_widths()[weight].__getitem__, words)) * size / 1000


def wrapped(words: str, width: float, size: float, weight: int = 400) -> tuple[str, ...]:
    """Return words as lines no broader than `width`; a longer word keeps a line of its own."""
    lines: list[str] = []
    for word in words.split():
        longer = f"{lines[-1]} {word}" if lines else word
        if lines and breadth(longer, size, weight) <= width:
            lines[-1] = longer
        else:
            lines.append(word)
    return tuple(lines)


def shortened(words: str, width: float, size: float, weight: int = 400) -> str:
    """Return words cut with an ellipsis where they are broader than `width`."""
    if breadth(words, size, weight) <= width:
        return words
    while words and breadth(f"{words}…", size, weight) > width:
        words = words[:-1].rstrip()
    return f"{words}…"
