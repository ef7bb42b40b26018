"""The time line of every region: stretches of days with the same pigs, or none, on the ground."""

from __future__ import annotations

import numpy as np
from numpy.typing import NDArray

from pigmap.ground.cover import step
from pigmap.ground.events import Events
from pigmap.ground.model import Model
from pigmap.ground.regions import Regions
from pigmap.records.frozen import dataclass
from pigmap.weather.climate import Warmth

NEVER = -1
"""Stands for the ordinal of a day on which nothing ever happened."""


@dataclass(frozen=True, slots=True, eq=False)
class Timeline:
    """Stretches of all regions, region by region and in order of time; the first of each is before everything.

    A stretch lasts until the next of its region begins, the last one for good.
    """

    starts: NDArray[np.int32]
    """First stretch of each region, and at the end how many there are, (regions + 1,)."""
    region: NDArray[np.int32]
    """Region of each stretch, (n,)."""
    day: NDArray[np.int32]
    """Ordinal of its first day, (n,)."""
    here: NDArray[np.bool_]
    """Whether pigs are there, (n,)."""
    left: NDArray[np.int32]
    """Ordinal of the day on which pigs last left before it, (n,); `NEVER` if they never did."""
    seen: NDArray[np.int32]
    """Ordinal of the day of a daily check since the last pigs came, (n,); `NEVER` if there is none."""
    daily: NDArray[np.float32]
    """Live weight [kg/m²], nitrogen and phosphorus [g/m²] of each day, (3, n)."""
    total: NDArray[np.float32]
    """The same summed over all days before it, (3, n)."""
    y: NDArray[np.float64]
    """1/cover at its start, (n,)."""


def timeline_of(events: Events, regions: Regions, warmth: Warmth, model: Model) -> Timeline:
    """Return the time lines of all regions.

    Where stays overlap on the same ground their loads add up: every beginning, end and check opens a new stretch.
    """
    turns = _turns(events, regions, warmth.first)
    keep = np.flatnonzero(turns.last)
    region, day = turns.region[keep], turns.day[keep]
    here = np.cumsum(turns.comes)[keep] > 0
    daily = _daily(turns, keep, here)
    first = turns.opening[keep]
    starts = np.concatenate((np.flatnonzero(first), [len(keep)])).astype(np.int32)
    left, seen = _marks(turns, keep, here, day)
    lasts = np.where(np.concatenate((first[1:], [True])), 0, np.concatenate((day[1:], [0])) - day)
    gained = daily * lasts
    before = np.cumsum(gained, axis=1) - gained
    total = before - before[:, starts[:-1]][:, np.cumsum(first) - 1]
    growth = model.regrowth * (warmth.at(day + lasts) - warmth.at(day))
    y = _covers(starts, growth, model.loss * gained[0], _seen_y(turns, keep, model), model)
    return Timeline(
        starts,
        region.astype(np.int32),
        day.astype(np.int32),
        here,
        left.astype(np.int32),
        seen.astype(np.int32),
        daily.astype(np.float32),
        total.astype(np.float32),
        y,
    )


@dataclass(frozen=True, slots=True, eq=False)
class _Turns:
    """Everything that changes on a region on a day, sorted by region and day; several may fall on one day."""

    region: NDArray[np.int64]
    day: NDArray[np.int64]
    comes: NDArray[np.int64]
    """1 where pigs come, -1 where they go, 0 where a stay goes on, for a check and for the opening of a time line."""
    daily: NDArray[np.float64]
    """Change of what each day brings, (3, n)."""
    seen_cover: NDArray[np.float64]
    looked: NDArray[np.bool_]
    opening: NDArray[np.bool_]
    last: NDArray[np.bool_]
    """Whether it is the last of its region and day."""


def _turns(events: Events, regions: Regions, first_day: int) -> _Turns:
    is_check = ~np.isnan(events.seen_cover)
    of_check = is_check[regions.pair_event]
    of_stay = np.flatnonzero(~of_check)
    going, stay_event = regions.pair_region[of_stay], regions.pair_event[of_stay]
    every = np.arange(regions.count)
    region = np.concatenate((every, regions.pair_region, going))
    event = np.concatenate((np.full(regions.count, -1), regions.pair_event, stay_event))
    comes = events.comes[regions.pair_event].astype(np.int64)
    goes = events.goes[stay_event].astype(np.int64)
    kind = np.concatenate((np.zeros(regions.count, dtype=np.int64), comes, -goes))
    sign = np.concatenate((np.ones(regions.count + len(comes)), np.full(len(going), -1.0)))
    day = np.concatenate((np.full(regions.count, first_day), events.begin[regions.pair_event], events.end[stay_event]))
    span = int(day.max(initial=first_day)) - first_day + 1
    key, order = _sorted(region * span + (day - first_day))
    event, kind, sign = event[order], kind[order], sign[order]
    daily = np.concatenate((events.daily, np.zeros((1, 3))))  # the opening, event -1, brings nothing
    saw = np.concatenate((events.seen_cover, [np.nan]))
    return _Turns(
        key // span,
        key % span + first_day,
        kind,
        np.stack([each[event] for each in np.ascontiguousarray(daily.T)]) * sign,
        saw[event],
        np.concatenate((events.looked, [False]))[event],
        event < 0,
        np.concatenate((key[1:] != key[:-1], [True])),
    )


def _sorted(key: NDArray[np.int64]) -> tuple[NDArray[np.int64], NDArray[np.int64]]:
    """Return keys in rising order, equal ones as they came, and where each came from.

    Key and place are sorted as one number, far faster than numpy's stable sort; a farm of a billion of both fits.
    """
    bits = len(key).bit_length()
    both = np.sort(key << bits | np.arange(len(key)))
    return both >> bits, both & ((1 << bits) - 1)


def _daily(turns: _Turns, keep: NDArray[np.int64], here: NDArray[np.bool_]) -> NDArray[np.float64]:
    """Return what each day of a stretch brings: exactly nothing where no pigs are, whatever the sums left over."""
    running = np.cumsum(turns.daily, axis=1)[:, keep]
    return np.where(here, np.maximum(running, 0.0), 0.0)


def _marks(
    turns: _Turns, keep: NDArray[np.int64], here: NDArray[np.bool_], day: NDArray[np.int64]
) -> tuple[NDArray[np.int64], NDArray[np.int64]]:
    """Return the day pigs last left, and the day a check last saw the ground since pigs came, of each stretch."""
    group = np.concatenate(([0], np.cumsum(turns.last)[:-1]))
    came = np.bincount(group, weights=turns.comes > 0) > 0
    went = (np.bincount(group, weights=turns.comes < 0) > 0) & ~here
    looked = np.bincount(group, weights=turns.looked) > 0
    opening = turns.opening[keep]
    left = _carried(np.where(went, day, NEVER), went | opening)
    seen = _carried(np.where(looked, day, NEVER), looked | came | opening)
    return left, seen


def _carried(values: NDArray[np.int64], at: NDArray[np.bool_]) -> NDArray[np.int64]:
    """Return the last value that was set, at or before each place; the first place is set."""
    return values[np.maximum.accumulate(np.where(at, np.arange(len(at)), 0))]


def _seen_y(turns: _Turns, keep: NDArray[np.int64], model: Model) -> NDArray[np.float64]:
    """Return 1/cover where a check saw it at the start of a stretch; not a number elsewhere."""
    # Of several checks on one day the last counts.
    group = np.concatenate(([0], np.cumsum(turns.last)[:-1]))
    found = np.full(len(keep), np.nan)
    looked = np.flatnonzero(~np.isnan(turns.seen_cover))
    found[group[looked]] = 1.0 / np.maximum(turns.seen_cover[looked], model.least)
    return found


def _covers(
    starts: NDArray[np.int32],
    growth: NDArray[np.float64],
    loss: NDArray[np.float64],
    seen_y: NDArray[np.float64],
    model: Model,
) -> NDArray[np.float64]:
    """Return 1/cover at the start of each stretch: the first stretches of all regions, then the second, and so on."""
    y = np.empty(len(growth))
    lengths = np.diff(starts)
    longest_first = np.argsort(-lengths, kind="stable")
    begins, lengths = starts[:-1][longest_first].astype(np.int64), lengths[longest_first]
    y[begins] = 1.0 / model.most
    for rank in range(1, int(lengths.max(initial=0))):
        at = begins[: int(np.searchsorted(-lengths, -rank, side="left"))] + rank
        stepped = step(y[at - 1], growth[at - 1], loss[at - 1], most=model.most, least=model.least)
        y[at] = np.where(np.isnan(seen_y[at]), stepped, seen_y[at])
    return y
