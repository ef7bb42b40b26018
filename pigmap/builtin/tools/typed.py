"""Corners as a person types them: a length and a direction, or a place in the farm's coordinates."""

from __future__ import annotations

import math
import re

from pigmap.errors import UsageError

_NUMBER = r"[-+]?\d+(?:[.,]\d+)?"
_LEG = re.compile(rf"\s*({_NUMBER})\s*(m|ft)?\s*(?:at|@|/|,|\s)\s*({_NUMBER})\s*°?\s*")
_PLACE = re.compile(rf"\s*[Ee]\s*({_NUMBER})\s*,?\s*[Nn]\s*({_NUMBER})\s*")
METRES_PER_FOOT = 0.3048


def typed_corner(
    words: str, last: tuple[float, float] | None, *, ground_per_grid: float = 1.0, feet: bool = False
) -> tuple[float, float]:
    """Return the corner that was typed, as east and north [grid m].

    Parameters
    ----------
    words
        ``50 at 90``: ground metres (or feet) and the direction from the last corner, clockwise from grid north;
        ``E 500120 N 5230040``: a place in the farm's coordinates.
    last
        The corner before, None for the first.
    ground_per_grid
        Ground metres in one grid metre.
    feet
        Whether lengths without a unit are feet.

    Raises
    ------
    UsageError
        If it is neither, or a first corner is given as a length.

    Examples
    --------
    >>> typed_corner("50 at 90", (100.0, 200.0))
    (150.0, 200.0)
    >>> typed_corner("E 12.5 N 7", None)
    (12.5, 7.0)
    """
    if found := _PLACE.fullmatch(words):
        return _number(found[1]), _number(found[2])
    found = _LEG.fullmatch(words)
    if found is None:
        raise UsageError(
            "{words} is not a length and a direction.",
            remedy="Type 50 at 90 for 50 east of the last corner, or E and N with the farm's coordinates.",
            words=words.strip() or "An empty line",
        )
    if last is None:
        raise UsageError(
            "{words} needs a corner to start from.",
            remedy="Click the first corner, or type it as E and N in the farm's coordinates.",
            words=words.strip(),
        )
    unit = METRES_PER_FOOT if found[2] == "ft" or (feet and found[2] is None) else 1.0
    length, turned = _number(found[1]) * unit / ground_per_grid, math.radians(_number(found[3]))
    return round(last[0] + length * math.sin(turned), 6), round(last[1] + length * math.cos(turned), 6)


def _number(words: str) -> float:
    return float(words.replace(",", "."))
