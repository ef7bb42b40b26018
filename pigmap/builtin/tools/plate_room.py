"""What a plate shows in the room that the map has: all of it, or a page; and which deeds it then offers."""

from __future__ import annotations

from pigmap.builtin.tools.place_deeds import PlaceDeeds
from pigmap.builtin.tools.place_figures import PlateWords
from pigmap.builtin.tools.plate_drawing import PAD, Asked, PlateDrawing
from pigmap.builtin.tools.plate_page import Page, page_of, pages
from pigmap.builtin.tools.plate_spot import SHADOW_PX

EVERY = 99
FEW = 3
"""A page with fewer parts gives up deeds for more of them."""


def _tries(offered: tuple[str, ...], *, held: bool) -> list[tuple[bool, tuple[str, ...], int]]:
    """Return what to try one after the other: with the hint, which deeds, and how many parts have to be on a page."""
    if not (held and offered):
        return [(True, offered, 0)]
    few = tuple(name for name in offered if name == "set")
    return [
        (True, offered, EVERY),
        (False, offered, EVERY),
        (False, (*offered, "more"), FEW),
        (False, (*few, "more"), 0),
    ]


class PlateRoom:
    """Finds the page; keeps which one was turned to.

    On a low map the hint goes first, then all deeds but setting it; what has no room then comes page by page.
    """

    def __init__(self, drawing: PlateDrawing) -> None:
        self.drawing = drawing
        self.deeds: PlaceDeeds | None = None
        """What can be done with a ghost that is held."""
        self.turned = 0
        """How often the page was turned."""
        self.page: Page | None = None
        """What is shown; None before anything is said."""
        self._hint = True

    def find(self, words: PlateWords, asked: Asked, room: float, offered: tuple[str, ...]) -> None:
        """Find the page in some room for what is said and for deeds [px]."""
        few = tuple(name for name in offered if name == "set")
        tries = [
            (True, offered, 99),
            (False, offered, 99),
            (False, (*offered, "more"), FEW),
            (False, (*few, "more"), 0),
        ]
        if not asked.held:
            tries = [(True, offered, 0)]
        for hint, names, least in tries:
            self._hint = hint
            left = room - self._lay(names)
            page = self._page(words, asked, left)
            if (not page.more and not self.turned) or len(page.figures) + len(page.words.cares) > least:
                break
        self.page = page
        if self.deeds is not None:
            self.deeds.count_more(page.more)
            self._lay(names)

    def _page(self, words: PlateWords, asked: Asked, room: float) -> Page:
        def height(page: Page) -> float:
            return self.drawing.height(page.words, self._asked(asked, page))

        if asked.why is not None or (asked.ringed and not self.turned):
            return page_of(words, asked.at, height, room)
        every = pages(words, height, room)
        return every[self.turned % len(every)]

    def asked(self, asked: Asked) -> Asked:
        """Return what is asked, for the drawing of the page that is shown."""
        return self._asked(asked, self.page) if self.page is not None else asked

    def _asked(self, asked: Asked, page: Page) -> Asked:
        return page.asked(asked)._replace(hint=self._hint)

    def height(self, asked: Asked) -> int:
        """Return how high what is said comes [px]."""
        return round(self.drawing.height(self.page.words, self.asked(asked))) if self.page is not None else 0

    def _lay(self, names: tuple[str, ...]) -> int:
        if self.deeds is None:
            return 0
        self.deeds.show(names)
        return self.lay_deeds(0)

    def lay_deeds(self, top: int) -> int:
        """Lay the deeds below a height; return where they end [px]."""
        if self.deeds is None:
            return top
        return self.deeds.lay(SHADOW_PX + round(PAD), top, self.drawing.wide - 2 * round(PAD))
