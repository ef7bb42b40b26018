"""The move cards of a day: one for each move, one for all; room that is left has those for a shock and for escapes."""

from __future__ import annotations

from collections.abc import Iterator, Mapping, Sequence
from functools import partial
from typing import NamedTuple

from pigmap.builtin.reports.escape_card import escape_card
from pigmap.builtin.reports.move_card import HIGH_MM, WIDE_MM, Say, move_card
from pigmap.builtin.reports.moves_card import moves_card
from pigmap.builtin.reports.sheet_blocks import Block, moved
from pigmap.builtin.reports.shock_card import shock_card
from pigmap.drawing.page import PAPERS, FieldState, Item, Page, PaperName, Rule, SheetRequest
from pigmap.drawing.words import day_words, render
from pigmap.errors import SheetError
from pigmap.planning.moves_of_day import Move, moves_of_day
from pigmap.records import Farm
from pigmap.text import Text

_CUT = "#8A928D"


class Cards(NamedTuple):
    """How cards lie on a paper."""

    width_mm: float
    height_mm: float
    columns: int
    rows: int

    @property
    def on_sheet(self) -> int:
        """How many there are on one sheet."""
        return self.columns * self.rows

    def corner(self, number: int) -> tuple[float, float]:
        """Return the upper left corner of a card on its sheet; the cards stand in the middle of it."""
        row, column = divmod(number, self.columns)
        spare_x, spare_y = self.width_mm - self.columns * WIDE_MM, self.height_mm - self.rows * HIGH_MM
        return spare_x / 2 + column * WIDE_MM, spare_y / 2 + row * HIGH_MM


def cards_on(paper: PaperName) -> Cards:
    """Return how cards lie on a paper, upright or lying, whichever takes more of them."""
    short, long = PAPERS[paper]
    ways = [Cards(w, h, int(w // WIDE_MM), int(h // HIGH_MM)) for w, h in ((short, long), (long, short))]
    return max(ways, key=lambda way: way.on_sheet)


class MoveCards:
    """Makes the sheets of cards."""

    name = "move-cards"

    def sheets(self, farm: Farm, request: SheetRequest) -> int:
        """Return on how many sheets the cards of a day go."""
        cards = len(moves_of_day(farm, request.day, request.today)) + 1
        return -(-cards // cards_on(request.paper).on_sheet)

    def cards(self, farm: Farm, request: SheetRequest) -> int:
        """Return how many cards a day has, that of all its moves included; none on a day without moves."""
        moves = len(moves_of_day(farm, request.day, request.today))
        return moves + 1 if moves else 0

    def card(self, farm: Farm, request: SheetRequest, number: int) -> Page:
        """Return one card alone, counted from 0; the last is that of all moves."""
        moves = moves_of_day(farm, request.day, request.today)
        whose = moves[number].group.name if number < len(moves) else render(Text("Moves"), language=request.language)
        return Page(WIDE_MM, HIGH_MM, tuple(_card(farm, moves, number, request)), title=whose)

    def make(self, farm: Farm, states: Mapping[str, FieldState], request: SheetRequest) -> Page:
        """Return one sheet of cards; which one is asked for by `request.sheet`."""
        moves = moves_of_day(farm, request.day, request.today)
        if not moves:
            raise SheetError(
                "No group moves on {day}, so there are no cards to print.",
                remedy="Choose a day with a move, or plan one.",
                day=request.day,
            )
        lie = cards_on(request.paper)
        first = (request.sheet - 1) * lie.on_sheet
        numbers = range(first, min(first + lie.on_sheet, len(moves) + 1))
        drawn = [tuple(_card(farm, moves, number, request)) for number in numbers]
        spare = (shock_card, escape_card)[: lie.on_sheet - len(drawn)]
        drawn += [tuple(each(farm, request, _said(request))) for each in spare]
        items: list[Item] = []
        for place, card in enumerate(drawn):
            items += moved(Block(card, HIGH_MM), *lie.corner(place))
        items += cut_lines(lie, len(drawn))
        day = day_words(request.day, "full", language=request.language)
        title = render(Text("Moves, {day}", {"day": day}), language=request.language)
        return Page(lie.width_mm, lie.height_mm, tuple(items), title=title)


def _card(farm: Farm, moves: Sequence[Move], number: int, request: SheetRequest) -> Iterator[Item]:
    say = _said(request)
    if number < len(moves):
        return move_card(farm, moves, number, request, say)
    return moves_card(farm, moves, request, say)


def _said(request: SheetRequest) -> Say:
    return partial(render, language=request.language, system=request.system)


def cut_lines(lie: Cards, count: int) -> Iterator[Item]:
    """Yield lines to cut along, over the whole sheet; those round cards in its corner are the sheet's own edges."""
    columns, rows = min(count, lie.columns), -(-count // lie.columns)
    left, top = lie.corner(0)
    for x in (left + WIDE_MM * number for number in range(columns + 1)):
        if 1.0 < x < lie.width_mm - 1.0:
            yield Rule(x, 0.0, x, lie.height_mm, 0.15, _CUT, (1.2, 1.0))
    for y in (top + HIGH_MM * number for number in range(rows + 1)):
        if 1.0 < y < lie.height_mm - 1.0:
            yield Rule(0.0, y, lie.width_mm, y, 0.15, _CUT, (1.2, 1.0))


report = MoveCards()
