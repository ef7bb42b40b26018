from __future__ import annotations

import numpy as np
from hypothesis import given
from hypothesis import strategies as st
from numpy.typing import NDArray

from pigmap.drawing import by_cell as module
from pigmap.drawing.by_cell import by_cell

REGION_OF = np.random.default_rng(1).integers(-1, 12, (30, 41)).astype(np.intp)


def _plainly(of_region: NDArray[np.uint8], region_of: NDArray[np.intp], outside: int) -> NDArray[np.uint8]:
    return np.where(region_of < 0, np.uint8(outside), of_region[region_of])


@given(st.lists(st.tuples(st.lists(st.integers(0, 3), min_size=12, max_size=12), st.sampled_from([15, 255]))))
def test_one_day_after_the_other_gives_what_each_day_gives_alone(days: list[tuple[list[int], int]]) -> None:
    for numbers, outside in days:
        of_region = np.array(numbers, dtype=np.uint8)
        assert np.array_equal(by_cell(of_region, REGION_OF, outside), _plainly(of_region, REGION_OF, outside))


def test_what_was_given_before_is_not_written_to() -> None:
    first = np.zeros(12, dtype=np.uint8)
    second = first.copy()
    second[5] = 7
    before = [by_cell(each, REGION_OF, 255) for each in (first, first, second)]
    assert [int(cells[cells < 255].max()) for cells in before] == [0, 0, 7]


def test_ground_that_is_gone_is_forgotten() -> None:
    region_of = REGION_OF.copy()
    by_cell(np.zeros(12, dtype=np.uint8), region_of, 255)
    kept = len(module._spread)
    del region_of
    assert len(module._spread) == kept - 1
