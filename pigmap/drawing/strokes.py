"""How each kind of line on the map is drawn: ink stands, blue is intended, grey is gone, red is refused."""

from __future__ import annotations

from pigmap.drawing.layer import Size, Stroke
from pigmap.drawing.tokens import CASING, DRY, GREY, MAP_INK, MAP_NO, MAP_PLAN, SOFT_CASING, WATER

FIELD_EDGE = Stroke(CASING, Size(1.4, 0.30), SOFT_CASING, Size(3.2, 0.90))
"""The one reversal, a light core in a dark casing: it must lie quieter than a net."""
FIELD_EDGE_PRINTED = Stroke(MAP_INK, Size(1.2, 0.30), CASING, Size(3.2, 0.90))
NET = Stroke(MAP_INK, Size(2.0, 0.35), CASING, Size(6.4, 1.2))
NET_PLANNED = Stroke(MAP_PLAN, Size(2.6, 0.45), CASING, Size(6.0, 1.1), (7.0, 4.0))
SIDE_BOTH_USE = Stroke(MAP_INK, Size(5.6, 1.0), CASING, Size(10.4, 1.9))
STAY_PAST = Stroke(GREY, Size(1.1, 0.2), CASING, Size(2.6, 0.5))
GHOST_FITS = Stroke(MAP_PLAN, Size(3.2, 0.55), CASING, Size(8.0, 1.5))
GHOST_REFUSED = Stroke(MAP_NO, Size(3.2, 0.55), CASING, Size(8.0, 1.5), (3.0, 3.0))
WALKED = Stroke(MAP_INK, Size(2.4, 0.45), CASING, Size(7.0, 1.3))
WALKED_NEXT = Stroke(MAP_INK, Size(2.4, 0.45), CASING, Size(7.0, 1.3), (7.0, 4.0))
WALKED_CLOSING = Stroke(MAP_INK, Size(2.4, 0.45), CASING, Size(7.0, 1.3), (0.05, 6.0))
BAND = Size(9.2, 1.7)
"""Breadth of a band inside a net, the half of the net's casing that covers it included."""

PERMANENT_FENCE = (
    Stroke(MAP_INK, Size(1.6, 0.3), CASING, Size(5.0, 0.9)),
    Stroke(MAP_INK, Size(8.0, 1.5), dash=(1.6, 12.4)),
)
PATH = Stroke(DRY, Size(2.4, 0.45), CASING, Size(5.0, 0.9), (0.05, 6.8))
TRACK = Stroke("#8A7350", Size(1.4, 0.3), "#FFFFFFB0", Size(4.0, 0.8))
RIDE = Stroke("#4C5B2A", Size(1.6, 0.3), "#FFFFFFB0", Size(4.0, 0.8), (5.0, 4.0))
HEDGE = Stroke("#2E4A22", Size(2.4, 0.45), "#FFFFFF90", Size(4.4, 0.8))
STREAM = Stroke(WATER, Size(2.0, 0.35), "#FFFFFFC0", Size(4.6, 0.9))
FLOW_LINE = Stroke(WATER, Size(1.6, 0.3), "#FFFFFFC0", Size(4.0, 0.8), (6.0, 3.0, 1.0, 3.0))
"""Where water runs only when it rains hard: broken, so that it is no stream."""
OVERHEAD = Stroke(MAP_INK, Size(2.0, 0.35), CASING, Size(6.0, 1.1))


def setback(colour: str) -> Stroke:
    """Return the dotted edge of a keep-out with its distance."""
    return Stroke(colour, Size(1.3, 0.25), CASING, Size(2.6, 0.5), (3.0, 3.0))
