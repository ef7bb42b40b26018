"""The printed field map: one field, or the whole farm, on one sheet at an exact scale."""

from __future__ import annotations

from collections.abc import Iterator, Mapping
from dataclasses import dataclass, replace

import shapely
from shapely.geometry.base import BaseGeometry

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
from pigmap.builtin.reports.sheet_corners import corners_of
from pigmap.builtin.reports.sheet_frame import (
    INK,
    Frame,
    checked_scale,
    crosses,
    least_scale,
    scale_bar,
    ticks,
    view_at,
)
from pigmap.builtin.reports.sheet_map import Subject, sheet_layers
from pigmap.builtin.reports.sheet_nets import net_lines
from pigmap.builtin.reports.sheet_signs import key_signs
from pigmap.drawing.letters import breadth, shortened
from pigmap.drawing.on_day import Shown, on_day, short_name
from pigmap.drawing.page import PAPERS, FieldState, Item, MapFrame, Page, Rule, SheetRequest, Words
from pigmap.drawing.plates import day_of
from pigmap.drawing.surroundings import fields_on
from pigmap.drawing.words import day_words, render
from pigmap.errors import SheetError
from pigmap.records import Farm, Field
from pigmap.text import Text, Value

MARGIN_MM = 9.0
TALL = 1.2
"""From this height to breadth on a field is tall, and its page upright. Own choice."""
_TITLE_MM = 12.5
_TICKS_LEFT_MM = 5.2
_TICKS_TOP_MM = 7.0
_COLUMN_MM = 66.0
_GAP_MM = 5.5
_NOTES_MM = 25.0
_BLOCK_GAP_MM = 2.6
_FOOT_NOTE_MM = 2.6
_COLUMN_TOP_MM = MARGIN_MM + _TITLE_MM + 1.5
_FOOT_MM = 93.0
"""Height of what stands below the map where the page is upright."""


@dataclass(frozen=True, slots=True)
class Sheet:
    """How a page is divided."""

    width_mm: float
    height_mm: float
    upright: bool
    readings_below: bool = False
    """Whether the boxes for readings stand beside the notes, since the column is full."""

    @property
    def frame(self) -> tuple[float, float, float, float]:
        """Left, top, width and height of the map [mm]."""
        left = MARGIN_MM + _TICKS_LEFT_MM
        top = MARGIN_MM + _TITLE_MM + _TICKS_TOP_MM
        right = self.width_mm - MARGIN_MM - (1.8 if self.upright else _COLUMN_MM + _GAP_MM)
        bottom = self.height_mm - MARGIN_MM - (_FOOT_MM if self.upright else _NOTES_MM)
        return left, top, right - left, bottom - top


class FieldMap:
    """Makes the sheet."""

    name = "field-map"

    def make(self, farm: Farm, states: Mapping[str, FieldState], request: SheetRequest) -> Page:
        """Return the page."""
        fields = _fields(farm, request)
        ground = shapely.union_all([field.outline for field in fields])
        sheet = _divided(ground, request, farm.projection.ground_per_grid)
        frame = _frame(ground, sheet, request, farm.projection.ground_per_grid)
        subject = _subject(farm, fields, request)
        sheet = replace(sheet, readings_below=len(subject.corners) > _rows(subject, sheet, frame, request))
        subject = replace(subject, corners=subject.corners[: _rows(subject, sheet, frame, request)])
        layers = sheet_layers(
            subject, dict(states), request, crosses(frame), frame.ground.buffer(-7 * frame.view.metres_per_unit)
        )
        items = (
            *_title(subject, sheet, frame, request),
            MapFrame(frame.x_mm, frame.y_mm, frame.view, layers, line_mm=0.5),
            *ticks(frame),
            *scale_bar(frame, request.system, ground),
            *_beside(subject, sheet, frame, request),
        )
        return Page(sheet.width_mm, sheet.height_mm, items, title=_document(subject, request))


def _fields(farm: Farm, request: SheetRequest) -> tuple[Field, ...]:
    fields = fields_on(farm, request.day)
    if request.field_uid is not None:
        fields = tuple(field for field in fields if field.uid == request.field_uid)
    if not fields:
        raise SheetError(
            "There is no field to print on {day}.",
            remedy="Draw a field first, or choose a day on which one is in use.",
            day=request.day,
        )
    return fields


def _divided(ground: BaseGeometry, request: SheetRequest, per_grid: float) -> Sheet:
    """Return the page the way round on which the field is larger; where both are the same, upright for a tall one."""
    short, long = PAPERS[request.paper]
    lying, upright = Sheet(long, short, False), Sheet(short, long, True)

    def scale_on(sheet: Sheet) -> int:
        _, _, wide, high = sheet.frame
        return least_scale(ground.bounds, wide, high, per_grid)

    west, south, east, north = ground.bounds
    tall = north - south > TALL * (east - west)
    best, other = (upright, lying) if tall else (lying, upright)
    return other if scale_on(other) < scale_on(best) else best


def _frame(ground: BaseGeometry, sheet: Sheet, request: SheetRequest, per_grid: float) -> Frame:
    left, top, wide, high = sheet.frame
    scale = checked_scale(request.scale, ground.bounds, wide, high, per_grid)
    return Frame(left, top, view_at(ground, wide, high, scale, per_grid), scale)


def _subject(farm: Farm, fields: tuple[Field, ...], request: SheetRequest) -> Subject:
    def say(text: Text) -> str:
        return render(text, language=request.language, system=request.system)

    bare = Subject(farm, request.day, fields, on_day(farm, request.day), (), say, request.language)
    running = [each for each in bare.shown.running if bare.here(each)]
    planned = [each for each in bare.shown.planned if bare.here(each)][:3]
    corners = corners_of(running, planned, farm.projection.ground_per_grid) if len(fields) == 1 else ()
    return replace(bare, corners=corners)


def _document(subject: Subject, request: SheetRequest) -> str:
    name = subject.fields[0].name if len(subject.fields) == 1 else subject.farm.name
    return f"{name}, {day_words(request.day, 'full', language=request.language)}"


def _title(subject: Subject, sheet: Sheet, frame: Frame, request: SheetRequest) -> Iterator[Item]:
    """Yield the title block: what, when, who is where; farm, scale, when printed."""
    right, say = sheet.width_mm - MARGIN_MM, subject.say
    day = day_words(request.day, "full", language=request.language)
    name = subject.fields[0].name if request.field_uid is not None else subject.farm.name or say(Text("Whole farm"))
    name = shortened(name, sheet.width_mm * 0.42, 8.6, 700)
    beside = MARGIN_MM + breadth(name, 8.6, 700) + 5
    printed = Text(
        "Scale 1:{scale} on {paper}. Printed {time}, sheet {sheet} of {sheets}.",
        {
            "scale": str(frame.scale),
            "paper": request.paper,
            "time": f"{request.printed_at:%H:%M}",
            "sheet": request.sheet,
            "sheets": request.sheets,
        },
    )
    scale_words = say(printed)
    yield Words(MARGIN_MM, MARGIN_MM + 8.2, name, 8.6, 700)
    yield Words(beside, MARGIN_MM + 3.4, say(Text("Field map for {day}", {"day": day})), 3.6, 600)
    room = right - beside - breadth(scale_words, 3.0) - 4
    yield Words(beside, MARGIN_MM + 8.4, shortened(" ".join(_who(subject, request)), room, 3.1), 3.1)
    yield Words(right, MARGIN_MM + 3.4, subject.farm.name, 3.6, 600, align="right")
    yield Words(right, MARGIN_MM + 8.4, scale_words, 3.0, align="right")
    yield Rule(MARGIN_MM, MARGIN_MM + 11.4, right, MARGIN_MM + 11.4, 0.5)


def _who(subject: Subject, request: SheetRequest) -> Iterator[str]:
    """Yield who is where, and when the next move is."""
    for each in subject.shown.running:
        if subject.here(each) and each.group is not None and each.stay is not None:
            values: dict[str, Value] = {
                "group": each.group.name,
                "paddock": short_name(each, subject.farm),
                "day": day_of(each, request.day),
            }
            yield subject.say(Text("{group} in paddock {paddock}, {day}.", values))
    coming = _next_move(subject)
    if coming is not None and coming.stay is not None:
        day = day_words(coming.stay.in_on, "long", language=request.language)
        yield subject.say(Text("Next move {day}.", {"day": day}))


def _next_move(subject: Subject) -> Shown | None:
    """Return the next paddock to be set on the sheet's ground."""
    ahead = (
        each for each in subject.shown.planned if subject.here(each) and each.stay and each.stay.in_on > subject.day
    )
    return next(ahead, None)


def _beside(subject: Subject, sheet: Sheet, frame: Frame, request: SheetRequest) -> Iterator[Item]:
    """Yield the blocks, the notes and the line at the foot."""
    foot = subject.say(Text("Grid: metres in the farm's own projection. North is grid north."))
    right, bottom = sheet.width_mm - MARGIN_MM, sheet.height_mm - MARGIN_MM
    if sheet.upright:
        yield from _below_map(subject, sheet, frame, request)
    else:
        yield from _right_of_map(subject, sheet, frame, request)
        end = frame.right_mm - (_COLUMN_MM + 6.0 if sheet.readings_below else 0.0)
        yield from _notes(subject, MARGIN_MM, end, frame.bottom_mm + 9.5, bottom)
    yield Words(right, bottom, foot, 2.0, align="right", colour="#46514C")


def _rows(subject: Subject, sheet: Sheet, frame: Frame, request: SheetRequest) -> int:
    """Return how many corners there is room to list; no more get a letter."""
    if sheet.upright:
        return int((sheet.height_mm - MARGIN_MM - frame.bottom_mm - 24.0) // ROW_MM)
    blocks = _blocks(replace(subject, corners=subject.corners[:1]), frame, request, _COLUMN_MM)
    readings = 0.0 if sheet.readings_below else readings_block(_COLUMN_MM, subject.say).height_mm
    low = sheet.height_mm - MARGIN_MM - _FOOT_NOTE_MM - readings
    taken = sum(block.height_mm + _BLOCK_GAP_MM for block in blocks if block.height_mm)
    return max(1, 1 + int((low - _COLUMN_TOP_MM - taken) // ROW_MM))


def _right_of_map(subject: Subject, sheet: Sheet, frame: Frame, request: SheetRequest) -> Iterator[Item]:
    left, y = sheet.width_mm - MARGIN_MM - _COLUMN_MM, _COLUMN_TOP_MM
    bottom = sheet.height_mm - MARGIN_MM - _FOOT_NOTE_MM
    readings = readings_block(_COLUMN_MM, subject.say)
    readings_left = sheet.frame[0] + sheet.frame[2] - _COLUMN_MM if sheet.readings_below else left
    yield from moved(readings, readings_left, bottom - readings.height_mm)
    for block in _blocks(subject, frame, request, _COLUMN_MM):
        if block.height_mm:
            yield from moved(block, left, y)
            y += block.height_mm + _BLOCK_GAP_MM


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
    key = key_block(tint, wide, say, signs) if tint is not None else nothing
    coming, nets = _next_move(subject), nothing
    if coming is not None and coming.stay is not None and request.field_uid is not None:
        day = day_words(coming.stay.in_on, "long", language=request.language)
        lines = net_lines(farm, coming, subject.shown.running, subject.corners)
        nets = nets_block(say(Text("Nets for {day}", {"day": day})), lines, wide, say)
    care = care_block(cautions_of(farm, subject.fields, request.day), wide, say)

    corners = corners_block(subject.corners, wide, say) if subject.corners else nothing
    return key, nets, corners, care


def _notes(subject: Subject, left: float, right: float, top: float, bottom: float) -> Iterator[Item]:
    """Yield lines to write on."""
    yield Words(left, top, subject.say(Text("Notes")), 3.2, 700, colour=INK)
    y = top
    start = left + 14
    while y <= bottom - 0.5:
        yield Rule(start, y + 1.2, right, y + 1.2, 0.15, "#8A928D")
        y, start = y + 7.0, left


report = FieldMap()
