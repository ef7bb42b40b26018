from __future__ import annotations

import pytest

from pigmap.fence.tables import ENERGIZERS_APART_M, overhead_clearance_m
from tests.conftest import published


@pytest.mark.parametrize(
    "row", published("fence_distances.csv"), ids=lambda row: f"up to {row['up_to_kv'] or 'any'} kV"
)
def test_the_distance_from_a_power_line_is_the_printed_one(row: dict[str, str]) -> None:
    voltage = float(row["up_to_kv"]) if row["up_to_kv"] else 132.0
    assert overhead_clearance_m(voltage) == float(row["clearance_m"])


def test_above_a_step_and_where_the_voltage_is_not_known_the_next_distance_counts() -> None:
    assert overhead_clearance_m(1.001) == 4.0
    assert overhead_clearance_m(33.5) == 8.0
    assert overhead_clearance_m(None) == 8.0


def test_fences_of_two_energizers_stand_two_and_a_half_metres_apart() -> None:
    # Requirements for electric animal fences, annex BB.1; the same in the order of 24 September 2014 (France).
    assert ENERGIZERS_APART_M == 2.5
