"""What the ground of every field of a farm follows from: stays, scored checks and warmth."""

from __future__ import annotations

from bisect import bisect_right
from collections.abc import Sequence
from datetime import date
from typing import NamedTuple

import numpy as np
import shapely
from numpy.typing import NDArray
from shapely.geometry.base import BaseGeometry

from pigmap.ground.dung import Zones
from pigmap.ground.months import Months, months_of
from pigmap.ground.stays import Stays, StaysOfGroups, stays_of
from pigmap.ground.tables import SIGHT_DAYS
from pigmap.ground.told import days_of, what_was
from pigmap.ground.work import Work, days_of_work, work_on
from pigmap.records import AS_PLANNED, Check, Farm, GroundJob, Stay
from pigmap.records.frozen import dataclass
from pigmap.weather.climate import Warmth, warmth

_SPAN_DAYS = 400  # warmth is known for whole spans of so many days: one more stay needs no other one
_AHEAD_DAYS = 3650  # warmth is known this far beyond the last event; a stay with no end lasts until then


@dataclass(frozen=True, slots=True, eq=False)
class History:
    """What happened on a farm, whichever field it happened on."""

    stays: Stays
    stay_bounds: NDArray[np.float64]
    """West, south, east and north of the ground of each stay [m], (n, 4)."""
    checks: tuple[Check, ...]
    """Checks that scored the rooting, in order of time."""
    looked_at: NDArray[np.object_]
    """Ground that each check looked at, (m,)."""
    check_bounds: NDArray[np.float64]
    told: tuple[GroundJob, ...]
    """What was told of the time before the records, from below to above."""
    told_bounds: NDArray[np.float64]
    work: tuple[Work, ...]
    """Work on the ground, in order of time."""
    work_bounds: NDArray[np.float64]
    months: Months
    """Keep-outs that are one in some months alone."""
    warmth: Warmth


class Remembered:
    """What a history was made from last, for the next one."""

    def __init__(self) -> None:
        self.stays = StaysOfGroups()
        self.zones = Zones()
        self._warmth: tuple[object, int, int, bool, Warmth] | None = None

    def warmth(self, farm: Farm, first: int, last: int) -> Warmth:
        """Return the warmth from a day to another one (ordinals), or of some more days."""
        first, last = first // _SPAN_DAYS * _SPAN_DAYS, -(-last // _SPAN_DAYS) * _SPAN_DAYS
        last = min(last, date.max.toordinal())
        south, kept = farm.projection.lies_south, self._warmth
        if kept is None or kept[0] is not farm.weather_days or kept[1:4] != (first, last, south):
            made = warmth(farm.weather_days.values(), first, last, south=south)
            kept = self._warmth = farm.weather_days, first, last, south, made
        return kept[4]


def history_of(farm: Farm, today: date = AS_PLANNED, remembered: Remembered | None = None) -> History:
    """Return what happened on a farm; up to `today` only what is recorded counts."""
    remembered = remembered if remembered is not None else Remembered()
    told, work = what_was(farm), work_on(farm)
    first, last = _span(farm, today, [*days_of(told), *days_of_work(work)])
    stays = stays_of(farm, last, today, remembered.stays).in_zones(remembered.zones.of(farm, today))
    checks = _checks(farm, stays)
    grounds = _shapes([ground for _, ground in checks])
    return History(
        stays,
        shapely.bounds(_shapes([stay.ground for stay in stays.rows])).reshape(-1, 4),
        tuple(check for check, _ in checks),
        grounds,
        shapely.bounds(grounds).reshape(-1, 4),
        told,
        shapely.bounds(_shapes([job.shape for job in told])).reshape(-1, 4),
        work,
        shapely.bounds(_shapes([each.job.shape for each in work])).reshape(-1, 4),
        months_of(farm),
        remembered.warmth(farm, first, last + SIGHT_DAYS),
    )


def _shapes(shapes: Sequence[BaseGeometry]) -> NDArray[np.object_]:
    made = np.empty(len(shapes), dtype=np.object_)
    made[:] = shapes
    return made


def _span(farm: Farm, today: date, told: Sequence[int]) -> tuple[int, int]:
    """Return the ordinals of a day before all events, and of one long after them."""
    stays = farm.stays.values()
    days = [stay.in_on for stay in stays]
    days += [stay.out_on for stay in stays if stay.out_on is not None]
    days += [check.checked_on for check in farm.checks.values()]
    recorded = (min(days).toordinal(), max(days).toordinal()) if days else ()
    known = [*recorded, *told] or [date(2000, 1, 1).toordinal()]
    return min(known) - 1, min(max(*known, today.toordinal()) + _AHEAD_DAYS, date.max.toordinal() - SIGHT_DAYS)


def _checks(farm: Farm, stays: Stays) -> list[tuple[Check, BaseGeometry]]:
    """Return the checks that scored the rooting, with the ground they looked at, in order of time."""
    scored = sorted(
        (check for check in farm.checks.values() if check.rooting_score is not None),
        key=lambda check: (check.checked_on, check.uid),  # those of one day as they went in: uids grow with time
    )
    of_paddock: dict[str, _There] = {check.paddock_uid: _There([], []) for check in scored}
    for first, stay in zip(stays.first.tolist(), stays.rows, strict=True):
        if (its := of_paddock.get(stay.paddock_uid)) is not None:
            its.first.append(first)
            its.stays.append(stay)
    looked_at = ((check, _ground_of(farm, check, of_paddock[check.paddock_uid])) for check in scored)
    return [(check, ground) for check, ground in looked_at if ground is not None]


class _There(NamedTuple):
    """Stays in one paddock, and the first day of each, rising."""

    first: list[int]
    stays: list[Stay]


def _ground_of(farm: Farm, check: Check, there: _There) -> BaseGeometry | None:
    """Return the ground of the last stay there that had begun by then, else the paddock as it is drawn."""
    begun = bisect_right(there.first, check.checked_on.toordinal())
    if begun:
        return there.stays[begun - 1].ground
    paddock = farm.paddocks.get(check.paddock_uid)
    return paddock.outline if paddock is not None else None
