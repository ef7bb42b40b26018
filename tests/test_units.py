from __future__ import annotations

from typing import get_args

import pytest

from pigmap import units
from pigmap.text import UNITS
from pigmap.units import shown


def test_definitions_are_exact() -> None:
    # International yard and pound agreement (1959): 1 yd = 0.9144 m, 1 lb = 0.453 592 37 kg.
    # US gallon: 231 cubic inches.
    assert units.METRES_PER_FOOT == 0.9144 / 3
    assert units.KG_PER_POUND == 0.45359237
    assert pytest.approx(43_560 * units.METRES_PER_FOOT**2, rel=1e-15) == units.M2_PER_ACRE
    assert pytest.approx(231 * (units.METRES_PER_FOOT / 12) ** 3 * 1000, rel=1e-15) == units.LITRES_PER_GALLON


@pytest.mark.parametrize(
    ("value", "unit", "system", "number", "sign"),
    [
        (50, "m", "metric", 50, "m"),
        (50, "m", "us", 50 / 0.3048, "ft"),
        (999, "m²", "metric", 999, "m²"),
        (2500, "m²", "metric", 0.25, "ha"),
        (2500, "m²", "us", 2500 / 4046.8564224, "ac"),
        (500, "m²", "us", 500 / 0.3048**2, "sq ft"),
        (1, "kg", "us", 1 / 0.45359237, "lb"),
        (3.785411784, "L", "us", 1, "gal"),
        (100, "°C", "us", 212, "°F"),
        (-40, "°C", "us", -40, "°F"),
        (0.25, "1", "metric", 25, "%"),
        (0.25, "1", "us", 25, "%"),
        (4.5, "kV", "us", 4.5, "kV"),
        (7, "d", "metric", 7, "days"),
        (1, "kg/ha", "us", 0.892179, "lb/ac"),
        (1, "kg·d/m²", "us", 40.468564, "pig-days/ac"),
        (2.93, "kg·d/m²", "metric", 293, "pig-days/ha"),
    ],
)
def test_values_are_shown_in_the_persons_units(
    value: float, unit: str, system: units.System, number: float, sign: str
) -> None:
    found = shown(value, unit, system)
    assert found.value == pytest.approx(number, rel=1e-6)
    assert found.unit == sign


@pytest.mark.parametrize("unit", UNITS)
def test_every_unit_that_is_used_inside_can_be_shown(unit: str) -> None:
    for system in get_args(units.System):
        assert shown(1.0, unit, system).unit


def test_large_farms_are_shown_without_decimals() -> None:
    assert shown(0.99e4, "m²", "metric").digits == 2
    assert shown(1.0e4, "m²", "metric").digits == 1
    assert shown(14.67e4, "m²", "metric").digits == 1
    assert shown(99e4, "m²", "metric").digits == 1
    assert shown(101e4, "m²", "metric").digits == 0
