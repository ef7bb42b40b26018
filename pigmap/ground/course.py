"""How the ground of a field went and is to go: its green share and its rest over a row of days."""

from __future__ import annotations

from collections.abc import Callable, Sequence
from datetime import date, timedelta

import numpy as np
from numpy.typing import NDArray

from pigmap.ground.field_ground import FieldGround, Stopped, never
from pigmap.ground.state import GroundState
from pigmap.records.frozen import dataclass

TENTH = 0.1
"""Share of the ground at either end that the range of its green share leaves out."""
MOST_DAYS = 220
"""Most days that a course is looked up on."""


@dataclass(frozen=True, slots=True, eq=False)
class Course:
    """The ground of one field on a row of days; its arrays are read-only."""

    ground: FieldGround
    days: NDArray[np.int64]
    """Ordinals of the days, (n,)."""
    mean: NDArray[np.float64]
    """Mean green share of the field, (n,)."""
    barest: NDArray[np.float64]
    """Most green share in the barest tenth of the ground, (n,)."""
    greenest: NDArray[np.float64]
    """Least green share in the greenest tenth, (n,)."""
    rests: NDArray[np.float64]
    """Share of the ground in each class of rest, then never used, then not known, (n, classes + 2)."""


def course_of(
    ground: FieldGround, days: Sequence[date], rest_from: Sequence[int], stop: Callable[[], bool] = never
) -> Course:
    """Return the course of a field's ground.

    Parameters
    ----------
    ground
        The prepared ground; a cursor of its own goes over it, so that any thread may ask.
    days
        In order of time.
    rest_from
        First day of each class of rest [d]; ground that pigs are on is of the first.
    stop
        Asked between the days: whether the result is no longer wanted.

    Raises
    ------
    Stopped
        If `stop` said so.
    """
    cursor, weight = ground.cursor(), weight_of(ground)
    covers, rests = np.empty((3, len(days))), np.empty((len(days), len(rest_from) + 2))
    for at, day in enumerate(days):
        if stop():
            raise Stopped
        state = cursor.move_to(day)
        covers[:, at] = cover_range(state.layers["cover"], weight)
        rests[at] = rest_shares(state, rest_from, weight)
    for array in (covers, rests):
        array.flags.writeable = False
    on = np.array([day.toordinal() for day in days], dtype=np.int64)
    return Course(ground, on, covers[0], covers[1], covers[2], rests)


_last: tuple[NDArray[np.intp], NDArray[np.int64]] | None = None


def weight_of(ground: FieldGround) -> NDArray[np.int64]:
    """Return how many cells each region has, (regions,); the last answer is kept."""
    global _last
    kept = _last
    if kept is None or kept[0] is not ground.region_of:
        region_of = ground.region_of
        kept = _last = region_of, np.bincount(region_of[region_of >= 0], minlength=ground.regions)
    return kept[1]


def rest_shares(state: GroundState, rest_from: Sequence[int], weight: NDArray[np.int64]) -> NDArray[np.float64]:
    """Return the share of the ground in each class of rest, then never used, then not known, (classes + 2,)."""
    days, unknown = state.layers["rest_days"], state.layers["unknown"]
    kinds = np.searchsorted(np.asarray(rest_from[1:], dtype=np.int64), days, side="right")
    kinds[days < 0] = len(rest_from)
    kinds[unknown] = len(rest_from) + 1
    return _shares(kinds, weight, len(rest_from) + 2)


def rooting_shares(
    state: GroundState, rooting_from: Sequence[float], weight: NDArray[np.int64], *, computed: bool = False
) -> NDArray[np.float64]:
    """Return the share of the ground in each class of rooting, (2, classes): as it was seen, and as it is computed.

    `computed` says that the day is still to come: nothing on it was seen.
    """
    kinds = np.searchsorted(np.asarray(rooting_from[1:]), state.layers["rooting"], side="right")
    seen = np.zeros(len(kinds), dtype=np.bool_) if computed else state.layers["seen"]
    count = len(rooting_from)
    return _shares(np.where(seen, kinds, kinds + count), weight, 2 * count).reshape(2, count)


def _shares(kinds: NDArray[np.int64], weight: NDArray[np.int64], count: int) -> NDArray[np.float64]:
    return np.bincount(kinds, weights=weight, minlength=count) / max(int(weight.sum()), 1)


def cover_range(cover: NDArray[np.float32], weight: NDArray[np.int64]) -> tuple[float, float, float]:
    """Return the mean green share, and the edges of the barest tenth of the ground and of the greenest.

    `cover` and `weight` are the green share and the cells of each region, (regions,).
    """
    if not len(cover):
        return np.nan, np.nan, np.nan
    order = np.argsort(cover)
    upto = np.cumsum(weight[order])
    ends = np.searchsorted(upto, upto[-1] * np.array([TENTH, 1.0 - TENTH]))
    barest, greenest = cover[order[np.minimum(ends, len(order) - 1)]]
    return float(np.average(cover, weights=weight)), float(barest), float(greenest)


def days_between(first: date, last: date, most: int = MOST_DAYS) -> tuple[date, ...]:
    """Return days from the first to the last in even steps, as many as `most` at most.

    Examples
    --------
    >>> [day.day for day in days_between(date(2026, 5, 1), date(2026, 5, 10), 4)]
    [1, 4, 7, 10]
    """
    span = max((last - first).days, 0)
    step = max(-(-span // max(most - 1, 1)), 1)
    return tuple(first + timedelta(days=at) for at in range(0, span + 1, step))
