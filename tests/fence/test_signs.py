from __future__ import annotations

import numpy as np
import pytest

from pigmap.fence.signs import SIGNS_APART_M, signs_along


@pytest.mark.parametrize("length", [1.0, 49.0, 50.0, 50.1, 99.9, 100.0, 333.0])
def test_no_two_signs_are_farther_apart_than_they_may_be_and_none_is_too_many(length: float) -> None:
    signs = signs_along(length)
    assert np.diff(np.linspace(0.0, length, signs)).max() <= SIGNS_APART_M
    assert signs == 2 or np.diff(np.linspace(0.0, length, signs - 1)).max() > SIGNS_APART_M


def test_crossings_have_their_own_and_no_public_way_has_none() -> None:
    assert signs_along(0.0) == 0
    assert signs_along(0.0, crossings=1) == 1
    assert signs_along(120.0, crossings=2) == 6


def test_a_length_that_is_a_multiple_but_for_rounding_has_no_sign_more() -> None:
    assert signs_along(0.1 * 3 * 500.0) == 4
    assert 0.1 * 3 * 500.0 > 150.0
