"""What daily checks saw of ground that was used before, and what is needed to compute the same again."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import replace
from datetime import date
from types import MappingProxyType

import numpy as np
import shapely
from numpy.typing import NDArray
from shapely.geometry.base import BaseGeometry

from pigmap.geometry.cells import cells_inside
from pigmap.ground.cover import step
from pigmap.ground.events import meets
from pigmap.ground.field_ground import FieldGround, prepare
from pigmap.ground.history import history_of
from pigmap.ground.known import Known
from pigmap.ground.model import Model
from pigmap.ground.pointer import stretches_at
from pigmap.ground.tables import COVER_BY_SCORE
from pigmap.ground.timeline import NEVER, other_covers, worn_between
from pigmap.records import Check, Farm
from pigmap.records.frozen import dataclass

_PACE = frozenset(("cover loss", "cover regrowth", "wood loss"))
"""Settings that are learned: what is expected is computed without them."""
_USED_SHARE = 0.5
"""Share of the ground that must have been used before a check tells anything of it. Own choice."""
RESTED_DAYS = 14
"""Days of rest from which what is seen tells of regrowth. Own choice."""


@dataclass(frozen=True, slots=True, eq=False)
class Observed:
    """Checks of one field, each with the regions that it looked at.

    What is computed for a check is what the ground would be if nobody had looked before: a check sets the cover to what
    it saw, and would hide from the next one what the numbers do.
    """

    ground: FieldGround
    checks: tuple[Check, ...]
    check: NDArray[np.intp]
    """Check of each pair of check and region, (n,)."""
    share: NDArray[np.float64]
    """Share of the check's ground that each pair is, (n,)."""
    at: NDArray[np.int32]
    """Stretch of each pair, (n,)."""
    warm: NDArray[np.float64]
    """Degree-days from the start of the stretch to the check [°C·d], (n,)."""
    wear: NDArray[np.float64]
    """Wear from the start of the stretch to the check [kg·d/m²], (n,)."""
    after_rest: NDArray[np.bool_]
    """Whether each check came after a rest, (checks,)."""

    @property
    def seen(self) -> NDArray[np.float64]:
        """Share that was seen rooted at each check, (checks,)."""
        return np.array([1.0 - COVER_BY_SCORE[check.rooting_score or 0] for check in self.checks])

    def computed(self, model: Model) -> NDArray[np.float64]:
        """Return the share that a model says was rooted at each check, (checks,)."""
        ground = self.ground
        y = other_covers(ground.timeline, ground.warmth, model, ground.worn)[self.at]
        loss, growth = model.loss * self.wear, model.regrowth * self.warm
        cover = 1.0 / step(y, growth, loss, most=model.most, least=model.least)
        rooted = np.bincount(self.check, weights=self.share * (1.0 - cover), minlength=len(self.checks))
        return np.asarray(rooted, dtype=np.float64)


def without_pace(farm: Farm) -> Farm:
    """Return a farm whose ground is computed with the numbers from print."""
    kept = {uid: row for uid, row in farm.settings.items() if row.key not in _PACE}
    return replace(farm, settings=MappingProxyType(kept))


def observed_on(farm: Farm, today: date) -> list[Observed]:
    """Return what was seen on each field up to a day; fields of which nothing was seen are left out."""
    history = history_of(farm, today)
    last = {}
    for check, ground in zip(history.checks, history.looked_at, strict=True):
        if check.checked_on <= today:
            last[check.paddock_uid, check.checked_on] = check, ground  # of several on one day the last counts
    bare = replace(without_pace(farm), checks=MappingProxyType({}))
    known, found = Known(), []
    bounds = shapely.bounds(np.array([ground for _, ground in last.values()], dtype=np.object_)).reshape(-1, 4)
    for uid, field in farm.fields.items():
        near = [
            each for each, meeting in zip(last.values(), meets(bounds, field.outline.bounds), strict=True) if meeting
        ]
        its = _observed(prepare(bare, uid, today=today, known=known), near) if near else None
        if its is not None and its.checks:
            found.append(its)
    return found


def _observed(ground: FieldGround, looked: Sequence[tuple[Check, BaseGeometry]]) -> Observed:
    line, regions = ground.timeline, ground.region_of.ravel()
    cells, starts = cells_inside(ground.frame, [shape for _, shape in looked])
    of_field = regions[cells] >= 0
    check_of = np.repeat(np.arange(len(looked)), np.diff(starts))[of_field]
    # Each pair of check and region once, with the cells that it stands for.
    pair, counts = np.unique(check_of * ground.regions + regions[cells][of_field], return_counts=True)
    check, region = np.divmod(pair, ground.regions)
    share = counts / np.bincount(check, weights=counts, minlength=len(looked))[check]
    on = np.array([each.checked_on.toordinal() for each, _ in looked], dtype=np.int64)[check]
    at = stretches_at(line, region, on)
    left = line.left[at]
    used = _share_of(check, share, line.here[at] | (left != NEVER), len(looked))
    after_rest = _share_of(check, share, (left != NEVER) & (on - left >= RESTED_DAYS), len(looked))
    tells = used >= _USED_SHARE
    kept, place = tells[check], np.cumsum(tells) - 1
    at, on, day = at[kept], on[kept], line.day[at[kept]].astype(np.int64)
    return Observed(
        ground,
        tuple(each for (each, _), telling in zip(looked, tells.tolist(), strict=True) if telling),
        place[check[kept]],
        share[kept],
        at,
        ground.warmth.at(on) - ground.warmth.at(day),
        line.daily[3][at] * worn_between(ground.worn, ground.warmth, day, on),
        after_rest[tells] >= _USED_SHARE,
    )


def _share_of(
    check: NDArray[np.intp], share: NDArray[np.float64], where: NDArray[np.bool_], count: int
) -> NDArray[np.float64]:
    """Return the share of each check's ground of which something holds."""
    return np.asarray(np.bincount(check, weights=share * where, minlength=count), dtype=np.float64)
