from __future__ import annotations

import numpy as np
import pytest
import shapely

from pigmap.geometry.frame import CellFrame
from pigmap.geometry.steep import steep_under

FRAME = CellFrame(0.0, 0.0, 0.0, 2.0, 10, 10)


def slopes(share_steep: float, deg: float) -> np.ndarray:
    found = np.full((10, 10), 3.0)
    found.ravel()[: round(100 * share_steep)] = deg
    return found


@pytest.mark.parametrize(
    ("share", "deg", "sloping", "steep"),
    [
        (0.0, 20.0, False, False),
        (0.04, 20.0, False, False),
        (0.06, 7.0, True, False),
        (0.06, 12.0, True, False),
        (0.06, 12.1, True, True),
        (0.5, 6.9, False, False),
    ],
)
def test_ground_is_steep_once_enough_of_it_is(share: float, deg: float, sloping: bool, steep: bool) -> None:
    found = steep_under(FRAME, slopes(share, deg), shapely.box(0, 0, 20, 20))
    assert found is not None
    assert (found.is_sloping, found.is_steep) == (sloping, steep)
    assert found.above_strong == pytest.approx(share if deg > 12 else 0.0)


def test_what_no_terrain_image_reaches_is_not_known() -> None:
    assert steep_under(FRAME, np.full((10, 10), np.nan), shapely.box(0, 0, 20, 20)) is None
    half = slopes(1.0, 15.0)
    half[:, 5:] = np.nan
    found = steep_under(FRAME, half, shapely.box(0, 0, 20, 20))
    assert found is not None
    assert found.above_strong == 1.0
