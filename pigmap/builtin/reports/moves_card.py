"""The last card of a day: its moves in order, the nets to load, what to take care of, lines for notes."""

from __future__ import annotations

from collections.abc import Generator, Iterator, Sequence

import shapely

from pigmap.builtin.reports.move_card import BOX_MM, INNER_MM, MARGIN_MM, WIDE_MM, Say, card_head
from pigmap.builtin.reports.move_card_steps import paddock_name, whence
from pigmap.builtin.reports.sheet_blocks import LINE
from pigmap.builtin.reports.sheet_care import cautions_of
from pigmap.builtin.reports.sheet_nets import net_words
from pigmap.drawing.letters import breadth, shortened, wrapped
from pigmap.drawing.on_day import sign_of
from pigmap.drawing.page import Box, Item, Rule, SheetRequest, Sign, Words
from pigmap.drawing.surroundings import fields_on
from pigmap.drawing.words import day_words
from pigmap.fence.of_move import Nets
from pigmap.planning.moves_of_day import Move, nets_short, to_load
from pigmap.records import Farm
from pigmap.text import Quantity, Text, Value

MOST_ROWS = 6
_RIGHT = WIDE_MM - MARGIN_MM
_NETS_AT = MARGIN_MM + 47.0
_LAST_MM = 141.5


def moves_card(farm: Farm, moves: Sequence[Move], request: SheetRequest, say: Say) -> Iterator[Item]:
    """Yield the card, from its own upper left corner."""
    count = Text("{count} move", plural="{count} moves", count=len(moves))
    day = day_words(request.day, language=request.language)
    yield from card_head("moves", say(Text("Moves")), farm.name, day, say(count))
    y = 24.2
    yield from _heads(y, say, ways=any(move.drive_m is not None for move in moves))
    y += 1.2
    shown = moves[:MOST_ROWS]
    for move in shown:
        yield from _row(farm, move, y, say)
        y += 7.6
    if len(moves) > len(shown):
        yield Words(MARGIN_MM, y + 3.2, say(Text("and {count} more", {"count": len(moves) - len(shown)})), 2.6)
        y += 4.2
    y = yield from _lines([_spare_set(moves)], y + 1.2, say, 2.6, 400)
    y = yield from _load(farm, moves, request, y + 5.8, say)
    y = yield from _before_opening(moves, y + 5.6, say)
    y = yield from _care(farm, moves, request, y + 5.8, say)
    yield from _notes(y + 5.0, say)


def _heads(y: float, say: Say, *, ways: bool) -> Iterator[Item]:
    yield Words(MARGIN_MM, y, say(Text("group")), 2.4, 600)
    yield Words(_NETS_AT, y, say(Text("nets to set")), 2.4, 600)
    if ways:
        yield Words(_RIGHT, y, say(Text("in a straight line")), 2.4, 600, align="right")
    yield Rule(MARGIN_MM, y + 1.2, _RIGHT, y + 1.2, 0.25)


def _row(farm: Farm, move: Move, y: float, say: Say) -> Iterator[Item]:
    room = _NETS_AT - MARGIN_MM - 8.5
    yield Sign(MARGIN_MM + 0.3, y + 1.2, 5.2, sign_of(move.group, farm))
    yield Words(MARGIN_MM + 7.4, y + 3.4, shortened(move.group.name, room, 3.1, 600), 3.1, 600)
    yield Words(MARGIN_MM + 7.4, y + 6.3, shortened(_whence(farm, move, room, say), room, 2.4), 2.4)
    way = say(Text("{way}", {"way": Quantity(move.drive_m, "m", 0)})) if move.drive_m is not None else ""
    yield Words(_RIGHT, y + 4.6, way, 2.8, align="right")
    nets = [shortened(say(net_words(each)), 31.0, 2.5) for each in move.nets.to_set][:2]
    for number, words in enumerate(nets):
        yield Words(_NETS_AT, y + 4.6 + (number - (len(nets) - 1) / 2) * 3.0, words, 2.5)
    yield Rule(MARGIN_MM, y + 7.6, _RIGHT, y + 7.6, 0.15, LINE)


def _whence(farm: Farm, move: Move, room: float, say: Say) -> str:
    """Return from where to where, without the names of fields if there is no room for them."""
    words = say(whence(farm, move))
    if breadth(words, 2.4) <= room or move.old is None:
        return words
    return say(Text("{old} to {new}", {"old": paddock_name(farm, move.old), "new": paddock_name(farm, move.new)}))


def _spare_set(moves: Sequence[Move]) -> Text:
    if len(moves) == 1:
        return Text("The nets taken up become the spare set.")
    return Text(
        "The nets taken up at one move are set at the next. Pigs that do not cross until tomorrow keep their nets till "
        "then: carry as many more."
    )


def _load(farm: Farm, moves: Sequence[Move], request: SheetRequest, y: float, say: Say) -> Generator[Item, None, float]:
    yield Words(MARGIN_MM, y, say(Text("Load before you go")), 3.3, 700)
    load = [say(_to_load(moves, nets)) for nets in to_load(moves)]
    unknown = any(nets.kind is None for move in moves for nets in move.nets.to_set)
    short = nets_short(farm, moves, request.day, request.today)
    missing = Text("{count} net more than lie spare", plural="{count} nets more than lie spare", count=short)
    listed = [
        *load,
        *([say(Text("nets by length: see the cards"))] if unknown else []),
        say(Text("fence tester, mallet, spare clips")),
        say(Text("boards, these cards, a pencil")),
    ]
    if short:
        y += 4.6
        yield Words(MARGIN_MM, y, say(missing), 2.8, 700)
    for words in listed:
        y += 5.2
        yield Box(MARGIN_MM, y - 3.4, BOX_MM * 0.85, BOX_MM * 0.85, 0.6, 0.3)
        yield Words(MARGIN_MM + 6.4, y - 0.4, words, 2.8)
    return y


def _to_load(moves: Sequence[Move], nets: Nets) -> Text:
    """Return nets to load, and how they come about where some are set twice."""
    words = Text("nets: {nets}", {"nets": net_words(nets)})
    each = [one.count for move in moves for one in move.nets.to_set if one.kind == nets.kind]
    again = sum(each) - nets.count
    if not again:
        return words
    parts = " + ".join(str(count) for count in each)
    values: dict[str, Value] = {"nets": words, "parts": parts, "count": again}
    return Text("{nets} ({parts}, {count} taken up at a move before)", values)


def _before_opening(moves: Sequence[Move], y: float, say: Say) -> Generator[Item, None, float]:
    yield Words(MARGIN_MM, y, say(Text("Before each opening")), 3.3, 700)
    rule = [Text("New paddock closed, switched on, volts read, switched off. Only then open, from the inside.")]
    if any(move.shared_line is not None for move in moves):
        rule.append(Text("Open only to the other paddock, never to the outside."))
    else:
        rule.append(Text("Never open to the outside."))
    return (yield from _lines(rule, y, say, 2.6, 600))


def _lines(texts: Sequence[Text], y: float, say: Say, size: float, weight: int) -> Generator[Item, None, float]:
    for text in texts:
        for line in wrapped(say(text), INNER_MM, size, weight):
            y += size * 1.25
            yield Words(MARGIN_MM, y, line, size, weight)
    return y


def _care(farm: Farm, moves: Sequence[Move], request: SheetRequest, y: float, say: Say) -> Generator[Item, None, float]:
    """Yield the usual cautions for the ground of these moves, as many as there is room for; the last one always."""
    ground = shapely.union_all([move.new_outline for move in moves])
    fields = [field for field in fields_on(farm, request.day) if field.outline.intersects(ground)]
    cautions = [say(each) for each in cautions_of(farm, fields, request.day, request.slopes)]
    yield Words(MARGIN_MM, y, say(Text("Take care")), 3.3, 700)
    y += 0.8
    kept = [wrapped(words, INNER_MM - 3.0, 2.4) for words in cautions]
    room = int((_LAST_MM - 8.0 - y) / 3.0)
    while sum(len(each) for each in kept) > room and len(kept) > 2:
        kept.pop(-2)
    for lines in kept:
        yield Box(MARGIN_MM, y + 1.5, 1.1, 1.1, fill="#121A17")
        for line in lines:
            y += 3.0
            yield Words(MARGIN_MM + 3.0, y, line, 2.4)
    return y


def _notes(y: float, say: Say) -> Iterator[Item]:
    words = say(Text("Notes"))
    yield Words(MARGIN_MM, y, words, 3.0, 700)
    lines = [y + 0.6 + 6.0 * number for number in range(8)]
    for number, at in enumerate(line for line in lines if line <= _LAST_MM):
        yield Rule(MARGIN_MM + (12.0 if number == 0 else 0.0), at, _RIGHT, at, 0.15, LINE)
