"""What happened on one field: stays, daily checks, what is told of and work, each with its cells."""

from __future__ import annotations

from collections.abc import Sequence
from typing import NamedTuple

import numpy as np
from numpy.typing import ArrayLike, NDArray
from shapely.geometry.base import BaseGeometry

from pigmap.geometry.frame import CellFrame
from pigmap.ground.dung import falls
from pigmap.ground.history import History
from pigmap.ground.rasters import Rasters
from pigmap.ground.tables import COVER_BY_SCORE
from pigmap.ground.told import Told, covers_of, days_of, told_on
from pigmap.ground.work import Work
from pigmap.records.frozen import dataclass

NOT_SHUT = 0
"""Stands for the ordinal of a day up to which nothing keeps pigs off."""


@dataclass(frozen=True, slots=True, eq=False)
class Events:
    """Pieces of stays, checks and work that touch a field; a check is an event of no length that brings no load.

    A use that is only told of is a stay of no length without a load, and what it left is seen by nobody. Seed is a
    check that finds the ground bare.
    """

    begin: NDArray[np.int64]
    """Ordinal of the first day, (n,)."""
    end: NDArray[np.int64]
    """Ordinal of the first day after it, (n,); of a check its own day."""
    daily: NDArray[np.float64]
    """Live weight [kg/m²], nitrogen and phosphorus [g/m²] and wear [kg/m²] of each day, (n, 4)."""
    seen_cover: NDArray[np.float64]
    """Cover that a check saw, or that a use is said to have left, share, (n,); not a number for stays."""
    comes: NDArray[np.bool_]
    """Whether pigs come at its begin, (n,): not where the stay only goes on with other weights."""
    goes: NDArray[np.bool_]
    """Whether pigs go at its end, (n,)."""
    looked: NDArray[np.bool_]
    """Whether its cover was seen on its day, (n,), and not told much later."""
    of_work: NDArray[np.bool_]
    """Whether it is work of people, or stock that is no pigs, (n,)."""
    shut_until: NDArray[np.int64]
    """Ordinal of the first day on which pigs may come to it, (n,); `NOT_SHUT` where nothing keeps them off."""
    cells: list[NDArray[np.int64]]
    """Numbers of the cells of each."""

    def __len__(self) -> int:
        return len(self.cells)

    @property
    def sown(self) -> NDArray[np.bool_]:
        """Whether it is seed, (n,)."""
        sown: NDArray[np.bool_] = self.of_work & ~np.isnan(self.seen_cover)
        return sown

    @property
    def first_day(self) -> int | None:
        """Ordinal of the day on which pigs first came, are said to have been there, or someone first looked."""
        begins = self.begin[~self.of_work]
        return int(begins.min()) if len(begins) else None


def _events(
    cells: Sequence[NDArray[np.int64]],
    begin: ArrayLike,
    end: ArrayLike,
    *,
    daily: ArrayLike = 0.0,
    seen_cover: ArrayLike = np.nan,
    comes: ArrayLike = False,
    goes: ArrayLike = False,
    looked: ArrayLike = False,
    of_work: ArrayLike = False,
    shut_until: ArrayLike = NOT_SHUT,
) -> Events:
    count = len(cells)
    return Events(
        np.broadcast_to(np.asarray(begin, dtype=np.int64), count),
        np.broadcast_to(np.asarray(end, dtype=np.int64), count),
        np.broadcast_to(np.asarray(daily, dtype=np.float64), (count, 4)),
        np.broadcast_to(np.asarray(seen_cover, dtype=np.float64), count),
        np.broadcast_to(np.asarray(comes, dtype=np.bool_), count),
        np.broadcast_to(np.asarray(goes, dtype=np.bool_), count),
        np.broadcast_to(np.asarray(looked, dtype=np.bool_), count),
        np.broadcast_to(np.asarray(of_work, dtype=np.bool_), count),
        np.broadcast_to(np.asarray(shut_until, dtype=np.int64), count),
        list(cells),
    )


def events_on(
    history: History, outline: BaseGeometry, frame: CellFrame, rasters: Rasters
) -> tuple[Events, list[NDArray[np.int64]]]:
    """Return what happened on a field, given by its outline and its cells, and the cells that are marked.

    Marked are the cells said to be never used, and then those of each keep-out that is one in some months alone.
    """
    near = np.flatnonzero(meets(history.stay_bounds, outline.bounds))
    looked = np.flatnonzero(meets(history.check_bounds, outline.bounds))
    stays = [history.stays.rows[at] for at in near]
    checks = [history.checks[at] for at in looked]
    jobs = [history.told[at] for at in np.flatnonzero(meets(history.told_bounds, outline.bounds))]
    works = [history.work[at] for at in np.flatnonzero(meets(history.work_bounds, outline.bounds))]
    parts = (
        [(stay.uid, stay.ground) for stay in stays],
        [(check.uid, ground) for check, ground in zip(checks, history.looked_at[looked], strict=True)],
        [(job.uid, job.shape) for job in jobs],
        [(work.job.uid, work.job.shape) for work in works],
        [(each.uid, each.ground) for each in history.months.parts],
    )
    named = [each for part in parts for each in part]
    found = iter(rasters.cells(frame, [uid for uid, _ in named], [shape for _, shape in named]))
    of_stays, of_checks, of_told, of_work, of_months = ([next(found) for _ in part] for part in parts)
    told = told_on(jobs, of_told, frame.rows * frame.columns)
    on = [check.checked_on.toordinal() for check in checks]
    seen = [COVER_BY_SCORE[check.rooting_score or 0] for check in checks]
    everything = (
        *_of_stays(history, near, of_stays, _Field(outline, frame, rasters)),
        _events(of_checks, on, on, seen_cover=seen, looked=True),
        *_of_told(told),
        *_of_work(works, of_work),
    )
    return _touching(everything), [told.never, *of_months]


class _Field(NamedTuple):
    """The field on which something happened, and its cells."""

    outline: BaseGeometry
    frame: CellFrame
    rasters: Rasters


def _of_stays(
    history: History, near: NDArray[np.intp], cells: Sequence[NDArray[np.int64]], field: _Field
) -> list[Events]:
    stays = history.stays
    pieces = np.flatnonzero(np.isin(stays.stay, near))
    stay = stays.stay[pieces]
    of_stay = [cells[at] for at in np.searchsorted(near, stay)]
    comes, goes = ~_same_as_before(stay), ~_same_as_before(stay[::-1])[::-1]

    def events(which: NDArray[np.intp], its: Sequence[NDArray[np.int64]], dung: ArrayLike = 1.0) -> Events:
        at = pieces[which]
        daily = stays.daily[at].copy()
        daily[:, 1:3] *= np.reshape(np.asarray(dung, dtype=np.float64), (-1, 1))
        return _events(its, stays.begin[at], stays.end[at], daily=daily, comes=comes[which], goes=goes[which])

    in_zones = np.flatnonzero(stays.zone[pieces] >= 0)
    if not len(in_zones):
        return [events(np.arange(len(pieces)), of_stay)]
    even = np.flatnonzero(stays.zone[pieces] < 0)
    parts = _in_zones(history, pieces[in_zones], [of_stay[at] for at in in_zones], field)
    return [
        events(even, [of_stay[at] for at in even]),
        *(events(in_zones, [its[side] for its, _ in parts], [dung[side] for _, dung in parts]) for side in (0, 1)),
    ]


def _in_zones(
    history: History, pieces: NDArray[np.intp], cells: Sequence[NDArray[np.int64]], field: _Field
) -> list[tuple[tuple[NDArray[np.int64], NDArray[np.int64]], tuple[float, float]]]:
    """Return the cells of each piece inside and outside its zone, and how many times the even load falls there."""
    stays = history.stays
    zones = [stays.zones[at] for at in stays.zone[pieces]]
    names = [f"dung {stays.rows[stays.stay[at]].uid} {zone.first}" for at, zone in zip(pieces, zones, strict=True)]
    found = field.rasters.cells(field.frame, names, [zone.ground for zone in zones])
    made = []
    for at, name, zone, its, of_zone in zip(pieces, names, zones, cells, found, strict=True):
        inside, outside = field.rasters.parts(name, its, of_zone)
        paddock = stays.rows[stays.stay[at]].ground
        dung = falls(len(inside), len(outside), zone, paddock, field.outline, field.frame.cell_m**2)
        made.append(((inside, outside), dung))
    return made


def _of_told(told: Told) -> list[Events]:
    """Return the uses that were told of: pigs that came and went on a day, and then what they left."""
    jobs, cells = [job for job, _ in told.used], [its for _, its in told.used]
    on = days_of(jobs)
    used = _events(cells, on, on, comes=True, goes=True)
    return [used, _events(cells, on, on, seen_cover=covers_of(jobs))]


def _of_work(works: Sequence[Work], cells: Sequence[NDArray[np.int64]]) -> list[Events]:
    """Return work: first what days of it bring, then other stock that goes, then seed."""
    begin = np.array([work.begin for work in works], dtype=np.int64)
    end = np.array([work.end for work in works], dtype=np.int64)
    shut = np.array([work.shut_until for work in works], dtype=np.int64)
    daily = np.zeros((len(works), 4))
    daily[:, 1] = [work.daily_n_g_m2 for work in works]
    stock = [at for at, work in enumerate(works) if work.is_use]
    seed = [at for at, work in enumerate(works) if work.is_sown]
    last = end[stock] - 1
    return [
        _events(cells, begin, end, daily=daily, of_work=True, shut_until=shut),
        _events([cells[at] for at in stock], last, last, comes=True, goes=True, of_work=True),
        _events([cells[at] for at in seed], begin[seed], begin[seed], seen_cover=0.0, of_work=True),
    ]


def _same_as_before(values: NDArray[np.int64]) -> NDArray[np.bool_]:
    same = np.zeros(len(values), dtype=np.bool_)
    same[1:] = values[1:] == values[:-1]
    return same


def _touching(parts: Sequence[Events]) -> Events:
    """Return all events that hold a cell of the field, one part after the other."""
    cells = [its for part in parts for its in part.cells]
    kept = np.flatnonzero([len(its) > 0 for its in cells])

    def column(name: str) -> NDArray[np.generic]:
        return np.concatenate([getattr(part, name) for part in parts])[kept]

    names = ("begin", "end", "daily", "seen_cover", "comes", "goes", "looked", "of_work", "shut_until")
    return Events(**{name: column(name) for name in names}, cells=[cells[at] for at in kept])  # type: ignore[arg-type]


def meets(bounds: NDArray[np.float64], other: tuple[float, float, float, float]) -> NDArray[np.bool_]:
    """Return which bounds (n, 4), as west, south, east, north, meet other ones."""
    west, south, east, north = other
    meeting: NDArray[np.bool_] = (
        (bounds[:, 0] <= east) & (bounds[:, 2] >= west) & (bounds[:, 1] <= north) & (bounds[:, 3] >= south)
    )
    return meeting
