"""How long moves take, and how often someone walks for nets."""

from __future__ import annotations

import math

MINUTES_ALONE = 30.0
"""A whole move by one person [min]. Common practice."""
PEOPLE_POWER = 0.585
"""Two take 20 min (common practice): the time falls with this power of the people."""


def move_minutes(people: int) -> float:
    """Return how long one move takes so many people by the clock [min].

    Examples
    --------
    >>> round(move_minutes(1)), round(move_minutes(2))
    (30, 20)
    """
    return MINUTES_ALONE * math.pow(people, -PEOPLE_POWER)


def moves_minutes(moves: int, people: int) -> float:
    """Return how long moves one after the other take, since one spare set goes from group to group [min].

    Examples
    --------
    >>> round(moves_minutes(6, 1)), round(moves_minutes(6, 2))
    (180, 120)
    """
    return moves * move_minutes(people)


def trips(nets: int, people: int, nets_each: int) -> int:
    """Return how often the way must be walked with nets.

    Parameters
    ----------
    nets, people, nets_each
        Nets to carry, those who carry, and how many nets each carries at a time.

    Examples
    --------
    >>> trips(3, 1, 2), trips(4, 1, 2), trips(3, 1, 3), trips(4, 1, 3)
    (2, 2, 1, 2)
    """
    return -(-nets // (people * nets_each))
