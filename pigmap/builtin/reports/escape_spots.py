"""Where pigs got out before, in words for whoever helps: fences have the same weak places again."""

from __future__ import annotations

from datetime import date

import shapely

from pigmap.drawing.gear import is_shown
from pigmap.drawing.words import day_words
from pigmap.geometry.compass import wind
from pigmap.records import Escape, Farm
from pigmap.text import Quantity, Text, Value

MOST = 2
"""Escapes that the card has room for, the latest first."""


def escape_spots(farm: Farm, day: date, language: str) -> list[Text]:
    """Return where pigs got out within a year up to a day, as far as it was told."""
    known = [each for each in farm.escapes.values() if is_shown(each, day) and _has_place(each)]
    known.sort(key=lambda each: (each.happened_on, each.uid), reverse=True)
    return [_words(farm, each, language) for each in known[:MOST]]


def _has_place(escape: Escape) -> bool:
    return escape.point is not None or escape.paddock_uid is not None


def _words(farm: Farm, escape: Escape, language: str) -> Text:
    values: dict[str, Value] = {
        "day": day_words(escape.happened_on, "short", language=language),
        "where": _where(farm, escape),
        "why": escape.why,
    }
    pattern = "{day}: {where}; {why}" if escape.why else "{day}: {where}"
    return Text(pattern, values)


def _where(farm: Farm, escape: Escape) -> Text:
    paddock = farm.paddocks.get(escape.paddock_uid or "")
    point = escape.point
    if point is None:
        return Text("out of {paddock}", {"paddock": paddock.name if paddock is not None else ""})
    field = min(farm.fields.values(), key=lambda each: (each.outline.distance(point), each.uid), default=None)
    if field is None:
        return Text("out of {paddock}", {"paddock": paddock.name if paddock is not None else ""})
    off = field.outline.distance(point) * farm.projection.ground_per_grid
    if off > 0.5:
        near = shapely.shortest_line(field.outline, point).coords
        east, north = point.x - near[0][0], point.y - near[0][1]
        values: dict[str, Value] = {"off": Quantity(off, "m", 0), "wind": wind(east, north), "field": field.name}
        return Text("{off} {wind} of {field}", values)
    middle = field.outline.centroid
    values = {"wind": wind(point.x - middle.x, point.y - middle.y), "field": field.name}
    return Text("in the {wind} of {field}", values)
