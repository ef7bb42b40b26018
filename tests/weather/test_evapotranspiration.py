from __future__ import annotations

import math

import numpy as np
import pytest
from eto import ETo
from refet import Daily, calcs

from pigmap.weather.evapotranspiration import (
    MOST_MM,
    reference_evapotranspiration,
    sun_above_air,
    sun_from_temperatures,
)
from tests.conftest import published

ROWS = {row["id"]: row for row in published("ground_evapotranspiration.csv")}


def number(case: str, name: str) -> float:
    return float(ROWS[case][name])


def expected(case: str) -> object:
    return pytest.approx(number(case, "expected"), abs=number(case, "tolerance"))


def test_every_printed_case_is_there() -> None:
    assert set(ROWS) == {"G6", "G7", "G8", "G9"}


def test_the_sun_above_the_air_is_the_printed_one() -> None:
    assert float(sun_above_air(number("G6", "day_of_year"), number("G6", "latitude_deg"))[0]) == expected("G6")


def test_another_library_has_the_same_sun_above_the_air() -> None:
    days = np.arange(1, 366, 13)
    for latitude in (-43.0, 0.0, 50.5):
        other = [float(calcs.ra_daily(math.radians(latitude), day, "asce")) for day in days]
        assert sun_above_air(days, latitude) == pytest.approx(other, rel=1e-6)


def test_the_sun_at_the_ground_from_temperatures_is_the_printed_one() -> None:
    above = sun_above_air(number("G7", "day_of_year"), number("G7", "latitude_deg"))
    assert float(sun_from_temperatures(number("G7", "max_c"), number("G7", "min_c"), above)[0]) == expected("G7")


def test_the_water_that_a_july_day_takes_is_the_printed_one() -> None:
    inputs = [number("G8", name) for name in ("max_c", "min_c", "day_of_year", "latitude_deg")]
    assert float(reference_evapotranspiration(*inputs)[0]) == expected("G8")


def test_the_equation_written_out_gives_the_same_as_the_library_on_every_day() -> None:
    days = np.arange(1, 367)
    highest = 10 + 8 * np.cos((days - 200) / 58) + 4
    lowest = highest - 3 - days % 11
    above = 0.408 * sun_above_air(days, 50.5)
    by_hand = 0.0023 * ((highest + lowest) / 2 + 17.8) * np.sqrt(highest - lowest) * above
    assert reference_evapotranspiration(highest, lowest, days, 50.5) == pytest.approx(by_hand, abs=0.0051)


def test_both_libraries_give_the_printed_day_by_sun_wind_and_humidity() -> None:
    highest, lowest = number("G9", "max_c"), number("G9", "min_c")
    vapour = (_saturated(lowest) * 0.84 + _saturated(highest) * 0.63) / 2
    told = {
        "T_max": [highest],
        "T_min": [lowest],
        "RH_max": [84.0],
        "RH_min": [63.0],
        "n_sun": [9.25],
        "U_z": [10 / 3.6],
    }
    arrays = {name: np.array(values) for name, values in told.items()}
    first = ETo(data=arrays, lat=50.8, z_msl=100.0, z_u=10.0, day_of_year=np.array([187])).eto_fao()
    assert float(first[0]) == expected("G9")
    above = float(calcs.ra_daily(math.radians(50.8), 187, "asce"))
    sun = (0.25 + 0.5 * 9.25 / _daylight_hours(50.8, 187)) * above
    told_other = {"zw": 10.0, "elev": 100.0, "lat": 50.8, "doy": 187, "ea": vapour, "rso_type": "simple"}
    second = Daily(lowest, highest, sun, 10 / 3.6, **told_other).eto()
    assert float(second[0]) == expected("G9")


def _saturated(temperature_c: float) -> float:
    """Return the pressure of vapour in full air [kPa]: FAO paper 56, equation 11."""
    return 0.6108 * math.exp(17.27 * temperature_c / (temperature_c + 237.3))


def _daylight_hours(latitude_deg: float, day: int) -> float:
    """Return the hours from sunrise to sunset: FAO paper 56, equation 34."""
    tilt = 0.409 * math.sin(2 * math.pi * day / 365 - 1.39)
    return 24 / math.pi * math.acos(-math.tan(math.radians(latitude_deg)) * math.tan(tilt))


def test_temperatures_that_are_exchanged_take_nothing_and_no_day_takes_more_than_the_most() -> None:
    assert reference_evapotranspiration([5.0], [9.0], [180], 40.0).tolist() == [0.0]
    assert reference_evapotranspiration([65.0], [8.0], [180], 40.0).tolist() == [MOST_MM]


def test_no_days_have_no_evapotranspiration() -> None:
    assert reference_evapotranspiration([], [], [], 50.0).tolist() == []
