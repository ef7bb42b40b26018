"""What a cursor carries along for layers that are only sometimes asked for: sums of twelve months, and ready days."""

from __future__ import annotations

from typing import TYPE_CHECKING

import numpy as np
from numpy.typing import NDArray

from pigmap.ground.pointer import Pointer
from pigmap.ground.ready import days_until, green_on
from pigmap.ground.tables import TRAILING_DAYS

if TYPE_CHECKING:
    from pigmap.ground.field_ground import FieldGround


class Sums:
    """Live weight [kg·d/m²], nitrogen and phosphorus [g/m²] brought up to a day that moves, (3, regions)."""

    def __init__(self, ground: FieldGround) -> None:
        self._line = ground.timeline
        self._pointer = Pointer(ground.timeline, ground.turns)
        self._take(self._pointer.at)

    def up_to(self, day: int) -> NDArray[np.float32]:
        """Return what was brought before a day (an ordinal)."""
        region = self._pointer.move_to(day)
        line, at = self._line, self._pointer.at
        if region is None:
            self._take(at)
        elif len(region):
            at = at[region]
            self._rows[region] = rows = line.brought.take(at, axis=0, mode="clip")
            self._day[region] = line.day[at]
            self._brings[region] = rows[:, 3:6].any(axis=1)
        brought = self._rows[:, :3].T.copy()
        brings = np.flatnonzero(self._brings)
        days = np.maximum(np.int32(day) - self._day[brings], 0)
        brought[:, brings] += self._rows[brings, 3:6].T * days
        return brought

    def _take(self, at: NDArray[np.int32]) -> None:
        self._rows = self._line.brought.take(at, axis=0, mode="clip")
        self._day = self._line.day[at]
        self._brings: NDArray[np.bool_] = np.asarray(self._rows[:, 3:6].any(axis=1))


class Greens:
    """What the ready day of each region follows from, on a day that moves."""

    def __init__(self, ground: FieldGround) -> None:
        self._ground = ground
        self._pointer = Pointer(ground.timeline, ground.turns)
        self._take(self._pointer.at)

    def days_until(self, day: int) -> NDArray[np.int32]:
        """Return the days until each region is ready from a day (an ordinal) on; -1 where that is not in sight."""
        region = self._pointer.move_to(day)
        if region is None:
            self._take(self._pointer.at)
        elif len(region):
            line, at = self._ground.timeline, self._pointer.at[region]
            self._green[region] = green_on(self._ground, at, line.y, self._ground.model)
            self._left[region], self._here[region] = line.left[at], line.here[at]
        return days_until(self._ground, day, self._green, self._left, self._here)

    def _take(self, at: NDArray[np.int32]) -> None:
        line = self._ground.timeline
        self._green = green_on(self._ground, at, line.y, self._ground.model)
        self._left, self._here = line.left[at], line.here[at]


class Carried:
    """What one cursor carries along; each part begins when it is first asked for."""

    def __init__(self, ground: FieldGround) -> None:
        self._ground = ground
        self.day = 0
        """The day on which the cursor is (ordinal): what is asked of another one is looked up from nothing."""
        self._sums: tuple[Sums, Sums] | None = None
        self._greens: Greens | None = None

    def trailing(self) -> NDArray[np.float32]:
        """Return what was brought in the twelve months up to the day, (3, regions)."""
        if self._sums is None:
            self._sums = Sums(self._ground), Sums(self._ground)
        until, before = self._sums
        brought = until.up_to(self.day)
        brought -= before.up_to(self.day - TRAILING_DAYS)
        return np.maximum(brought, np.float32(0.0), out=brought)

    def ready_in_days(self) -> NDArray[np.int32]:
        """Return the days until each region is ready, if nobody comes before; -1 while pigs are there."""
        if self._greens is None:
            self._greens = Greens(self._ground)
        return self._greens.days_until(self.day)
