"""How far north of the equator a farm lies, from the words of its projection alone."""

from __future__ import annotations

import re

from pigmap.records import Farm, Field

METRES_PER_DEGREE = 111_195.0
"""Metres in a degree of latitude on a sphere of 6,371 km. Meridians of the earth differ by at most 0.6 % from it."""
NO_PLACE_DEG = 50.0
"""Latitude of a farm that lies nowhere on earth [degrees]. Assumed: a temperate one."""
MOST_DEG = 65.0
"""Farther from the equator days without sunset come; such farms are taken to lie here [degrees]. Own choice."""

_ORIGIN = re.compile(r'"latitude_of_(?:origin|center)",\s*([-+.\deE]+)')
_NORTHING = re.compile(r'"false_northing",\s*([-+.\deE]+)')


def latitude_of(farm: Farm, field: Field) -> float:
    """Return the latitude of a field [degrees], right to about a fifth of a degree; south of the equator negative.

    The metres between the field and the origin of the farm's projection count as metres along a meridian. What
    follows from it here is the sun of a day, of which a fifth of a degree changes less than a hundredth.
    """
    told = farm.projection.definition
    origin, northing = _ORIGIN.search(told), _NORTHING.search(told)
    if not farm.projection.has_place or origin is None:
        return -NO_PLACE_DEG if farm.projection.lies_south else NO_PLACE_DEG
    north_m = field.origin_y_m - (float(northing[1]) if northing is not None else 0.0)
    latitude = float(origin[1]) + north_m * farm.projection.ground_per_grid / METRES_PER_DEGREE
    return min(max(latitude, -MOST_DEG), MOST_DEG)
