from __future__ import annotations

import numpy as np
import pytest
from hypothesis import given
from hypothesis import strategies as st

from pigmap.animals.growth import (
    RATE_PER_D,
    USUAL_RATE_PER_D,
    days_between,
    gain_kg,
    grown_kg,
    kg_of,
    most_gain,
    pace_of,
    place_of,
)

KG = st.floats(1.0, 220.0)


@given(KG, KG)
def test_days_from_one_weight_to_another_lead_to_it(start: float, end: float) -> None:
    assert float(grown_kg(start, days_between(start, end))) == pytest.approx(end, rel=1e-9)


@given(KG, st.floats(0.0, 400.0), st.floats(0.0, 400.0))
def test_growing_in_two_parts_is_growing_at_once(start: float, first: float, then: float) -> None:
    assert float(grown_kg(float(grown_kg(start, first)), then)) == pytest.approx(
        float(grown_kg(start, first + then)), rel=1e-9
    )


@given(st.floats(1.0, 225.0))
def test_gain_of_a_day_is_the_steepness_of_the_curve(kg: float) -> None:
    step = 1e-4
    steep = (float(grown_kg(kg, step)) - float(grown_kg(kg, -step))) / (2 * step)
    assert float(gain_kg(kg)) == pytest.approx(steep, rel=1e-4)
    assert float(gain_kg(kg)) <= most_gain()[0] + 1e-12


def test_a_pig_of_mature_weight_gains_nothing() -> None:
    assert gain_kg([230.0, 300.0]).tolist() == [0.0, 0.0]


def test_places_and_weights_are_each_others_inverse() -> None:
    weights = np.array([5.0, 60.0, 127.0, 229.0])
    assert kg_of(place_of(weights)) == pytest.approx(weights)


def test_outdoors_pigs_take_111_days_from_24_to_97_kg() -> None:
    assert days_between(24.0, 97.0, USUAL_RATE_PER_D) == pytest.approx(111.0, abs=1.0)


def pace(days: list[int], weights: list[float], sd: float) -> float:
    places = place_of(weights)
    sds = sd / np.log(230.0 / np.array(weights))
    return pace_of(np.array(days), places, sds).rate_per_d


def test_weighings_on_the_printed_curve_give_its_pace() -> None:
    days = [0, 30, 60, 90]
    found = pace(days, [float(grown_kg(25.0, day)) for day in days], 0.03)
    assert found == pytest.approx(RATE_PER_D, rel=0.02)


def test_a_weighing_by_eye_moves_the_pace_less_than_one_by_scale() -> None:
    by_scale, by_eye = (pace([0, 20], [25.0, 45.0], sd) for sd in (0.03, 0.15))
    assert USUAL_RATE_PER_D < by_eye < by_scale


def test_one_weighing_leaves_the_usual_pace() -> None:
    assert pace([5], [40.0], 0.03) == pytest.approx(USUAL_RATE_PER_D)


def test_a_group_that_lost_weight_is_not_told_to_shrink_on() -> None:
    assert pace([0, 200], [80.0, 40.0], 0.03) == 0.0
