"""The map of the window: it follows its stage."""

from __future__ import annotations

from collections.abc import Iterator
from datetime import timedelta
from pathlib import Path

import numpy as np
import pytest
import shapely
from PySide6.QtGui import QImage, QRegion
from PySide6.QtWidgets import QApplication
from pytestqt.qtbot import QtBot

from pigmap.document.edits import add_keep_out, reshape_field
from pigmap.drawing.layer import Cells, Outlines, Size, Stroke
from pigmap.qt import map_scene
from pigmap.qt.canvas import MapView
from pigmap.qt.carried import Carried
from pigmap.qt.scale_bar import round_length
from pigmap.qt.stage import Stage
from pigmap.records import Reason
from tests.qt.window_farm import drop, made_stage


@pytest.fixture
def stage(qtbot: QtBot, tmp_path: Path) -> Iterator[Stage]:
    with made_stage(tmp_path) as made:
        yield made


@pytest.fixture
def canvas(stage: Stage) -> Iterator[MapView]:
    made = MapView(stage)
    made.resize(700, 420)
    made.show()
    QApplication.processEvents()
    made.settle()
    yield made
    made.close_down()
    drop(made)


def picture(canvas: MapView) -> QImage:
    canvas.settle()
    return canvas.grab().toImage().convertToFormat(QImage.Format.Format_RGB32)


def cells(canvas: MapView) -> list[Cells]:
    return [layer for layer in canvas.picture._layers["cells"] if isinstance(layer, Cells)]


def test_it_opens_on_all_of_the_farm(canvas: MapView) -> None:
    west, south, east, north = canvas.view.bounds
    field = canvas.stage.session.farm.fields["field"].outline
    assert west < field.bounds[0]
    assert east > field.bounds[2]
    assert south < field.bounds[1]
    assert north > field.bounds[3]


def test_another_day_colours_the_ground_anew(canvas: MapView) -> None:
    before = picture(canvas)
    codes = cells(canvas)[0].codes
    canvas.stage.show_day(canvas.stage.today - timedelta(days=11))
    assert not np.array_equal(cells(canvas)[0].codes, codes)
    assert picture(canvas) != before


def test_going_back_to_the_day_shows_the_same_picture(canvas: MapView, qtbot: QtBot) -> None:
    before = picture(canvas)
    canvas.stage.show_day(canvas.stage.today + timedelta(days=9))
    qtbot.wait(2 * map_scene.LINES_LATER_MS)
    canvas.stage.show_day(canvas.stage.today)
    qtbot.wait(2 * map_scene.LINES_LATER_MS)
    assert picture(canvas) == before


def test_on_a_large_farm_clods_follow_the_colours(
    canvas: MapView, qtbot: QtBot, monkeypatch: pytest.MonkeyPatch
) -> None:
    monkeypatch.setattr(map_scene, "AT_ONCE_CELLS", 10)
    canvas.stage.show_day(canvas.stage.today - timedelta(days=3))
    assert cells(canvas)[0].clods is None
    qtbot.waitUntil(lambda: cells(canvas)[0].clods is not None)


@pytest.mark.parametrize("name", ["none", "rest", "ready"])
def test_another_way_to_show_the_ground_changes_the_picture(canvas: MapView, name: str) -> None:
    before = picture(canvas)
    canvas.stage.show_tint(name)
    assert picture(canvas) != before


def test_an_edit_shows_at_once(canvas: MapView) -> None:
    before = picture(canvas)
    canvas.stage.session.do(add_keep_out(shapely.box(250, 20, 280, 60), Reason.WET, name="Rushes")).result()
    after = canvas.grab().toImage().convertToFormat(QImage.Format.Format_RGB32)
    assert after != before
    canvas.stage.session.undo().result()
    assert picture(canvas) == before


def test_a_field_that_grows_is_part_of_the_whole(canvas: MapView) -> None:
    canvas.stage.session.do(reshape_field("field", shapely.box(-20, -20, 900, 130))).result()
    canvas.show_whole()
    assert canvas.view.bounds[2] > 900


def test_a_farm_with_nothing_in_it_is_an_empty_map(qtbot: QtBot, tmp_path: Path) -> None:
    with made_stage(tmp_path, empty=True) as stage:
        canvas = MapView(stage)
        canvas.resize(400, 300)
        canvas.show()
        assert not picture(canvas).isNull()
        canvas.close_down()
        drop(canvas)


def test_the_theme_changes_the_paper(canvas: MapView) -> None:
    canvas.look_at((1000.0, 1000.0, 1100.0, 1100.0))
    light = picture(canvas).pixelColor(200, 200).lightness()
    canvas.stage.show_theme("dark")
    assert picture(canvas).pixelColor(200, 200).lightness() < light - 100


def test_a_tool_is_there_after_the_first_frame(canvas: MapView, qtbot: QtBot) -> None:
    qtbot.waitUntil(lambda: canvas.gestures.tool is not None)
    assert canvas.gestures.tool is not None
    assert canvas.gestures.tool.name == "pick"


def test_what_lies_beyond_the_edges_waits_for_the_first_complete_frame(stage: Stage, qtbot: QtBot) -> None:
    fresh = MapView(stage)
    fresh.resize(700, 420)
    with pytest.MonkeyPatch.context() as patch:
        patch.setattr(MapView, "may_load", property(lambda _: False))  # as while the ground is computed
        fresh.show()
        qtbot.wait(150)
        assert fresh.picture.is_complete
        assert fresh.picture._now is not None
        assert fresh.picture._now.owes()
    with qtbot.waitSignal(fresh.settled):
        pass
    assert not fresh.picture._now.owes()
    fresh.close_down()
    drop(fresh)


def test_what_is_carried_looks_as_if_it_were_painted_there(canvas: MapView) -> None:
    canvas.stage.show_tint("none")
    scale = canvas.view.metres_per_unit
    ring = np.array([[300.0, 60.0], [330.0, 60.0], [330.0, 90.0], [300.0, 90.0]])
    stroke = (Stroke("#1650B8", Size(3, 1)),)
    moved = Outlines(ring + np.array([40 * scale, 10 * scale]), np.array([0, 4]), closed=True, strokes=stroke)
    canvas.preview([moved])
    painted = picture(canvas)
    canvas.preview([])
    canvas.carry([Outlines(ring, np.array([0, 4]), closed=True, strokes=stroke)], (40 * scale, 10 * scale))
    carried = picture(canvas)
    a, b = (np.frombuffer(each.constBits(), dtype=np.uint8).astype(int) for each in (painted, carried))
    assert (np.abs(a - b) > 90).mean() < 0.003
    canvas.carry([], (0.0, 0.0))
    assert picture(canvas) != painted


def test_nothing_carried_covers_nothing() -> None:
    assert Carried().rect.isNull()


@pytest.mark.parametrize(("longest", "shown"), [(0.07, 0.05), (1.0, 1.0), (19.0, 10.0), (499.0, 200.0)])
def test_the_scale_bar_has_a_round_length(longest: float, shown: float) -> None:
    assert round_length(longest) == pytest.approx(shown)


def test_another_day_repaints_the_ground_of_the_fields_alone(canvas: MapView) -> None:
    changed = canvas.picture.show("cells", [])
    assert not changed.isEmpty()
    assert changed != QRegion(canvas.picture.rect)
    assert canvas.picture.rect.contains(changed.boundingRect())
    assert canvas.picture.show("cells", []).isEmpty()
