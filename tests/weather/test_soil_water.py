from __future__ import annotations

from collections.abc import Sequence
from dataclasses import replace
from datetime import date, timedelta

import numpy as np
import pytest
import shapely

from pigmap.records import Farm, Field, Projection, WeatherDay
from pigmap.weather.soil_water import CAREFUL_MM, depleted, is_too_wet, wants_care, wetness
from pigmap.weather.soils import LAYERS, SoilClass, SoilLayer, soil_class
from tests.conftest import published

ROWS = published("ground_soil_water.csv")
UTM = Projection(
    name="UTM 32N",
    authority="EPSG",
    code=32632,
    definition='PROJCS["",PARAMETER["latitude_of_origin",0],PARAMETER["false_northing",0]]',
)
FIRST = date(2026, 3, 1)
DAYS = 60


def field(soil: str | None) -> Field:
    outline = shapely.MultiPolygon([shapely.box(0, 5_600_000, 100, 5_600_100)])
    return Field(uid="f", name="Top", outline=outline, origin_x_m=0, origin_y_m=5_600_000, turned_deg=0, soil=soil)


def farm(rain_mm: Sequence[float | None], first: date = FIRST) -> Farm:
    rows = [
        WeatherDay(uid=f"w{n}", day=first + timedelta(days=n), rain_mm=rain, min_c=5.0, max_c=15.0)
        for n, rain in enumerate(rain_mm)
    ]
    return Farm(document_uid="d", projection=UTM, weather_days={row.uid: row for row in rows})


def of(rain_mm: Sequence[float | None], soil: str | None, days: int = DAYS) -> list[float]:
    first = FIRST.toordinal()
    return [float(lacks) for lacks in wetness(farm(rain_mm), field(soil), first, first + days - 1)]


def test_every_printed_day_is_there() -> None:
    assert [row["id"] for row in ROWS] == [f"G10-{day}" for day in range(1, 11)]


def test_soil_that_nobody_waters_dries_as_printed() -> None:
    layer = SoilLayer(0.32 - 0.12, roots_m=0.8, easy_share=0.4, uptake=1.2)
    found = depleted(np.zeros(10), np.full(10, 5.0), layer, 55.0)
    assert [layer.holds_mm, layer.easy_share * layer.holds_mm] == pytest.approx([160.0, 64.0])
    assert found.lacks_mm.tolist() == pytest.approx([float(row["lacks_mm"]) for row in ROWS], abs=0.1)
    assert found.ease.tolist() == pytest.approx([float(row["ease"]) for row in ROWS], abs=0.0051)


@pytest.mark.parametrize(("taken_mm", "wet", "care"), [(0.5, 7, 21), (1.0, 4, 11), (2.0, 2, 6), (4.0, 1, 3)])
def test_soaked_ground_is_left_alone_for_so_many_days(taken_mm: float, wet: int, care: int) -> None:
    """Derived from the two limits: 3 and 10 mm at so much a day."""
    plain = replace(LAYERS[SoilClass.LOAM], uptake=1.0, drain_days=0)
    lacks = depleted(np.zeros(40), np.full(40, taken_mm), plain).lacks_mm
    assert int(np.argmin(is_too_wet(lacks))) + 1 == wet
    assert int(np.argmax(lacks > CAREFUL_MM)) + 1 == care


@pytest.mark.parametrize(("soil", "days"), [(SoilClass.SAND, 0), (SoilClass.LOAM, 1), (SoilClass.CLAY, 3)])
def test_soil_stays_full_while_it_drains(soil: SoilClass, days: int) -> None:
    rain = np.zeros(12)
    rain[0] = 80.0
    lacks = depleted(rain, np.full(12, 4.0), LAYERS[soil]).lacks_mm
    assert int((lacks == 0.0).sum()) == 1 + days


def test_water_never_lacks_more_than_the_soil_holds_nor_less_than_nothing() -> None:
    rain = np.zeros(900)
    rain[::300] = 200.0
    lacks = depleted(rain, np.full(900, 6.0), LAYERS[SoilClass.SAND]).lacks_mm
    assert lacks.min() == 0.0
    assert 35.0 < lacks.max() <= LAYERS[SoilClass.SAND].holds_mm


def test_three_and_ten_millimetres_are_the_limits() -> None:
    lacks = np.array([0.0, 3.0, 3.01, 10.0, 10.01, np.nan])
    assert is_too_wet(lacks).tolist() == [True, True, False, False, False, False]
    assert wants_care(lacks).tolist() == [False, False, True, True, False, False]


def test_more_rain_never_makes_ground_drier() -> None:
    rain = [float(n % 4 == 0) * 5 for n in range(DAYS)]
    some, more = np.array(of(rain, "loam")), np.array(of([each + 1 for each in rain], "loam"))
    assert (more <= some + 1e-9).all()
    assert more.sum() < some.sum()


def test_what_a_day_lacks_does_not_follow_from_the_window_asked_for() -> None:
    rain: list[float | None] = [float(n % 5) for n in range(DAYS)]
    whole, first = of(rain, "clay"), FIRST.toordinal() + 40
    assert wetness(farm(rain), field("clay"), first, first + 3).tolist() == whole[40:44]


def test_nobody_knows_how_wet_a_soil_is_that_no_word_names() -> None:
    assert np.isnan(of([2.0] * DAYS, "red earth")).all()
    assert np.isnan(of([2.0] * DAYS, None)).all()


def test_nobody_knows_how_wet_it_was_before_rain_was_written_down() -> None:
    first = FIRST.toordinal()
    found = wetness(farm([3.0] * DAYS), field("loam"), first - 5, first + 5)
    assert np.isnan(found).tolist() == [True] * 5 + [False] * 6
    assert np.isnan(wetness(farm([3.0] * DAYS), field("loam"), first - 50, first - 1)).all()


def test_a_few_days_of_rain_say_nothing_of_the_soil() -> None:
    assert np.isnan(of([2.0] * 9, "loam")).all()
    assert not np.isnan(of([2.0] * 10, "loam")).any()


def test_days_to_come_are_as_usual() -> None:
    wet, dry = of([8.0] * 30, "loam", 40), of([0.0] * 30, "loam", 40)
    assert wet[39] == 0.0
    assert dry[39] > dry[29] > CAREFUL_MM


@pytest.mark.parametrize(
    ("told", "soil"),
    [
        ("Sandy loam", SoilClass.LOAM),
        ("LOAMY SAND", SoilClass.SAND),
        ("clay loam", SoilClass.CLAY),
        ("heavy clay with flints", SoilClass.CLAY),
        ("loam over clay", SoilClass.LOAM),
        ("silt", SoilClass.LOAM),
        ("light", SoilClass.SAND),
        ("heavy", SoilClass.CLAY),
        ("peaty, black", SoilClass.PEAT),
        ("peaty loam", SoilClass.LOAM),
        ("chalk, thin", SoilClass.SAND),
        ("blue grass", None),
        ("", None),
        (None, None),
    ],
)
def test_common_words_name_a_soil(told: str | None, soil: SoilClass | None) -> None:
    assert soil_class(told) is soil


def test_every_class_holds_water_and_clay_drains_longest() -> None:
    assert set(LAYERS) == set(SoilClass)
    assert [LAYERS[soil].holds_mm for soil in SoilClass] == pytest.approx([40.0, 77.5, 80.0, 150.0])
    assert [LAYERS[soil].drain_days for soil in SoilClass] == [0, 1, 3, 3]
