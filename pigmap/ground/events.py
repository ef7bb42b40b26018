"""What happened on one field: stays and daily checks, each with its cells."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass
from datetime import date

import numpy as np
import shapely
from numpy.typing import NDArray
from shapely.geometry.base import BaseGeometry

from pigmap.geometry.frame import CellFrame
from pigmap.ground.rasters import Rasters
from pigmap.ground.stays import Stays
from pigmap.ground.tables import COVER_BY_SCORE
from pigmap.records import Check, Farm, Stay


@dataclass(frozen=True, slots=True, eq=False)
class Events:
    """Stays and checks that touch a field; a check is an event of no length that brings no load."""

    begin: NDArray[np.int64]
    """Ordinal of the first day, (n,)."""
    end: NDArray[np.int64]
    """Ordinal of the first day after it, (n,); of a check its own day."""
    daily: NDArray[np.float64]
    """Live weight [kg/m²], nitrogen and phosphorus [g/m²] of each day, (n, 3)."""
    seen_cover: NDArray[np.float64]
    """Cover that a check saw, share, (n,); not a number for stays."""
    cells: list[NDArray[np.int64]]
    """Numbers of the cells of each."""

    def __len__(self) -> int:
        return len(self.cells)


def events_on(farm: Farm, stays: Stays, outline: BaseGeometry, frame: CellFrame, rasters: Rasters) -> Events:
    """Return what happened on a field, given by its outline and its cells."""
    near = _near(stays.rows, outline)
    checks = _checks(farm, stays.rows, outline)
    uids = [stays.rows[at].uid for at in near] + [check.uid for check, _ in checks]
    shapes: list[BaseGeometry] = [stays.rows[at].ground for at in near]
    shapes += [ground for _, ground in checks]
    cells = rasters.cells(frame, uids, shapes)
    on = np.array([check.checked_on.toordinal() for check, _ in checks], dtype=np.int64)
    seen = np.array([COVER_BY_SCORE[check.rooting_score or 0] for check, _ in checks], dtype=np.float64)
    everything = Events(
        np.concatenate((stays.begin[near], on)),
        np.concatenate((stays.end[near], on)),
        np.concatenate((stays.daily[near], np.zeros((len(checks), 3)))),
        np.concatenate((np.full(len(near), np.nan), seen)),
        cells,
    )
    return _touching(everything)


def _touching(events: Events) -> Events:
    kept = np.array([at for at, cells in enumerate(events.cells) if len(cells)], dtype=np.int64)
    return Events(
        events.begin[kept],
        events.end[kept],
        events.daily[kept],
        events.seen_cover[kept],
        [events.cells[at] for at in kept],
    )


def _near(stays: Sequence[Stay], outline: BaseGeometry) -> NDArray[np.int64]:
    """Return which stays have bounds that meet those of the field."""
    bounds = shapely.bounds(np.array([stay.ground for stay in stays], dtype=np.object_)).reshape(-1, 4)
    return np.flatnonzero(meets(bounds, outline.bounds))


def meets(bounds: NDArray[np.float64], other: tuple[float, float, float, float]) -> NDArray[np.bool_]:
    """Return which bounds (n, 4), as west, south, east, north, meet other ones."""
    west, south, east, north = other
    meeting: NDArray[np.bool_] = (
        (bounds[:, 0] <= east) & (bounds[:, 2] >= west) & (bounds[:, 1] <= north) & (bounds[:, 3] >= south)
    )
    return meeting


def _checks(farm: Farm, stays: Sequence[Stay], outline: BaseGeometry) -> list[tuple[Check, BaseGeometry]]:
    """Return the checks that scored the rooting near a field, with the ground they looked at, in order of time."""
    of_paddock: dict[str, list[Stay]] = {}
    for stay in stays:
        of_paddock.setdefault(stay.paddock_uid, []).append(stay)
    scored = sorted(
        (check for check in farm.checks.values() if check.rooting_score is not None),
        key=lambda check: (check.checked_on, check.uid),
    )
    found = []
    for check in scored:
        ground = _looked_at(farm, check, of_paddock.get(check.paddock_uid, []))
        if ground is not None and meets(np.array([ground.bounds]), outline.bounds)[0]:
            found.append((check, ground))
    return found


def _looked_at(farm: Farm, check: Check, stays: Sequence[Stay]) -> BaseGeometry | None:
    """Return the ground of the last stay there that had begun by then, else the paddock as it is drawn."""
    before = [stay for stay in stays if stay.in_on <= check.checked_on]
    if before:
        return max(before, key=_first_day).ground
    paddock = farm.paddocks.get(check.paddock_uid)
    return paddock.outline if paddock is not None else None


def _first_day(stay: Stay) -> date:
    return stay.in_on
