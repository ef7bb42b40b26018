"""How many signs a fence along a public way wants."""

from __future__ import annotations

import math
from collections.abc import Mapping
from types import MappingProxyType

from pigmap.text import Text

SIGNS_APART_M = 50.0
"""Greatest distance between signs along a public way [m]: order of 24 September 2014 (France); Cornwall Council (UK).
Other places allow more; local rules come first."""
SIGNS_SOURCE = Text("order of 24 September 2014 (France); Cornwall Council, note on electric fences")
"""Where `SIGNS_APART_M` stands in print."""
SIGNS_APART_BY_PLACE: Mapping[str, float] = MappingProxyType(
    {
        "France": 50.0,
        "Cornwall": 50.0,
        "Australia, New Zealand, British trade code": 90.0,
        "Germany, Czechia": 100.0,
    }
)
"""What print says for each place [m]: order of 24 September 2014 (France); Cornwall Council, note on electric fences;
codes of practice of Australia, New Zealand and of the British trade; guides of Germany and Czechia. The requirements
after IEC 60335-2-76 ask for signs at frequent intervals, without a number."""


def signs_along(length_m: float, apart_m: float = SIGNS_APART_M, crossings: int = 0) -> int:
    """Return the signs of a stretch of fence along a public way: one at each end, and between them where it is long.

    Parameters
    ----------
    length_m
        Length of the stretch [m].
    apart_m
        Greatest distance between two signs [m].
    crossings
        Gates, stiles and other crossings, each with a sign of its own.

    Examples
    --------
    >>> signs_along(120.0), signs_along(120.0, 100.0), signs_along(100.0, crossings=2)
    (4, 3, 5)
    """
    # A millionth of a sign is what numbers in a computer err by.
    along = math.ceil(length_m / apart_m - 1e-6) + 1 if length_m > 0 else 0
    return along + crossings
