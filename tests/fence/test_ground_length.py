from __future__ import annotations

import math

import numpy as np
import pytest

from pigmap.fence.ground_length import bow_share, ground_mm, map_mm, wave_share


@pytest.mark.parametrize(("slope", "loss"), [(5.0, 0.004), (10.0, 0.015), (15.0, 0.034), (20.0, 0.060)])
def test_a_slope_takes_its_share_of_a_net_up_or_down(slope: float, loss: float) -> None:
    assert 1.0 - map_mm(50_000, slope) / 50_000 == pytest.approx(loss, abs=5e-4)
    assert map_mm(50_000, -slope) == map_mm(50_000, slope)


@pytest.mark.parametrize("slope", [0.0, 3.7, 15.0, 31.0])
@pytest.mark.parametrize("net", [25_000, 49_987, 50_000])
def test_what_a_net_reaches_on_the_map_takes_that_net(slope: float, net: int) -> None:
    assert ground_mm([map_mm(net, slope)], [slope], slack=0.0) == net


def test_edges_add_up_each_with_its_own_slope_then_waves_then_slack() -> None:
    plain = 10_000 / math.cos(math.radians(10.0)) + 20_000
    assert ground_mm([10_000, 20_000], [10.0, 0.0], slack=0.0) == math.ceil(plain)
    assert ground_mm([10_000, 20_000], [-10.0, 0.0], waves=0.02, slack=0.05) == math.ceil(plain * 1.02 / 0.95)
    assert ground_mm([], []) == 0


def test_a_hundredth_of_slack_is_assumed() -> None:
    assert ground_mm([99_000], [0.0]) == 100_000


def test_waves_take_what_measuring_along_them_finds() -> None:
    along = np.linspace(0.0, 5.0, 200_001)
    height = 0.15 * np.sin(2.0 * np.pi * along / 5.0)
    way = np.hypot(np.diff(along), np.diff(height)).sum()
    assert wave_share(0.15, 5.0) == pytest.approx(way / 5.0 - 1.0, rel=0.02)


def test_a_bowed_bay_loses_what_measuring_along_its_bow_finds() -> None:
    along = np.linspace(-0.5, 0.5, 200_001) * 3.57
    bow = 0.2 * (1.0 - (2.0 * along / 3.57) ** 2)
    way = np.hypot(np.diff(along), np.diff(bow)).sum()
    assert bow_share(0.2, 3.57) == pytest.approx(way / 3.57 - 1.0, rel=0.02)
    assert bow_share(0.2, 3.57) == pytest.approx(0.0084, abs=5e-5)
