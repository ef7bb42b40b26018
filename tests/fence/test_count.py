from __future__ import annotations

import numpy as np
import pytest

from pigmap.fence.count import nets_along, nets_for
from pigmap.geometry.runs import Run
from pigmap.geometry.sides import FLUSH_M
from pigmap.records import NetKind

FIFTY = NetKind(name="50 m nets", bays_mm=(3572,) * 13 + (3564,))
ODD = NetKind(name="164 ft nets", bays_mm=(3810,) * 13 + (457,))


@pytest.mark.parametrize(
    ("length_mm", "nets"), [(0, 0), (1, 1), (50_000, 1), (51_000, 2), (150_000, 3), (240_000, 5), (250_000, 5)]
)
def test_a_run_takes_the_whole_nets_that_reach(length_mm: int, nets: int) -> None:
    assert nets_along(length_mm, FIFTY) == nets


@pytest.mark.parametrize(
    ("length_mm", "nets"),
    [(50_001, 1), (150_001, 3), (150_100, 3), (150_101, 4), (500_100, 10), (500_101, 11), (100, 1), (50, 1)],
)
def test_no_net_is_carried_for_the_play_of_a_run_however_many_nets_it_takes(length_mm: int, nets: int) -> None:
    assert round(FLUSH_M * 1000) == 100
    assert nets_along(length_mm, FIFTY) == nets


def test_each_run_has_its_own_play_and_lends_none_to_others() -> None:
    assert nets_for([Run(np.zeros((2, 2)), 50_100)] * 20, FIFTY) == 20
    assert nets_for([Run(np.zeros((2, 2)), 50_101), *[Run(np.zeros((2, 2)), 49_900)] * 19], FIFTY) == 21


def test_runs_share_no_net() -> None:
    runs = [Run(np.zeros((2, 2)), 60_000), Run(np.zeros((2, 2)), 30_000)]
    assert nets_for(runs, FIFTY) == 3
    assert nets_for([], FIFTY) == 0


def test_nets_with_an_odd_last_bay_count_by_their_own_length() -> None:
    assert ODD.length_mm == 49_987
    assert nets_along(4 * 49_987, ODD) == 4
    assert nets_along(200_000, ODD) == 4  # 52 mm longer than the nets
    assert nets_along(4 * 49_987 + 101, ODD) == 5
