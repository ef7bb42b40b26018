"""The model against the trials behind it: to what the reference says the model gives, and to what was printed."""

from __future__ import annotations

import re
from itertools import pairwise

import numpy as np
import pytest

from pigmap.ground import tables
from pigmap.ground.cover import step
from pigmap.records import Forage, GroundCover
from pigmap.weather.degree_days import COOL_BASE_C, COOL_CAP_C
from tests.conftest import PUBLISHED, published

TIMES = {  # in use in the program
    "sod": tables.FORAGE_TIMES[Forage.FESCUE],
    "bermuda": tables.FORAGE_TIMES[Forage.BERMUDA],
    "ley": tables.FORAGE_TIMES[Forage.CLOVER_LEY],
    "wood": tables.LOSS_TIMES[GroundCover.WOODLAND],
}
FIT = published("ground_fit.csv")
COVERS = [row for row in FIT if row["load_kg_d_m2"]]


PRIOR = {"loss": (0.10, 1.0), "regrowth": (0.006, 0.5), "ley": (1.5, 0.5), "bermuda": (1.0, 0.5), "wood": (0.7, 0.5)}
"""Middle and standard deviation of the logarithm that the fit began with. Assumed."""
IN_USE = {"loss": tables.LOSS_M2_KG_D, "regrowth": tables.REGROWTH_PER_C_D, **TIMES}
FITTED = {"loss": 0.113, "regrowth": 0.0065, "ley": 2.39, "bermuda": 1.11, "wood": 0.68}
LOG_SDS = {"loss": 0.37, "regrowth": 0.37, "ley": 0.24, "bermuda": 0.25, "wood": 0.38}


def stay_or_rest(
    cover: float,
    degree_days: float,
    load: float,
    times: float,
    loss_m2_kg_d: float = tables.LOSS_M2_KG_D,
    regrowth: float = tables.REGROWTH_PER_C_D,
) -> float:
    growth, loss = regrowth * degree_days, loss_m2_kg_d * times * load
    return 1 / float(step(1 / cover, growth, loss, most=tables.MOST_COVER, least=tables.LEAST_COVER))


def cover_of(row: dict[str, str], times: float, *numbers: float) -> float:
    """Return the mean cover of all plots of a trial at its end: each rests, has the pigs, and rests again."""
    plots, warm = int(row["plots"]), float(row["degree_days"])
    covers = []
    for plot in range(plots):
        before = stay_or_rest(tables.MOST_COVER, warm * plot / plots, 0.0, times, *numbers)
        grazed = stay_or_rest(before, warm / plots, float(row["load_kg_d_m2"]), times, *numbers)
        covers.append(stay_or_rest(grazed, warm * (plots - 1 - plot) / plots, 0.0, times, *numbers))
    return float(np.mean(covers))


def modelled(row: dict[str, str], numbers: dict[str, float] = IN_USE) -> float:
    """Return the cover at the end; of the moorland the ground that a kilogram of boar first roots in a day [m²]."""
    times = numbers.get(row["ground"], 1.0)
    if not row["load_kg_d_m2"]:
        return numbers["loss"] * times
    return cover_of(row, times, numbers["loss"], numbers["regrowth"])


def fitted(rows: list[dict[str, str]]) -> tuple[dict[str, float], dict[str, float]]:
    """Fit the five numbers to some of the points; return them and the standard deviations of their logarithms."""
    from scipy.optimize import least_squares

    middle = np.log([each for each, _ in PRIOR.values()])
    spread = np.array([each for _, each in PRIOR.values()])

    def residuals(theta: np.ndarray) -> np.ndarray:
        numbers = dict(zip(PRIOR, np.exp(theta).tolist(), strict=True))
        off = [(modelled(row, numbers) - float(row["observed"])) / float(row["sigma"]) for row in rows]
        one_sided = [
            max(each, 0.0) if row["published"][0] == "<" else each for each, row in zip(off, rows, strict=True)
        ]
        return np.concatenate((one_sided, (theta - middle) / spread))

    found = least_squares(residuals, middle)
    deviations = np.sqrt(np.diag(np.linalg.inv(found.jac.T @ found.jac)))
    return (
        dict(zip(PRIOR, np.exp(found.x).tolist(), strict=True)),
        dict(zip(PRIOR, deviations.tolist(), strict=True)),
    )


def test_no_point_of_the_fit_is_missing() -> None:
    assert [row["id"] for row in FIT] == ["S6-100", "S6-50", "S4", "S3", "S1-10", "S1-25", "S2", "S8"]
    assert [row["id"] for row in published("ground_order.csv")] == ["S5-37", "S5-74", "S5-111", "S5-148"]
    assert sum(row["sought"] == "yes" for row in FIT) == 3  # one free sum of warmth for each of three trials


@pytest.mark.parametrize("row", [row for row in FIT if row["cover_model"]], ids=lambda row: row["id"])
def test_the_program_comes_to_the_model_column_of_the_fit(row: dict[str, str]) -> None:
    assert modelled(row) == pytest.approx(float(row["cover_model"]), abs=1e-3)


@pytest.mark.parametrize("row", FIT, ids=lambda row: row["id"])
def test_the_program_is_as_near_to_what_was_printed_as_was_agreed(row: dict[str, str]) -> None:
    found, printed, allowed = modelled(row), float(row["observed"]), row["published"]
    if allowed.startswith("+-"):
        assert abs(found - printed) <= float(allowed[2:])
    elif allowed.startswith("<="):
        assert found <= float(allowed[2:])
    else:
        least, most = (float(number) for number in allowed.split("-"))
        assert least <= found <= most
        assert least <= printed <= most


@pytest.mark.parametrize("row", [row for row in FIT if row["residual"]], ids=lambda row: row["id"])
def test_the_residuals_of_the_fit_are_those_of_its_table(row: dict[str, str]) -> None:
    assert modelled(row) - float(row["observed"]) == pytest.approx(float(row["residual"]), abs=1.5e-3)


def test_more_pigs_of_the_trial_without_figures_leave_less_cover() -> None:
    rows = published("ground_order.csv")
    covers = [
        stay_or_rest(tables.MOST_COVER, float(row["degree_days"]), float(row["load_kg_d_m2"]), TIMES["bermuda"])
        for row in rows
    ]
    assert all(more > less for more, less in pairwise(covers)), covers


@pytest.mark.parametrize(
    ("id_", "pigs_ha", "kg", "days"),
    [("S1-10", 10, 180, 56), ("S1-25", 25, 180, 56), ("S4", 10_000 / 338, 75, 84)],
)
def test_loads_are_pigs_times_weight_times_days(id_: str, pigs_ha: float, kg: float, days: int) -> None:
    (row,) = (row for row in FIT if row["id"] == id_)
    assert pigs_ha * kg * days / 1e4 == pytest.approx(float(row["load_kg_d_m2"]), rel=0.005)


def test_the_load_of_the_trial_on_fescue_is_the_mean_of_its_two_periods() -> None:
    (row,) = (row for row in FIT if row["id"] == "S3")
    loads = [47 / 1e4 * 84 * (start + 0.75 * 84 / 2) for start in (17.5, 29.1)]
    assert np.mean(loads) == pytest.approx(float(row["load_kg_d_m2"]), abs=0.05)


@pytest.mark.parametrize("row", [row for row in COVERS if row["id"] != "S8"], ids=lambda row: row["id"])
def test_the_warmth_that_was_sought_is_that_of_a_summer(row: dict[str, str]) -> None:
    assert 10 < float(row["degree_days"]) / int(row["days"]) < 17  # mean temperatures of 15 to 22 °C


@pytest.mark.parametrize("row", FIT, ids=lambda row: row["id"])
def test_every_point_names_its_source(row: dict[str, str]) -> None:
    text = (PUBLISHED / "ground_fit.csv").read_text(encoding="utf-8")
    assert re.search(rf"^# Source: {row['id'].split('-')[0]} ", text, flags=re.MULTILINE)


def test_the_numbers_in_use_are_those_of_the_fit() -> None:
    assert (tables.LOSS_M2_KG_D, tables.REGROWTH_PER_C_D) == (0.113, 0.0065)
    assert (tables.MOST_COVER, tables.LEAST_COVER, tables.READY_COVER) == (0.95, 0.02, 0.75)
    assert TIMES == {"sod": 1.0, "bermuda": 1.11, "ley": 2.39, "wood": 0.68}
    assert tables.LOSS_TIMES[GroundCover.LEY] == TIMES["ley"]
    assert tables.REGROWTH_TIMES[GroundCover.WOODLAND] == 0.25
    assert (tables.RINGED_TIMES, tables.FED_LITTLE_TIMES, tables.FED_LITTLE_SHARE) == (0.6, 1.3, 0.8)
    assert (tables.WET_MORE, tables.WET_BELOW_MM, tables.LOG_SD) == (0.5, 10.0, 0.37)
    assert np.exp(tables.LOG_SD) == pytest.approx(1.45, abs=0.005)


def test_the_fit_made_again_comes_to_the_numbers_in_use_and_to_their_spread() -> None:
    numbers, deviations = fitted(FIT)
    assert numbers == pytest.approx(FITTED, rel=0.006)
    assert deviations == pytest.approx(LOG_SDS, abs=0.006)


@pytest.mark.parametrize("row", [row for row in FIT if row["left_out"]], ids=lambda row: row["id"])
def test_the_fit_without_a_point_says_of_it_what_it_said(row: dict[str, str]) -> None:
    """The sums of warmth that were sought are the ones of that fit: these predictions were not sought."""
    numbers, _ = fitted([other for other in FIT if other is not row])
    assert modelled(row, numbers) == pytest.approx(float(row["left_out"]), abs=0.003)


def test_without_a_start_value_the_points_say_nothing_of_the_speed() -> None:
    (point,) = (row for row in FIT if row["id"] == "S3")
    twice = {**IN_USE, "loss": 3 * FITTED["loss"], "regrowth": 3 * FITTED["regrowth"]}
    assert modelled(point, twice) == pytest.approx(modelled(point), abs=0.06)


@pytest.mark.parametrize("row", published("ground_fescue.csv"), ids=lambda row: row["id"])
def test_growth_of_fescue_is_the_printed_one_and_lies_between_base_and_cap(row: dict[str, str]) -> None:
    terms = [float(row[name]) for name in ("constant", "linear", "square", "cube")]
    temperature, tolerance = float(row["temperature_c"]), float(row["tolerance"])
    response = sum(term * temperature**power for power, term in enumerate(terms))
    assert response == pytest.approx(float(row["response"]), abs=tolerance)
    assert (COOL_BASE_C < temperature <= COOL_CAP_C) == (response > 1)
