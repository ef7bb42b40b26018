"""Where a spot of the farm lies on earth, as phones show it."""

from __future__ import annotations

import math

import shapely

from pigmap.errors import RecordError
from pigmap.geometry.coordinates import LON_LAT, is_of_earth, parsed, radius_km, without_heights
from pigmap.records import Projection


def degrees_at(projection: Projection, point: shapely.Point) -> tuple[float, float] | None:
    """Return latitude and longitude of a spot [°, WGS 84]; None where the farm lies nowhere on earth.

    Examples
    --------
    >>> from pigmap.geometry.projection import projection_for
    >>> found = degrees_at(projection_for("EPSG:32632", (9.0, 50.0)), shapely.Point(500_000, 5_538_630.7))
    >>> tuple(round(each, 4) for each in found)
    (50.0, 9.0)
    """
    if not projection.has_place:
        return None
    from pyproj import Transformer
    from pyproj.exceptions import ProjError

    try:
        system = parsed(projection.definition)
        if radius_km(system) == 0.0 or not is_of_earth(system):  # a plan of no body at all, or another planet's
            return None
        onto_earth = Transformer.from_crs(without_heights(system), LON_LAT, always_xy=True)
        longitude, latitude = onto_earth.transform(point.x, point.y)
    except (RecordError, ProjError):
        return None
    return (float(latitude), float(longitude)) if math.isfinite(latitude) and math.isfinite(longitude) else None
