"""How long moves take, and how often someone walks for nets."""

from __future__ import annotations

import math
from typing import NamedTuple

from pigmap.records import Farm

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


OWN_MOVES = 10
"""Moves whose time was told from which on a farm's own times count in place of those of common practice. Own choice."""


class MoveTime(NamedTuple):
    """How long one move takes, and what that rests on."""

    alone: float
    """One person by the clock [min]."""
    two: float
    """Two people [min]."""
    own_moves: int
    """Moves of the farm that it rests on; 0 where it is common practice."""


def move_time(farm: Farm) -> MoveTime:
    """Return how long a move takes on a farm: as its own moves went once there are `OWN_MOVES`, else as usual.

    Moves of any number of people count, each as one person would have taken for it; the middle one is given.
    """
    from statistics import median  # with random and fractions, which nothing else of the window needs

    told = [each for each in farm.moves.values() if each.minutes is not None and each.people]
    if len(told) < OWN_MOVES:
        return MoveTime(move_minutes(1), move_minutes(2), 0)
    alone = median((each.minutes or 0.0) * MINUTES_ALONE / move_minutes(each.people or 1) for each in told)
    return MoveTime(alone, alone * move_minutes(2) / MINUTES_ALONE, len(told))


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
