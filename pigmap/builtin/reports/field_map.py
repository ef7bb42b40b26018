"""The printed field map: one field, or the whole farm, on one sheet at an exact scale."""

from __future__ import annotations

from collections.abc import Mapping
from dataclasses import replace

import shapely

from pigmap.builtin.reports.sheet_column import beside_map, corner_rows
from pigmap.builtin.reports.sheet_corners import corners_of
from pigmap.builtin.reports.sheet_frame import crosses, scale_bar, ticks
from pigmap.builtin.reports.sheet_layout import divided, frame_of
from pigmap.builtin.reports.sheet_map import Subject, sheet_layers
from pigmap.builtin.reports.sheet_title import document_title, title_block
from pigmap.drawing.on_day import on_day
from pigmap.drawing.page import FieldState, MapFrame, Page, SheetRequest
from pigmap.drawing.surroundings import fields_on
from pigmap.drawing.words import render
from pigmap.errors import SheetError
from pigmap.records import Farm, Field
from pigmap.text import Text

_LABELS_IN_MM = 7.0
"""Words of keep-outs and places stand at least so far inside the frame."""


class FieldMap:
    """Makes the sheet."""

    name = "field-map"

    def make(self, farm: Farm, states: Mapping[str, FieldState], request: SheetRequest) -> Page:
        """Return the page."""
        fields = _fields(farm, request)
        ground = shapely.union_all([field.outline for field in fields])
        sheet = divided(ground, request, farm.projection.ground_per_grid)
        frame = frame_of(ground, sheet, request, farm.projection.ground_per_grid)
        subject = _subject(farm, fields, request)
        sheet = replace(sheet, readings_below=len(subject.corners) > corner_rows(subject, sheet, frame, request))
        subject = replace(subject, corners=subject.corners[: corner_rows(subject, sheet, frame, request)])
        inner = frame.ground.buffer(-_LABELS_IN_MM * frame.view.metres_per_unit)
        layers = sheet_layers(subject, dict(states), request, crosses(frame), inner)
        items = (
            *title_block(subject, sheet, frame, request),
            MapFrame(frame.x_mm, frame.y_mm, frame.view, layers, line_mm=0.5),
            *ticks(frame),
            *scale_bar(frame, request.system, ground),
            *beside_map(subject, sheet, frame, request),
        )
        return Page(sheet.width_mm, sheet.height_mm, items, title=document_title(subject, request))


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


def _subject(farm: Farm, fields: tuple[Field, ...], request: SheetRequest) -> Subject:
    def say(text: Text) -> str:
        return render(text, language=request.language, system=request.system)

    bare = Subject(farm, request.day, fields, on_day(farm, request.day, request.today), (), say, request.language)
    running = [each for each in bare.shown.running if bare.here(each)]
    planned = [each for each in bare.shown.planned if bare.here(each)][:3]
    corners = corners_of(running, planned, farm.projection.ground_per_grid) if len(fields) == 1 else ()
    return replace(bare, corners=corners)


report = FieldMap()
