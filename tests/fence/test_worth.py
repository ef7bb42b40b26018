from __future__ import annotations

import numpy as np
import pytest

from pigmap.fence.worth import best_beside, carried_share, m2_per_carried_m, oblong_share, square_m2, square_m2_per_net


@pytest.mark.parametrize(("nets", "area", "each"), [(4, 2500.0, 625.0), (6, 5625.0, 937.5)])
def test_every_net_more_makes_all_of_them_close_more(nets: int, area: float, each: float) -> None:
    assert square_m2(nets, 50.0) == area
    assert square_m2_per_net(nets, 50.0) == each


@pytest.mark.parametrize("aspect", [1.0, 1.3, 2.0, 7.5])
def test_an_oblong_has_the_share_of_a_square_of_the_same_length_round(aspect: float) -> None:
    long = 100.0 * aspect / (1.0 + aspect)
    assert oblong_share(aspect) == pytest.approx(long * (100.0 - long) / 50.0**2)
    assert oblong_share(1.0 / aspect) == pytest.approx(oblong_share(aspect))


def test_what_is_carried_is_what_does_not_stand() -> None:
    assert carried_share(70.0, 30.0) == pytest.approx((70.0 + 30.0 + 30.0) / 200.0)
    assert carried_share(70.0, 30.0, shared=0) == 1.0
    assert carried_share(70.0, 30.0, shared=2) == 0.5


@pytest.mark.parametrize("carried", [90.0, 150.0, 200.0])
def test_no_other_shape_closes_more_with_what_is_carried(carried: float) -> None:
    sides = np.linspace(0.5, carried - 0.5, 2_001)
    areas = sides * (carried - sides) / 2.0
    side, deep = best_beside(carried)
    assert side + 2.0 * deep == carried
    assert side * deep == pytest.approx(carried**2 / 8.0)
    assert side * deep >= areas.max() - 1e-9


def test_oblongs_that_go_forward_across_their_long_side_beat_squares() -> None:
    assert m2_per_carried_m(100.0, 50.0) == 25.0
    assert m2_per_carried_m(50.0, 50.0) == pytest.approx(16.7, abs=0.05)
    assert m2_per_carried_m(50.0, 100.0) == 20.0
