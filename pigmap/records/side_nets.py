"""The nets of the sides of a paddock where they are of more than one length, as they stand in a row."""

from __future__ import annotations

import re
from collections.abc import Iterable, Sequence
from typing import TypeAlias

SideNets: TypeAlias = tuple[tuple[str, int], ...]
"""Nets of one side in order: the uid of a kind, and how many of it."""

SIDES = 4
_NETS = re.compile(r"([1-9]\d{0,3}) (\S+)")


def written(sides: Iterable[SideNets]) -> tuple[str, ...]:
    """Return the nets of four sides as a row keeps them; of two, the others hold the same.

    Examples
    --------
    >>> written([(("fifty", 1), ("half", 1)), (("fifty", 2),)])
    ('1 fifty, 1 half', '2 fifty')
    """
    found = tuple(", ".join(f"{nets} {uid}" for uid, nets in side) for side in sides)
    return found[: SIDES // 2] if found[: SIDES // 2] == found[SIDES // 2 :] else found


def read(kept: Sequence[str]) -> tuple[SideNets, ...]:
    """Return the nets of the four sides, anticlockwise from the first corner; nothing where they are not told so.

    Examples
    --------
    >>> read(("1 fifty, 1 half", "2 fifty"))[2]
    (('fifty', 1), ('half', 1))
    >>> read(()), read(("one fifty", "2 fifty"))
    ((), ())
    """
    if len(kept) not in (SIDES // 2, SIDES):
        return ()
    sides = tuple(_side(each) for each in kept)
    if not all(sides):
        return ()
    return sides if len(sides) == SIDES else sides * 2


def _side(kept: str) -> SideNets:
    found = [_NETS.fullmatch(part) for part in kept.split(", ")]
    return tuple((each[2], int(each[1])) for each in found if each is not None) if all(found) else ()


def kinds_told(kept: Sequence[str]) -> set[str]:
    """Return the uids of the kinds of net that are told for any side."""
    return {uid for side in read(kept) for uid, _ in side}
