"""How long ground lasts a group: the keeper's own days lead; beside them what ground, nitrogen and tank would say."""

from __future__ import annotations

from datetime import date
from enum import StrEnum
from math import exp
from typing import NamedTuple

import numpy as np
from numpy.typing import NDArray

from pigmap.animals.needs import Lasts, Needs, needs
from pigmap.animals.nitrogen import M2_PER_HA, nitrogen_cap
from pigmap.animals.weight import growth_in
from pigmap.ground.cover import step
from pigmap.ground.model import Model, model_of
from pigmap.ground.purposes import Wanted, wanted_on
from pigmap.ground.tables import LOG_SD
from pigmap.ground.wear import wear_times
from pigmap.records import Farm, Field
from pigmap.records.frozen import dataclass
from pigmap.records.keepers_days import KeepersDays, keepers_days
from pigmap.weather.climate import warmth

PACE_SETTING = "cover loss"
"""Key of the setting that is there where the farm goes by its own pace, learned from ten visits or more."""
MOST_DAYS = 366
"""Days within which an end is looked for. Own choice."""
LEAST_AREA_M2 = 1.0


class Limit(StrEnum):
    """What can come to an end."""

    ROOTING = "rooting"
    NITROGEN = "nitrogen"
    WATER = "water"
    FEED = "feed"


class Until(NamedTuple):
    """Days until something comes to its end; None where that is not within a year."""

    limit: Limit
    days: float | None
    least: float | None = None
    """By the rougher end of what the figure rests on."""
    most: float | None = None


class Start(NamedTuple):
    """The ground as the group finds it."""

    rooting: float = 0.0
    n_kg_ha: float = 0.0
    """Nitrogen laid on it in the last twelve months."""


@dataclass(frozen=True, slots=True, eq=False)
class HowLong:
    """What is known of how long some ground lasts a group; nothing is left out and nothing chosen in silence."""

    keeper: KeepersDays | None
    """The keeper's own days, which lead; None where neither was typed and no stay is recorded."""
    rooting: Until
    nitrogen: Until
    water: Until | None
    """None where nobody told the tank."""
    feed: Until | None
    wanted: Wanted
    need: Needs
    cap_kg_ha: float
    start: Start
    area_m2: float
    own_pace: bool
    """Whether rooting goes by what daily checks have taught, which the keeper took in place of the numbers in print."""

    @property
    def untils(self) -> tuple[Until, ...]:
        """All that is known, in the order in which it is told."""
        return tuple(each for each in (self.rooting, self.nitrogen, self.water, self.feed) if each is not None)

    @property
    def first(self) -> Until | None:
        """What would come to its end first, if anything does within a year."""
        ends = [each for each in self.untils if each.days is not None]
        return min(ends, key=lambda each: each.days or 0.0, default=None)


def how_long(
    farm: Farm, group_uid: str, field: Field, area_m2: float, day: date, start: Start | None = None
) -> HowLong:
    """Return how long some ground lasts a group from a day on, by each of the ways to tell it.

    Parameters
    ----------
    farm, group_uid
        Who comes.
    field
        The field that the ground lies in; what it is for says how much rooting is welcome.
    area_m2
        The ground [m², on the ground].
    day
        The day on which they come.
    start
        The ground as it is then; never used where nothing is given.

    Raises
    ------
    KeyError
        If the farm has no such group.
    """
    begin, area = start or Start(), max(area_m2, LEAST_AREA_M2)
    need, wanted = needs(farm, group_uid, day), wanted_on(farm, field, day)
    cap = nitrogen_cap(farm)
    return HowLong(
        keeper=keepers_days(farm, group_uid, day, field.uid),
        rooting=_rooting(farm, group_uid, field, area, day, begin, wanted),
        nitrogen=_nitrogen(need, area, begin, cap),
        water=_carried(Limit.WATER, need.tank),
        feed=_carried(Limit.FEED, need.feeder),
        wanted=wanted,
        need=need,
        cap_kg_ha=cap,
        start=begin,
        area_m2=area,
        own_pace=farm.setting(PACE_SETTING) is not None,
    )


def _rooting(
    farm: Farm, group_uid: str, field: Field, area_m2: float, day: date, start: Start, wanted: Wanted
) -> Until:
    """Return the days until more is rooted than is welcome, with the loss one standard deviation more and less."""
    if wanted.rooting >= 1.0:
        return Until(Limit.ROOTING, None)
    model, first = model_of(farm, field), day.toordinal()
    days = np.arange(first, first + MOST_DAYS)
    growth = growth_in(farm, group_uid)
    load = growth.pigs(days) * growth.mean_kg(days) * wear_times(farm.groups[group_uid]) / area_m2
    warm = warmth(farm.weather_days.values(), first, first + MOST_DAYS, south=farm.projection.lies_south)
    grown = np.diff(warm.since)[:MOST_DAYS] * model.regrowth
    lost, spread = load * model.loss, exp(LOG_SD)
    least, middle, most = (
        _worn_in(model, grown, lost * times, start.rooting, wanted.rooting) for times in (spread, 1.0, 1.0 / spread)
    )
    return Until(Limit.ROOTING, middle, least, most)


def _worn_in(
    model: Model, grown: NDArray[np.float64], lost: NDArray[np.float64], rooting: float, welcome: float
) -> float | None:
    """Return the days until rooting passes what is welcome, with the part of the last day."""
    worn = max(rooting, 1.0 - model.most)
    if worn >= welcome:
        return 0.0
    y = 1.0 / max(1.0 - worn, model.least)
    for number, (gain, loss) in enumerate(zip(grown.tolist(), lost.tolist(), strict=True)):
        y = float(step(y, gain, loss, most=model.most, least=model.least))
        now = 1.0 - 1.0 / y
        if now > welcome:
            return number + (welcome - worn) / (now - worn)
        worn = now
    return None


def _nitrogen(need: Needs, area_m2: float, start: Start, cap_kg_ha: float) -> Until:
    """Return the days until a year's nitrogen lies there, with what lies there already."""
    left = max(cap_kg_ha - start.n_kg_ha, 0.0)
    daily = need.nitrogen_g / 1000.0 / area_m2 * M2_PER_HA
    days = left / daily if daily > 0 else None
    return Until(Limit.NITROGEN, days if days is not None and days <= MOST_DAYS else None)


def _carried(limit: Limit, lasts: Lasts | None) -> Until | None:
    return Until(limit, lasts.days, lasts.hot_days, lasts.days) if lasts is not None else None
