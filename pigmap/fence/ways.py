"""Every order of some nets, each either way round."""

from __future__ import annotations

import math
from collections.abc import Iterator, Sequence
from itertools import accumulate, product

import numpy as np
from numpy.typing import NDArray

from pigmap.fence.fitted import Spare
from pigmap.records import NetKind

Way = tuple[tuple[NetKind, bool], ...]
"""Nets in order, and whether each is turned round."""

MOST_WAYS = 5_000
"""Where there are more ways, only the nets as given are looked at, all one way round. Own choice."""
SAME_MM = 10
"""A net whose posts are no farther from where they are when it is turned round need not be turned [mm]. Own choice."""


def ways_of(nets: Sequence[Spare]) -> Iterator[Way]:
    """Yield every order of some nets with both ways round of each; first as given.

    Examples
    --------
    >>> odd, even = NetKind(name="odd", bays_mm=(4_000, 1_000)), NetKind(name="even", bays_mm=(5_000, 5_000))
    >>> [[(kind.name, turned) for kind, turned in way] for way in ways_of([Spare(odd, 1), Spare(even, 1)])][:2]
    [[('odd', False), ('even', False)], [('odd', True), ('even', False)]]
    >>> len([*ways_of([Spare(odd, 2), Spare(even, 1)])])
    12
    """
    own = [each for each in nets if each.nets > 0]
    given = [each.kind for each in own for _ in range(each.nets)]
    orders = math.factorial(len(given)) // math.prod(math.factorial(each.nets) for each in own)
    sides = {each.kind.uid: (False,) if _same_turned(each.kind) else (False, True) for each in own}
    if orders * math.prod(len(sides[kind.uid]) for kind in given) > MOST_WAYS:
        yield tuple((kind, False) for kind in given)
        return
    for order in _orders(tuple(each.nets for each in own)):
        kinds = [own[number].kind for number in order]
        for turned in product(*(sides[kind.uid] for kind in reversed(kinds))):
            yield tuple(zip(kinds, reversed(turned), strict=True))


def posts_of(way: Way) -> NDArray[np.int64]:
    """Return where the posts of nets stand along them, from the first to the last [mm]; joined ones count once."""
    bays = (bay for kind, turned in way for bay in (reversed(kind.bays_mm) if turned else kind.bays_mm))
    return np.fromiter(accumulate(bays, initial=0), dtype=np.int64)


def _same_turned(kind: NetKind) -> bool:
    posts = posts_of(((kind, False),))
    return bool(np.abs(posts - posts_of(((kind, True),))).max() <= SAME_MM)


def _orders(counts: tuple[int, ...]) -> Iterator[tuple[int, ...]]:
    """Yield every order of so many things of each sort, once."""
    if not any(counts):
        yield ()
    for number, count in enumerate(counts):
        if count:
            for rest in _orders((*counts[:number], count - 1, *counts[number + 1 :])):
                yield (number, *rest)
