from __future__ import annotations

from itertools import pairwise

import numpy as np
import pytest
from hypothesis import given
from hypothesis import strategies as st

from pigmap.ground import tables
from pigmap.ground.cover import growth_wanted, step
from pigmap.records import GroundCover
from tests.conftest import published

LEAST = tables.LEAST_COVER


@pytest.mark.parametrize("row", published("ground_cover.csv"), ids=lambda row: row["id"])
def test_cover_after_a_stay_or_a_rest_is_the_worked_one(row: dict[str, str]) -> None:
    given = {name: float(value) for name, value in row.items() if name != "id"}
    growth = given["regrowth"] * given["degree_days"]
    loss = given["loss"] * given["load_kg_d_m2"]
    y = step(1 / given["cover_before"], growth, loss, most=given["most"], least=LEAST)
    assert 1 / float(y) == pytest.approx(given["cover_after"], abs=5e-5)


@pytest.mark.parametrize("row", published("ground_cover.csv"), ids=lambda row: row["id"])
def test_the_worked_cover_is_what_small_steps_of_the_equation_come_to(row: dict[str, str]) -> None:
    given = {name: float(value) for name, value in row.items() if name != "id"}
    steps = 20_000
    growth = given["regrowth"] * given["degree_days"] / steps
    loss = given["loss"] * given["load_kg_d_m2"] / steps
    cover = given["cover_before"]
    for _ in range(steps):
        cover += growth * cover * (1 - cover / given["most"]) - loss * cover
    assert cover == pytest.approx(given["cover_after"], abs=1e-4)


def test_the_numbers_of_the_worked_cases_are_the_ones_in_use() -> None:
    (g11, g12) = (row for row in published("ground_cover.csv") if row["id"] in ("G11", "G12"))
    assert float(g11["loss"]) == tables.LOSS_M2_KG_D
    assert tables.LOSS_M2_KG_D * tables.LOSS_TIMES[GroundCover.LEY] == pytest.approx(float(g12["loss"]))
    assert float(g11["regrowth"]) == tables.REGROWTH_PER_C_D
    assert float(g11["most"]) == tables.MOST_COVER


def test_two_half_stays_are_one_stay() -> None:
    whole = step(1 / 0.95, 0.546, 0.2712, most=0.95, least=LEAST)
    half = step(1 / 0.95, 0.273, 0.1356, most=0.95, least=LEAST)
    assert float(step(half, 0.273, 0.1356, most=0.95, least=LEAST)) == pytest.approx(float(whole), abs=1e-12)


def test_equal_growth_and_loss_divide_nothing_by_nothing() -> None:
    assert float(step(1 / 0.9, 0.3, 0.3, most=0.95, least=LEAST)) == pytest.approx(1.426900, abs=1e-6)


@pytest.mark.parametrize(("cover", "degree_days"), [(0.50, 187.14), (0.10, 532.59), (0.02, 794.03)])
def test_warmth_wanted_until_ready_is_the_worked_one(cover: float, degree_days: float) -> None:
    assert float(growth_wanted(1 / cover, target=0.75, most=0.95)) / 0.0065 == pytest.approx(degree_days, abs=0.01)


def test_ground_that_is_ready_wants_no_warmth() -> None:
    assert growth_wanted([1 / 0.75, 1 / 0.95, 1.0], target=0.75, most=0.95) == pytest.approx([0, 0, 0], abs=1e-12)


@given(st.floats(0.02, 1), st.floats(0, 30), st.floats(0, 1e6))
def test_cover_stays_between_the_least_and_the_most(cover: float, growth: float, loss: float) -> None:
    after = 1 / float(step(1 / cover, growth, loss, most=0.95, least=LEAST))
    assert LEAST - 1e-12 <= after <= max(cover, 0.95) + 1e-12


def test_more_pigs_leave_less_and_more_warmth_leaves_more() -> None:
    loads = 1 / step(1 / 0.8, 0.4, np.linspace(0, 5, 40), most=0.95, least=LEAST)
    warmth = 1 / step(1 / 0.3, np.linspace(0, 5, 40), 0.2, most=0.95, least=LEAST)
    assert (np.diff(loads) <= 0).all()
    assert (np.diff(warmth) > 0).all()


@pytest.mark.parametrize(
    ("most_kg_m2", "longest", "times"), [(0.5, 5, 1), (1.2, 7, 6)], ids=["20 pigs on 50 by 50 m", "heavier and longer"]
)
def test_the_closed_form_agrees_with_fine_steps_over_years(most_kg_m2: float, longest: int, times: int) -> None:
    """The form takes the mean warmth of a stay, so that heavy stays in fast changing warmth differ most."""
    (row,) = published("ground_steps.csv")
    cells, days, fine = int(row["cells"]), int(row["days"]), int(row["steps_a_day"]) // times
    warm = np.maximum(12 - 11 * np.cos(2 * np.pi * np.arange(days) / 365), 0) * tables.REGROWTH_PER_C_D
    mass = _stays(np.random.default_rng(16), cells, days, most_kg_m2, longest) * tables.LOSS_M2_KG_D
    cover = np.full(cells, 0.95)
    for day in range(days):
        for _ in range(fine):
            cover += (warm[day] * cover * (1 - cover / 0.95) - mass[day] * cover) / fine
            np.maximum(cover, LEAST, out=cover)
    assert np.abs(cover - _closed(warm, mass)).max() <= times * float(row["largest_difference"])


def _stays(rng: np.random.Generator, cells: int, days: int, most_kg_m2: float, longest: int) -> np.ndarray:
    """Return the live weight on each cell on each day [kg/m²]: a few days of pigs, then months of rest."""
    mass = np.zeros((days, cells))
    for cell in range(cells):
        day = int(rng.integers(0, 60))
        while day < days:
            length = int(rng.integers(2, longest + 1))
            mass[day : day + length, cell] = rng.uniform(0.2, most_kg_m2)
            day += length + int(rng.integers(30, 300))
    return mass


def _closed(warm: np.ndarray, mass: np.ndarray) -> np.ndarray:
    """Return the cover at the end, one step for each stretch of equal mass."""
    covers = []
    for daily in mass.T:
        turns = np.concatenate(([0], np.flatnonzero(np.diff(daily)) + 1, [len(daily)]))
        y = 1 / 0.95
        for first, last in pairwise(turns):
            y = float(step(y, warm[first:last].sum(), daily[first:last].sum(), most=0.95, least=LEAST))
        covers.append(1 / y)
    return np.array(covers)
