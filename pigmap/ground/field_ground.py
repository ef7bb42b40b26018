"""The prepared ground of one field at one revision of the farm."""

from __future__ import annotations

from collections.abc import Callable
from dataclasses import field as dataclass_field
from datetime import date

import numpy as np
from numpy.typing import NDArray

from pigmap.geometry.cells import frame_over
from pigmap.geometry.frame import CellFrame
from pigmap.ground.cursor import Cursor, Now, packed_for
from pigmap.ground.events import events_on
from pigmap.ground.known import Known
from pigmap.ground.model import Model, model_of
from pigmap.ground.months import OpenDays, closed_days, open_days
from pigmap.ground.pointer import Turns, stretches_on, turns_of
from pigmap.ground.renewal import Basis, made
from pigmap.ground.state import GroundState, state_of
from pigmap.ground.timeline import Timeline
from pigmap.ground.wear import SoilWater
from pigmap.records import AS_PLANNED, Farm
from pigmap.records.frozen import dataclass
from pigmap.weather.climate import Warmth


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
    """Day on which pigs first came, are said to have been there, or someone first looked; None where none is known."""
    model: Model
    warmth: Warmth
    """As it counts for growth: in a drought less."""
    timeline: Timeline
    turns: Turns
    packed: NDArray[np.int32]
    never: NDArray[np.bool_]
    """Whether someone said of a region that it was never used before its records, (regions,)."""
    worn: NDArray[np.float64]
    """Days from the first day of the warmth to each day, wet ones counted for more."""
    open_days: OpenDays | None
    """When pigs may come; None where they may on all days."""
    watered: Warmth | None = None
    """Warmth as it counts if there is rain enough from now on; None where nothing is known of drought."""
    others: list[tuple[Model, NDArray[np.float64]]] = dataclass_field(default_factory=list)
    """Other models, and 1/cover of each stretch by them; filled when a range is first asked for."""

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
    farm: Farm,
    field_uid: str,
    *,
    today: date = AS_PLANNED,
    stop: Callable[[], bool] = never,
    known: Known | None = None,
    water: SoilWater | None = None,
) -> FieldGround:
    """Return the prepared ground of a field.

    Parameters
    ----------
    farm
        The farm at one revision.
    field_uid
        The field; its ground follows from all stays and checks that touch it, whichever field they name.
    today
        The day up to which only what is recorded counts: pigs are where they are until they are recorded to leave, and
        plans that did not begin leave no trace. After it all goes as planned.
    stop
        Asked between the steps: whether the result is no longer wanted.
    known
        What earlier preparations left; filled for the next.
    water
        How wet its soil is day by day; else what the records say of it, and a day counts as dry where they say nothing.

    Raises
    ------
    KeyError
        If the farm has no such field.
    Stopped
        If `stop` said so.
    """
    field, known = farm.fields[field_uid], known if known is not None else Known()
    model = model_of(farm, field)
    history = known.history(farm, today)
    _go_on(stop)
    frame = frame_over(field)
    events, marks = events_on(history, field.outline, frame, known.rasters(field_uid))
    _go_on(stop)
    worn = known.worn(farm, field, history.warmth, water)
    warm, watered = known.grown(farm, field, history.warmth, water)
    basis = Basis(frame, known.within(field, frame), model, warm, worn, marks)
    its = made(basis, events, known.made(field_uid))
    _go_on(stop)
    known.keep(field_uid, its)
    regions, timeline = its.regions, its.timeline
    regions.region_of.flags.writeable = False
    return FieldGround(
        field_uid,
        frame,
        regions.region_of,
        date.fromordinal(first_day) if (first_day := events.first_day) is not None else None,
        model,
        warm,
        timeline,
        turns_of(timeline),
        packed_for(timeline, model, warm.first),
        regions.marked[0],
        worn,
        open_days(closed_days(farm, field_uid), history.months.parts, regions.marked[1:]),
        watered=watered if watered is not warm else None,
    )


def _go_on(stop: Callable[[], bool]) -> None:
    if stop():
        raise Stopped
