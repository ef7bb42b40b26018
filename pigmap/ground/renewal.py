"""The ground after a small change: only the regions that it touches are made anew.

An event is known by a scattered 64-bit number of all that it is, its cells included, and the history of a cell by the
sum of those of its events. So the numbers of two revisions tell which events came and went, and taking theirs off and
adding them gives the new history of the cells they lie on.
"""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import replace
from typing import NamedTuple

import numpy as np
from numpy.typing import NDArray

from pigmap.geometry.frame import CellFrame
from pigmap.ground.events import Events
from pigmap.ground.model import Model
from pigmap.ground.regions import Regions, scattered
from pigmap.ground.timeline import Timeline, joined, timeline_of
from pigmap.records.frozen import dataclass
from pigmap.weather.climate import Warmth

_MOST_SHARE = 0.25
"""Share of the ground that a small change may touch; beyond it all is made anew. Own choice."""
_MOST_TIMES = 1.5
"""How many times the regions may grow by small changes before all is made anew. Own choice."""
_ALWAYS = 100
"""Regions that may always be added to that."""


@dataclass(frozen=True, slots=True, eq=False)
class Basis:
    """What a field's ground is made from beside its events; it must be the same for a small change."""

    frame: CellFrame
    within: NDArray[np.bool_]
    """Which cells are of the field, (rows, columns)."""
    model: Model
    warmth: Warmth
    worn: NDArray[np.float64]
    marks: Sequence[NDArray[np.int64]]

    def is_like(self, other: Basis) -> bool:
        """Whether another revision has the same."""
        same = self.within is other.within and self.warmth is other.warmth and self.worn is other.worn
        return same and self.frame == other.frame and self.model == other.model and _same(self.marks, other.marks)


@dataclass(frozen=True, slots=True, eq=False)
class Made:
    """Regions and time lines of a field at one revision, and what the next one begins from."""

    basis: Basis
    events: Events
    numbers: NDArray[np.uint64]
    """What each event is known by, (events,)."""
    regions: Regions
    timeline: Timeline
    at_first: int
    """Regions when all was last made anew."""


def made(basis: Basis, events: Events, before: Made | None = None) -> Made:
    """Return regions and time lines, from those before where the change is small."""
    numbers = numbers_of(events)
    if before is not None and before.basis.is_like(basis):
        renewed = _renewed(before, events, numbers)
        if renewed is not None:
            return renewed
    regions = Regions.of(basis.within, events.cells, basis.marks, numbers)
    timeline = timeline_of(events, regions, basis.warmth, basis.model, basis.worn)
    return Made(basis, events, numbers, regions, timeline, regions.count)


def numbers_of(events: Events) -> NDArray[np.uint64]:
    """Return a number for each event that is another if anything of it is another."""
    columns = [events.begin, events.end, events.shut_until, *events.daily.T, events.seen_cover]
    flags = events.comes * 1 + events.goes * 2 + events.looked * 4 + events.of_work * 8
    places = np.fromiter(map(id, events.cells), dtype=np.uint64, count=len(events))  # arrays that are kept stay theirs
    number = scattered(places)
    for column in (*columns, flags):
        bits = np.ascontiguousarray(column, dtype=np.float64).view(np.uint64)
        number = scattered(number + bits)
    return number


class _Changed(NamedTuple):
    gone: NDArray[np.intp]
    """Events of the old revision."""
    new: NDArray[np.intp]
    """Events of the new one."""
    now: NDArray[np.intp]
    """Where each event of the old one is in the new one, (old events,); -1 where it is gone."""


def _changed(before: NDArray[np.uint64], after: NDArray[np.uint64]) -> _Changed:
    """Return what came and went between two sets of numbers; of equal ones each counts."""
    old, new = np.argsort(before, kind="stable"), np.argsort(after, kind="stable")
    place = np.searchsorted(after[new], before[old], side="left") + _ranks(before[old])
    held = place < len(after)
    held[held] = after[new][place[held]] == before[old][held]
    now = np.full(len(before), -1, dtype=np.intp)
    now[old[held]] = new[place[held]]
    is_new = np.ones(len(after), dtype=np.bool_)
    is_new[now[now >= 0]] = False
    return _Changed(np.flatnonzero(now < 0), np.flatnonzero(is_new), now)


def _ranks(ordered: NDArray[np.uint64]) -> NDArray[np.intp]:
    """Return how many equal numbers stand before each of a rising row."""
    return np.arange(len(ordered)) - np.searchsorted(ordered, ordered, side="left")


def _same(one: Sequence[NDArray[np.int64]], other: Sequence[NDArray[np.int64]]) -> bool:
    return len(one) == len(other) and all(np.array_equal(its, others) for its, others in zip(one, other, strict=True))


def _renewed(before: Made, events: Events, numbers: NDArray[np.uint64]) -> Made | None:
    """Return the ground after a change; None where it is too large to be made from what was before."""
    changed, old, basis = _changed(before.numbers, numbers), before.regions, before.basis
    cells = [before.events.cells[at] for at in changed.gone] + [events.cells[at] for at in changed.new]
    if sum(map(len, cells)) > _MOST_SHARE * old.region_of.size:
        return None
    history = _history(before, events, numbers, changed)
    is_touched = _touched(old, cells)
    of_touched = np.flatnonzero(is_touched[old.region_of.ravel()])
    if not len(of_touched):  # what came and went lies off the field, or nothing did: the same ground
        same = replace(old, pair_event=changed.now[old.pair_event], history=history)
        return Made(basis, events, numbers, same, before.timeline, before.at_first)
    parts = _Parts.of(history, of_touched, old.region_of.ravel())
    kept = ~is_touched[:-1]
    if kept.sum() + len(parts.first) > _MOST_TIMES * before.at_first + _ALWAYS:
        return None
    fresh = Regions(
        old.region_of,
        len(parts.first),
        *_pairs(old, parts, changed, events, is_touched),
        old.marked[:, parts.parent],
        history,
    )
    line = timeline_of(events, fresh, basis.warmth, basis.model, basis.worn)
    regions = _closed_up(old, kept, changed, fresh, of_touched, parts)
    return Made(basis, events, numbers, regions, joined(before.timeline, kept, line), before.at_first)


def _history(before: Made, events: Events, numbers: NDArray[np.uint64], changed: _Changed) -> NDArray[np.uint64]:
    history = before.regions.history.copy()
    for at in changed.gone:
        history[before.events.cells[at]] -= before.numbers[at]
    for at in changed.new:
        history[events.cells[at]] += numbers[at]
    return history


def _touched(old: Regions, cells: Sequence[NDArray[np.int64]]) -> NDArray[np.bool_]:
    """Return which old regions hold some of the cells, (count + 1,); the last stands for -1, outside the field."""
    is_touched = np.zeros(old.count + 1, dtype=np.bool_)
    for its in cells:
        is_touched[old.region_of.ravel()[its]] = True
    is_touched[-1] = False
    return is_touched


def _closed_up(
    old: Regions,
    kept: NDArray[np.bool_],
    changed: _Changed,
    fresh: Regions,
    of_touched: NDArray[np.intp],
    parts: _Parts,
) -> Regions:
    """Return the old regions that are kept, closed up, and then the fresh ones."""
    count = int(kept.sum())
    place = np.append(np.where(kept, np.cumsum(kept) - 1, -1), -1)
    region_of = place[old.region_of.ravel()]
    region_of[of_touched] = count + parts.part
    stays = kept[old.pair_region]
    return Regions(
        region_of.reshape(old.region_of.shape),
        count + fresh.count,
        np.concatenate((place[old.pair_region[stays]], fresh.pair_region + count)),
        np.concatenate((changed.now[old.pair_event[stays]], fresh.pair_event)),
        np.concatenate((old.marked[:, kept], fresh.marked), axis=1),
        fresh.history,
    )


class _Parts(NamedTuple):
    """The new regions on the ground of those that a change touches."""

    part: NDArray[np.intp]
    """Part of each cell."""
    first: NDArray[np.intp]
    """A cell of each part."""
    parent: NDArray[np.intp]
    """The old region of which each part is."""

    @staticmethod
    def of(history: NDArray[np.uint64], cells: NDArray[np.intp], region_of: NDArray[np.intp]) -> _Parts:
        # Of one old region parts are told apart by their histories; two old ones may have become alike.
        _, first, part = np.unique(history[cells], return_index=True, return_inverse=True)
        return _Parts(part, cells[first], region_of[cells[first]])


def _pairs(
    old: Regions, parts: _Parts, changed: _Changed, events: Events, is_touched: NDArray[np.bool_]
) -> tuple[NDArray[np.int64], NDArray[np.int64]]:
    """Return pairs of part and event: those of its old region that are still there, and the new ones on its cells."""
    touched = np.flatnonzero(is_touched[old.pair_region] & (changed.now[old.pair_event] >= 0))
    by_region = touched[np.argsort(old.pair_region[touched], kind="stable")]
    ordered = old.pair_region[by_region]
    begin, end = np.searchsorted(ordered, parts.parent), np.searchsorted(ordered, parts.parent, side="right")
    counts = end - begin
    which = np.repeat(begin - (np.cumsum(counts) - counts), counts) + np.arange(counts.sum())
    part_of = [np.repeat(np.arange(len(counts)), counts)]
    event_of = [changed.now[old.pair_event[by_region[which]]]]
    for at in changed.new:
        here = np.flatnonzero(np.isin(parts.first, events.cells[at]))
        part_of.append(here)
        event_of.append(np.full(len(here), at))
    return np.concatenate(part_of).astype(np.int64), np.concatenate(event_of).astype(np.int64)
