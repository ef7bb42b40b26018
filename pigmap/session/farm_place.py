"""Where a farm lies, and which spot of its grid a typed place can be meant for."""

from __future__ import annotations

from math import cos, radians, sin

import numpy as np
import shapely
from shapely.geometry.base import BaseGeometry

from pigmap.geometry.compass import wind
from pigmap.geometry.typed_place import TypedPlace
from pigmap.records import Farm, Record
from pigmap.session.new_farm import place_of
from pigmap.text import Text


def place_now(farm: Farm) -> TypedPlace | None:
    """Return where a farm lies, in degrees: the place that was typed, else the middle of what is drawn."""
    if not farm.projection.has_place:
        return None
    from pigmap.geometry.projection import from_projection

    (at,) = from_projection([place_of(farm) or middle_of_farm(farm)], farm.projection)
    lon, lat = shapely.get_coordinates(at)[0].tolist()
    return TypedPlace(lon, lat)


def way_moved(farm: Farm, spot: shapely.Point, place: TypedPlace) -> tuple[float, Text] | None:
    """Return how far a spot of the farm's grid [grid m] would move to lie at a place [m], and to which wind.

    None where the farm lies nowhere yet.
    """
    if not farm.projection.has_place:
        return None
    from pigmap.geometry.projection import from_projection, own_geodesic

    (at,) = from_projection([spot], farm.projection)
    lon, lat = shapely.get_coordinates(at)[0].tolist()
    azimuth_deg, metres = own_geodesic(lon, lat, place.lon, place.lat)
    return metres, wind(sin(radians(azimuth_deg)), cos(radians(azimuth_deg)))


def middle_of_farm(farm: Farm) -> shapely.Point:
    """Return the middle of the fields, or of what else is drawn; of an empty grid the place typed [grid m]."""
    tables: tuple[tuple[Record, ...], ...] = (
        tuple(farm.fields.values()),
        (*farm.keep_outs.values(), *farm.ways.values(), *farm.places.values(), *farm.paddocks.values()),
    )
    for rows in tables:
        shapes = np.array([shape for row in rows if (shape := _shape(row)) is not None], dtype=np.object_)
        if len(shapes):
            west, south, east, north = shapely.total_bounds(shapes).tolist()
            return shapely.Point((west + east) / 2, (south + north) / 2)
    return place_of(farm) or shapely.Point(0.0, 0.0)


def spot_of(row: Record | None) -> shapely.Point | None:
    """Return the spot that a person means who picks a thing: a gate itself, the middle of ground; None for others."""
    shape = _shape(row)
    return None if shape is None else shapely.centroid(shape)


def _shape(row: Record | None) -> BaseGeometry | None:
    for name in ("outline", "shape", "line", "point"):
        shape = getattr(row, name, None)
        if isinstance(shape, BaseGeometry) and not shape.is_empty:
            return shape
    return None
