"""The map on a sheet: this field coloured, its neighbours in outline, sides with lengths, corners with letters."""

from __future__ import annotations

from collections.abc import Callable, Iterator, Sequence
from dataclasses import replace
from datetime import date
from itertools import pairwise

import numpy as np
import shapely
from shapely.geometry.base import BaseGeometry

from pigmap.builtin.reports.sheet_corners import Corner
from pigmap.drawing.gear import gear_layers
from pigmap.drawing.layer import Cells, Label, Labels, Layer, Tiles
from pigmap.drawing.nets import both_use_layers, outlines, past_layers, planned_layers, running_layers
from pigmap.drawing.on_day import OnDay, Shown, short_name, sign_of
from pigmap.drawing.page import FieldState, SheetRequest
from pigmap.drawing.plates import field_names, keep_out_words, place_words
from pigmap.drawing.strokes import NET
from pigmap.drawing.surroundings import field_layers, fields_on, keep_out_layers, place_layers, way_layers
from pigmap.drawing.tinted import tinted_cells
from pigmap.drawing.words import day_words
from pigmap.geometry.cells import inside
from pigmap.records import Farm, Field
from pigmap.records.frozen import dataclass
from pigmap.text import Quantity, Text

DESATURATED, LIFTED = 0.55, 0.53
"""The photo on paper: less colour, and white over it, so that a pencil shows."""


@dataclass(frozen=True, slots=True, eq=False)
class Subject:
    """What a sheet is about."""

    farm: Farm
    day: date
    fields: tuple[Field, ...]
    """The fields that are coloured."""
    shown: OnDay
    corners: tuple[Corner, ...]
    say: Callable[[Text], str]
    language: str

    def here(self, each: Shown) -> bool:
        """Whether a paddock belongs to a field of the sheet."""
        spot = shapely.point_on_surface(each.outline)
        return any(field.outline.intersects(spot) for field in self.fields)

    @property
    def standing(self) -> tuple[Shown, ...]:
        """What stands on the day, on one to come by the plan."""
        return (*self.shown.running, *(each for each in self.shown.planned if each.there))

    @property
    def next_move(self) -> Shown | None:
        """The next paddock to be set on the sheet's ground."""
        ahead = (each for each in self.shown.planned if not each.there)
        return next((each for each in ahead if self.here(each)), None)


def sheet_layers(
    subject: Subject, states: dict[str, FieldState], request: SheetRequest, crosses: Layer, within: BaseGeometry
) -> tuple[Layer, ...]:
    """Return the layers of the map, from below to above."""
    farm, shown = subject.farm, subject.shown
    ours = [each for each in shown.running if subject.here(each)]
    others = [each for each in shown.running if not subject.here(each)]
    coming = [each for each in shown.next_planned if subject.here(each)]
    return (
        *_photos(farm),
        *_cells(subject, states, request),
        *keep_out_layers(farm, subject.day),
        *way_layers(farm),
        *field_layers(farm, subject.day, printed=True),
        *past_layers([each for each in shown.past if subject.here(each)]),
        *planned_layers((*shown.planned, *shown.placed)),
        outlines((each.outline for each in others), NET),
        *running_layers(farm, ours),
        *both_use_layers(farm, ours, coming),
        *place_layers(farm),
        *gear_layers(farm, subject.day, request.today),
        crosses,
        Labels(tuple(_labels(subject, states, within))),
    )


def _photos(farm: Farm) -> tuple[Layer, ...]:
    images = sorted(farm.images.values(), key=lambda image: (image.position, image.name))
    return tuple(Tiles(image.uid, image.opacity, desaturated=DESATURATED, lifted=LIFTED) for image in images)


def _cells(subject: Subject, states: dict[str, FieldState], request: SheetRequest) -> Iterator[Cells]:
    for field in subject.fields:
        state = states.get(field.uid)
        if state is not None and request.tint is not None:
            yield tinted_cells(
                field,
                state.ground.frame,
                state.ground.region_of,
                state.layers,
                request.tint,
                computed=subject.day > request.today,
            )


def _labels(subject: Subject, states: dict[str, FieldState], within: BaseGeometry) -> Iterator[Label]:
    yield from _running(subject)
    yield from _planned(subject)
    yield from _letters(subject)
    yield from _past(subject, states)
    if len(subject.fields) == 1:
        yield from _lengths(subject)
        yield from _neighbours(subject, within)
    else:
        names = field_names(subject.farm, subject.day, subject.say)
        yield from (replace(name, priority=97, second="") for name in names)
    yield from keep_out_words(subject.farm, subject.day, subject.say, within=within)
    yield from place_words(subject.farm, subject.say, within=within)


def _running(subject: Subject) -> Iterator[Label]:
    for each in subject.shown.running:
        spot = each.outline.centroid
        if subject.here(each):
            words = subject.say(Text("{name} now", {"name": short_name(each, subject.farm)}))
            yield Label(spot.x, spot.y, words, look="plate", priority=100, sign=sign_of(each.group, subject.farm))
        elif each.group is not None:
            yield Label(spot.x, spot.y, each.group.name, look="name", priority=40)


def _planned(subject: Subject) -> Iterator[Label]:
    for each in subject.shown.planned:
        if each.stay is None or not subject.here(each):
            continue
        spot = each.outline.centroid
        day = day_words(each.stay.in_on, language=subject.language)
        yield Label(spot.x, spot.y, short_name(each, subject.farm), day, "plan number", priority=90)
    for each in subject.shown.placed:
        if subject.here(each):
            spot = each.outline.centroid
            yield Label(spot.x, spot.y, short_name(each, subject.farm), look="plan number", priority=70)


def _letters(subject: Subject) -> Iterator[Label]:
    for corner in subject.corners:
        yield Label(corner.x_m, corner.y_m, corner.letter, look="letter", priority=95)


def _past(subject: Subject, states: dict[str, FieldState]) -> Iterator[Label]:
    for each in subject.shown.past:
        if not subject.here(each):
            continue
        rest = rest_of(each, subject, states)
        second = subject.say(Text("{days} d", {"days": rest})) if rest is not None else ""
        spot = each.outline.centroid
        yield Label(spot.x, spot.y, short_name(each, subject.farm), second, "number", priority=60)


def rest_of(each: Shown, subject: Subject, states: dict[str, FieldState]) -> int | None:
    """Return the days that the ground of a paddock has rested at least, None where it is not known."""
    field = next((field for field in subject.fields if field.outline.intersects(each.outline.centroid)), None)
    state = states.get(field.uid) if field is not None else None
    if state is None:
        return None
    regions = np.unique(state.ground.region_of[inside(state.ground.frame, each.outline)])
    rest = state.layers["rest_days"][regions[regions >= 0]]
    rest = rest[rest >= 0]
    return int(rest.min()) if len(rest) else None


def _lengths(subject: Subject) -> Iterator[Label]:
    """Yield the length of each side of the paddocks in use and of the next ones."""
    per_grid = subject.farm.projection.ground_per_grid
    seen: list[tuple[float, float]] = []
    coming: Sequence[Shown] = [each for each in subject.shown.next_planned if subject.here(each)]
    for each in [*(each for each in subject.shown.running if subject.here(each)), *coming]:
        ring = shapely.get_coordinates(each.outline.exterior)
        for begin, end in pairwise(ring):
            x, y = (begin + end) / 2
            seen.append((float(x), float(y)))
    for each in [*(each for each in subject.shown.running if subject.here(each)), *coming]:
        ring = shapely.get_coordinates(each.outline.exterior)
        for begin, end in pairwise(ring):
            x, y = (begin + end) / 2
            # A side that both use carries its link there, and is told of beside the map.
            if sum(abs(x - other_x) + abs(y - other_y) < 1.0 for other_x, other_y in seen) > 1:
                continue
            metres = float(np.hypot(*(end - begin))) * per_grid
            digits = 0 if abs(metres - round(metres)) < 0.05 else 1
            words = subject.say(Text("{length}", {"length": Quantity(metres, "m", digits)}))
            yield Label(float(x), float(y), words, look="length", priority=80)


def _neighbours(subject: Subject, within: BaseGeometry) -> Iterator[Label]:
    for field in fields_on(subject.farm, subject.day):
        if field not in subject.fields:
            part = field.outline.intersection(within)
            if part.area > 0.2 * field.outline.area or part.area > 0.05 * within.area:
                spot = shapely.point_on_surface(part)
                yield Label(spot.x, spot.y, field.name, look="name", priority=45)
