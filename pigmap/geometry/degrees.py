"""Where a spot of the farm lies on earth, as phones show it."""

from __future__ import annotations

import shapely

from pigmap.errors import RecordError
from pigmap.geometry.coordinates import is_of_earth, parsed
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
    try:
        system = parsed(projection.definition)
    except RecordError:
        return None
    if not is_of_earth(system):
        return None
    from pyproj import Transformer

    longitude, latitude = Transformer.from_crs(system, "EPSG:4326", always_xy=True).transform(point.x, point.y)
    return float(latitude), float(longitude)
