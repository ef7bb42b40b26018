from __future__ import annotations

import numpy as np
import pytest

from pigmap.weather.degree_days import degree_days, degree_days_held
from tests.conftest import published


@pytest.mark.parametrize("row", published("ground_degree_days.csv"), ids=lambda row: row["id"])
def test_degree_days_are_the_printed_ones(row: dict[str, str]) -> None:
    rule = {"mean": degree_days, "held": degree_days_held}[row["rule"]]
    got = rule(float(row["max_c"]), float(row["min_c"]), base_c=float(row["base_c"]), cap_c=float(row["cap_c"]))
    assert float(got) == pytest.approx(float(row["degree_days"]), abs=float(row["tolerance"]) + 1e-4)


def test_warmth_above_the_cap_adds_nothing() -> None:
    assert float(degree_days(40.0, 30.0)) == 20.0


def test_a_missing_temperature_gives_no_number() -> None:
    assert np.isnan(degree_days([12.0, np.nan], [4.0, 4.0])).tolist() == [False, True]
