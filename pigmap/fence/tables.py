"""Printed distances of electric fences. They say what is usual; local rules and the owner of a line come first."""

from __future__ import annotations

from pigmap.text import Text

OVERHEAD_CLEARANCE_M: tuple[tuple[float, float], ...] = ((1.0, 3.0), (33.0, 4.0), (float("inf"), 8.0))
"""Least distance of fence wires from a power line: up to a voltage [kV], distance [m].

Requirements for electric animal fences, annex BB.1 (after IEC 60335-2-76), table of minimum clearances from power
lines, as reproduced in the instruction sheets of energizers: up to 1 kV 3 m, above 1 and up to 33 kV 4 m, above
33 kV 8 m.
"""

ANNEX = Text("requirements for electric animal fences, annex BB.1, after IEC 60335-2-76")
"""The installation rules as they are reproduced in the instruction sheets of energizers; the standard itself was not
read."""
OVERHEAD_SOURCE = ANNEX
"""Where `OVERHEAD_CLEARANCE_M` stands in print, as it is shown."""

ENERGIZERS_APART_M = 2.5
"""Least distance between the wires of two fences that are fed from different energizers [m].

Requirements for electric animal fences, annex BB.1 (after IEC 60335-2-76), as reproduced in the instruction sheets
of energizers; the same in the order of 24 September 2014 (France).
"""
ENERGIZERS_SOURCE = Text("{annex}; order of 24 September 2014 (France)", {"annex": ANNEX})
"""Where `ENERGIZERS_APART_M` and `EARTHS_APART_M` stand in print."""

LEAST_CROSSING_DEG = 60.0
"""A fence that crosses under a line makes at least this angle with it [degrees]. Annex BB.1 asks for nearly a right
angle; that this is near enough is own choice."""
BESIDE_LINE_M, BESIDE_LINE_FOR_M, BESIDE_LINE_DEG = 15.0, 10.0, 30.0
"""A side that runs along a power line within the first [m of ground], for more than the second, and turned from it by
less than the third [degrees], runs parallel to it. Annex BB.1 advises against it without numbers: own choice."""

COMMUNICATION_APART_M = 2.0
"""Least distance of fence wires from a line that carries telephone or data [m]; instruction sheets of energizers, after
annex BB.1."""
COMMUNICATION_SOURCE = Text("instruction sheets of energizers, after annex BB.1 (IEC 60335-2-76)")

EARTHS_APART_M = 10.0
"""Least distance of an energizer's earth stakes from any other earth, and from buildings with metal and from plumbing
[m]. Requirements for electric animal fences, annex BB.1; the same in the order of 24 September 2014 (France)."""

BARBED_APART_M = 0.15
"""Least distance of live wires from barbed or razor wire [m].

Requirements for electric animal fences, annex BB.1; AS/NZS 3014:2003, clause 4.3.
"""
BARBED_SOURCE = Text("{annex}; AS/NZS 3014:2003, clause 4.3", {"annex": ANNEX})

PUBLIC_M = 8.0
"""A fence so near to the middle of a path or road can be touched from it [m of ground]. Own choice."""
WILD_M, WILD_FOR_M = 5.0, 10.0
"""A side that runs within the first of water, the edge of a wood, a ride or a hedge, for more than the second, is in
the way of wildlife [m of ground]. Own choice."""
WILD_SOURCE = Text("LEL Baden-Württemberg, Schafbeweidung, 2018, p. 71-72; hunters of Vorarlberg on grazing nets")
"""Nets not along edges of woods, water, game paths, railways or roads."""
WATERCOURSE_SOURCE = Text("Office of the Technical Regulator, South Australia, Electric Fence Safety, 2004")
"""Waterways are among what makes an electric fence a danger to people."""

STEEP_FENCE_DEG = 15.0
"""Ground that is steeper than this is told under a fence [degrees]. Own choice."""
STEEP_SOURCE = Text("derived: 1 - cos 15° = 3.4 %; from which slope on it is told is own choice")

FROZEN_DAYS, FROZEN_MEAN_C = 3, -1.0
"""After so many days with a mean at or below this [°C] the ground is taken as frozen. Own choice."""
DRY_DAYS, DRY_RAIN_MM, DRY_MAX_C = 21, 10.0, 18.0
"""With less rain than this [mm] in so many days, and a mean highest temperature above the last [°C], the ground is
taken as dry. Own choice."""
READ_MOST_DAYS = 2
"""Weather that ends longer ago says nothing of today [d]. Own choice."""
EARTH_RETURN_SOURCE = Text(
    "advice of extension services on dry, frozen and snowy ground; from how many days on is own choice"
)


def overhead_clearance_m(voltage_kv: float | None) -> float:
    """Return the least distance from a power line [m]; that of the highest voltage where it is not known.

    Examples
    --------
    >>> overhead_clearance_m(11.0), overhead_clearance_m(None)
    (4.0, 8.0)
    """
    if voltage_kv is None:
        return OVERHEAD_CLEARANCE_M[-1][1]
    return next(distance for most, distance in OVERHEAD_CLEARANCE_M if voltage_kv <= most)
