from __future__ import annotations

from collections.abc import Iterator
from pathlib import Path

import pytest
from pytestqt.qtbot import QtBot

from pigmap.builtin.tools.side_lengths import AREA_PX, LEAST_PX, area_so_far, side_lengths
from pigmap.drawing.labels import declutter
from pigmap.drawing.layer import Label, Side
from pigmap.drawing.view import View
from pigmap.qt.stage import Stage
from tests.qt.window_farm import made_stage


@pytest.fixture
def stage(qtbot: QtBot, tmp_path: Path) -> Iterator[Stage]:
    with made_stage(tmp_path) as made:
        yield made


SQUARE = [(0.0, 0.0), (50.0, 0.0), (50.0, 50.0), (0.0, 50.0)]


@pytest.mark.parametrize("points", [SQUARE, [*reversed(SQUARE)]])
def test_lengths_lie_outside_the_shape_whichever_way_it_is_walked(
    stage: Stage, points: list[tuple[float, float]]
) -> None:
    ways: dict[tuple[float, float], Side] = {(25, 0): "below", (50, 25): "right", (25, 50): "above", (0, 25): "left"}
    for label in side_lengths(points, points[0], stage):
        assert label.side == ways[label.x_m, label.y_m]


def test_beside_a_slanting_side_the_words_lie_off_it_at_a_corner(stage: Stage) -> None:
    first, second, third = side_lengths([(0.0, 0.0), (40.0, 40.0), (0.0, 80.0)], (-40.0, 40.0), stage)
    assert (first.side, second.side, third.side) == ("right below", "right above", "left above")


def _box(label: Label, view: View) -> tuple[float, float, float, float]:
    (found,) = declutter([label], view)
    x, y = label.x_m / view.metres_per_unit + found.left, label.y_m / view.metres_per_unit - found.top
    return x, y - found.height, x + found.width, y


def test_at_the_first_zoom_a_small_paddock_is_free_of_words(stage: Stage) -> None:
    view = View(0.0, 0.0, 1.3, 1000.0, 600.0)
    for label in side_lengths(SQUARE, SQUARE[0], stage):
        left, bottom, right, top = _box(label, view)
        side = 50.0 / 1.3
        assert right <= 0 or left >= side or top <= 0 or bottom >= side


def test_short_sides_have_no_length_but_the_last_and_the_one_that_is_drawn(stage: Stage) -> None:
    labels = side_lengths(SQUARE[:3], SQUARE[3], stage)
    far = View(0.0, 0.0, 50.0 / LEAST_PX + 0.1, 1000.0, 600.0)
    assert len(declutter(labels[:1], far)) == 0
    assert len(declutter(labels[1:2], far)) == 1
    assert len(declutter(labels[2:], far)) == 1
    near = View(0.0, 0.0, 0.3, 1000.0, 600.0)
    assert len(declutter(labels, near)) == 3


def test_the_area_is_written_where_it_has_room(stage: Stage) -> None:
    label = area_so_far(SQUARE, None, stage)
    assert len(declutter(label, View(0.0, 0.0, 50.0 / AREA_PX + 0.01, 1000.0, 600.0))) == 0
    assert len(declutter(label, View(0.0, 0.0, 50.0 / AREA_PX - 0.01, 1000.0, 600.0))) == 1
