from __future__ import annotations

import subprocess
import sys
from collections.abc import Iterator
from contextlib import contextmanager
from dataclasses import dataclass, fields
from datetime import date
from pathlib import Path
from types import MappingProxyType
from typing import Any, cast

import numpy as np
import pytest
from PySide6.QtCore import QCoreApplication
from pytestqt.qtbot import QtBot

from pigmap.drawing.layer import Tiles
from pigmap.errors import PigmapError
from pigmap.geometry.projection import projection_for
from pigmap.imagery.sidecar_source import GrowingSource, SidecarSource
from pigmap.imagery.source import ImageSource
from pigmap.plugins import Registry
from pigmap.qt.ground_view import GroundView
from pigmap.qt.growing import Growing, giving_way
from pigmap.qt.photo import Photo
from pigmap.qt.stage import Stage
from pigmap.records import Farm, Image, Projection
from pigmap.session import Session
from pigmap.session.images import FarmImages
from pigmap.session.slow_images import usual_folder

ROWS, COLUMNS = 1100, 1500
WHOLE = (500_000.0, 5_540_000.0 - ROWS / 2, 500_000.0 + COLUMNS / 2, 5_540_000.0)


@dataclass(eq=False)
class Open:
    """A session as far as images go."""

    farm: Farm
    path: Path
    registry: Registry


def written(path: Path, **how: Any) -> None:
    from pigmap.geometry.native import own_data

    own_data()
    import rasterio
    from rasterio.transform import from_origin

    rng = np.random.default_rng(5)
    with rasterio.open(
        path, "w", driver="GTiff", width=COLUMNS, height=ROWS, count=3, dtype="uint8", photometric="RGB",
        crs="EPSG:32632", transform=from_origin(WHOLE[0], WHOLE[3], 0.5, 0.5), **how,
    ) as out:  # fmt: skip
        out.write(np.kron(rng.integers(60, 200, (3, 11, 15), dtype=np.uint8), np.ones((1, 100, 100), dtype=np.uint8)))


@dataclass
class Shown:
    """A view of one slow image."""

    view: GroundView
    growing: Growing
    photo: Photo
    said: list[str]


@contextmanager
def shown(folder: Path) -> Iterator[Shown]:
    image = Image(uid="a", name="Aerial", link="aerial.tif")
    projection = projection_for("EPSG:32632", (9.0, 50.0))
    farm = Farm(document_uid="d", projection=projection, images=MappingProxyType({"a": image}))
    session = cast("Session", Open(farm, folder / "hill.gpkg", Registry([])))
    view = GroundView(Stage(session, date(2026, 5, 13)))
    view.resize(600, 400)
    images = FarmImages(session)
    growing = Growing(view, images)
    photo = Photo(lambda: growing.open("a"))
    said: list[str] = []
    growing.refused.connect(lambda why: said.append(str(why)))
    view.show_photos({"a": photo})
    view.show_layers([Tiles("a")])
    view.look_at(WHOLE)
    view.show()
    try:
        yield Shown(view, growing, photo, said)
    finally:
        view.close_down()
        growing.close()
        images.close()
        view.close()
        view.deleteLater()
        QCoreApplication.sendPostedEvents(view, 52)  # deleted now, not while another test runs


def made(shown: Shown, qtbot: QtBot) -> None:
    qtbot.waitUntil(lambda: shown.photo.source is not None and not shown.growing.busy, timeout=10_000)


def test_a_slow_image_shows_at_once_and_its_tiles_are_made_and_kept(qtbot: QtBot, tmp_path: Path) -> None:
    written(tmp_path / "aerial.tif", compress="lzw", blockysize=1)
    with shown(tmp_path) as first:
        shares: list[float] = []
        first.growing.grew.connect(lambda _, share: shares.append(share))
        made(first, qtbot)
        assert isinstance(first.photo.source, GrowingSource)
        small = first.photo.overview()
        assert small is not None
        assert first.photo.overview_bounds == pytest.approx(WHOLE)
        qtbot.waitUntil(lambda: shares[-1:] == [1.0], timeout=5000)
        first.view.settle()
        picture = first.view.grab().toImage()
        live = first.photo.source.live
        assert isinstance(live, ImageSource)
        straight = live.tile(0, 0, 0)[50, 50, :3].tolist()
        x, y = first.view.view.to_device(np.array([[WHOLE[0] + 25, WHOLE[3] - 25]]))[0]
        shown_there = picture.pixelColor(round(x), round(y))
        assert [shown_there.red(), shown_there.green(), shown_there.blue()] == pytest.approx(straight, abs=6)
        assert [path.suffix for path in usual_folder().iterdir()] == [".kept"]
        assert first.said == []
    with shown(tmp_path) as again:
        qtbot.waitUntil(lambda: again.photo.source is not None, timeout=10_000)
        assert type(again.photo.source) is SidecarSource
        assert not again.growing.busy


def test_a_quick_image_is_read_as_it_is(qtbot: QtBot, tmp_path: Path) -> None:
    written(tmp_path / "aerial.tif")
    with shown(tmp_path) as view:
        made(view, qtbot)
        assert isinstance(view.photo.source, ImageSource)
    assert not usual_folder().exists()


def test_what_was_cut_off_is_gone_on_with_at_the_next_opening(qtbot: QtBot, tmp_path: Path) -> None:
    written(tmp_path / "aerial.tif", compress="lzw", blockysize=1)
    with shown(tmp_path) as first:
        qtbot.waitUntil(lambda: first.photo.source is not None, timeout=10_000)
    assert [path.suffix for path in usual_folder().iterdir()] in ([".part"], [".kept"])
    with shown(tmp_path) as again:
        made(again, qtbot)
    assert [path.suffix for path in usual_folder().iterdir()] == [".kept"]


def test_a_disk_that_fills_meanwhile_is_said_once_and_the_image_is_shown_as_it_is(
    qtbot: QtBot, tmp_path: Path, monkeypatch: pytest.MonkeyPatch
) -> None:
    written(tmp_path / "aerial.tif", compress="lzw", blockysize=1)

    def full(*_: object, **__: object) -> bool:
        raise OSError(28, "No space left on device")

    monkeypatch.setattr("pigmap.imagery.sidecar.build", full)
    with shown(tmp_path) as view:
        qtbot.waitUntil(lambda: bool(view.said), timeout=10_000)
        assert len(view.said) == 1
        assert "is too full for the pictures kept of aerial.tif" in view.said[0]
        assert isinstance(view.photo.source, ImageSource)
        view.view.settle()
        assert view.view.complete
    assert list(usual_folder().iterdir()) == []


def test_work_waits_while_the_map_moves_and_can_be_stopped_meanwhile() -> None:
    class Moving:
        moves = True

    asked: list[bool] = []

    def stop() -> bool:
        asked.append(True)
        return len(asked) > 3

    assert giving_way(stop, cast("GroundView", Moving()))()
    assert len(asked) == 5


def test_a_refusal_reaches_the_message_bar_once_for_each_reason(qtbot: QtBot, tmp_path: Path) -> None:
    from tests.qt.window_farm import made_window

    with made_window(tmp_path) as window:
        said: list[str] = []
        window.stage.noticed.connect(lambda notice: said.append(str(notice.text)))
        for name in ("a.tif", "a.tif", "b.tif"):
            window.map.scene.growing.refused.emit(
                PigmapError("The disk is full for {name}.", remedy="Go on.", name=name)
            )
        assert said == ["The disk is full for a.tif. Go on.", "The disk is full for b.tif. Go on."]


def test_kept_tiles_are_shown_without_the_image_reader(qtbot: QtBot, tmp_path: Path) -> None:
    written(tmp_path / "aerial.tif", compress="lzw", blockysize=1)
    with shown(tmp_path) as first:
        made(first, qtbot)
    script = (
        "import sys; from pathlib import Path\n"
        "from pigmap.geometry.projection import projection_for\n"
        "from pigmap.imagery.sidecar import kept_tiles\n"
        "from pigmap.session.slow_images import place_of; from pigmap.session.personal import load_personal\n"
        "from pigmap.records import Projection\n"
        f"projection = Projection(**{_told(projection_for('EPSG:32632', (9.0, 50.0)))!r})\n"
        f"kept = kept_tiles(Path({str(tmp_path / 'aerial.tif')!r}), projection, place_of(load_personal()))\n"
        "print(kept.tile(0, 1, 1).shape, sorted({'rasterio', 'pyproj', 'PySide6'} & set(sys.modules)))\n"
    )
    done = subprocess.run([sys.executable, "-c", script], capture_output=True, text=True, check=True)
    assert done.stdout.strip() == "(512, 512, 4) []"


def _told(projection: Projection) -> dict[str, object]:
    return {each.name: getattr(projection, each.name) for each in fields(projection)}
