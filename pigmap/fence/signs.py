"""How many signs a fence along a public way wants."""

from __future__ import annotations

import math

SIGNS_APART_M = 50.0
"""Greatest distance between signs along a public way [m]: order of 24 September 2014 (France); Cornwall Council (UK).
Other places allow more; local rules come first."""


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
