"""Whether a place is free, asked for many places without words."""

from __future__ import annotations

import shapely

from pigmap.geometry.rectangle import Rectangle
from pigmap.session.placing.ground import PlacingGround


def is_free(ground: PlacingGround, rectangle: Rectangle) -> bool:
    """Whether a paddock lies in a field with nothing in its way on the day but what wants care."""
    outline = rectangle.outline
    if not shapely.covers(ground.fields_as_one, outline):
        return False
    _, touched = ground.touched([outline])
    return all(ground.obstacles[number].care for number in touched.tolist())
