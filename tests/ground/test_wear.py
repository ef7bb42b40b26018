from __future__ import annotations

from dataclasses import replace
from datetime import date
from typing import cast

import numpy as np
import pytest

from pigmap.ground import FieldGround, Known, prepare
from pigmap.ground.ready import ready_range
from pigmap.ground.tables import LOSS_M2_KG_D
from pigmap.ground.wear import SoilWater, wear_times, worn_days
from pigmap.records import Forage, GroundCover, Group, Record
from pigmap.weather.climate import Warmth
from pigmap.weather.soil_water import ease_of
from pigmap.weather.soils import SoilLayer
from tests.conftest import published
from tests.ground.invented import WARM_C, farm, field, herd, on, setting, square, stay

GROWTH = 0.0065 * (WARM_C - 5)
WEIGHT = 20 * 60.0 / 2500
"""Of the invented herd on 50 by 50 m [kg/m²]."""


def after(days: int, times: float, cover: float = 0.95) -> float:
    """Return the cover after days with the herd, each step a day, as the equation says."""
    y, x = 1 / cover, GROWTH - LOSS_M2_KG_D * times * WEIGHT
    for _ in range(days):
        y = y * np.exp(-x) + GROWTH / 0.95 * (1 - np.exp(-x)) / x
    return float(1 / y)


def cover_on(ground: FieldGround, day: int) -> float:
    return float(ground.on(on(day)).cells("cover")[3, 3])


def pigs(**changes: object) -> list[Record]:
    group, bought = herd()
    return [replace(cast("Group", group), **changes), bought]  # type: ignore[arg-type]


@pytest.mark.parametrize(
    ("changes", "times"),
    [
        ({}, 1.0),
        ({"ringed": True}, 0.6),
        ({"feed_share": 1.0}, 1.0),
        ({"feed_share": 0.81}, 1.0),
        ({"feed_share": 0.8}, 1.3),
        ({"ringed": True, "feed_share": 0.5}, 0.78),
    ],
)
def test_rings_and_feed_change_what_pigs_take_and_not_what_they_weigh(changes: dict[str, object], times: float) -> None:
    group = cast("Group", pigs(**changes)[0])
    assert wear_times(group) == pytest.approx(times)
    found = prepare(farm(*pigs(**changes), field(), stay("s", 0, 5)), "f")
    assert [cover_on(found, day) for day in (2, 5)] == pytest.approx([after(2, times), after(5, times)], abs=1e-5)
    assert found.on(on(9)).cells("load_kg_d_m2")[3, 3] == pytest.approx(5 * WEIGHT)


def test_pigs_of_two_groups_on_one_ground_take_the_sum_of_what_each_takes() -> None:
    ringed = [replace(cast("Group", herd("h")[0]), ringed=True), herd("h")[1]]
    rows = *herd(), *ringed, field(), stay("a", 0, 6), stay("b", 2, 4, group="h")
    found = prepare(farm(*rows), "f")
    expected = after(2, 1.0, after(2, 1.6, after(2, 1.0)))
    assert cover_on(found, 6) == pytest.approx(expected, abs=1e-5)


@pytest.mark.parametrize(
    ("ground", "forage", "times"),
    [
        (GroundCover.PASTURE, None, 1.0),
        (GroundCover.PASTURE, Forage.FESCUE, 1.0),
        (GroundCover.PASTURE, Forage.BERMUDA, 1.11),
        (GroundCover.PASTURE, Forage.CLOVER_LEY, 2.39),
        (GroundCover.LEY, None, 2.39),
        (GroundCover.LEY, Forage.FESCUE, 1.0),
        (GroundCover.WOODLAND, Forage.CLOVER_LEY, 0.68),
    ],
)
def test_the_sward_that_somebody_told_decides_on_open_ground(
    ground: GroundCover, forage: Forage | None, times: float
) -> None:
    made = farm(*herd(), replace(field(cover=ground), forage=forage), stay("s", 0, 5))
    assert prepare(made, "f").model.loss == pytest.approx(LOSS_M2_KG_D * times)


@pytest.mark.parametrize("ground", [GroundCover.WOODLAND, GroundCover.SCRUB, GroundCover.PASTURE])
def test_the_factor_of_woods_is_a_setting_that_open_ground_does_not_heed(ground: GroundCover) -> None:
    model = prepare(farm(field(cover=ground), setting("wood loss", "0.9")), "f").model
    assert model.loss == pytest.approx(LOSS_M2_KG_D * (1.0 if ground is GroundCover.PASTURE else 0.9))


def test_wet_soil_takes_up_to_half_as_much_again() -> None:
    rows = farm(*herd(), field(), stay("s", 0, 5))
    for missing, times in ((0.0, 1.5), (5.0, 1.25), (10.0, 1.0), (60.0, 1.0)):
        water = SoilWater(on(-20).toordinal(), np.full(60, missing))
        found = prepare(rows, "f", water=water)
        assert cover_on(found, 5) == pytest.approx(after(5, times), abs=1e-5), missing
        assert cover_on(found, 3) == pytest.approx(after(3, times), abs=1e-5), missing


def test_a_stay_that_begins_dry_and_ends_wet_counts_its_mean() -> None:
    water = SoilWater(on(0).toordinal(), np.array([np.nan, 80.0, 0.0, 0.0]))
    found = prepare(farm(*herd(), field(), stay("s", 0, 4)), "f", water=water)
    assert cover_on(found, 4) == pytest.approx(after(4, 1.25), abs=1e-5)
    cursor = found.cursor()
    for day in (1, 2, 3, 4, 3, 20):
        assert cursor.move_to(on(day)).layers["cover"] == pytest.approx(found.on(on(day)).layers["cover"], abs=1e-6)


@pytest.mark.parametrize(("first", "days"), [(90, 20), (95, 30), (110, 40), (50, 10), (200, 10)])
def test_water_is_laid_on_the_days_it_is_of(first: int, days: int) -> None:
    warmth = Warmth(100, np.zeros(51))
    worn = np.diff(worn_days(warmth, SoilWater(first, np.zeros(days))))
    wet = [first <= day < first + days for day in range(100, 150)]
    assert worn.tolist() == [1.5 if each else 1.0 for each in wet]
    assert np.diff(worn_days(warmth, None)).tolist() == [1.0] * 50


def test_the_records_say_how_wet_the_soil_was_and_days_to_come_are_dry() -> None:
    made = farm(*herd(), field(), stay("s", 0, 5), stay("t", 40, 45))
    soaked = {
        uid: replace(row, rain_mm=30.0 if on(-30) <= row.day < on(20) else None)
        for uid, row in made.weather_days.items()
    }
    plain = prepare(made, "f")
    for soil, times in (("clay", 1.5), (None, 1.0)):
        told = replace(made.fields["f"], soil=soil)
        found = prepare(replace(made, weather_days=soaked, fields={"f": told}), "f")
        assert cover_on(found, 5) == pytest.approx(after(5, times), abs=1e-5)
        assert np.diff(found.worn)[-4000:].max() == 1.0
        if soil is None:
            assert cover_on(found, 45) == pytest.approx(cover_on(plain, 45))


def test_soil_is_looked_up_once_and_again_when_weather_or_field_is_another() -> None:
    made = farm(*herd(), field(), stay("s", 0, 5))
    rained = {uid: replace(row, rain_mm=30.0) for uid, row in made.weather_days.items()}
    wet = replace(made, weather_days=rained, fields={"f": replace(made.fields["f"], soil="clay")})
    known = Known()
    covers = [cover_on(prepare(each, "f", known=known), 5) for each in (made, wet, made, wet)]
    assert covers == pytest.approx([after(5, times) for times in (1.0, 1.5, 1.0, 1.5)], abs=1e-5)


def test_grass_takes_water_up_as_easily_as_is_printed() -> None:
    rows = published("ground_soil_water.csv")
    layer = SoilLayer(0.20, roots_m=0.8, easy_share=0.4)
    lacks = [float(row["lacks_mm"]) for row in rows]
    printed = [float(row["ease"]) for row in rows]
    assert ease_of(lacks, layer)[1:] == pytest.approx(printed[1:], abs=0.0051)  # as printed, to a hundredth


def test_in_a_drought_ground_comes_back_by_the_share_that_is_left_of_the_warmth() -> None:
    made = farm(*herd(), field(), stay("s", 0, 5))
    first = on(-20).toordinal()
    for ease in (1.0, 0.5, 0.0):
        water = SoilWater(first, np.full(400, 80.0), np.full(400, ease))
        found = prepare(made, "f", water=water)
        plain = prepare(made, "f")
        grown = found.warmth.at(np.int32(on(40).toordinal())) - found.warmth.at(np.int32(on(10).toordinal()))
        assert grown == pytest.approx(ease * 30 * 12)
        if ease == 1.0:
            assert cover_on(found, 40) == pytest.approx(cover_on(plain, 40), abs=1e-6)
        else:
            assert cover_on(found, 40) < cover_on(plain, 40) - 0.03


def test_where_nobody_told_soil_or_rain_all_warmth_counts() -> None:
    plain = prepare(farm(*herd(), field(), stay("s", 0, 5)), "f")
    assert plain.watered is None
    assert np.diff(plain.warmth.since)[on(3).toordinal() - plain.warmth.first] == pytest.approx(12.0)


def test_days_to_come_are_as_in_a_usual_year_and_the_range_takes_in_that_it_rains() -> None:
    made = farm(*herd(pigs=60), field(), stay("s", 0, 5))

    def rain(day: date) -> float | None:
        if day >= on(60):
            return None
        return 0.0 if day >= on(-30) else 4.0

    dry = {uid: replace(row, rain_mm=rain(row.day)) for uid, row in made.weather_days.items()}
    told = replace(made, weather_days=dry, fields={"f": replace(made.fields["f"], soil="sand")})
    found = prepare(told, "f")
    assert found.watered is not None
    state = found.on(on(60))
    days = ready_range(state, square(0, 0))
    plain = ready_range(prepare(made, "f").on(on(60)), square(0, 0))
    assert days is not None
    assert plain is not None
    assert days.middle > plain.middle  # it is later than without the drought
    assert 0 <= days.soonest < days.middle
    cursor = found.cursor()
    for day in (10, 70, 30, 90):
        assert cursor.move_to(on(day)).layers["cover"] == pytest.approx(found.on(on(day)).layers["cover"], abs=1e-6)
