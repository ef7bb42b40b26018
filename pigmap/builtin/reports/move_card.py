"""One move card: who goes from where to where, the sketch, the steps and the boxes to fill in."""

from __future__ import annotations

from collections.abc import Callable, Iterator, Sequence

from pigmap.animals.weight import live_weight
from pigmap.builtin.reports.move_card_sketch import sketch
from pigmap.builtin.reports.move_card_steps import nets_summary, steps_of, whence
from pigmap.builtin.reports.sheet_frame import INK
from pigmap.drawing.letters import breadth, shortened, wrapped
from pigmap.drawing.on_day import sign_of
from pigmap.drawing.page import Box, Item, Rule, SheetRequest, Sign, Words
from pigmap.drawing.words import day_words
from pigmap.planning.accepted import all_the_same
from pigmap.planning.moves_of_day import Move
from pigmap.records import Farm
from pigmap.text import Text

WIDE_MM, HIGH_MM = 105.0, 148.0
"""A6, as ISO 216 has it."""
MARGIN_MM = 6.0
INNER_MM = WIDE_MM - 2 * MARGIN_MM
BOX_MM = 4.5
_STEP_MM = 6.25
_CARE_MM = 4.2
_SKETCH = (MARGIN_MM, 22.2, INNER_MM, 40.0)
_STEPS_TOP_MM = 67.6
Say = Callable[[Text], str]


def move_card(farm: Farm, moves: Sequence[Move], number: int, request: SheetRequest, say: Say) -> Iterator[Item]:
    """Yield the card of one of the day's moves, from its own upper left corner."""
    move = moves[number]
    pigs = live_weight(farm, move.group.uid, request.day).pigs
    place = Text("move {number} of {count}", {"number": number + 1, "count": len(moves)})
    head = move.group.name, say(whence(farm, move)), day_words(request.day, language=request.language), say(place)
    yield from card_head(sign_of(move.group), *head)
    yield from sketch(farm, move, _sketch_box(bool(move.why)), say)
    if move.why:
        yield from _care(say(all_the_same(move.why)), say)
    yield from _nets(say(nets_summary(move)))
    yield from _steps([say(step) for step in steps_of(farm, move, pigs)])
    yield from _readings(pigs, say)


def _sketch_box(care: bool) -> tuple[float, float, float, float]:
    """Return where the sketch lies; a line on what to take care of stands below it."""
    left, top, wide, high = _SKETCH
    return (left, top, wide, high - _CARE_MM) if care else _SKETCH


def _care(words: str, say: Say) -> Iterator[Item]:
    """Yield what to take care of at this move, as one line with a bar before it."""
    y = _SKETCH[1] + _SKETCH[3] - 0.9
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


def _nets(words: str) -> Iterator[Item]:
    size = next((each for each in (2.8, 2.5) if breadth(words, each, 700) <= INNER_MM), 2.3)
    lines = wrapped(words, INNER_MM, size, 700)
    for number, line in enumerate(lines[:2]):
        yield Words(MARGIN_MM, 65.4 + (number - len(lines[:2]) + 1) * 2.5 + 0.4, line, size, 700)


def _steps(steps: Sequence[str]) -> Iterator[Item]:
    for number, words in enumerate(steps):
        top = _STEPS_TOP_MM + number * _STEP_MM
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


def _readings(pigs: int, say: Say) -> Iterator[Item]:
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
