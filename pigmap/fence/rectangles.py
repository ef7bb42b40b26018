"""Which rectangles some nets close with all four corners at posts."""

from __future__ import annotations

from collections.abc import Iterator, Sequence
from typing import NamedTuple

import numpy as np
from numpy.typing import NDArray

from pigmap.errors import PlanError
from pigmap.fence.count import PLAY_MM
from pigmap.fence.fitted import Spare
from pigmap.fence.walked import nets_words
from pigmap.fence.ways import Way, posts_of, ways_of
from pigmap.text import Quantity, Text


class Rectangle(NamedTuple):
    """A rectangle that nets close."""

    short_mm: int
    long_mm: int
    """Its sides [mm]: of two that differ by the play of a run, the shorter."""
    bays: tuple[int, int]
    """Bays along a short and along a long side."""
    corners_mm: tuple[int, int, int, int]
    """Where its corners are along the nets [mm]."""
    nets: Way
    folded_bays: int = 0
    """Bays at the end of the last net that are folded back, since it closes without them."""

    @property
    def area_m2(self) -> float:
        """Its area [m²]."""
        return self.short_mm * self.long_mm / 1e6


def even_rectangles(bays: int) -> tuple[tuple[int, int], ...]:
    """Return the sides in bays of every rectangle that equal bays close, the one of most area first.

    Opposite sides have as many bays, so that an odd number of bays closes none.

    Examples
    --------
    >>> even_rectangles(14)
    ((3, 4), (2, 5), (1, 6))
    >>> even_rectangles(13)
    ()
    """
    return () if bays % 2 else tuple((short, bays // 2 - short) for short in range(bays // 4, 0, -1))


def rectangles_of(nets: Sequence[Spare], folded_bays: int = 0) -> tuple[Rectangle, ...]:
    """Return every rectangle that nets close with its corners at posts, the one of most area first.

    All orders of the nets and both ways round of each are looked at, as long as they are not too many, with the bays
    as they are: an odd last bay leaves other corners than equal bays do. Opposite sides may
    differ by the play of a run.

    Parameters
    ----------
    nets
        All nets that stand round it.
    folded_bays
        So many bays at the end of the last net are folded back.

    Examples
    --------
    >>> from pigmap.records import NetKind
    >>> thirteen = NetKind(name="50 m", bays_mm=(3846,) * 12 + (3848,))
    >>> best = rectangles_of([Spare(thirteen, 4)])[0]
    >>> best.bays, best.area_m2
    ((13, 13), 2500.0)
    """
    found: dict[tuple[int, int], Rectangle] = {}
    for way in ways_of(nets):
        for each in _round(way, folded_bays):
            found.setdefault((each.short_mm, each.long_mm), each)
    return _apart(sorted(found.values(), key=lambda each: (-each.area_m2, -each.short_mm)))


def closed_rectangles(nets: Sequence[Spare]) -> tuple[Rectangle, ...]:
    """Return the rectangles that nets close as `rectangles_of`.

    Raises
    ------
    PlanError
        If there is none, with what comes nearest: so many posts at the end of the last net are left out.
    """
    found = rectangles_of(nets)
    if found:
        return found
    words = nets_words([(each.kind, each.nets) for each in nets if each.nets > 0])
    message = Text("The nets ({nets}) close no rectangle with its corners at posts.", {"nets": words})
    nearest = nearest_rectangle(nets)
    if nearest is None:
        raise PlanError(message, remedy="Take one net more.")
    count = nearest.folded_bays
    values = {"long": Quantity(nearest.long_mm / 1000, "m", 1), "short": Quantity(nearest.short_mm / 1000, "m", 1)}
    remedy = Text(
        "Leave out the last post and fold that end back: {long} by {short}.",
        values,
        plural="Leave out the last {count} posts and fold that end back: {long} by {short}.",
        count=count,
    )
    raise PlanError(message, remedy=remedy)


def nearest_rectangle(nets: Sequence[Spare]) -> Rectangle | None:
    """Return the largest rectangle that closes with the fewest bays folded back; None where there is none at all."""
    most = max((len(each.kind.bays_mm) for each in nets if each.nets > 0), default=0)
    for folded in range(most):
        found = rectangles_of(nets, folded)
        if found:
            return found[0]
    return None


def _round(way: Way, folded_bays: int) -> Iterator[Rectangle]:
    """Yield the rectangles of nets in one order: those whose corners, two and two, are half the way round apart."""
    posts = posts_of(way)[: -folded_bays or None]
    if folded_bays >= len(way[-1][0].bays_mm) or len(posts) < 5:
        return
    whole, ring = int(posts[-1]), posts[:-1]
    one, other = np.nonzero(np.abs(2 * (ring[None, :] - ring[:, None]) - whole) <= 2 * PLAY_MM)
    first, second = np.nonzero(one[:, None] < one[None, :])
    corners = np.stack([one[first], one[second], other[first], other[second]], axis=1)
    corners = corners[(np.diff(corners, axis=1) > 0).all(axis=1)]
    at = ring[corners]
    sides = np.diff(np.column_stack([at, at[:, 0] + whole]), axis=1)
    closes = (np.abs(sides[:, :2] - sides[:, 2:]) <= PLAY_MM).all(axis=1)
    for numbers, places, lengths in zip(corners[closes], at[closes], sides[closes], strict=True):
        yield _rectangle(numbers, places, lengths, way, folded_bays)


def _rectangle(
    numbers: NDArray[np.int64], places: NDArray[np.int64], lengths: NDArray[np.int64], way: Way, folded_bays: int
) -> Rectangle:
    sides = sorted(
        (int(min(lengths[side], lengths[side + 2])), int(numbers[side + 1] - numbers[side])) for side in (0, 1)
    )
    (short, few), (long, many) = sides
    first, second, third, fourth = places.tolist()
    return Rectangle(short, long, (few, many), (first, second, third, fourth), way, folded_bays)


def _apart(found: Sequence[Rectangle]) -> tuple[Rectangle, ...]:
    """Return the rectangles without those that differ from a larger one by the play of a run."""
    kept: list[Rectangle] = []
    for each in found:
        near = (abs(each.short_mm - other.short_mm) + abs(each.long_mm - other.long_mm) for other in kept)
        if min(near, default=PLAY_MM + 1) > PLAY_MM:
            kept.append(each)
    return tuple(kept)
