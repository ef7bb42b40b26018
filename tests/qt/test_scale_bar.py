from __future__ import annotations

from pathlib import Path

import pytest
from PySide6.QtCore import QRectF
from PySide6.QtGui import QPainter
from pytestqt.qtbot import QtBot

from pigmap.document.edits import change_setting
from pigmap.qt import scale_bar
from pigmap.qt.scale_bar import METRES_PER_MILE, ScaleBar
from pigmap.records import Projection
from pigmap.units import METRES_PER_FOOT, System
from tests.builtin.tools.map_hand import made_hand
from tests.qt.window_farm import PLANE, WIDE

UNITS = {"m": 1.0, "km": 1000.0, "ft": METRES_PER_FOOT, "mi": METRES_PER_MILE}


class Seen(ScaleBar):
    """A scale bar that keeps how long it is drawn [px], and what it says."""

    def _bar(self, painter: QPainter, bar: QRectF, words: tuple[str, ...]) -> None:
        self.wide, self.words = bar.width(), words
        super()._bar(painter, bar, words)


@pytest.mark.parametrize("system", ["metric", "us"])
@pytest.mark.parametrize("projection", [PLANE, WIDE], ids=lambda projection: projection.name)
@pytest.mark.parametrize("east", [60.0, 430.0, 9_000.0])
def test_the_bar_is_as_long_as_it_says_on_the_ground(
    qtbot: QtBot, tmp_path: Path, projection: Projection, system: System, east: float
) -> None:
    with made_hand(tmp_path, projection=projection) as hand:
        hand.stage.session.do(change_setting("units", system)).result()
        hand.look(0.0, 0.0, east, east / 2)
        bar = Seen(hand.map)
        bar._kept()
        length, sign = bar.words[-1].split(" ")
        says_m = float(length) * UNITS[sign]
        grid_m = bar.wide * hand.map.view.metres_per_unit
        assert grid_m * projection.ground_per_grid == pytest.approx(says_m, rel=1e-9)
        assert 50 < bar.wide <= 150


@pytest.mark.parametrize(("text_scale", "figures"), [(1.0, ["0", "100", "200 m"]), (1.5, ["0", "200 m"])])
def test_its_figures_do_not_run_into_each_other(
    qtbot: QtBot, tmp_path: Path, monkeypatch: pytest.MonkeyPatch, text_scale: float, figures: list[str]
) -> None:
    written: list[str] = []

    def keep(painter: QPainter, box: QRectF, words: str, *_: object) -> float:
        written.append(words)
        return 0.0

    monkeypatch.setattr(scale_bar, "write", keep)
    with made_hand(tmp_path) as hand:
        hand.stage.text_scale = text_scale
        hand.look(0.0, 0.0, 400.0, 200.0)
        bar = Seen(hand.map)
        written.clear()
        bar._paint(200.0 / 90.0, 1.0)  # 200 m are 90 pixels
        assert bar.wide == pytest.approx(90.0)
        assert [word for word in written if word[0].isdigit()] == figures
