"""What a group needs on a day and leaves behind."""

from __future__ import annotations

import math
from datetime import date
from typing import NamedTuple

from pigmap.animals.animal_units import AnimalUnits, all_units
from pigmap.animals.feed import daily_feed_kg
from pigmap.animals.manure import ManureSource, manure_source, nitrogen_g, phosphorus_g
from pigmap.animals.space import Area, Lying, lying_m2, shade_m2, shelter_m2
from pigmap.animals.water import Water, drinkers_wanted, flow_ml, wallow_l, water_of
from pigmap.animals.weight import Band, Weight, live_weight, weight_band
from pigmap.records import Farm, Group
from pigmap.records.frozen import dataclass


class Lasts(NamedTuple):
    """For how long something carried to the pigs is there."""

    days: float
    hot_days: float
    """The same in hot weather."""

    def refills(self, stay_days: float, *, hot: bool = False) -> int:
        """Return how often it is filled again in a stay: once less than it is emptied.

        Examples
        --------
        >>> Lasts(3.0, 1.5).refills(7), Lasts(3.0, 1.5).refills(7, hot=True), Lasts(8.0, 4.0).refills(7)
        (2, 4, 0)
        """
        days = self.hot_days if hot else self.days
        return max(math.ceil(stay_days / days - 1e-9) - 1, 0) if days > 0 else 0


@dataclass(frozen=True, slots=True)
class Needs:
    """A group on one day; all of it together, but where one pig is spoken of."""

    group: Group
    weight: Weight
    band: Band
    feed_kg: float
    water: Water
    """What one pig drinks [L/d]."""
    wallow_l: float
    """Water that a wallow takes in a day [L]."""
    nitrogen_g: float
    """Laid down in a day [g]."""
    phosphorus_g: float
    manure_source: ManureSource
    shade: Area
    """Of one pig [m²]."""
    shelter: Area
    """Of one pig [m²]."""
    lying_m2: float
    """Of one pig that lies half on its side."""
    hot_lying_m2: float
    """Of one pig that lies on its side, as in hot weather."""
    drinkers_wanted: int
    flow_ml: tuple[float, float]
    """Least and most from one drinker in a minute."""
    units: tuple[AnimalUnits, ...]
    tank: Lasts | None
    """None where nobody told what is carried to them, or no pigs are there."""
    feeder: Lasts | None

    @property
    def drink_l(self) -> float:
        """Water to have ready in a day [L]: the most they drink in mild weather."""
        return self.weight.pigs * self.water.most_l

    @property
    def hot_drink_l(self) -> float:
        """Water to have ready on a hot day [L]."""
        return self.weight.pigs * self.water.hot_l

    @property
    def drinkers_short(self) -> int:
        """How many drinkers are missing; 0 where nobody told how many there are."""
        told = self.group.drinkers
        return 0 if told is None else max(self.drinkers_wanted - told, 0)


def needs(farm: Farm, group_uid: str, day: date) -> Needs:
    """Return what a group needs on a day and leaves behind.

    Raises
    ------
    KeyError
        If the farm has no such group.
    """
    group, weight = farm.groups[group_uid], live_weight(farm, group_uid, day)
    pigs, kg, kind = weight.pigs, weight.mean_kg, group.pig_class
    source = manure_source(farm)
    feed = pigs * float(daily_feed_kg(group, kg))
    water = water_of(kind, kg)
    return Needs(
        group=group,
        weight=weight,
        band=weight_band(farm, group_uid, day),
        feed_kg=feed,
        water=water,
        wallow_l=pigs * wallow_l(kg),
        nitrogen_g=pigs * float(nitrogen_g(group, kg, source)),
        phosphorus_g=pigs * float(phosphorus_g(group, kg, source)),
        manure_source=source,
        shade=shade_m2(kind, kg),
        shelter=shelter_m2(kind, kg),
        lying_m2=lying_m2(kg, Lying.HALF),
        hot_lying_m2=lying_m2(kg, Lying.SIDE),
        drinkers_wanted=drinkers_wanted(pigs, kind),
        flow_ml=flow_ml(kind, kg),
        units=all_units(kind, kg, pigs),
        tank=_lasts(group.tank_l, pigs * water.most_l, pigs * water.hot_l),
        feeder=_lasts(group.feeder_kg, feed, feed),
    )


def _lasts(carried: float | None, daily: float, hot_daily: float) -> Lasts | None:
    return Lasts(carried / daily, carried / hot_daily) if carried and daily > 0 else None
