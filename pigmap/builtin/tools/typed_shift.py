"""How far something is shifted, as a person types it: a distance and a direction, or so far east and north."""

from __future__ import annotations

import math
import re

from pigmap.errors import UsageError

METRES_PER_FOOT = 0.3048
_NUMBER = r"[-+]?\d+(?:[.,]\d+)?"
_LEG = re.compile(rf"\s*({_NUMBER})\s*(m|ft)?\s*(?:at|@|/|\s)\s*({_NUMBER})\s*°?\s*")
_WINDS = {"e": (1, 0), "east": (1, 0), "w": (-1, 0), "west": (-1, 0)} | {
    "n": (0, 1),
    "north": (0, 1),
    "s": (0, -1),
    "south": (0, -1),
}
_WIND = "|".join(sorted(_WINDS, key=len, reverse=True))
_PART = re.compile(rf"\s*(?:({_WIND})\s*({_NUMBER})\s*(m|ft)?|({_NUMBER})\s*(m|ft)?\s*({_WIND}))\s*,?", re.IGNORECASE)


def typed_shift(words: str, *, ground_per_grid: float = 1.0, feet: bool = False) -> tuple[float, float]:
    """Return how far east and north [grid m] was typed.

    Parameters
    ----------
    words
        ``3 at 90``: ground metres (or feet) and the direction, clockwise from grid north; or ``3 east``,
        ``E 3 N 1.5``, ``2 west, 1 south``.
    ground_per_grid
        Ground metres in one grid metre.
    feet
        Whether lengths without a unit are feet.

    Raises
    ------
    UsageError
        If it is neither.

    Examples
    --------
    >>> typed_shift("3 at 90")
    (3.0, 0.0)
    >>> typed_shift("2 west, 1.5 south")
    (-2.0, -1.5)
    """
    if found := _LEG.fullmatch(words):
        length, turned = _metres(found[1], found[2], feet) / ground_per_grid, math.radians(_number(found[3]))
        return round(length * math.sin(turned), 6), round(length * math.cos(turned), 6)
    east = north = 0.0
    at = 0
    while found := _PART.match(words, at):
        at = found.end()
        wind = _WINDS[(found[1] or found[6]).lower()]
        length = _metres(found[2] or found[4], found[3] or found[5], feet) / ground_per_grid
        east, north = east + wind[0] * length, north + wind[1] * length
    if not at or words[at:].strip():
        raise UsageError(
            "{words} does not say how far and which way.",
            remedy="Type 3 east, or 2 west 1 south, or 3 at 90 for a distance and a direction.",
            words=words.strip() or "An empty line",
        )
    return round(east, 6), round(north, 6)


def _metres(words: str, unit: str | None, feet: bool) -> float:
    in_feet = unit.lower() == "ft" if unit else feet
    return _number(words) * (METRES_PER_FOOT if in_feet else 1.0)


def _number(words: str) -> float:
    return float(words.replace(",", "."))
