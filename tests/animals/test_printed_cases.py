"""Every case that was typed from print is computed again."""

from __future__ import annotations

import pytest

from pigmap.animals.animal_units import Definition, animal_units
from pigmap.animals.feed import WASTED, usual_feed_kg
from pigmap.animals.growth import days_between, grown_kg, most_gain
from pigmap.animals.hot import SowStage, index_class, index_of, stress_of
from pigmap.animals.manure import LIVE_PER_CARCASS, NRCS_KG, ManureSource, balance_kg, nitrogen_g
from pigmap.animals.nitrogen import (
    DAYS_OF_YEAR,
    NITROGEN_CAP_KG_HA,
    Sward,
    hay_removes,
    laid_kg_ha,
    passes_before,
    pig_days_per_ha,
    pigs_per_ha,
)
from pigmap.animals.space import organic_space
from pigmap.animals.water import drinkers_wanted, water_of
from pigmap.records import Group, PigClass
from pigmap.units import KG_PER_POUND, M2_PER_ACRE, M2_PER_HECTARE
from tests.conftest import PUBLISHED, published

CASES = {f"A{number}" for number in range(1, 16)}


def group_of(row: dict[str, str]) -> Group:
    return Group(uid="g", name="Printed pigs", pig_class=PigClass(row["class"]))


def close(row: dict[str, str], found: float, expected: str = "expected") -> None:
    assert found == pytest.approx(float(row[expected]), abs=float(row["tolerance"]) + 1e-9), row


def test_every_case_is_there_and_names_its_source() -> None:
    found = {row["case"] for path in PUBLISHED.glob("animals_*.csv") for row in published(path.name) if "case" in row}
    assert found >= CASES, f"missing: {sorted(CASES - found)}"


@pytest.mark.parametrize("row", published("animals_manure.csv"))
def test_nitrogen_of_printed_classes_on_some_ground(row: dict[str, str]) -> None:
    grams = float(nitrogen_g(group_of(row), float(row["mean_kg"])))
    assert grams == float(row["n_g"])
    if row["asked"] == "pig-days/ha":
        close(row, pig_days_per_ha(grams))
        return
    pigs, days, area = (float(row[name]) for name in ("pigs", "days", "area_m2"))
    laid = laid_kg_ha(pigs, grams, days, area)
    if row["asked"] == "kg":
        close(row, laid * area / M2_PER_HECTARE)
    elif row["asked"] == "passes":
        assert passes_before(NITROGEN_CAP_KG_HA, laid) == int(row["expected"])
    else:
        close(row, laid)


@pytest.mark.parametrize("row", published("animals_uk_classes.csv"))
def test_nitrogen_by_weight_class_as_in_the_schedule(row: dict[str, str]) -> None:
    assert float(nitrogen_g(group_of(row), float(row["mean_kg"]))) == float(row["n_g"])


@pytest.mark.parametrize("row", published("animals_places.csv"))
def test_pigs_that_a_hectare_feeds_all_year(row: dict[str, str]) -> None:
    grams = float(nitrogen_g(group_of(row), float(row["mean_kg"]), ManureSource(row["source"])))
    close(row, pigs_per_ha(grams * DAYS_OF_YEAR / 1000.0), "pigs_per_ha")


def test_mass_balance_of_a_finished_pig() -> None:
    (row,) = published("animals_balance.csv")
    gain = float(row["carcass_kg"]) * LIVE_PER_CARCASS - float(row["start_kg"])
    close(row, gain, "gain_kg")
    found = balance_kg(gain, gain * float(row["feed_per_gain"]), float(row["protein_g_kg"]))
    close(row, float(found), "nitrogen_kg")


@pytest.mark.parametrize("row", published("animals_index.csv"))
def test_index_of_temperature_and_humidity(row: dict[str, str]) -> None:
    close(row, index_of(float(row["temperature_c"]), float(row["humidity"])), "index")


@pytest.mark.parametrize("row", published("animals_index_classes.csv"))
def test_classes_of_the_index(row: dict[str, str]) -> None:
    assert index_class(float(row["index"])).name == row["class"]


@pytest.mark.parametrize("row", published("animals_sows_hot.csv"))
def test_temperatures_that_tell_on_sows(row: dict[str, str]) -> None:
    assert stress_of(SowStage(row["stage"]), float(row["temperature_c"])).name == row["stress"]


@pytest.mark.parametrize("row", published("animals_growth.csv"))
def test_the_printed_curve_of_growth(row: dict[str, str]) -> None:
    if row["asked"] == "kg after days":
        close(row, float(grown_kg(float(row["start_kg"]), float(row["value"]))))
    elif row["asked"] == "days to kg":
        close(row, days_between(float(row["start_kg"]), float(row["value"])))
    else:
        close(row, most_gain()[row["asked"] == "kg at most gain"])


@pytest.mark.parametrize("row", published("animals_drinkers.csv"))
def test_drinkers_and_water(row: dict[str, str]) -> None:
    if row["asked"] == "drinkers":
        assert drinkers_wanted(int(row["value"])) == int(row["expected"])
    else:
        water = water_of(PigClass.FINISHING, float(row["value"]))
        close(row, water.least_l if row["asked"] == "least L" else water.most_l)


@pytest.mark.parametrize("row", published("animals_units.csv"))
def test_livestock_units(row: dict[str, str]) -> None:
    kind = PigClass(row["class"])
    found = animal_units(Definition[row["definition"]], kind, float(row["mean_kg"]), float(row["pigs"]))
    assert found.definition is Definition[row["definition"]]
    close(row, found.units, "units")


def test_livestock_units_of_the_printed_herd() -> None:
    rows = published("animals_units.csv")
    units = (
        animal_units(Definition.LSU, PigClass(row["class"]), float(row["mean_kg"]), float(row["pigs"])).units
        for row in rows
    )
    assert sum(units) == pytest.approx(30.62, abs=0.001)


@pytest.mark.parametrize("row", published("animals_conversions.csv"))
def test_units_of_print_to_metric_ones(row: dict[str, str]) -> None:
    value = float(row["value"])
    if row["asked"] == "a hectare from an acre":
        close(row, value / M2_PER_ACRE * M2_PER_HECTARE)
    elif row["asked"] == "m² from acres":
        close(row, value * M2_PER_ACRE)
    else:
        close(row, value * KG_PER_POUND / 111)


def test_hay_takes_off_what_is_printed() -> None:
    (row,) = published("animals_hay.csv")
    found = hay_removes(float(row["tons_ha"]), Sward(row["sward"]))
    for name, value in zip(("n_kg", "p_kg", "k_kg"), found, strict=True):
        close(row, value, name)


@pytest.mark.parametrize("row", published("animals_organic_space.csv"))
def test_space_of_the_organic_rules(row: dict[str, str]) -> None:
    each, pigs = organic_space(PigClass(row["class"]), float(row["mean_kg"])), int(row["pigs"])
    assert (each.indoor_m2 * pigs, each.run_m2 * pigs) == pytest.approx((float(row["indoor_m2"]), float(row["run_m2"])))


@pytest.mark.parametrize("row", published("animals_feed.csv"))
def test_feed_as_printed_with_what_is_spilled(row: dict[str, str]) -> None:
    eaten = float(usual_feed_kg(PigClass.FINISHING, float(row["mean_kg"]))) * (1 - WASTED)
    assert eaten == pytest.approx(float(row["feed_kg"]), abs=0.005)


def test_two_tables_from_memory_agree() -> None:
    (row,) = published("animals_recalled.csv")
    grams = float(nitrogen_g(group_of(row), float(row["mean_kg"]), ManureSource.ASABE))
    close(row, grams / float(row["mean_kg"]), "asabe_kg_per_1000")
    assert NRCS_KG[PigClass(row["class"])][0] == float(row["nrcs_kg_per_1000"])
