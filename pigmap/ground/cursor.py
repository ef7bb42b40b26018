"""The cursor of the date: from one day to the next only what changed between them is looked up again."""

from __future__ import annotations

from dataclasses import dataclass
from typing import TYPE_CHECKING

import numpy as np
from numpy.typing import NDArray

from pigmap.ground.carried import Carried
from pigmap.ground.model import Model
from pigmap.ground.pointer import Pointer
from pigmap.ground.timeline import NEVER, Timeline

if TYPE_CHECKING:
    from datetime import date

    from pigmap.ground.field_ground import FieldGround
    from pigmap.ground.state import GroundState

TO_COME = np.int32(2**30)
"""A day later than all others."""


def packed_for(timeline: Timeline, model: Model, first_day: int) -> NDArray[np.int32]:
    """Return what `Now` holds of each stretch side by side, (n, 6): one place in memory to look up, not six."""
    packed = np.empty((len(timeline.day), 6), dtype=np.int32)
    shares = packed.view(np.float32)
    shares[:, 0] = timeline.y - 1.0 / model.most
    packed[:, 1] = timeline.day - first_day
    packed[:, 2] = timeline.here
    shares[:, 3] = timeline.daily[3] * np.float32(model.loss)
    packed[:, 4] = np.where(timeline.left == NEVER, TO_COME, timeline.left)
    packed[:, 5] = timeline.seen
    return packed


@dataclass(slots=True, eq=False)
class Now:
    """What the stretches of all regions are on a day, as plain arrays, (regions,)."""

    above: NDArray[np.float32]
    """1/cover at the start of the stretch, above that of ground at rest."""
    day: NDArray[np.intp]
    """First day of the stretch, counted from the first day whose warmth is known."""
    here: NDArray[np.bool_]
    """Whether pigs are there."""
    loss: NDArray[np.float32]
    """Loss rate of each day that is not wet."""
    left: NDArray[np.int32]
    """Ordinal of the day on which pigs last left; `TO_COME` if they never did."""
    seen: NDArray[np.int32]
    """Ordinal of the day of the last check that still counts; `NEVER` if there is none."""

    @staticmethod
    def of(ground: FieldGround, at: NDArray[np.int32]) -> Now:
        """Return the arrays for the stretch of each region."""
        rows = ground.packed.take(at, axis=0, mode="clip")
        shares = rows.view(np.float32)
        return Now(
            above=shares[:, 0].copy(),
            day=rows[:, 1].astype(np.intp),
            here=rows[:, 2] != 0,
            loss=shares[:, 3].copy(),
            left=rows[:, 4].copy(),
            seen=rows[:, 5].copy(),
        )

    def put(self, region: NDArray[np.int32], fresh: Now) -> None:
        """Replace the values of some regions."""
        self.above[region] = fresh.above
        self.day[region] = fresh.day
        self.here = self.here.copy()  # a state keeps the old one
        self.here[region] = fresh.here
        self.loss[region] = fresh.loss
        self.left[region] = fresh.left
        self.seen[region] = fresh.seen


class Cursor:
    """A day on the ground of one field; belongs to one thread."""

    def __init__(self, ground: FieldGround) -> None:
        self._ground = ground
        self._pointer = Pointer(ground.timeline, ground.turns)
        self._now = Now.of(ground, self._pointer.at)
        self._carried = Carried(ground)

    def move_to(self, day: date) -> GroundState:
        """Return the state of the ground at the start of a day."""
        from pigmap.ground.state import state_of  # the two need each other; only this direction is at run time

        region = self._pointer.move_to(day.toordinal())
        self._carried.day = day.toordinal()
        if region is None:
            self._now = Now.of(self._ground, self._pointer.at)
        elif len(region):
            self._now.put(region, Now.of(self._ground, self._pointer.at[region]))
        return state_of(self._ground, day, self._pointer.at, self._now, self._carried)
