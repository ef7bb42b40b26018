from __future__ import annotations

from itertools import product

import pytest

from tests.conftest import published

EXPECTED = {
    "fence_sources.csv": {"quarter", "half", "one", "two", "three", "five", "F12"},
    "fence_stakes.csv": {"two", "four", "six", "three-close", "one-short", "three-short"},
    "fence_earth_test.csv": {
        *(f"most-{output}" for output in ("quarter", "half", "one", "two", "five")),
        *(f"soil-{soil}" for soil in (20, 50, 100, 300)),
    },
    "fence_electric.csv": {
        *("F13", "F13-limit", "row-of-8", "ring-of-8", "animal-clean", "animal-medium", "animal-wet"),
        *("spot-at-feed", "four-spots", "twine-lead", "steel-lead"),
    },
}
OUTPUTS = ("0.25", "0.5", "1", "2")


@pytest.mark.parametrize("name", sorted(EXPECTED))
def test_no_worked_case_of_the_fence_is_missing(name: str) -> None:
    assert {row["id"] for row in published(name)} == EXPECTED[name]


def test_no_worked_voltage_at_the_far_end_is_missing() -> None:
    rows = [(row["output_j"], row["leak_kohm"], row["nets"]) for row in published("fence_far_end.csv")]
    every = set(product(OUTPUTS, ("10", "4", "1"), ("1", "2", "4", "8", "12")))
    assert set(rows) == every - {("1", "4", "4")}  # that one is not among those that were worked out
    assert len(rows) == len(set(rows))


def test_no_worked_number_of_nets_is_missing() -> None:
    rows = [(row["output_j"], row["leak_kohm"]) for row in published("fence_most_nets.csv")]
    assert sorted(rows) == sorted(product(OUTPUTS, ("10", "4", "2", "1")))
