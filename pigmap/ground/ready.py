"""When ground is ready again: green enough, rested, open, and done with what was sown on it."""

from __future__ import annotations

from dataclasses import replace
from math import exp
from typing import TYPE_CHECKING, NamedTuple

import numpy as np
from numpy.typing import NDArray

from pigmap.ground.cover import growth_wanted
from pigmap.ground.model import Model
from pigmap.ground.pointer import stretches_at
from pigmap.ground.tables import LOG_SD, SIGHT_DAYS
from pigmap.ground.timeline import NEVER, other_covers

if TYPE_CHECKING:
    from shapely.geometry.base import BaseGeometry

    from pigmap.ground.field_ground import FieldGround
    from pigmap.ground.state import GroundState

_TURNS = 12
"""How often rest and months can push each other on before ground counts as not ready within sight."""


def ready_in_days(
    ground: FieldGround,
    on: int,
    at: NDArray[np.int32],
    y: NDArray[np.float64],
    model: Model,
    regions: NDArray[np.intp] | None = None,
) -> NDArray[np.int32]:
    """Return the days until each region is ready, if nobody comes before; -1 while pigs are there, and out of sight.

    Parameters
    ----------
    ground
        The ground of one field.
    on
        The day from which it is counted (ordinal).
    at
        The stretch in which each region is, (regions,).
    y
        1/cover at the start of each stretch, (n,), by the model.
    model
        The numbers to compute with.
    regions
        Which regions these are; all of them if not given.
    """
    line = ground.timeline
    return days_until(ground, on, green_on(ground, at, y, model), line.left[at], line.here[at], regions)


def green_on(ground: FieldGround, at: NDArray[np.int32], y: NDArray[np.float64], model: Model) -> NDArray[np.int32]:
    """Return the day on which some stretches are green enough and done with work (ordinals); 0 where they always are.

    Ground that nothing ever happened to is in its first stretch on days before that begins, too.
    """
    line, warm = ground.timeline, ground.warmth
    wanted = growth_wanted(y[at], target=model.ready_cover, most=model.most) / model.regrowth
    green = np.zeros(len(at), dtype=np.int32)
    bare = np.flatnonzero(wanted > 0.0)
    if len(bare):
        day = line.day[at[bare]]
        grown = np.searchsorted(warm.since, warm.at(day) + wanted[bare] - 1e-6) + warm.first
        green[bare] = np.maximum(grown, day)
    return np.maximum(green, line.shut[at])


def days_until(
    ground: FieldGround,
    on: int,
    green: NDArray[np.int32],
    left: NDArray[np.int32],
    here: NDArray[np.bool_],
    regions: NDArray[np.intp] | None = None,
) -> NDArray[np.int32]:
    """Return the days until ground that is green on some days is rested and open, too; -1 as `ready_in_days` says."""
    day: NDArray[np.int32] = np.maximum(green, np.int32(on))
    ahead: NDArray[np.signedinteger]
    if len(ground.model.rest.days) == 1 and ground.open_days is None:
        rested = left + np.int32(ground.model.rest.days[0])
        ahead = np.where(left == NEVER, day, np.maximum(day, rested)) - np.int32(on)
    else:
        ahead = _pushed_on(ground, left.astype(np.int64), day.astype(np.int64), regions) - on
    ahead[here | (ahead > SIGHT_DAYS)] = -1
    return ahead.astype(np.int32, copy=False)


def _pushed_on(
    ground: FieldGround, left: NDArray[np.int64], day: NDArray[np.int64], regions: NDArray[np.intp] | None
) -> NDArray[np.int64]:
    """Return the first day from some days on on which ground is both rested and open."""
    used, rest = left != NEVER, ground.model.rest
    for _ in range(_TURNS if ground.open_days is not None else 1):
        rested: NDArray[np.int64] = np.where(used, rest.first_rested(np.where(used, left, day), day), day)
        if ground.open_days is None:
            return rested
        opened = ground.open_days.from_on(rested, regions)
        if (opened == day).all():
            break
        day = opened
    return day


class ReadyRange(NamedTuple):
    """Days until all of some ground is ready: soonest, by the numbers in use, and latest; -1 not within sight."""

    soonest: int
    middle: int
    latest: int


def ready_range(state: GroundState, outline: BaseGeometry | None = None) -> ReadyRange | None:
    """Return when an outline, or the whole field, is ready; None where it holds no cell of the field.

    Loss and regrowth are each taken one standard deviation less and more (log-sd 0.37, times or divided by 1.45). What
    a daily check saw stands, so that ground that was looked at has a narrower range. Where drought counts, days to come
    are as in a usual year, and the range takes in that there is rain enough from now on.
    """
    regions = np.unique(state.cells_under(outline))
    if not len(regions):
        return None
    ground, on = state.ground, state.day.toordinal()
    at = stretches_at(ground.timeline, regions, np.int32(on))
    middle = _last(state.layers["ready_in_days"][regions])
    tried = [_last(ready_in_days(ground, on, at, y, model, regions)) for model, y in _others(ground)]
    if ground.watered is not None:
        rained = replace(ground, warmth=ground.watered)
        tried.append(_last(ready_in_days(rained, on, at, ground.timeline.y, ground.model, regions)))
    seen = [days for days in (*tried, middle) if days >= 0]
    out_of_sight = len(seen) <= len(tried)
    return ReadyRange(min(seen, default=-1), middle, -1 if out_of_sight else max(seen))


class HeldOff(NamedTuple):
    """Days on which pigs may come to all of some ground again (ordinals); None where nothing keeps them off."""

    work_until: int | None
    """After what was sown or done on it."""
    open_from: int | None
    """After flood months, other months off, or a purpose that closes the field."""


def held_off(state: GroundState, outline: BaseGeometry | None = None) -> HeldOff:
    """Return what keeps pigs off an outline, or the whole field, on a day, beside its rest and its green."""
    regions = np.unique(state.cells_under(outline))
    ground, on = state.ground, state.day.toordinal()
    shut = ground.timeline.shut[stretches_at(ground.timeline, regions, np.int32(on))]
    work = int(shut.max(initial=0))
    opened = on
    if ground.open_days is not None and len(regions):
        opened = int(ground.open_days.from_on(np.full(len(regions), on), regions).max())
    return HeldOff(work if work > on else None, opened if opened > on else None)


def _last(days: NDArray[np.int32]) -> int:
    return -1 if (days < 0).any() else int(days.max())


def _others(ground: FieldGround) -> list[tuple[Model, NDArray[np.float64]]]:
    """Return each model that is one standard deviation off, and 1/cover at the start of each stretch by it."""
    if not ground.others:
        model, times = ground.model, exp(LOG_SD)
        for factor in (times, 1 / times):
            faster = replace(model, loss=model.loss * factor), replace(model, regrowth=model.regrowth * factor)
            ground.others.extend(
                (other, other_covers(ground.timeline, ground.warmth, other, ground.worn)) for other in faster
            )
    return ground.others
