"""What happened on one field: stays and daily checks, each with its cells."""

from __future__ import annotations

import numpy as np
from numpy.typing import NDArray
from shapely.geometry.base import BaseGeometry

from pigmap.geometry.frame import CellFrame
from pigmap.ground.history import History
from pigmap.ground.rasters import Rasters
from pigmap.ground.tables import COVER_BY_SCORE
from pigmap.records.frozen import dataclass


@dataclass(frozen=True, slots=True, eq=False)
class Events:
    """Pieces of stays, and checks, that touch a field; a check is an event of no length that brings no load."""

    begin: NDArray[np.int64]
    """Ordinal of the first day, (n,)."""
    end: NDArray[np.int64]
    """Ordinal of the first day after it, (n,); of a check its own day."""
    daily: NDArray[np.float64]
    """Live weight [kg/m²], nitrogen and phosphorus [g/m²] of each day, (n, 3)."""
    seen_cover: NDArray[np.float64]
    """Cover that a check saw, share, (n,); not a number for stays."""
    comes: NDArray[np.bool_]
    """Whether pigs come at its begin, (n,): not where the stay only goes on with other weights."""
    goes: NDArray[np.bool_]
    """Whether pigs go at its end, (n,)."""
    cells: list[NDArray[np.int64]]
    """Numbers of the cells of each."""

    def __len__(self) -> int:
        return len(self.cells)


def events_on(history: History, outline: BaseGeometry, frame: CellFrame, rasters: Rasters) -> Events:
    """Return what happened on a field, given by its outline and its cells."""
    stays = history.stays
    near = np.flatnonzero(meets(history.stay_bounds, outline.bounds))
    looked = np.flatnonzero(meets(history.check_bounds, outline.bounds))
    checks = [history.checks[at] for at in looked]
    uids = [stays.rows[at].uid for at in near] + [check.uid for check in checks]
    shapes = [stays.rows[at].ground for at in near] + list(history.looked_at[looked])
    cells = rasters.cells(frame, uids, shapes)
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
        [*(cells[at] for at in np.searchsorted(near, stays.stay[pieces])), *cells[len(near) :]],
    )
    return _touching(everything)


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
        [events.cells[at] for at in kept],
    )


def meets(bounds: NDArray[np.float64], other: tuple[float, float, float, float]) -> NDArray[np.bool_]:
    """Return which bounds (n, 4), as west, south, east, north, meet other ones."""
    west, south, east, north = other
    meeting: NDArray[np.bool_] = (
        (bounds[:, 0] <= east) & (bounds[:, 2] >= west) & (bounds[:, 1] <= north) & (bounds[:, 3] >= south)
    )
    return meeting
