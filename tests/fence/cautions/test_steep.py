from __future__ import annotations

import math

import numpy as np
import pytest
import shapely

from pigmap.fence.cautions.steep import steep_fence, steepest_deg
from pigmap.geometry.frame import CellFrame
from pigmap.geometry.steep import SlopeCells
from tests.fence.cautions.invented import HERE, said

FRAME = CellFrame(-50.0, -50.0, 0.0, 2.0, 75, 75)


def _slopes(bank_deg: float, *, from_east: float = 48.0, to_east: float = 60.0) -> SlopeCells:
    """Return flat ground with a bank along the east side of the invented ground."""
    slopes = np.zeros((FRAME.rows, FRAME.columns))
    east = -50.0 + 2.0 * (np.arange(FRAME.columns) + 0.5)
    slopes[:, (east > from_east) & (east < to_east)] = bank_deg
    return SlopeCells(FRAME, slopes)


def test_above_fifteen_degrees_it_is_told_and_a_tenth_below_it_is_not() -> None:
    assert steep_fence(HERE, [_slopes(15.0)]) is None
    caution = steep_fence(HERE, [_slopes(15.1)])
    assert caution is not None
    assert (caution.id, caution.level, caution.held) == ("W13", "note", "care")
    assert said(caution) == [
        (
            "North 3 has ground of 15.1° under its fence, more than 15°: straight up it a net of 50 m reaches 1.7 m "
            "less far, and it leaves holes under it.",
            "Carry nets for the longer way, close holes under the bottom strand where pigs could push through, or set "
            "that side along the slope.",
        )
    ]


def test_a_bank_that_the_fence_does_not_go_over_is_not_told() -> None:
    assert steep_fence(HERE, [_slopes(30.0, from_east=52.0)]) is None
    assert steep_fence(HERE, [_slopes(30.0, from_east=4.0, to_east=46.0)]) is not None  # its north and south sides
    inner = shapely.box(6, 6, 44, 44)
    assert steepest_deg(inner, _slopes(30.0, from_east=10.0, to_east=40.0)) == 30.0


def test_where_no_terrain_image_reaches_nothing_is_told() -> None:
    unknown = SlopeCells(FRAME, np.full((FRAME.rows, FRAME.columns), np.nan))
    assert steep_fence(HERE, [unknown]) is None
    assert steep_fence(HERE, []) is None
    assert steepest_deg(shapely.box(500, 500, 550, 550), _slopes(30.0)) == 0.0


@pytest.mark.parametrize(("slope", "loss"), [(15.0, 0.034), (20.0, 0.060)])
def test_what_a_net_loses_is_derived(slope: float, loss: float) -> None:
    assert 1.0 - math.cos(math.radians(slope)) == pytest.approx(loss, abs=5e-4)
