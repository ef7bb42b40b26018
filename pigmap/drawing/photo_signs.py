"""Layer of where photos were taken: small signs that keep quiet."""

from __future__ import annotations

from datetime import date

import shapely

from pigmap.drawing.layer import Layer, Marks, Size
from pigmap.drawing.tokens import CASING, MAP_INK
from pigmap.records import Farm, Photo

PHOTO_SIZE = Size(13.0, 2.4)
_CASING = Size(1.8, 0.3)
SHOWN_TO_M = 0.7
"""They are shown up to so many metres to a pixel: beyond it signs would lie on each other."""
PHOTOS_SHOWN_DAYS = 365
"""Photos are shown on the map for so long, as where pigs got out is. Own choice."""


def is_on_map(photo: Photo, day: date) -> bool:
    """Whether a photo is shown on a day: for a year from its own; one of no day always."""
    if photo.point is None:
        return False
    return photo.taken_on is None or 0 <= (day - photo.taken_on).days < PHOTOS_SHOWN_DAYS


def photo_sign_layers(farm: Farm, day: date) -> tuple[Layer, ...]:
    """Return where photos were taken within a year up to a day."""
    points = [each.point for each in farm.photos.values() if is_on_map(each, day)]
    if not points:
        return ()
    at = shapely.get_coordinates(points)[:, :2]
    return (Marks(at, "photo", PHOTO_SIZE, MAP_INK, CASING, _CASING, smallest_scale=SHOWN_TO_M),)
