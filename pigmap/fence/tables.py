"""Printed distances of electric fences. They say what is usual; local rules and the owner of a line come first."""

from __future__ import annotations

from pigmap.text import Text

OVERHEAD_CLEARANCE_M: tuple[tuple[float, float], ...] = ((1.0, 3.0), (33.0, 4.0), (float("inf"), 8.0))
"""Least distance of fence wires from a power line: up to a voltage [kV], distance [m].

Requirements for electric animal fences, annex BB.1 (after IEC 60335-2-76), table of minimum clearances from power
lines, as reproduced in the instruction sheets of energizers: up to 1 kV 3 m, above 1 and up to 33 kV 4 m, above
33 kV 8 m.
"""

OVERHEAD_SOURCE = Text("requirements for electric animal fences, annex BB.1, after IEC 60335-2-76")
"""Where `OVERHEAD_CLEARANCE_M` stands in print, as it is shown."""

ENERGIZERS_APART_M = 2.5
"""Least distance between the wires of two fences that are fed from different energizers [m].

Requirements for electric animal fences, annex BB.1 (after IEC 60335-2-76), as reproduced in the instruction sheets
of energizers; the same in the order of 24 September 2014 (France).
"""


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
