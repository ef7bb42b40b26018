"""The prepared ground of one field at one revision of the farm."""

from __future__ import annotations

from collections.abc import Callable
from dataclasses import dataclass
from datetime import date

import numpy as np
from numpy.typing import NDArray

from pigmap.geometry.cells import frame_over, inside
from pigmap.geometry.frame import CellFrame
from pigmap.ground.cursor import Cursor, Now, Turns, packed_for, stretches_on, turns_of
from pigmap.ground.events import events_on
from pigmap.ground.model import Model, model_of
from pigmap.ground.rasters import Rasters
from pigmap.ground.regions import regions_of
from pigmap.ground.state import GroundState, state_of
from pigmap.ground.stays import stays_of
from pigmap.ground.tables import SIGHT_DAYS
from pigmap.ground.timeline import Timeline, timeline_of
from pigmap.records import Farm
from pigmap.weather.climate import Warmth, lies_south, warmth

_AHEAD_DAYS = 3650  # warmth is known this far beyond the last event; a stay with no end lasts until then


class Stopped(Exception):  # noqa: N818 - not an error: somebody asked for it
    """Raised inside a preparation whose result nobody wants any more."""


def never() -> bool:
    """Whether to stop: no."""
    return False


@dataclass(frozen=True, slots=True, eq=False)
class FieldGround:
    """Everything that the state of one field's cells on any day follows from; published arrays are read-only."""

    field_uid: str
    frame: CellFrame
    region_of: NDArray[np.intp]
    """Region of each cell, (rows, columns); -1 outside the field."""
    first_day: date | None
    """Day on which pigs first came or someone first looked; None where nothing is known."""
    model: Model
    warmth: Warmth
    timeline: Timeline
    turns: Turns
    packed: NDArray[np.int32]

    @property
    def regions(self) -> int:
        """Number of regions of equal history."""
        return len(self.timeline.starts) - 1

    def cursor(self) -> Cursor:
        """Return a cursor; each thread needs its own."""
        return Cursor(self)

    def on(self, day: date) -> GroundState:
        """Return the state at the start of a day, looked up from nothing: for one day, not for a row of them."""
        at = stretches_on(self.timeline, day.toordinal())
        return state_of(self, day, at, Now.of(self, at))


def prepare(
    farm: Farm, field_uid: str, *, stop: Callable[[], bool] = never, rasters: Rasters | None = None
) -> FieldGround:
    """Return the prepared ground of a field.

    Parameters
    ----------
    farm
        The farm at one revision.
    field_uid
        The field; its ground follows from all stays and checks that touch it, whichever field they name.
    stop
        Asked between the steps: whether the result is no longer wanted.
    rasters
        Cells of stays that are known from an earlier revision; filled for the next.

    Raises
    ------
    KeyError
        If the farm has no such field.
    Stopped
        If `stop` said so.
    """
    field = farm.fields[field_uid]
    model = model_of(farm, field)
    first, last = _span(farm)
    stays = stays_of(farm, last)
    _go_on(stop)
    frame = frame_over(field)
    events = events_on(farm, stays, field.outline, frame, rasters if rasters is not None else Rasters())
    _go_on(stop)
    regions = regions_of(inside(frame, field.outline), events.cells)
    _go_on(stop)
    warm = warmth(farm.weather_days.values(), first, last + SIGHT_DAYS, south=lies_south(farm.projection))
    timeline = timeline_of(events, regions, warm, model)
    _go_on(stop)
    ground = FieldGround(
        field_uid,
        frame,
        regions.region_of,
        date.fromordinal(int(events.begin.min())) if len(events) else None,
        model,
        warm,
        timeline,
        turns_of(timeline),
        packed_for(timeline, model, warm.first),
    )
    ground.region_of.flags.writeable = False
    return ground


def _go_on(stop: Callable[[], bool]) -> None:
    if stop():
        raise Stopped


def _span(farm: Farm) -> tuple[int, int]:
    """Return the ordinals of a day before all events, and of one long after them."""
    days = [stay.in_on for stay in farm.stays.values()]
    days += [stay.out_on for stay in farm.stays.values() if stay.out_on is not None]
    days += [check.checked_on for check in farm.checks.values()]
    known = [day.toordinal() for day in days] or [date(2000, 1, 1).toordinal()]
    return min(known) - 1, min(max(known) + _AHEAD_DAYS, date.max.toordinal() - SIGHT_DAYS)
