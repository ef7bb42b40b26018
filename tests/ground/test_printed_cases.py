from __future__ import annotations

import pytest

from tests.conftest import published

EXPECTED = {
    "ground_degree_days.csv": {"G1", "G2", "G3", "G3-held", "G3-most", "G4"},
    "ground_cover.csv": {"G11", "G12", "G13-half", "G13-tenth", "G13-bare", "G14"},
    "ground_fescue.csv": {"G5-least", "G5-most", "G5-hot"},
    "ground_fit.csv": {"S6-100", "S6-50", "S4", "S3", "S1-10", "S1-25", "S2", "S8"},
    "ground_order.csv": {"S5-37", "S5-74", "S5-111", "S5-148"},
    "ground_manure.csv": {"G15"},
    "ground_dung.csv": {"S9"},
    "ground_steps.csv": {"G16"},
}


@pytest.mark.parametrize("name", sorted(EXPECTED))
def test_no_printed_case_of_the_ground_is_missing(name: str) -> None:
    assert {row["id"] for row in published(name)} == EXPECTED[name]


def test_every_numbered_case_and_trial_is_in_a_table() -> None:
    ids = {row_id.split("-")[0] for ids in EXPECTED.values() for row_id in ids}
    assert ids >= {f"G{number}" for number in (1, 2, 3, 4, 5, 11, 12, 13, 14, 15, 16)}
    assert ids >= {f"S{number}" for number in (1, 2, 3, 4, 5, 6, 8, 9)}
