"""The time line of every region: stretches of days with the same pigs, or none, on the ground."""

from __future__ import annotations

import numpy as np
from numpy.typing import NDArray

from pigmap.ground.cover import step
from pigmap.ground.events import NOT_SHUT, Events
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
    sown: NDArray[np.int32]
    """Ordinal of the day on which it was last sown, (n,); `NEVER` if it never was."""
    shut: NDArray[np.int32]
    """Ordinal of the first day on which pigs may come after work on it, (n,); `NOT_SHUT` where there was none."""
    brought: NDArray[np.float32]
    """`total` and `daily` side by side, (n, 7): one place in memory to look up, not seven."""
    saw: NDArray[np.float64]
    """1/cover at its start where somebody saw it or sowed, (n,); not a number elsewhere."""
    y: NDArray[np.float64]
    """1/cover at its start, (n,)."""

    @property
    def total(self) -> NDArray[np.float32]:
        """Live weight [kg·d/m²], nitrogen and phosphorus [g/m²] summed over all days before it, (3, n)."""
        return self.brought[:, :3].T

    @property
    def daily(self) -> NDArray[np.float32]:
        """Live weight [kg/m²], nitrogen and phosphorus [g/m²] and wear [kg/m²] of each day, (4, n)."""
        return self.brought[:, 3:].T


def timeline_of(events: Events, regions: Regions, warmth: Warmth, model: Model, worn: NDArray[np.float64]) -> Timeline:
    """Return the time lines of all regions; ``worn`` are days since the first day of the warmth, wet ones for more.

    Where stays overlap on the same ground their loads add up: every beginning, end and check opens a new stretch.
    """
    turns = _turns(events, regions, warmth.first)
    keep = np.flatnonzero(turns.last)
    region, day = turns.region[keep], turns.day[keep]
    here = np.cumsum(turns.comes)[keep] > 0
    daily = _daily(turns, keep)
    first = turns.opening[keep]
    starts = np.concatenate((np.flatnonzero(first), [len(keep)])).astype(np.int32)
    left, seen, sown = _marks(turns, keep, here, day)
    lasts = _lasts(first, day)
    gained = daily[:3] * lasts
    before = np.cumsum(gained, axis=1) - gained
    total = before - before[:, starts[:-1]][:, np.cumsum(first) - 1]
    saw = _seen_y(turns, keep, model)
    wear = daily[3] * worn_between(worn, warmth, day, day + lasts)
    growth = warmth.at(day + lasts) - warmth.at(day)
    return Timeline(
        starts,
        region.astype(np.int32),
        day.astype(np.int32),
        here,
        left.astype(np.int32),
        seen.astype(np.int32),
        sown.astype(np.int32),
        _shut(turns, region, first).astype(np.int32),
        np.concatenate((total, daily)).T.astype(np.float32, order="C"),
        saw,
        covers(starts, growth, wear, saw, model),
    )


def joined(line: Timeline, kept: NDArray[np.bool_], fresh: Timeline) -> Timeline:
    """Return the time lines of the regions that are kept, closed up, and then others."""
    stays = np.flatnonzero(kept[line.region])
    lengths = np.concatenate((np.diff(line.starts)[kept], np.diff(fresh.starts)))
    starts = np.concatenate(([0], np.cumsum(lengths))).astype(np.int32)

    def both(name: str) -> NDArray[np.generic]:
        return np.concatenate((getattr(line, name)[stays], getattr(fresh, name)))

    names = ("day", "here", "left", "seen", "sown", "shut", "brought", "saw", "y")
    region = np.repeat(np.arange(len(lengths), dtype=np.int32), lengths)
    return Timeline(starts, region, **{name: both(name) for name in names})  # type: ignore[arg-type]


def _lasts(first: NDArray[np.bool_], day: NDArray[np.int64]) -> NDArray[np.int64]:
    """Return the days of each stretch; 0 for the last of each region, which has no end."""
    ends = np.concatenate((day[1:], day[:1]))
    return np.where(np.concatenate((first[1:], [True])), 0, ends - day)


def worn_between(
    worn: NDArray[np.float64], warmth: Warmth, day: NDArray[np.int64], until: NDArray[np.int64]
) -> NDArray[np.float64]:
    """Return the days from some days to others (ordinals), wet ones counted for more."""
    first = np.int64(warmth.first)
    return np.asarray(worn.take(until - first, mode="clip") - worn.take(day - first, mode="clip"), dtype=np.float64)


def other_covers(line: Timeline, warmth: Warmth, model: Model, worn: NDArray[np.float64]) -> NDArray[np.float64]:
    """Return 1/cover at the start of each stretch of a time line as it would be with the numbers of another model."""
    day = line.day.astype(np.int64)
    first = np.zeros(len(day), dtype=np.bool_)
    first[line.starts[:-1]] = True
    until = day + _lasts(first, day)
    wear = line.daily[3] * worn_between(worn, warmth, day, until)
    return covers(line.starts, warmth.at(until) - warmth.at(day), wear, line.saw, model)


@dataclass(frozen=True, slots=True, eq=False)
class _Turns:
    """Everything that changes on a region on a day, sorted by region and day; several may fall on one day."""

    region: NDArray[np.int64]
    day: NDArray[np.int64]
    comes: NDArray[np.int64]
    """1 where pigs come, -1 where they go, 0 where a stay goes on, for a check and for the opening of a time line."""
    brings: NDArray[np.int64]
    """1 where something begins that may bring something every day, -1 where it ends, 0 for a check."""
    daily: NDArray[np.float64]
    """Change of what each day brings, (4, n)."""
    seen_cover: NDArray[np.float64]
    looked: NDArray[np.bool_]
    sown: NDArray[np.bool_]
    shut_until: NDArray[np.int64]
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
    brings = np.concatenate((np.zeros(regions.count, dtype=np.int64), ~of_check, np.full(len(going), -1)))
    sign = np.concatenate((np.ones(regions.count + len(comes)), np.full(len(going), -1.0)))
    day = np.concatenate((np.full(regions.count, first_day), events.begin[regions.pair_event], events.end[stay_event]))
    span = int(day.max(initial=first_day)) - first_day + 1
    key, order = _sorted(region * span + (day - first_day))
    event, kind, sign = event[order], kind[order], sign[order]
    daily = np.concatenate((events.daily, np.zeros((1, 4))))  # the opening, event -1, brings nothing
    saw = np.concatenate((events.seen_cover, [np.nan]))
    return _Turns(
        key // span,
        key % span + first_day,
        kind,
        brings[order],
        np.stack([each[event] for each in np.ascontiguousarray(daily.T)]) * sign,
        saw[event],
        np.concatenate((events.looked, [False]))[event],
        np.concatenate((events.sown, [False]))[event],
        np.concatenate((events.shut_until, [NOT_SHUT]))[event],
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


def _daily(turns: _Turns, keep: NDArray[np.int64]) -> NDArray[np.float64]:
    """Return what each day of a stretch brings: exactly nothing where nothing is, whatever the sums left over."""
    running = np.cumsum(turns.daily, axis=1)[:, keep]
    return np.where(np.cumsum(turns.brings)[keep] > 0, np.maximum(running, 0.0), 0.0)


def _group(turns: _Turns) -> NDArray[np.int64]:
    """Return the stretch that each turn belongs to."""
    return np.concatenate(([0], np.cumsum(turns.last)[:-1]))


def _marks(
    turns: _Turns, keep: NDArray[np.int64], here: NDArray[np.bool_], day: NDArray[np.int64]
) -> tuple[NDArray[np.int64], NDArray[np.int64], NDArray[np.int64]]:
    """Return the day pigs last left, that of the last check since pigs came or seed, and that of seed."""
    group = _group(turns)
    came = np.bincount(group, weights=turns.comes > 0) > 0
    went = (np.bincount(group, weights=turns.comes < 0) > 0) & ~here
    looked = np.bincount(group, weights=turns.looked) > 0
    seeded = np.bincount(group, weights=turns.sown) > 0
    opening = turns.opening[keep]
    left = _carried(np.where(went, day, NEVER), went | opening)
    seen = _carried(np.where(looked & ~seeded, day, NEVER), looked | came | seeded | opening)
    sown = _carried(np.where(seeded, day, NEVER), seeded | opening)
    return left, seen, sown


def _shut(turns: _Turns, region: NDArray[np.int64], first: NDArray[np.bool_]) -> NDArray[np.int64]:
    """Return the latest day up to which work that was begun keeps pigs off, of each stretch."""
    if not turns.shut_until.any():
        return np.zeros(len(region), dtype=np.int64)
    latest = np.maximum.reduceat(turns.shut_until, np.flatnonzero(np.concatenate(([True], turns.last[:-1]))))
    apart = (np.cumsum(first) - 1) << 32  # no region sees what is shut in the one before it
    shut: NDArray[np.int64] = np.maximum.accumulate(latest + apart) - apart
    return shut


def _carried(values: NDArray[np.int64], at: NDArray[np.bool_]) -> NDArray[np.int64]:
    """Return the last value that was set, at or before each place; the first place is set."""
    return values[np.maximum.accumulate(np.where(at, np.arange(len(at)), 0))]


def _seen_y(turns: _Turns, keep: NDArray[np.int64], model: Model) -> NDArray[np.float64]:
    """Return 1/cover where a check saw it, or seed went in, at the start of a stretch; not a number elsewhere."""
    # Of several checks on one day the last counts.
    group = _group(turns)
    found = np.full(len(keep), np.nan)
    looked = np.flatnonzero(~np.isnan(turns.seen_cover))
    found[group[looked]] = 1.0 / np.maximum(turns.seen_cover[looked], model.least)
    return found


def covers(
    starts: NDArray[np.int32],
    warm: NDArray[np.float64],
    wear: NDArray[np.float64],
    saw: NDArray[np.float64],
    model: Model,
) -> NDArray[np.float64]:
    """Return 1/cover at the start of each stretch: the first stretches of all regions, then the second, and so on.

    Parameters
    ----------
    starts
        First stretch of each region, and how many there are, (regions + 1,).
    warm, wear
        Degree-days [°C·d] and wear [kg·d/m²] of each stretch, (n,).
    saw
        1/cover where it was seen at the start of a stretch, (n,); not a number elsewhere.
    model
        The numbers to compute with.
    """
    growth, loss = model.regrowth * warm, model.loss * wear
    y = np.empty(len(growth))
    lengths = np.diff(starts)
    longest_first = np.argsort(-lengths, kind="stable")
    begins, lengths = starts[:-1][longest_first].astype(np.int64), lengths[longest_first]
    y[begins] = 1.0 / model.most
    for rank in range(1, int(lengths.max(initial=0))):
        at = begins[: int(np.searchsorted(-lengths, -rank, side="left"))] + rank
        stepped = step(y[at - 1], growth[at - 1], loss[at - 1], most=model.most, least=model.least)
        y[at] = np.where(np.isnan(saw[at]), stepped, saw[at])
    return y
