"""Daily weather."""

from __future__ import annotations

from datetime import date
from typing import ClassVar

from pigmap.errors import RecordError
from pigmap.records.frozen import dataclass
from pigmap.records.limits import need_between, need_day
from pigmap.records.record import Record
from pigmap.text import Quantity


@dataclass(frozen=True, slots=True, kw_only=True)
class WeatherDay(Record):
    """Rain and temperatures of one day; what was not read is None."""

    TABLE: ClassVar[str] = "weather_days"

    day: date
    rain_mm: float | None = None
    min_c: float | None = None
    max_c: float | None = None
    source: str = ""
    humidity_pct: float | None = None
    """Mean relative humidity [%]."""
    hot: bool = False
    """Whether someone said that the day is, or will be, hot."""

    def __post_init__(self) -> None:
        need_day("The day of the weather", self.day)
        need_between("The rain", self.rain_mm, 0.0, 2000.0)
        need_between("The lowest temperature", self.min_c, -90.0, 60.0)
        need_between("The highest temperature", self.max_c, -90.0, 60.0)
        need_between("The humidity in %", self.humidity_pct, 0.0, 100.0)
        if self.min_c is not None and self.max_c is not None and self.max_c < self.min_c:
            raise RecordError(
                "The lowest temperature of {day} is {least}, above the highest, {most}.",
                remedy="Look whether the two are exchanged.",
                day=self.day,
                least=Quantity(self.min_c, "°C", 1),
                most=Quantity(self.max_c, "°C", 1),
            )
