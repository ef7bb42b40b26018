"""The stretch in which each region is on a day, and how it is found again from one day to the next."""

from __future__ import annotations

import numpy as np
from numpy.typing import NDArray

from pigmap.ground.timeline import Timeline
from pigmap.records.frozen import dataclass


@dataclass(frozen=True, slots=True, eq=False)
class Turns:
    """All stretches but the first of each region, in order of the day on which they begin."""

    stretch: NDArray[np.int32]
    day: NDArray[np.int32]


def turns_of(timeline: Timeline) -> Turns:
    """Return the stretches of a time line in order of time."""
    later = np.ones(len(timeline.day), dtype=np.bool_)
    later[timeline.starts[:-1]] = False
    stretch = np.flatnonzero(later).astype(np.int32)
    stretch = stretch[np.argsort(timeline.day[stretch], kind="stable")]
    return Turns(stretch, timeline.day[stretch])


def stretches_on(timeline: Timeline, day: int) -> NDArray[np.int32]:
    """Return the stretch in which each region is on a day, given by its ordinal, by halving."""
    return _halved(timeline, timeline.starts[:-1].copy(), timeline.starts[1:], np.int32(day))


def stretches_at(
    timeline: Timeline, region: NDArray[np.intp], days: NDArray[np.signedinteger] | np.int32
) -> NDArray[np.int32]:
    """Return the stretch in which some regions are, on a day or each on one of its own (ordinals)."""
    return _halved(timeline, timeline.starts[region], timeline.starts[region + 1], days)


def _halved(
    timeline: Timeline,
    at: NDArray[np.int32],
    end: NDArray[np.int32],
    day: NDArray[np.signedinteger] | np.int32,
) -> NDArray[np.int32]:
    ahead = 1 << int(np.diff(timeline.starts).max(initial=1)).bit_length()
    while ahead := ahead >> 1:
        further = np.minimum(at + np.int32(ahead), end - 1)
        at = np.where(timeline.day.take(further, mode="clip") <= day, further, at)
    return at


class Pointer:
    """The stretch in which each region is on a day."""

    def __init__(self, timeline: Timeline, turns: Turns) -> None:
        self._timeline, self._turns = timeline, turns
        self._passed = 0
        self.at = timeline.starts[:-1].copy()
        """Stretch of each region, (regions,); never changed in place, so that a state can keep it."""

    def move_to(self, day: int) -> NDArray[np.int32] | None:
        """Go to a day, given by its ordinal; return the regions that came to another stretch, None for all of them."""
        # A plain int would make numpy cast all the days.
        passed = int(np.searchsorted(self._turns.day, np.int32(day), side="right"))
        before, self._passed = self._passed, passed
        if abs(passed - before) > len(self.at):
            self.at = stretches_on(self._timeline, day)
            return None
        stretch = self._turns.stretch[min(before, passed) : max(before, passed)]
        region = self._timeline.region[stretch]
        if len(stretch):
            self.at = self.at.copy()
        # Of several in one region the last that is written stays: the latest on the way on, the first on the way back.
        if passed >= before:
            self.at[region] = stretch
        else:
            self.at[region[::-1]] = stretch[::-1] - 1
        return region
