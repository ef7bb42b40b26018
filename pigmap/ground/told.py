"""What people tell of ground from before its records: which cells it lies on, and what follows for each."""

from __future__ import annotations

from collections.abc import Iterable, Sequence
from datetime import date
from itertools import pairwise

import numpy as np
from numpy.typing import NDArray

from pigmap.geometry.cells import cells_inside, frame_over
from pigmap.ground.tables import COVER_BY_SCORE
from pigmap.records import Farm, Field, GroundJob, GroundJobKind
from pigmap.records.frozen import dataclass

Cells = NDArray[np.int64]
_SLIVER = 0.002
"""Shares of a piece of ground that are smaller come from edges that do not quite meet."""


@dataclass(frozen=True, slots=True, eq=False)
class Told:
    """What was told of one field.

    A use of which somebody knows the day is pigs that left on that day: in 'about autumn 2024' on the middle day of
    the season, which is at most half a season off. From it rest and rooting follow as from a stay; what is recorded
    later counts from its own day on.
    """

    used: tuple[tuple[GroundJob, Cells], ...]
    """Uses whose day is known, each with the cells that nothing told later covers."""
    never: Cells
    """Cells of which someone said that they were never used."""


def what_was(farm: Farm) -> tuple[GroundJob, ...]:
    """Return what was told of the time before the records, from below to above."""
    told = (job for job in farm.ground_jobs.values() if job.kind.tells_what_was)
    return tuple(sorted(told, key=lambda job: (job.position, job.uid)))


def told_on(jobs: Sequence[GroundJob], cells: Sequence[Cells], size: int) -> Told:
    """Return what holds on the cells of a field: what was told later lies over what was told earlier.

    Parameters
    ----------
    jobs
        From below to above.
    cells
        Numbers of the cells of each.
    size
        Number of cells of the field's frame.
    """
    if not jobs:
        return Told((), np.empty(0, dtype=np.int64))
    top = np.full(size, -1, dtype=np.int64)
    for at, its in enumerate(cells):
        top[its] = at
    left = [(job, its[top[its] == at]) for at, (job, its) in enumerate(zip(jobs, cells, strict=True))]
    used = tuple((job, its) for job, its in left if _is_use(job) and len(its))
    never = [its for job, its in left if job.kind is GroundJobKind.NEVER_USED]
    return Told(used, np.concatenate([np.empty(0, dtype=np.int64), *never]))


def records_begin(farm: Farm, field_uid: str, today: date) -> date | None:
    """Return the first day on which pigs are recorded in a field's paddocks, up to today; None if none are."""
    its = {uid for uid, paddock in farm.paddocks.items() if paddock.field_uid == field_uid}
    days = (stay.in_on for stay in farm.stays.values() if stay.paddock_uid in its and stay.in_on <= today)
    return min(days, default=None)


_last: tuple[Farm, Field, list[tuple[GroundJob | None, float]]] | None = None


def told_shares(farm: Farm, field: Field) -> list[tuple[GroundJob | None, float]]:
    """Return what was told of a field and of which share of it, the largest first; None is what nobody told of.

    The last answer is kept until anything told, or the field, is another: a card asks on every day that is shown.
    """
    global _last
    if _last is None or _last[0].ground_jobs is not farm.ground_jobs or _last[1] is not field:
        _last = farm, field, _shares(farm, field)
    return _last[2]


def _shares(farm: Farm, field: Field) -> list[tuple[GroundJob | None, float]]:
    frame, jobs = frame_over(field), what_was(farm)
    cells, starts = cells_inside(frame, [field.outline, *(job.shape for job in jobs)])
    top = np.zeros(frame.rows * frame.columns, dtype=np.int64)
    for at, (first, last) in enumerate(pairwise(starts[1:].tolist()), start=1):
        top[cells[first:last]] = at
    counts = np.bincount(top[cells[: starts[1]]], minlength=len(jobs) + 1)
    shares = zip((None, *jobs), (counts / max(int(counts.sum()), 1)).tolist(), strict=True)
    return sorted((each for each in shares if each[1] > _SLIVER), key=lambda each: -each[1])


def _is_use(job: GroundJob) -> bool:
    """Whether it says that pigs were there, and when; without a day the ground stays unknown."""
    return job.kind is GroundJobKind.USED_BEFORE and job.happened_on is not None


def days_of(jobs: Iterable[GroundJob]) -> list[int]:
    """Return the ordinals of the days on which ground was used."""
    return [job.happened_on.toordinal() for job in jobs if _is_use(job) and job.happened_on is not None]


def covers_of(jobs: Iterable[GroundJob]) -> list[float]:
    """Return the cover that each use left; not a number where nobody said how hard it was."""
    return [np.nan if job.rooting_score is None else COVER_BY_SCORE[job.rooting_score] for job in jobs]
