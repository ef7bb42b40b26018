"""Cards for the pocket on one sheet: two that say what to do when pigs are out, two for after a shock."""

from __future__ import annotations

from collections.abc import Mapping
from functools import partial

from pigmap.builtin.reports.escape_card import escape_card
from pigmap.builtin.reports.move_card import HIGH_MM
from pigmap.builtin.reports.move_cards import cards_on, cut_lines
from pigmap.builtin.reports.sheet_blocks import Block, moved
from pigmap.builtin.reports.shock_card import shock_card
from pigmap.drawing.page import FieldState, Item, Page, SheetRequest
from pigmap.drawing.words import render
from pigmap.records import Farm
from pigmap.text import Text


class PocketCards:
    """Makes the sheet."""

    name = "pocket-cards"

    def make(self, farm: Farm, states: Mapping[str, FieldState], request: SheetRequest) -> Page:
        """Return the sheet, to be cut along its lines."""
        say = partial(render, language=request.language, system=request.system)
        lie = cards_on(request.paper)
        items: list[Item] = []
        for place in range(lie.on_sheet):
            card = escape_card if place % 2 == 0 else shock_card
            items += moved(Block(tuple(card(farm, request, say)), HIGH_MM), *lie.corner(place))
        items += cut_lines(lie, lie.on_sheet)
        return Page(lie.width_mm, lie.height_mm, tuple(items), title=say(Text("Cards for the pocket")))


report = PocketCards()
