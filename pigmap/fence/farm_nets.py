"""How many nets groups take whose paddocks are squares of one net a side: one spare set for all, or one for each.

These are counts for the simplest paddocks. Where sides are not whole nets, more nets stand and more are carried.
"""

from __future__ import annotations

PER_PADDOCK = 4
CARRIED = 3
"""Nets of a paddock that are carried where its fourth side is the one before's (common practice)."""


def with_spare_set(groups: int, *, crews: int = 1, carried: int = CARRIED) -> int:
    """Return the nets of a farm whose spare nets travel from group to group.

    Parameters
    ----------
    groups
        Groups, each in a paddock of `PER_PADDOCK` nets.
    crews
        Crews that move groups at the same time, each with a spare set.
    carried
        Nets of a spare set; with `PER_PADDOCK` of them a group can also move to ground that touches nothing.

    Examples
    --------
    >>> with_spare_set(6), with_spare_set(6, carried=4)
    (27, 28)
    """
    return PER_PADDOCK * groups + carried * crews


def with_second_sets(groups: int, carried: int = PER_PADDOCK) -> int:
    """Return the nets of a farm where every group has spare nets of its own.

    Examples
    --------
    >>> with_second_sets(6), with_second_sets(6, carried=3)
    (48, 42)
    """
    return (PER_PADDOCK + carried) * groups


def sides_of_block(rows: int, columns: int) -> int:
    """Return the sides of a block of squares that all stand, each side once.

    Examples
    --------
    >>> sides_of_block(2, 3), sides_of_block(1, 4)
    (17, 13)
    """
    return rows * (columns + 1) + columns * (rows + 1)
