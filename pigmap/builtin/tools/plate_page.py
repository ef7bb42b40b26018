"""What of a plate has room on a low map: the gravest of it first, the rest on pages that follow."""

from __future__ import annotations

from collections.abc import Callable, Sequence
from dataclasses import replace
from typing import NamedTuple

from pigmap.builtin.tools.place_figures import PlateWords
from pigmap.builtin.tools.plate_drawing import Asked, figures_of

Part = tuple[str, int]
"""A line of figures, a thing against the place or one that wants care; and which of its kind."""


class Page(NamedTuple):
    """One page of a plate."""

    words: PlateWords
    """What it says."""
    figures: tuple[int, ...]
    """Its figures, numbered among those of all pages."""
    more: int = 0
    """How many parts come on later pages."""

    def asked(self, asked: Asked) -> Asked:
        """Return what is asked, its figure numbered among those of this page."""
        at = self.figures.index(asked.at) if asked.at in self.figures else len(self.figures)
        return asked._replace(at=at, more=self.more)


Height = Callable[[Page], float]
"""Returns how high a page is [px]."""


def pages(words: PlateWords, height: Height, room: float) -> tuple[Page, ...]:
    """Return the pages on which all of a plate has room; one where it has room as it is.

    Parameters
    ----------
    words
        All that it says. Its head, and the gravest that is against the place, stand on each page.
    height
        Returns how high a page is [px].
    room
        How high one may be [px].
    """
    whole = _whole(words)
    if height(whole) <= room:
        return (whole,)
    left, made = _by_gravity(words), []
    while left:
        count = next(
            (most for most in range(len(left), 1, -1) if height(_page(words, left[:most], len(left) - most)) <= room), 1
        )
        made.append(_page(words, left[:count], len(left) - count))
        left = left[count:]
    return tuple(made) or (whole,)


def page_of(words: PlateWords, at: int, height: Height, room: float) -> Page:
    """Return the page on which a figure stands with what it rests on, and as much else as has room."""
    whole = _whole(words)
    if height(whole) <= room:
        return whole
    every = _by_gravity(words)
    chosen = [part for part in every if part == ("row", at - 1)]
    for part in every:
        if part not in chosen and height(_page(words, [*chosen, part], 1)) <= room:
            chosen.append(part)
    return _page(words, chosen, len(every) - len(chosen))


def _whole(words: PlateWords) -> Page:
    return Page(words, tuple(range(len(figures_of(words)))))


def _by_gravity(words: PlateWords) -> list[Part]:
    """Return the parts below the head: all that is against it, the first that wants care, figures, other cares."""
    cares = [("care", number) for number in range(len(words.cares))]
    rows = [("row", number) for number in range(len(words.rows))]
    return [*(("other", number) for number in range(len(words.others))), *cares[:1], *rows, *cares[1:]]


def _page(words: PlateWords, parts: Sequence[Part], more: int) -> Page:
    def numbers(kind: str) -> list[int]:
        return sorted(number for of, number in parts if of == kind)

    rows = numbers("row")
    said = replace(
        words,
        rows=tuple(words.rows[number] for number in rows),
        cares=tuple(words.cares[number] for number in numbers("care")),
        others=tuple(words.others[number] for number in numbers("other")),
    )
    return Page(said, (0, *(number + 1 for number in rows)), more)
