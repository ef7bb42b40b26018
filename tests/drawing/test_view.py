from __future__ import annotations

import numpy as np
import pytest

from pigmap.drawing.view import View

BOUNDS = (100.0, 200.0, 500.0, 400.0)


def _box(view: View) -> tuple[float, float, float, float]:
    west, south, east, north = BOUNDS
    (left, top), (right, bottom) = view.to_device(np.array([(west, north), (east, south)])).tolist()
    return left, top, right, bottom


@pytest.mark.parametrize(("width", "height"), [(900, 480), (1300, 400), (400, 800)])
def test_what_is_shown_whole_lies_in_the_middle_with_room_around(width: int, height: int) -> None:
    left, top, right, bottom = _box(View.around(BOUNDS, width, height))
    assert left == pytest.approx(width - right)
    assert top == pytest.approx(height - bottom)
    assert min(left, top) >= 0.06 * min(width, height) - 1e-6


@pytest.mark.parametrize(("width", "height"), [(900, 480), (1300, 400), (400, 800)])
def test_what_lies_over_the_upper_edge_keeps_its_room(width: int, height: int) -> None:
    left, top, right, bottom = _box(View.around(BOUNDS, width, height, top=64))
    assert top >= 64 - 1e-6
    assert bottom <= height * 0.94 + 1e-6
    assert left == pytest.approx(width - right)


def test_on_a_low_map_no_more_than_a_sixth_is_kept_free() -> None:
    assert _box(View.around(BOUNDS, 900, 240, top=64))[1] == pytest.approx(40)
