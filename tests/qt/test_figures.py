from __future__ import annotations

from collections.abc import Iterator
from datetime import timedelta
from pathlib import Path

import pytest
from pytestqt.qtbot import QtBot

from pigmap.document.edits import change_setting
from pigmap.drawing.layer import Label, Labels
from pigmap.qt.figures import PRIORITY, Figures
from pigmap.qt.stage import Stage
from pigmap.qt.window import Window
from tests.qt.window_farm import made_stage, made_window


@pytest.fixture
def stage(qtbot: QtBot, tmp_path: Path) -> Iterator[Stage]:
    with made_stage(tmp_path) as made:
        yield made


def figures(stage: Stage, name: str) -> tuple[Label, ...]:
    return Figures(stage).labels(stage.session.registry.load("tints", name))


def test_each_used_paddock_bears_its_nitrogen_and_its_stocking(stage: Stage) -> None:
    laid = figures(stage, "nitrogen")
    assert len(laid) == 6  # three paddocks of two groups; the planned ones carried nothing yet
    assert all(label.words.isdigit() for label in laid)
    assert all(float(label.words) > 0 for label in figures(stage, "stocking"))
    spots = {(label.x_m, label.y_m) for label in laid}
    assert {(25.0, 25.0), (75.0, 25.0), (125.0, 75.0)} < spots


def test_figures_are_in_the_units_of_the_farm(stage: Stage) -> None:
    metric = sum(float(label.words) for label in figures(stage, "nitrogen"))
    stage.session.do(change_setting("units", "us")).result()
    customary = sum(float(label.words) for label in figures(stage, "nitrogen"))
    assert customary == pytest.approx(metric * 0.892, rel=0.06)  # lb/ac for each kg/ha, each figure rounded


def test_figures_follow_the_day(stage: Stage) -> None:
    stage.show_day(stage.today + timedelta(days=800))
    assert figures(stage, "nitrogen") == ()


@pytest.mark.parametrize("name", ["rest", "ready", "since-pigs", "none"])
def test_other_ways_have_no_figures(stage: Stage, name: str) -> None:
    assert figures(stage, name) == ()


def _figures(window: Window) -> set[str]:
    layers = window.map.picture._layers["signs"]
    labels = [label for layer in layers if isinstance(layer, Labels) for label in layer.labels]
    return {label.words for label in labels if label.priority == PRIORITY}


def test_the_map_writes_them_while_the_ground_is_shown_that_way(qtbot: QtBot, tmp_path: Path) -> None:
    with made_window(tmp_path) as window:
        window.stage.show_tint("nitrogen")
        window.map.settle()
        assert _figures(window)
        window.stage.show_tint("rest")
        qtbot.wait(80)
        assert not _figures(window)
