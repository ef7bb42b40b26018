"""The blocks beside the map of a sheet: key, nets, corners, cautions, boxes for readings."""

from __future__ import annotations

from collections.abc import Callable, Iterator, Sequence
from dataclasses import replace
from typing import NamedTuple

from pigmap.builtin.reports.sheet_corners import Corner
from pigmap.builtin.reports.sheet_frame import INK, spaced
from pigmap.builtin.reports.sheet_nets import NetLine
from pigmap.builtin.reports.sheet_signs import LINE_MM, PLACE_MM, SIGN_MM, Sample
from pigmap.drawing.key import (
    COMPUTED,
    NEVER_USED,
    NOT_KNOWN,
    SEEN,
    Key,
    key_field,
    key_of,
    shows_unknown,
    swatch,
    unknown_swatch,
)
from pigmap.drawing.layer import Cells
from pigmap.drawing.letters import breadth, shortened, wrapped
from pigmap.drawing.page import Box, Item, MapFrame, Rule, Shape, Sign, Words
from pigmap.drawing.tint import Tint, tells_use
from pigmap.drawing.tokens import MAP_PLAN
from pigmap.drawing.view import View
from pigmap.text import Text

LINE = "#8A928D"
SMALL = 2.55
Say = Callable[[Text], str]


class Block(NamedTuple):
    """Some items, drawn from (0, 0) downwards, and how high they are."""

    items: tuple[Item, ...]
    height_mm: float


def moved(block: Block, x_mm: float, y_mm: float) -> Iterator[Item]:
    """Yield the items of a block at their place on the page."""
    for item in block.items:
        if isinstance(item, Rule):
            yield _rule_moved(item, x_mm, y_mm)
        elif isinstance(item, Words | Box | Sign | MapFrame):
            yield _replaced(item, x_mm, y_mm)
        elif isinstance(item, Shape):
            yield replace(item, points_mm=tuple((x + x_mm, y + y_mm) for x, y in item.points_mm))


def _replaced(item: Words | Box | Sign | MapFrame, x_mm: float, y_mm: float) -> Item:
    return replace(item, x_mm=item.x_mm + x_mm, y_mm=item.y_mm + y_mm)


def _rule_moved(item: Rule, x_mm: float, y_mm: float) -> Rule:
    return replace(
        item, x1_mm=item.x1_mm + x_mm, y1_mm=item.y1_mm + y_mm, x2_mm=item.x2_mm + x_mm, y2_mm=item.y2_mm + y_mm
    )


def heading(words: str, width_mm: float) -> tuple[Item, ...]:
    """Return the head of a block: its words over a rule."""
    return Words(0, 3.2, words, 3.2, 700), Rule(0, 4.6, width_mm, 4.6, 0.4)


HEAD_MM = 5.6
ROW_MM = 3.4
"""Height of a row of the table of corners."""
STEP_MM = 4.4
"""Height of a step where the key is a list."""
FITS_OVER_COLUMN = 10
"""Letters of a step's words up to which they stand over its column."""


def key_block(tint: Tint, width_mm: float, say: Say, signs: Sequence[Sample], unknown: Text = NOT_KNOWN) -> Block:
    """Return the key: the very colours and clods of the map, then its signs; `unknown` is said of unknown ground."""
    key = key_of(tint)
    items: list[Item] = list(heading(say(Text("Key")), width_mm))
    left, top = (15.5, HEAD_MM + 6.4) if key.rows else (0.0, HEAD_MM + 6.4)
    if not key.columns or any(len(say(column)) > FITS_OVER_COLUMN for column in key.columns):
        steps = _step_list(key, width_mm, say) if key.columns else Block((), 0.0)
        items += steps.items
        down = steps.height_mm
        bare = _unknown(tint, HEAD_MM + down, width_mm, unknown, say)
        items += bare.items
        down += bare.height_mm
        shown, height = _signs(signs, width_mm, HEAD_MM + down)
        return Block((*items, *shown), height)
    rows = max(len(key.rows), 1)
    wide, high = (width_mm - left) / len(key.columns), 3.8 if key.rows else 6.0
    items.append(Words(left + 1, HEAD_MM + 1.9, say(key.across) or say(key.title), 2.3, 400))
    for number, column in enumerate(key.columns):
        items.append(Words(left + (number + 0.5) * wide, top - 1.0, say(column), 2.3, 600, align="centre"))
    if key.rows:
        items.append(Words(0, top - 1.0, say(Text("rooted")), 2.3, 400))
    for number, row in enumerate(key.rows):
        items.append(Words(0, top + (number + 0.5) * high + 0.8, say(row), 2.3, 600))
    view = View(len(key.columns) * wide / 2, rows * high / 2, 1.0, len(key.columns) * wide, rows * high, paper=True)
    table = key_field(tint, columns=len(key.columns), rows=rows, wide=wide, high=high)
    items.append(MapFrame(left, top, view, (table,), line_mm=0.25))
    bottom = top + rows * high
    if key.rows:
        items += _clods(key.colours[max(len(key.colours) - 2, 0)], left, bottom + 2.0, say)
        bottom += 6.0
    bare = _unknown(tint, bottom + 1.0, width_mm, unknown, say)
    items += bare.items
    bottom += bare.height_mm
    shown, height = _signs(signs, width_mm, bottom + 1.0)
    return Block((*items, *shown), height)


def _unknown(tint: Tint, top: float, width_mm: float, unknown: Text, say: Say) -> Block:
    """Return what ground without a colour means: never used, or with a mark that nobody knows."""
    if not shows_unknown(tint):
        return Block((), 0.0)
    items: list[Item] = []
    second, both = say(unknown), tells_use(tint)
    beside = not both or _SECOND_MM + _WORDS_MM + breadth(second, 2.3) <= width_mm
    after = (0.0, top) if not both else (_SECOND_MM, top) if beside else (0.0, top + 5.0)
    samples: list[tuple[tuple[float, float], str, tuple[Cells, ...]]] = [(after, second, (unknown_swatch(6.0, 4.0),))]
    if both:
        samples.insert(0, ((0.0, top), say(NEVER_USED), ()))
    for (x, y), words, cells in samples:
        items.append(Box(x, y, 6.0, 4.0, line_mm=0.15))
        items.append(MapFrame(x, y, View(0.0, 0.0, 1.0, 6.0, 4.0, paper=True), cells, line_mm=0.15))
        items.append(Words(x + _WORDS_MM, y + 2.8, words, 2.3))
    return Block(tuple(items), 5.0 if beside else 10.0)


_SECOND_MM, _WORDS_MM = 23.0, 7.5
"""Where the second of two samples begins, and the words of each from its begin."""


def _step_list(key: Key, width_mm: float, say: Say) -> Block:
    """Return the steps below one another, for words too long to stand over columns, and what is to be known of them."""
    across = say(key.across)
    title = f"{say(key.title)}: {across}" if across else say(key.title)
    items: list[Item] = [Words(0, HEAD_MM + 1.9, title, 2.3, 400)]
    for number, (colour, words) in enumerate(zip(key.colours, key.columns, strict=True)):
        y = HEAD_MM + 2.8 + number * STEP_MM
        view = View(4.0, 1.75, 1.0, 8.0, 3.5, paper=True)
        items.append(MapFrame(0, y, view, (swatch(colour, 0, seen=True, wide=8.0, high=4.0),), line_mm=0.15))
        items.append(Words(9.5, y + 2.6, say(words), 2.3, 600))
    if key.mark_at_step is not None:
        y = HEAD_MM + 2.8 + key.mark_at_step * STEP_MM - (STEP_MM - 3.5) / 2
        items.append(Rule(-0.8, y, 8.8, y, 0.5, MAP_PLAN))
    bottom = 2.8 + len(key.columns) * STEP_MM
    lines = [line for note in key.notes for line in wrapped(say(note), width_mm, SMALL)]
    items += [Words(0, HEAD_MM + bottom + 2.4 + at * 3.0, line, SMALL) for at, line in enumerate(lines)]
    return Block(tuple(items), bottom + (len(lines) * 3.0 + 1.6 if lines else 0.0))


def _clods(colour: str, left: float, top: float, say: Say) -> Iterator[Item]:
    yield Words(0, top + 2.6, say(Text("clods")), 2.3)
    for x, words, seen in ((left, SEEN, True), (left + 21, COMPUTED, False)):
        view = View(3.0, 1.75, 1.0, 6.0, 3.5, paper=True)
        yield MapFrame(x, top, view, (swatch(colour, 2, seen=seen, wide=6.0, high=4.0),), line_mm=0.15)
        yield Words(x + 7.5, top + 2.6, say(words), 2.3)


def _signs(signs: Sequence[Sample], width_mm: float, top: float) -> tuple[list[Item], float]:
    """Return the signs of the map, lines in two columns, places in three, each drawn by its own layers."""
    items: list[Item] = []
    for breadth_mm, columns in ((LINE_MM, 2), (PLACE_MM, 3)):
        chosen = [sign for sign in signs if sign.breadth_mm == breadth_mm]
        row_mm = SIGN_MM
        for number, sign in enumerate(chosen):
            x, y = (number % columns) * width_mm / columns, top + (number // columns) * row_mm
            view = View(breadth_mm / 2, row_mm / 2, 1.0, breadth_mm, row_mm, paper=True)
            items.append(MapFrame(x, y, view, sign.layers, clipped=False))
            room = width_mm / columns - breadth_mm - 1.0
            items.append(Words(x + breadth_mm + 0.9, y + row_mm / 2 + 0.8, shortened(sign.words, room, 2.3), 2.3))
        top += -(-len(chosen) // columns) * row_mm
    return items, top


def nets_block(title: str, lines: Sequence[NetLine], width_mm: float, say: Say) -> Block:
    """Return the nets of the next move."""
    items: list[Item] = list(heading(title, width_mm))
    y = HEAD_MM
    for line in lines:
        items.append(Words(0, y + 3.0, say(line.deed), SMALL, 700))
        nets = say(line.nets)
        items.append(Words(11.5, y + 3.0, nets, SMALL, 600))
        where = wrapped(say(line.where), width_mm, 2.3)
        inline = len(where) == 1 and _fits(nets, where[0], width_mm)
        if inline:
            items.append(Words(width_mm, y + 3.0, where[0], 2.3, align="right"))
        else:
            for number, words in enumerate(where):
                items.append(Words(11.5, y + 6.2 + 3.0 * number, words, 2.3))
            y += 3.0 * len(where)
        y += 4.6
        items.append(Rule(0, y, width_mm, y, 0.15, LINE))
    return Block(tuple(items), y)


def _fits(nets: str, where: str, width_mm: float) -> bool:
    return 11.5 + breadth(nets, SMALL, 600) + 2.5 + breadth(where, 2.3) <= width_mm


def corners_block(corners: Sequence[Corner], width_mm: float, say: Say) -> Block:
    """Return the table of corners."""
    items: list[Item] = list(heading(say(Text("Corners")), width_mm))
    across = (0.0, width_mm * 0.37, width_mm * 0.67, width_mm * 0.74)
    heads = (Text(""), Text("East, m"), Text("North, m"), Text("Now"))
    items += [
        _in_column(column, x, HEAD_MM + 2.6, say(head), 2.3, 600)
        for column, (x, head) in enumerate(zip(across, heads, strict=True))
        if head
    ]
    y, row_mm = HEAD_MM + 3.4, ROW_MM
    for corner in corners:
        cells = (corner.letter, spaced(corner.x_m, 1), spaced(corner.y_m, 1), say(corner.now))
        for column, (x, words) in enumerate(zip(across, cells, strict=True)):
            items.append(_in_column(column, x, y + 2.55, words, 2.4, 700 if column == 0 else 400))
        y += row_mm
        items.append(Rule(0, y, width_mm, y, 0.12, LINE))
    return Block(tuple(items), y)


def _in_column(column: int, x_mm: float, y_mm: float, words: str, size_mm: float, weight: int) -> Words:
    """Return words of the table of corners: coordinates end where their column ends."""
    return Words(x_mm, y_mm, words, size_mm, weight, align="right" if column in (1, 2) else "left")


def care_block(cautions: Sequence[Text], width_mm: float, say: Say) -> Block:
    """Return what to take care of."""
    items: list[Item] = list(heading(say(Text("Take care")), width_mm))
    y = HEAD_MM
    for caution in cautions:
        items.append(Box(0, y + 1.5, 1.2, 1.2, fill=INK))
        for line in wrapped(say(caution), width_mm - 3.2, SMALL):
            y += 3.15
            items.append(Words(3.0, y - 0.4, line, SMALL))
        y += 0.55
    return Block(tuple(items), y)


READINGS = (Text("pigs"), Text("far end, kV"), Text("how rooted"), Text("water, L"))


def readings_block(width_mm: float, say: Say) -> Block:
    """Return boxes for what is read on the round."""
    items: list[Item] = [Words(0, 3.2, say(Text("Readings")), 3.2, 700)]
    wide = (width_mm - 3 * 1.6) / len(READINGS)
    for number, words in enumerate(READINGS):
        x = number * (wide + 1.6)
        items.append(Box(x, 5.0, wide, 8.4, 0.8, 0.3))
        items.append(Words(x, 16.4, shortened(say(words), wide, 2.3), 2.3))
    return Block(tuple(items), 17.4)
