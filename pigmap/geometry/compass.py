"""Directions in words: which way a side faces, which way to shift."""

from __future__ import annotations

import math

from pigmap.text import Text

WINDS = ("east", "north-east", "north", "north-west", "west", "south-west", "south", "south-east")


def wind(east: float, north: float) -> Text:
    """Return the nearest of the eight winds to a direction.

    Examples
    --------
    >>> str(wind(-1.0, 0.1))
    'west'
    """
    return Text(WINDS[round(math.atan2(north, east) / (math.pi / 4)) % 8])
