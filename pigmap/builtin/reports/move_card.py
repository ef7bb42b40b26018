"""One move card: who goes from where to where, the sketch, the steps and the boxes to fill in."""

from __future__ import annotations

from collections.abc import Callable, Iterator, Sequence

from pigmap.animals.weight import live_weight
from pigmap.builtin.reports.move_card_sketch import sketch
from pigmap.builtin.reports.move_card_steps import nets_staying, nets_summary, steps_of, whence
from pigmap.builtin.reports.sheet_frame import INK
from pigmap.drawing.letters import breadth, shortened, wrapped
from pigmap.drawing.on_day import sign_of
from pigmap.drawing.page import Box, Item, Rule, SheetRequest, Sign, Words
from pigmap.drawing.words import day_words
from pigmap.fence.behind import side_too_long
from pigmap.fence.electric.fed_by import off_with, off_words
from pigmap.fence.electric.of_paddock import fence_of
from pigmap.fence.rides import along_rides, clearing_words
from pigmap.planning.accepted import all_the_same
from pigmap.planning.coming import ruling
from pigmap.planning.gear_order import gear_there
from pigmap.planning.moves_of_day import Move
from pigmap.records import Farm
from pigmap.text import Text

WIDE_MM, HIGH_MM = 105.0, 148.0
"""A6, as ISO 216 has it."""
MARGIN_MM = 6.0
INNER_MM = WIDE_MM - 2 * MARGIN_MM
BOX_MM = 4.5
_STEP_MM, _LOW_STEP_MM = 6.25, 5.8
_NETS_MM = 3.1
_CARE_MM = 4.2
_USUAL_STEPS = 9
_SKETCH_TOP_MM, _STEPS_END_MM = 22.2, 123.9
Say = Callable[[Text], str]


def move_card(farm: Farm, moves: Sequence[Move], number: int, request: SheetRequest, say: Say) -> Iterator[Item]:
    """Yield the card of one of the day's moves, from its own upper left corner."""
    move = moves[number]
    pigs = live_weight(farm, move.group.uid, request.day).pigs
    place = Text("move {number} of {count}", {"number": number + 1, "count": len(moves)})
    head = move.group.name, say(whence(farm, move)), day_words(request.day, language=request.language), say(place)
    yield from card_head(sign_of(move.group, farm), *head)
    gear = gear_there(farm, move.group.uid, request.day, request.today)
    steps = [say(step) for step in steps_of(farm, move, pigs, gear)]
    step_mm = _STEP_MM if len(steps) <= _USUAL_STEPS else _LOW_STEP_MM
    steps_top = _STEPS_END_MM - step_mm * max(len(steps), _USUAL_STEPS)
    nets = _net_lines(farm, move, say)
    cares = _cares(farm, move, request, say)
    nets_top = steps_top - 1.1 - _NETS_MM * len(nets)
    low = nets_top - 0.8 - _CARE_MM * len(cares)
    yield from sketch(farm, move, (MARGIN_MM, _SKETCH_TOP_MM, INNER_MM, low - _SKETCH_TOP_MM), say)
    for number, words in enumerate(cares):
        yield from _care(words, low + _CARE_MM * (number + 1) - 0.9, say)
    for number, (words, size) in enumerate(nets):
        yield Words(MARGIN_MM, nets_top + _NETS_MM * (number + 1) - 0.6, words, size, 700)
    yield from _steps(steps, steps_top, step_mm)
    yield from _readings(pigs, _volts(farm, move, request, say), say)


def _cares(farm: Farm, move: Move, request: SheetRequest, say: Say) -> list[str]:
    """Return what to take care of at this move."""
    fence = move.old if move.old is not None else move.new
    off = off_words(farm, off_with(farm, fence.uid, move.group.uid, request.day, today=request.today))
    coming = [each.words for each in ruling(farm, move.group.uid, request.day)]
    rides = [clearing_words(each) for each in along_rides(farm, move.new_outline)]
    cares = (
        *(side_too_long(move.nets), off, all_the_same(move.why) if move.why else None, _together(coming, say)),
        *rides[:1],
    )
    return [say(text) for text in cares if text is not None]


def _together(coming: Sequence[Text], say: Say) -> Text | None:
    """Return what rules the day as one line: withdrawal, a sow that is due, pigs that are booked."""
    return Text("{coming}.", {"coming": "; ".join(say(each) for each in coming)}) if coming else None


def _care(words: str, y: float, say: Say) -> Iterator[Item]:
    """Yield what to take care of, as one line with a bar before it."""
    head = say(Text("Take care:"))
    size = next((each for each in (2.8, 2.5) if breadth(f"{head} {words}", each, 700) <= INNER_MM - 3), 2.3)
    after = breadth(f"{head} ", size, 700)
    yield Box(MARGIN_MM, y - 2.4, 1.2, 3.0, fill=INK)
    yield Words(MARGIN_MM + 2.4, y, head, size, 700)
    yield Words(MARGIN_MM + 2.4 + after, y, shortened(words, INNER_MM - 2.4 - after, size, 500), size, 500)


def card_head(sign: str, title: str, below: str, right: str, right_below: str) -> Iterator[Item]:
    """Yield the head of a card: a sign, two lines at the left and two at the right over a rule."""
    left, edge = MARGIN_MM + 14.0, WIDE_MM - MARGIN_MM
    yield Sign(MARGIN_MM + 1.0, 7.2, 10.0, sign)
    yield from _title(title, left, edge - left - breadth(right, 4.0, 700) - 3)
    yield Words(edge, 11.8, right, 4.0, 700, align="right")
    yield Words(edge, 17.4, right_below, 3.1, align="right")
    yield from _below(below, left, edge - left - breadth(right_below, 3.1) - 3)
    yield Rule(MARGIN_MM, 20.6, edge, 20.6, 0.5)


def _title(title: str, left: float, room: float) -> Iterator[Item]:
    """Yield a title as large as its room lets it, a long one in two lines."""
    size = next((each for each in (6.4, 5.4, 4.4) if breadth(title, each, 700) <= room), None)
    if size is not None:
        yield Words(left, 12.4, title, size, 700)
    else:
        yield from _two_lines(title, left, 10.0, room, 3.6, 700)


def _below(words: str, left: float, room: float) -> Iterator[Item]:
    size = next((each for each in (3.1, 2.7) if breadth(words, each) <= room), None)
    if size is not None:
        yield Words(left, 17.4, words, size)
    else:
        yield from _two_lines(words, left, 16.8, room, 2.3, 400)


def _two_lines(words: str, left: float, y: float, room: float, size: float, weight: int) -> Iterator[Item]:
    first, *others = wrapped(words, room, size, weight)
    yield Words(left, y, shortened(first, room, size, weight), size, weight)
    if others:
        yield Words(left, y + size * 1.1, shortened(" ".join(others), room, size, weight), size, weight)


def _net_lines(farm: Farm, move: Move, say: Say) -> list[tuple[str, float]]:
    """Return the lines that tell the nets, with their sizes: what is done with them, and what stays for others."""
    found: list[tuple[str, float]] = []
    for text in (nets_summary(move), *nets_staying(farm, move)):
        words = say(text)
        size = next((each for each in (2.8, 2.5) if breadth(words, each, 700) <= INNER_MM), 2.3)
        found += [(line, size) for line in wrapped(words, INNER_MM, size, 700)[:2]]
    return found


def _steps(steps: Sequence[str], begin: float, step_mm: float) -> Iterator[Item]:
    for number, words in enumerate(steps):
        top = begin + number * step_mm
        middle = top + BOX_MM / 2
        yield Box(MARGIN_MM, top, BOX_MM, BOX_MM, 0.6, 0.35)
        yield Words(MARGIN_MM + 7.6, middle + 1.1, str(number + 1), 3.1, 700, align="centre")
        yield from _step_words(words, MARGIN_MM + 10.4, middle)


def _step_words(words: str, left: float, middle: float) -> Iterator[Item]:
    room = WIDE_MM - MARGIN_MM - left
    size = next((each for each in (3.1, 2.9) if breadth(words, each) <= room), 2.5)
    lines = wrapped(words, room, size)
    for number, line in enumerate(lines):
        yield Words(left, middle + 1.05 + (number - (len(lines) - 1) / 2) * 2.85, line, size)


_READINGS = (Text("pigs counted"), Text("volts, kV"), Text("how rooted"))


def _volts(farm: Farm, move: Move, request: SheetRequest, say: Say) -> str:
    """Return what the new fence should read at its far end if mown; empty where nothing tells what feeds it."""
    new = move.new
    fence = fence_of(farm, new.uid, new.outline, move.group.uid, request.day, today=request.today)
    return say(Text("mown: {volts}", {"volts": fence.expected.mown.words})) if fence is not None else ""


def _readings(pigs: int, volts: str, say: Say) -> Iterator[Item]:
    top, space = 126.0, 1.8
    yield Rule(MARGIN_MM, top - 1.6, WIDE_MM - MARGIN_MM, top - 1.6, 0.5)
    wide = (INNER_MM - 3 * space) / 4
    for number, words in enumerate((*_READINGS, Text("water"))):
        left = MARGIN_MM + number * (wide + space)
        yield Box(left, top, wide, 10.6, 0.8, 0.35, INK)
        yield Words(left, top + 13.8, shortened(say(words), wide, 2.6), 2.6, 500)
    if pigs > 0:
        of = say(Text("of {count}", {"count": str(pigs)}))
        yield Words(MARGIN_MM + wide - 1.2, top + 9.2, of, 2.6, align="right")
    if volts:
        right = MARGIN_MM + 2 * wide + space - 1.0
        yield Words(right, top + 9.2, shortened(volts, wide - 2.0, 2.1), 2.1, align="right")
