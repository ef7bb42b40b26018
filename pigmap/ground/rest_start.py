"""How ground was when its rest began, or when somebody last looked at it since."""

from __future__ import annotations

from typing import NamedTuple

import numpy as np
from numpy.typing import NDArray

from pigmap.ground.timeline import NEVER, Timeline


class RestStart(NamedTuple):
    """The stretch with which the rest of each region began, as arrays (regions,)."""

    rooting: NDArray[np.float64]
    """Share that was rooted then, 0 to 1."""
    day: NDArray[np.int32]
    """The day (ordinal)."""
    rests: NDArray[np.bool_]
    """Whether it rests: used, nobody there, and not sown since."""


def rest_start(line: Timeline, at: NDArray[np.int32]) -> RestStart:
    """Return how each region's rest began: on the day of the last check since pigs left, else on which they left."""
    marks = (line.day == line.left) | (line.day == line.seen)
    begin = carried(line, marks)[at]
    left = line.left[at]
    rests = ~line.here[at] & (left != NEVER) & (line.sown[at] < left)
    return RestStart(1.0 - 1.0 / line.y[begin], line.day[begin], rests)


def last_weight(line: Timeline, at: NDArray[np.int32]) -> NDArray[np.float32]:
    """Return the live weight on each region when pigs were last there [kg/m²], (regions,); 0 where they never were."""
    weight: NDArray[np.float32] = np.where(line.here, line.daily[0], 0.0)[carried(line, line.here)[at]]
    return weight


def carried(line: Timeline, marks: NDArray[np.bool_]) -> NDArray[np.int64]:
    """Return the last marked stretch of its region at or before each stretch, else the region's first, (n,)."""
    set_at = marks.copy()
    set_at[line.starts[:-1]] = True
    return np.maximum.accumulate(np.where(set_at, np.arange(len(marks)), 0))
