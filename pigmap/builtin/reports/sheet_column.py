"""What stands beside or below the map of a sheet, and how much of it there is room for."""

from __future__ import annotations

from collections.abc import Iterator
from dataclasses import replace

from pigmap.builtin.reports.sheet_blocks import (
    ROW_MM,
    Block,
    care_block,
    corners_block,
    key_block,
    moved,
    nets_block,
    readings_block,
)
from pigmap.builtin.reports.sheet_care import cautions_of
from pigmap.builtin.reports.sheet_frame import INK, Frame
from pigmap.builtin.reports.sheet_layout import (
    BLOCK_GAP_MM,
    COLUMN_MM,
    COLUMN_TOP_MM,
    FOOT_NOTE_MM,
    MARGIN_MM,
    Sheet,
)
from pigmap.builtin.reports.sheet_map import Subject
from pigmap.builtin.reports.sheet_nets import net_lines
from pigmap.builtin.reports.sheet_signs import key_signs
from pigmap.drawing.key import NOT_KNOWN
from pigmap.drawing.page import Item, Rule, SheetRequest, Words
from pigmap.drawing.words import day_words, month_words
from pigmap.ground.told import records_begin
from pigmap.text import Text


def beside_map(subject: Subject, sheet: Sheet, frame: Frame, request: SheetRequest) -> Iterator[Item]:
    """Yield the blocks, the notes and the line at the foot."""
    foot = subject.say(Text("Grid: metres in the farm's own projection. North is grid north."))
    right, bottom = sheet.width_mm - MARGIN_MM, sheet.height_mm - MARGIN_MM
    if sheet.upright:
        yield from _below_map(subject, sheet, frame, request)
    else:
        yield from _right_of_map(subject, sheet, frame, request)
        end = frame.right_mm - (COLUMN_MM + 6.0 if sheet.readings_below else 0.0)
        yield from _notes(subject, MARGIN_MM, end, frame.bottom_mm + 9.5, bottom)
    yield Words(right, bottom, foot, 2.0, align="right", colour="#46514C")


def corner_rows(subject: Subject, sheet: Sheet, frame: Frame, request: SheetRequest) -> int:
    """Return how many corners there is room to list; no more get a letter."""
    if sheet.upright:
        return int((sheet.height_mm - MARGIN_MM - frame.bottom_mm - 24.0) // ROW_MM)
    blocks = _blocks(replace(subject, corners=subject.corners[:1]), frame, request, COLUMN_MM)
    readings = 0.0 if sheet.readings_below else readings_block(COLUMN_MM, subject.say).height_mm
    low = sheet.height_mm - MARGIN_MM - FOOT_NOTE_MM - readings
    taken = sum(block.height_mm + BLOCK_GAP_MM for block in blocks if block.height_mm)
    return max(1, 1 + int((low - COLUMN_TOP_MM - taken) // ROW_MM))


def _right_of_map(subject: Subject, sheet: Sheet, frame: Frame, request: SheetRequest) -> Iterator[Item]:
    left, y = sheet.width_mm - MARGIN_MM - COLUMN_MM, COLUMN_TOP_MM
    bottom = sheet.height_mm - MARGIN_MM - FOOT_NOTE_MM
    readings = readings_block(COLUMN_MM, subject.say)
    readings_left = sheet.frame[0] + sheet.frame[2] - COLUMN_MM if sheet.readings_below else left
    yield from moved(readings, readings_left, bottom - readings.height_mm)
    for block in _blocks(subject, frame, request, COLUMN_MM):
        if block.height_mm:
            yield from moved(block, left, y)
            y += block.height_mm + BLOCK_GAP_MM


def _below_map(subject: Subject, sheet: Sheet, frame: Frame, request: SheetRequest) -> Iterator[Item]:
    """Yield the blocks in three columns below the map."""
    inner = sheet.width_mm - 2 * MARGIN_MM
    gap = 5.0
    wide = (inner - 2 * gap) / 3
    top, bottom = frame.bottom_mm + 7.0, sheet.height_mm - MARGIN_MM - 3.5
    key, nets, corners, care = _blocks(subject, frame, request, wide)
    columns = ((key,), (nets, care), (corners,))
    for number, blocks in enumerate(columns):
        x, y = MARGIN_MM + number * (wide + gap), top
        for block in blocks:
            if block.height_mm:
                yield from moved(block, x, y)
                y += block.height_mm + 3.0
        if number == 1:
            readings = readings_block(wide, subject.say)
            yield from moved(readings, x, max(y, bottom - readings.height_mm))
        if number == 2:
            yield from _notes(subject, x, x + wide, y + 5.0, bottom)


def _blocks(subject: Subject, frame: Frame, request: SheetRequest, wide: float) -> tuple[Block, ...]:
    """Return key, nets, corners and cautions; those with nothing to say have no height."""
    farm, say = subject.farm, subject.say
    nothing = Block((), 0.0)
    signs = key_signs(farm, say, request.day, frame.ground)
    tint = request.tint
    key = key_block(tint, wide, say, signs, _unknown(subject, request)) if tint is not None else nothing
    coming, nets = subject.next_move, nothing
    if coming is not None and coming.stay is not None and request.field_uid is not None:
        day = day_words(coming.stay.in_on, "long", language=request.language)
        lines = net_lines(farm, coming, subject.standing, subject.corners, request.today)
        nets = nets_block(say(Text("Nets for {day}", {"day": day})), lines, wide, say)
    care = care_block(cautions_of(farm, subject.fields, request.day, request.slopes), wide, say)

    corners = corners_block(subject.corners, wide, say) if subject.corners else nothing
    return key, nets, corners, care


def _unknown(subject: Subject, request: SheetRequest) -> Text:
    """Return what is said of unknown ground: of one field, from when on its records tell."""
    first = records_begin(subject.farm, request.field_uid or "", request.today)
    if first is None:
        return NOT_KNOWN
    month = month_words(first.month, language=request.language)
    return Text("not known before {month} {year}", {"month": month, "year": str(first.year)})


def _notes(subject: Subject, left: float, right: float, top: float, bottom: float) -> Iterator[Item]:
    """Yield lines to write on."""
    yield Words(left, top, subject.say(Text("Notes")), 3.2, 700, colour=INK)
    y = top
    start = left + 14
    while y <= bottom - 0.5:
        yield Rule(start, y + 1.2, right, y + 1.2, 0.15, "#8A928D")
        y, start = y + 7.0, left
