"""How deep a paddock is that shares one side and whose other three sides are closed by nets with corners at posts."""

from __future__ import annotations

from collections.abc import Iterator, Sequence
from typing import NamedTuple

import numpy as np

from pigmap.errors import PlanError
from pigmap.fence.count import PLAY_MM
from pigmap.fence.fitted import Spare
from pigmap.fence.walked import nets_words
from pigmap.fence.ways import Way, posts_of, ways_of
from pigmap.text import Quantity, Text, Value


class Depth(NamedTuple):
    """Three sides that close with corners at posts."""

    side_mm: int
    """The side across from the one that stays [mm]."""
    deep_mm: int
    """Each of the two others; of two that differ by the play of a run, the shorter [mm]."""
    nets: Way


def even_depth(standing: int, carried: int) -> int:
    """Return how many bays deep a paddock of equal bays is: half of what the carried nets have more than the side.

    Parameters
    ----------
    standing
        Bays of the side that stays.
    carried
        Bays of all nets that are carried.

    Raises
    ------
    PlanError
        If they leave nothing or an odd number, with the sides that would do.

    Examples
    --------
    >>> even_depth(14, 42), even_depth(13, 39)
    (14, 13)
    """
    values: dict[str, Value] = {"standing": standing, "carried": carried}
    if carried - standing < 2:
        raise PlanError(
            "The side that stays is {standing} posts long, and the nets to carry {carried}: they do not reach round.",
            remedy="Carry more nets, or share a shorter side.",
            **values,
        )
    if (carried - standing) % 2:
        less, more = (carried - standing + 1) // 2, (carried - standing - 1) // 2
        longer = Text(", or 1 post farther out: {deep}", {"deep": _posts_deep(more)}) if more else Text("")
        raise PlanError(
            "The side that stays is {standing} posts long, and the nets to carry {carried}: the sides beside it "
            "cannot have as many posts as each other.",
            remedy="Set one corner of the shared side 1 post nearer: {less}{longer}.",
            less=_posts_deep(less),
            longer=longer,
            **values,
        )
    return (carried - standing) // 2


def depth_of(side_mm: int, nets: Sequence[Spare]) -> Depth:
    """Return how deep a paddock is whose shared side stands, with the bays of the carried nets as they are.

    Raises
    ------
    PlanError
        If no order of the nets puts both corners at posts, with the length of the shared side that would do.
    """
    reach = sum(each.kind.length_mm * each.nets for each in nets)
    found = nearest_depth(side_mm, nets) if reach > side_mm + PLAY_MM else None
    words = nets_words([(each.kind, each.nets) for each in nets if each.nets > 0])
    values: dict[str, Value] = {"side": Quantity(side_mm / 1000, "m", 1), "nets": words}
    if found is None:
        raise PlanError(
            "The nets to carry ({nets}) do not reach round from a side of {side}.",
            remedy="Carry more nets, or share a shorter side.",
            **values,
        )
    if abs(found.side_mm - side_mm) > PLAY_MM:
        raise PlanError(
            "From a side of {side} the nets to carry ({nets}) cannot have both far corners at posts.",
            remedy="Share {better} of it: {deep} deep." if found.side_mm < side_mm else "Share {better}: {deep} deep.",
            better=Quantity(found.side_mm / 1000, "m", 1),
            deep=Quantity(found.deep_mm / 1000, "m", 1),
            **values,
        )
    return found


def _posts_deep(posts: int) -> Text:
    return Text("{count} post deep", plural="{count} posts deep", count=posts)


def nearest_depth(side_mm: int, nets: Sequence[Spare]) -> Depth | None:
    """Return the three sides with corners at posts whose far side comes nearest to a length; None where there are none.

    Of equal ones those are taken whose nets stand most as given.
    """
    ways = ways_of([each for each in nets if each.nets > 0])
    return min(
        (each for way in ways for each in _closed(way)), key=lambda each: abs(each.side_mm - side_mm), default=None
    )


def _closed(way: Way) -> Iterator[Depth]:
    """Yield every pair of posts that are as far from the begin and from the end of nets in one order."""
    posts = posts_of(way)
    from_end = posts[-1] - posts
    first, second = np.nonzero(np.abs(posts[:, None] - from_end[None, :]) <= PLAY_MM)
    inside = (first > 0) & (first < second) & (second < len(posts) - 1)
    for one, other in zip(first[inside].tolist(), second[inside].tolist(), strict=True):
        yield Depth(int(posts[other] - posts[one]), int(min(posts[one], from_end[other])), way)
