"""What happened on one field: stays, daily checks and what is told of, each with its cells."""

from __future__ import annotations

import numpy as np
from numpy.typing import NDArray
from shapely.geometry.base import BaseGeometry

from pigmap.geometry.frame import CellFrame
from pigmap.ground.history import History
from pigmap.ground.rasters import Rasters
from pigmap.ground.tables import COVER_BY_SCORE
from pigmap.ground.told import Told, covers_of, days_of, told_on
from pigmap.records.frozen import dataclass


@dataclass(frozen=True, slots=True, eq=False)
class Events:
    """Pieces of stays, and checks, that touch a field; a check is an event of no length that brings no load.

    A use that is only told of is a stay of no length without a load, and what it left is seen by nobody.
    """

    begin: NDArray[np.int64]
    """Ordinal of the first day, (n,)."""
    end: NDArray[np.int64]
    """Ordinal of the first day after it, (n,); of a check its own day."""
    daily: NDArray[np.float64]
    """Live weight [kg/m²], nitrogen and phosphorus [g/m²] of each day, (n, 3)."""
    seen_cover: NDArray[np.float64]
    """Cover that a check saw, or that a use is said to have left, share, (n,); not a number for stays."""
    comes: NDArray[np.bool_]
    """Whether pigs come at its begin, (n,): not where the stay only goes on with other weights."""
    goes: NDArray[np.bool_]
    """Whether pigs go at its end, (n,)."""
    looked: NDArray[np.bool_]
    """Whether its cover was seen on its day, (n,), and not told much later."""
    cells: list[NDArray[np.int64]]
    """Numbers of the cells of each."""

    def __len__(self) -> int:
        return len(self.cells)


def events_on(
    history: History, outline: BaseGeometry, frame: CellFrame, rasters: Rasters
) -> tuple[Events, NDArray[np.int64]]:
    """Return what happened on a field, given by its outline and its cells, and the cells said to be never used."""
    stays = history.stays
    near = np.flatnonzero(meets(history.stay_bounds, outline.bounds))
    looked = np.flatnonzero(meets(history.check_bounds, outline.bounds))
    checks = [history.checks[at] for at in looked]
    jobs = [history.told[at] for at in np.flatnonzero(meets(history.told_bounds, outline.bounds))]
    uids = [stays.rows[at].uid for at in near] + [check.uid for check in checks] + [job.uid for job in jobs]
    shapes = [stays.rows[at].ground for at in near] + list(history.looked_at[looked]) + [job.shape for job in jobs]
    cells = rasters.cells(frame, uids, shapes)
    recorded = len(near) + len(checks)
    told = told_on(jobs, cells[recorded:], frame.rows * frame.columns)
    on = np.array([check.checked_on.toordinal() for check in checks], dtype=np.int64)
    seen = np.array([COVER_BY_SCORE[check.rooting_score or 0] for check in checks], dtype=np.float64)
    pieces = np.flatnonzero(np.isin(stays.stay, near))
    no_pigs = np.zeros(len(checks), dtype=np.bool_)
    everything = Events(
        np.concatenate((stays.begin[pieces], on)),
        np.concatenate((stays.end[pieces], on)),
        np.concatenate((stays.daily[pieces], np.zeros((len(checks), 3)))),
        np.concatenate((np.full(len(pieces), np.nan), seen)),
        np.concatenate((~_same_as_before(stays.stay[pieces]), no_pigs)),
        np.concatenate((~_same_as_before(stays.stay[pieces][::-1])[::-1], no_pigs)),
        np.concatenate((np.zeros(len(pieces), dtype=np.bool_), ~no_pigs)),
        [*(cells[at] for at in np.searchsorted(near, stays.stay[pieces])), *cells[len(near) : recorded]],
    )
    return _touching(_with_told(everything, told)), told.never


def _with_told(recorded: Events, told: Told) -> Events:
    """Return events with the uses that were told of: pigs that came and went on a day, and then what they left."""
    if not told.used:
        return recorded
    jobs = [job for job, _ in told.used]
    on = np.array(days_of(jobs), dtype=np.int64)
    left = np.array(covers_of(jobs), dtype=np.float64)
    pigs = np.repeat([True, False], len(jobs))
    days = np.concatenate((on, on))
    cells = [its for _, its in told.used]
    return Events(
        np.concatenate((recorded.begin, days)),
        np.concatenate((recorded.end, days)),
        np.concatenate((recorded.daily, np.zeros((2 * len(jobs), 3)))),
        np.concatenate((recorded.seen_cover, np.full(len(jobs), np.nan), left)),
        np.concatenate((recorded.comes, pigs)),
        np.concatenate((recorded.goes, pigs)),
        np.concatenate((recorded.looked, np.zeros(2 * len(jobs), dtype=np.bool_))),
        [*recorded.cells, *cells, *cells],
    )


def _same_as_before(values: NDArray[np.int64]) -> NDArray[np.bool_]:
    same = np.zeros(len(values), dtype=np.bool_)
    same[1:] = values[1:] == values[:-1]
    return same


def _touching(events: Events) -> Events:
    kept = np.array([at for at, cells in enumerate(events.cells) if len(cells)], dtype=np.int64)
    return Events(
        events.begin[kept],
        events.end[kept],
        events.daily[kept],
        events.seen_cover[kept],
        events.comes[kept],
        events.goes[kept],
        events.looked[kept],
        [events.cells[at] for at in kept],
    )


def meets(bounds: NDArray[np.float64], other: tuple[float, float, float, float]) -> NDArray[np.bool_]:
    """Return which bounds (n, 4), as west, south, east, north, meet other ones."""
    west, south, east, north = other
    meeting: NDArray[np.bool_] = (
        (bounds[:, 0] <= east) & (bounds[:, 2] >= west) & (bounds[:, 1] <= north) & (bounds[:, 3] >= south)
    )
    return meeting
