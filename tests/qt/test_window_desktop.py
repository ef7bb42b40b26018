from __future__ import annotations

import os
import subprocess
import sys
import threading
from collections.abc import Iterator
from datetime import timedelta
from pathlib import Path

import numpy as np
import pytest
import rasterio
from PySide6.QtCore import QTimer
from PySide6.QtWidgets import QApplication
from pytestqt.qtbot import QtBot
from rasterio.transform import from_origin

from pigmap.document.edits import link_image, rename
from pigmap.errors import EditError, StoreError
from pigmap.geometry.projection import projection_for
from pigmap.qt import app, desktop, refused_farm
from pigmap.qt.faults import catch_faults, tell_fault
from pigmap.qt.jobs import Jobs
from pigmap.qt.stage import Stage
from pigmap.qt.starting import application, stage_for
from pigmap.qt.waiting import Waiting
from pigmap.qt.watching import Watching
from pigmap.qt.window import Window
from pigmap.session import Session
from pigmap.session.images import FarmImages
from pigmap.session.personal import load_personal
from tests.qt.window_farm import TODAY, made_stage, make_session

ROOT = Path(__file__).resolve().parents[2]


@pytest.fixture
def stage(qtbot: QtBot, tmp_path: Path) -> Iterator[Stage]:
    with made_stage(tmp_path) as made:
        yield made


def _said(stage: Stage) -> list[tuple[str, str]]:
    said: list[tuple[str, str]] = []
    stage.noticed.connect(lambda notice: said.append((str(notice.text), notice.kind)))
    return said


def test_a_farm_is_shown_remembered_and_closed_cleanly(qtbot: QtBot, tmp_path: Path) -> None:
    with make_session(tmp_path) as session:
        path = session.path
    seen: list[str] = []

    def look() -> None:
        (window,) = (each for each in QApplication.topLevelWidgets() if isinstance(each, Window) and each.isVisible())
        seen.append(window.windowTitle())
        QApplication.exit(7)

    QTimer.singleShot(200, look)
    assert app.run(path) == 7
    assert seen == ["Hill Farm"]
    assert load_personal().last_farm == str(path.resolve())


def test_while_the_first_farm_is_made_a_window_says_so_and_goes_when_the_farm_is_there(
    qtbot: QtBot, tmp_path: Path
) -> None:
    with make_session(tmp_path) as session:
        path = session.path
    shown = threading.Event()
    said: list[str] = []

    def waiting() -> list[Waiting]:
        return [each for each in QApplication.topLevelWidgets() if isinstance(each, Waiting)]

    def look() -> None:
        said.extend(each.accessibleName() for each in waiting() if each.isVisible())
        shown.set()

    def make() -> Path:
        QTimer.singleShot(0, application(), look)
        assert shown.wait(10)
        return path

    def leave() -> None:
        if any(isinstance(each, Window) and each.isVisible() for each in QApplication.topLevelWidgets()):
            qtbot.waitUntil(lambda: not waiting())
            QApplication.exit(7)
        else:
            QTimer.singleShot(100, leave)

    QTimer.singleShot(100, leave)
    assert app.run(make) == 7
    assert said == ["The sample farm is being made. This takes some seconds, the first time only."]


def test_whoever_closes_that_window_waits_no_more_and_a_full_disk_is_told(qtbot: QtBot, tmp_path: Path) -> None:
    closed = threading.Event()

    def close() -> None:
        for each in QApplication.topLevelWidgets():
            if isinstance(each, Waiting):
                each.close()
                closed.set()

    def make() -> Path:
        QTimer.singleShot(0, application(), close)
        assert closed.wait(10)
        return tmp_path / "none.gpkg"

    assert app.run(make) == 0

    def fail() -> Path:
        raise StoreError("The disk is full.", remedy="Make room.")

    with pytest.raises(StoreError, match="The disk is full"):
        app.run(fail)


def test_a_file_that_is_no_farm_is_told_before_any_window(
    qtbot: QtBot, tmp_path: Path, monkeypatch: pytest.MonkeyPatch
) -> None:
    path = tmp_path / "notes.gpkg"
    path.write_text("not a farm", encoding="utf-8")
    monkeypatch.setattr(refused_farm, "ask_way_back", lambda *_: None)
    with pytest.raises(StoreError) as caught:
        app.run(path)
    assert "notes.gpkg" in str(caught.value)


def test_edits_of_another_program_are_picked_up(stage: Stage) -> None:
    with Session.open(stage.session.path) as other:
        other.do(rename("groups", "group0", "Old sows")).result()
    desktop.look_round(stage, Watching(stage, stage))
    assert stage.session.farm.groups["group0"].name == "Old sows"


def test_the_window_goes_on_to_the_new_day(stage: Stage, monkeypatch: pytest.MonkeyPatch) -> None:
    class Tomorrow:
        @staticmethod
        def today() -> object:
            return TODAY + timedelta(days=1)

    monkeypatch.setattr(desktop, "date", Tomorrow)
    desktop.look_round(stage, Watching(stage, stage))
    assert stage.today == stage.day == TODAY + timedelta(days=1)


def test_a_fault_is_one_sentence_and_a_report(stage: Stage) -> None:
    said = _said(stage)
    tell_fault(stage, KeyError("nowhere"))
    ((words, kind),) = said
    assert kind == "refused"
    assert words.startswith("The program has a fault; what was done is on disk.")
    report = Path(words.rsplit(" is in ", 1)[1].removesuffix("."))
    assert "KeyError: 'nowhere'" in report.read_text(encoding="utf-8")


def test_an_error_in_words_needs_no_report(stage: Stage) -> None:
    said = _said(stage)
    tell_fault(stage, EditError("The paddock is gone.", remedy="Pick another."))
    assert said == [("The paddock is gone. Pick another.", "refused")]


def test_the_hook_for_faults_is_put_back(stage: Stage) -> None:
    before = sys.excepthook
    stop = catch_faults(stage)
    assert sys.excepthook is not before
    stop()
    assert sys.excepthook is before


def test_a_farm_that_can_only_be_read_says_so(stage: Stage, monkeypatch: pytest.MonkeyPatch) -> None:
    said = _said(stage)
    monkeypatch.setattr(stage.session, "read_only", "The folder is read-only.")
    desktop.say_what_is_amiss(stage)
    assert said == [("The folder is read-only.", "care")]


def test_an_image_without_a_small_picture_gets_one_for_the_next_start(qtbot: QtBot, tmp_path: Path) -> None:
    path = tmp_path / "aerial.tif"
    shape = {"driver": "GTiff", "width": 64, "height": 64, "count": 3, "dtype": "uint8", "crs": "EPSG:25832"}
    with rasterio.open(path, "w", transform=from_origin(500_000, 5_500_000, 1.0, 1.0), **shape) as file:
        file.write(np.full((3, 64, 64), 120, dtype=np.uint8))
    projection = projection_for("EPSG:25832", (9.0, 49.6))
    with Session.create(tmp_path / "hill.gpkg", projection, "Hill Farm") as session:
        session.do(link_image("Aerial", path.name)).result()
        stage = stage_for(session, TODAY)
        images, (uid,) = FarmImages(session), session.farm.images
        assert images.overview(uid) is None
        jobs = Jobs()
        desktop.make_small_pictures(stage, jobs)
        qtbot.waitUntil(lambda: images.overview(uid) is not None, timeout=20_000)
        jobs.close()
        images.close()


SCRIPT = """
import sys
from datetime import date
from pathlib import Path
from pigmap.qt.starting import application, stage_for
app = application()
from pigmap.qt.following import follow
from pigmap.qt.window import Window
from pigmap.session import Session
from pigmap.session.images import FarmImages
with Session.open(Path(sys.argv[1])) as session:
    stage = stage_for(session, date.today())
    window = Window(stage)
    window.show()
    window.repaint()
    print([name for name in sys.argv[2:] if name in sys.modules])
    window.close_down()
"""


def test_at_the_first_frame_no_heavy_library_is_imported(tmp_path: Path) -> None:
    with make_session(tmp_path) as session:
        path = session.path
    heavy = ("pandas", "geopandas", "scipy", "rasterio", "pyproj", "pyogrio", "PIL")
    run = subprocess.run(
        [sys.executable, "-c", SCRIPT, str(path), *heavy],
        env={**os.environ, "QT_QPA_PLATFORM": "offscreen"},
        cwd=ROOT,
        capture_output=True,
        text=True,
        timeout=60,
        check=True,
    )
    assert run.stdout.strip() == "[]"
