from __future__ import annotations

import pytest

from tests.conftest import published

EXPECTED = {
    "ground_degree_days.csv": {"G1", "G2", "G3", "G3-held", "G3-most", "G4"},
    "ground_cover.csv": {"G11", "G12", "G13-half", "G13-tenth", "G13-bare", "G14"},
    "ground_manure.csv": {"G15"},
    "ground_steps.csv": {"G16"},
}


@pytest.mark.parametrize("name", sorted(EXPECTED))
def test_no_printed_case_of_the_ground_is_missing(name: str) -> None:
    assert {row["id"] for row in published(name)} == EXPECTED[name]
