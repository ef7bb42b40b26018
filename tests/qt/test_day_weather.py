from __future__ import annotations

from datetime import date

import pytest

from pigmap.drawing.words import render
from pigmap.qt.day_weather import weather_of, weather_words
from pigmap.records import Farm, Projection, WeatherDay

DAY = date(2026, 7, 14)


@pytest.mark.parametrize(
    ("row", "said"),
    [
        (WeatherDay(day=DAY, rain_mm=4.5, min_c=9.4, max_c=18.0), "4.5 mm of rain, 9 °C to 18 °C"),
        (WeatherDay(day=DAY, rain_mm=0.0, max_c=31.0, hot=True), "no rain, up to 31 °C, hot"),
        (WeatherDay(day=DAY, hot=True), "hot"),
        (WeatherDay(day=DAY, min_c=3.0), ""),
        (None, ""),
    ],
)
def test_the_weather_of_a_day_is_a_few_words(row: WeatherDay | None, said: str) -> None:
    assert render(weather_words(row)) == said


def test_inches_and_fahrenheit_are_said_where_the_farm_has_them() -> None:
    row = WeatherDay(day=DAY, rain_mm=12.7, min_c=10.0, max_c=30.0)
    assert render(weather_words(row), system="us") == "0.50 in of rain, 50 °F to 86 °F"


def test_only_the_day_that_is_meant_is_found() -> None:
    row = WeatherDay(uid="w", day=DAY, rain_mm=1.0)
    projection = Projection(name="", authority="NONE", code=1, definition="")
    farm = Farm(document_uid="d", projection=projection, weather_days={"w": row})
    assert weather_of(farm, DAY) is row
    assert weather_of(farm, date(2026, 7, 15)) is None
