"""Hot weather: the index of temperature and humidity, the temperatures that tell on sows, and what to do."""

from __future__ import annotations

from collections.abc import Mapping
from datetime import date, timedelta
from enum import IntEnum, StrEnum
from types import MappingProxyType
from typing import NamedTuple

from pigmap.records import Farm, Group, PigClass, WeatherDay


class IndexClass(IntEnum):
    """Classes of the index, as stated for feedlot cattle: below 75, to below 79, to below 84, from 84 on.

    AMS 2002, conference abstract 6A.2, which says 'greater than 84' for the last. That pigs share them is from memory
    of the Livestock Weather Safety Index (LCI 1970); Iowa State University says that dry air is worse for pigs, moist
    air relatively less: so the temperature is looked at beside it.
    """

    NORMAL = 0
    ALERT = 1
    DANGER = 2
    EMERGENCY = 3


INDEX_FROM: Mapping[IndexClass, float] = MappingProxyType(
    {IndexClass.ALERT: 75.0, IndexClass.DANGER: 79.0, IndexClass.EMERGENCY: 84.0}
)


class SowStage(StrEnum):
    """Where a sow is between litters."""

    OPEN = "not pregnant"
    MID = "mid gestation"
    LATE = "late gestation"


class Stress(IntEnum):
    """How hard the warmth is on a sow."""

    NONE = 0
    MILD = 1
    MODERATE = 2
    SEVERE = 3


STRESS_FROM_C: Mapping[SowStage, tuple[float, float, float]] = MappingProxyType(
    {
        SowStage.OPEN: (25.5, 28.1, 32.9),
        SowStage.MID: (25.1, 27.8, 32.9),
        SowStage.LATE: (24.0, 25.5, 30.8),
    }
)
"""Air temperature from which it is mild, moderate and severe [°C].

McConn and others 2022, Journal of Animal Science and Biotechnology, doi 10.1186/s40104-022-00789-x, abstract.
"""
LATE_DAYS = 38
"""Days before farrowing from which gestation counts as late: its last third. Common practice."""
AHEAD_DAYS = 3
"""Days ahead for which hot weather is told. Own choice."""


class HotWeather(NamedTuple):
    """How hot a day is, or will be."""

    day: date
    max_c: float | None
    humidity_pct: float | None
    both: float | None
    """The index of temperature and humidity; None where one of them is not known."""
    index_class: IndexClass
    stress: Stress
    """By the temperature alone, for the pigs that were asked about."""
    said: bool
    """Whether someone said that the day is hot."""

    @property
    def hot(self) -> bool:
        """Whether anything calls for care."""
        return self.said or self.index_class > IndexClass.NORMAL or self.stress > Stress.NONE

    @property
    def dangerous(self) -> bool:
        """Whether water and shade alone may not be enough."""
        return self.index_class >= IndexClass.DANGER or self.stress >= Stress.SEVERE


def index_of(temperature_c: float, humidity: float) -> float:
    """Return the index of temperature and humidity, with the humidity as a share: 0.8 T + RH (T - 14.4) + 46.4.

    Australian veterinary handbook, section 14.2, cattle chart. The older form of it gives the same within 0.3; a third
    form that gives values near 20 to 30 is another scale and not used.

    Examples
    --------
    >>> round(index_of(32.0, 0.22), 3)
    75.872
    """
    return 0.8 * temperature_c + humidity * (temperature_c - 14.4) + 46.4


def index_class(index: float) -> IndexClass:
    """Return the class of an index.

    Examples
    --------
    >>> [index_class(each).name for each in (74.9, 75, 79, 84)]
    ['NORMAL', 'ALERT', 'DANGER', 'EMERGENCY']
    """
    return max((each for each, least in INDEX_FROM.items() if index >= least), default=IndexClass.NORMAL)


def stress_of(stage: SowStage, max_c: float) -> Stress:
    """Return how hard a temperature is on a sow."""
    return Stress(sum(max_c >= least for least in STRESS_FROM_C[stage]))


def stage_of(farm: Farm, group: Group, day: date) -> SowStage:
    """Return the stage whose temperatures count for a group; growing pigs count as sows that are not pregnant."""
    if group.pig_class is not PigClass.GESTATING:
        return SowStage.OPEN
    due = (each.due for each in farm.litters.values() if each.group_uid == group.uid and each.farrowed_on is None)
    late = any(each is not None and timedelta(0) <= each - day <= timedelta(days=LATE_DAYS) for each in due)
    return SowStage.LATE if late else SowStage.MID


def hot_weather(weather: WeatherDay, stage: SowStage = SowStage.OPEN) -> HotWeather:
    """Return how hot a day is for pigs of a stage, from its highest temperature and its humidity."""
    most, humid = weather.max_c, weather.humidity_pct
    index = None if most is None or humid is None else index_of(most, humid / 100.0)
    return HotWeather(
        weather.day,
        most,
        humid,
        index,
        IndexClass.NORMAL if index is None else index_class(index),
        Stress.NONE if most is None else stress_of(stage, most),
        weather.hot,
    )


def hot_days(farm: Farm, group: Group, first: date, days: int = AHEAD_DAYS) -> list[HotWeather]:
    """Return the hot days from a day on, for a group, as far as weather is told or forecast, the nearest first."""
    last = first + timedelta(days=days)
    rows = sorted((each for each in farm.weather_days.values() if first <= each.day < last), key=lambda each: each.day)
    found = [hot_weather(each, stage_of(farm, group, each.day)) for each in rows]
    return [each for each in found if each.hot]
