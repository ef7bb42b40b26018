"""Layers for what moves with pigs and for where they got out: small signs that keep quiet."""

from __future__ import annotations

from datetime import date

import shapely

from pigmap.drawing.layer import Layer, Marks, Size
from pigmap.drawing.tokens import CASING, MAP_INK
from pigmap.records import AS_PLANNED, Escape, Farm, GearKind, gear_on

GEAR_SIZE = Size(18.0, 3.3)
ESCAPE_SIZE = Size(13.0, 2.4)
_CASING = Size(1.8, 0.3)
SHOWN_TO_M = 0.7
"""Gear is shown up to so many metres to a pixel: beyond it signs would lie on each other."""
ESCAPES_SHOWN_DAYS = 365
"""Where pigs got out is shown for so long: fences have the same weak places year after year. Own choice."""


def gear_layers(farm: Farm, day: date, today: date = AS_PLANNED) -> tuple[Layer, ...]:
    """Return the gear that stands on a day, kind by kind."""
    standing = gear_on(farm, day, today)
    made: list[Layer] = []
    for kind in GearKind:
        points = [each.place.point for each in standing if each.place.kind is kind]
        if points:
            at = shapely.get_coordinates(points)[:, :2]
            made.append(Marks(at, str(kind), GEAR_SIZE, MAP_INK, CASING, _CASING, smallest_scale=SHOWN_TO_M))
    return tuple(made)


def is_shown(escape: Escape, day: date) -> bool:
    """Whether an escape is shown on a day: for a year from its own."""
    return 0 <= (day - escape.happened_on).days < ESCAPES_SHOWN_DAYS


def escape_layers(farm: Farm, day: date) -> tuple[Layer, ...]:
    """Return where pigs got out within a year up to a day."""
    points = [each.point for each in farm.escapes.values() if each.point is not None and is_shown(each, day)]
    if not points:
        return ()
    at = shapely.get_coordinates(points)[:, :2]
    return (Marks(at, "got out", ESCAPE_SIZE, MAP_INK, CASING, _CASING, smallest_scale=SHOWN_TO_M),)
