"""What the window shows of images that cannot be read, change, go away, or come over a slow connection."""

from __future__ import annotations

from collections.abc import Callable, Iterator
from datetime import date
from pathlib import Path
from typing import Any

import numpy as np
import pytest
from PySide6.QtGui import QImage
from pytestqt.qtbot import QtBot

from pigmap.document.edits import link_image
from pigmap.geometry.projection import projection_for
from pigmap.qt.canvas import MapView
from pigmap.qt.stage import Stage
from pigmap.qt.starting import take_down
from pigmap.qt.tiles import TileKey
from pigmap.session import Session
from pigmap.session.personal import load_personal
from pigmap.session.slow_images import place_of
from tests.imagery.web_server import serving

GROUND = (500_000.0, 5_539_550.0, 500_450.0, 5_540_000.0)
CHANGED = (
    "aerial.tif was changed by another program while it was open. "
    "The map reads it anew; look whether it still lies right."
)
UNREAD = "A part of aerial.tif cannot be read; there the map is hatched or empty. Fetch or copy the image again."


def written(path: Path, *, grey: int = 200, blockwise: bool = True) -> Path:
    """Write 900 by 900 pixels of half a metre, in blocks of 256."""
    from pigmap.geometry.native import own_data

    own_data()
    import rasterio
    from rasterio.transform import from_origin

    noise = np.random.default_rng(3).integers(grey - 20, grey + 20, (3, 900, 900), dtype=np.uint8)
    how: dict[str, Any] = {"tiled": True, "blockxsize": 256, "blockysize": 256} if blockwise else {}
    with rasterio.open(
        path, "w", driver="GTiff", width=900, height=900, count=3, dtype="uint8", photometric="RGB",
        crs="EPSG:32632", transform=from_origin(500_000, 5_540_000, 0.5, 0.5), compress="deflate", **how,
    ) as out:  # fmt: skip
        out.write(noise)
    return path


def tear(path: Path, column: int, row: int) -> None:
    """Spoil one block of a file."""
    import rasterio

    with rasterio.open(path) as file:
        at = int(file.get_tag_item(f"BLOCK_OFFSET_{column}_{row}", "TIFF", bidx=1))
        long = int(file.get_tag_item(f"BLOCK_SIZE_{column}_{row}", "TIFF", bidx=1))
    with path.open("r+b") as out:
        out.seek(at)
        out.write(bytes(long))


Show = Callable[[str], MapView]


@pytest.fixture
def show(qtbot: QtBot, tmp_path: Path) -> Iterator[Show]:
    """Return a function that shows a new farm with one image."""
    open_now: list[tuple[MapView, Session]] = []

    def shown(link: str) -> MapView:
        session = Session.create(tmp_path / "hill.gpkg", projection_for("EPSG:32632", (9.0, 50.0)), "Hill")
        session.do(link_image("aerial", link)).result()
        made = MapView(Stage(session, date(2025, 10, 14)))
        made.resize(450, 450)
        made.look_at(GROUND)
        open_now.append((made, session))
        return made

    yield shown
    for made, session in open_now:
        made.close_down()
        take_down(made)
        session.close()


def picture(view: MapView) -> np.ndarray:
    view.settle()
    grabbed = view.grab().toImage().convertToFormat(QImage.Format.Format_RGB32)
    return np.frombuffer(grabbed.constBits(), dtype=np.uint8).reshape(grabbed.height(), grabbed.width(), 4)[..., :3]


def brightness(view: MapView) -> float:
    """Return that of the middle of the map: photos are dimmed a little."""
    return float(picture(view)[100:350, 100:350].mean())


def notices(view: MapView) -> list[str]:
    said: list[str] = []
    view.stage.noticed.connect(lambda notice: said.append(str(notice.text)))
    return said


def test_a_hole_is_hatched_the_rest_shows_and_one_sentence_says_so(qtbot: QtBot, show: Show, tmp_path: Path) -> None:
    tear(written(tmp_path / "aerial.tif"), 1, 1)
    view = show("aerial.tif")
    said = notices(view)
    seen = picture(view)
    qtbot.waitUntil(lambda: bool(said))
    assert said == [UNREAD]
    rows, columns = np.nonzero(seen[100:300, 100:300].max(axis=2) < 150)  # darker than the photo: hatch
    assert len(rows) > 1000
    middle = rows.mean(), columns.mean()
    assert middle == pytest.approx((92, 92), abs=20)  # block 1, 1 spans 256 to 512 of 900 pixels, on 450
    hole = seen[140:240, 140:240].reshape(-1, 3)
    assert len(np.unique(hole, axis=0)) >= 2  # lines and ground, not one flat grey


def test_a_sound_image_has_no_hatch(show: Show, tmp_path: Path) -> None:
    written(tmp_path / "aerial.tif")
    assert (picture(show("aerial.tif")).max(axis=2) > 150).mean() > 0.99


@pytest.fixture
def looks_at_once(monkeypatch: pytest.MonkeyPatch) -> None:
    monkeypatch.setattr("pigmap.imagery.watch.EVERY_S", 0.0)
    monkeypatch.setattr("pigmap.qt.photo.AGAIN_S", 0.3)
    monkeypatch.setattr("pigmap.qt.growing.LOOK_S", 0.1)


@pytest.mark.usefixtures("looks_at_once")
def test_a_file_that_another_program_changes_is_read_anew(qtbot: QtBot, show: Show, tmp_path: Path) -> None:
    path = written(tmp_path / "aerial.tif")
    view = show("aerial.tif")
    said = notices(view)
    assert brightness(view) == pytest.approx(195, abs=10)
    written(tmp_path / "other.tif", grey=90).replace(path)
    qtbot.waitUntil(lambda: bool(said), timeout=5000)
    qtbot.waitUntil(lambda: abs(brightness(view) - 88) < 10, timeout=15000)
    assert said == [CHANGED]


@pytest.mark.usefixtures("looks_at_once")
def test_a_file_that_is_written_anew_while_it_is_open_is_shown_once_it_rests(
    qtbot: QtBot, show: Show, tmp_path: Path
) -> None:
    path = written(tmp_path / "aerial.tif")
    view = show("aerial.tif")
    said = notices(view)
    assert brightness(view) == pytest.approx(195, abs=10)
    new = written(tmp_path / "other.tif", grey=90).read_bytes()
    with path.open("r+b") as out:  # the very file, in pieces: as other programs write
        out.truncate()
        for start in range(0, len(new), len(new) // 4):
            out.write(new[start : start + len(new) // 4])
            out.flush()
            view.show_anew(next(iter(view.stage.session.farm.images)))
            qtbot.wait(50)
    qtbot.waitUntil(lambda: bool(said), timeout=5000)
    qtbot.waitUntil(lambda: abs(brightness(view) - 88) < 10, timeout=15000)
    assert said == [CHANGED]


@pytest.mark.usefixtures("looks_at_once")
def test_kept_tiles_of_a_file_that_is_replaced_are_let_go(qtbot: QtBot, show: Show, tmp_path: Path) -> None:
    with pytest.MonkeyPatch.context() as patch:
        patch.setattr("pigmap.imagery.sidecar.needs_sidecar", lambda form: True)
        written(tmp_path / "aerial.tif", blockwise=False)
        view = show("aerial.tif")
        said = notices(view)
        grown: list[float] = []
        view.scene.growing.grew.connect(lambda _, share: grown.append(share))
        assert brightness(view) == pytest.approx(195, abs=10)
        qtbot.waitUntil(lambda: 1.0 in grown, timeout=15000)
        assert brightness(view) == pytest.approx(195, abs=10)
        kept = place_of(load_personal()).folder
        assert len(list(kept.glob("*.kept"))) == 1
        grown.clear()
        written(tmp_path / "other.tif", grey=90, blockwise=False).replace(tmp_path / "aerial.tif")
        qtbot.waitUntil(lambda: bool(said), timeout=5000)
        qtbot.waitUntil(lambda: len(list(kept.glob("*.kept"))) == 2, timeout=15000)
        qtbot.waitUntil(lambda: abs(brightness(view) - 88) < 10, timeout=15000)
        assert said == [CHANGED]


@pytest.mark.usefixtures("looks_at_once")
def test_a_file_that_comes_back_is_shown_again_without_a_word(qtbot: QtBot, show: Show, tmp_path: Path) -> None:
    written(tmp_path / "other.tif")
    view = show("aerial.tif")
    said = notices(view)
    view.settle()
    qtbot.waitUntil(lambda: bool(said), timeout=5000)
    (tmp_path / "other.tif").replace(tmp_path / "aerial.tif")
    qtbot.waitUntil(lambda: abs(brightness(view) - 195) < 10, timeout=15000)
    assert len(said) == 1
    assert "aerial has moved: no image is at" in said[0]


@pytest.mark.usefixtures("looks_at_once")
def test_a_file_that_goes_away_is_said_and_the_map_keeps_what_it_has(qtbot: QtBot, show: Show, tmp_path: Path) -> None:
    path = written(tmp_path / "aerial.tif")
    view = show("aerial.tif")
    said = notices(view)
    before = picture(view)
    path.unlink()
    view.show_more_of(next(iter(view.stage.session.farm.images)))
    view.look_at((500_000.0, 5_539_900.0, 500_100.0, 5_540_000.0))  # finer tiles, which nobody read before
    assert brightness(view) == pytest.approx(float(before[100:350, 100:350].mean()), abs=8)
    qtbot.waitUntil(lambda: bool(said), timeout=5000)
    assert said == [
        f"aerial.tif is no longer in {tmp_path}; the map shows what it has of it. Put it back, or show where it is."
    ]


def test_over_a_slow_connection_the_window_goes_on_and_tiles_come_later(
    qtbot: QtBot, show: Show, tmp_path: Path, monkeypatch: pytest.MonkeyPatch
) -> None:
    from time import perf_counter

    for module in ("web_file", "web"):
        monkeypatch.setattr(f"pigmap.imagery.{module}.WAIT_S", 1)
    for module in ("pigmap.imagery.source", "pigmap.qt.photo"):
        monkeypatch.setattr(f"{module}.AGAIN_S", 0.5)
    with serving(written(tmp_path / "aerial.tif")) as server:
        server.manner = "silent"
        view = show(server.address())
        said = notices(view)
        begun = perf_counter()
        view.grab()
        assert perf_counter() - begun < 0.5  # painting does not wait for the server
        view.settle()
        qtbot.waitUntil(lambda: bool(said), timeout=5000)
        assert said == [
            f"{server.host} does not answer within 1 s. Look whether the computer is on line and try again, or "
            "download the image and choose the file."
        ]
        server.manner = "well"
        server.let_go.set()
        qtbot.waitUntil(lambda: abs(brightness(view) - 195) < 10, timeout=8000)
        assert len(said) == 1
        view.close_down()


def test_tiles_round_the_view_are_read_once_the_view_is_painted(qtbot: QtBot, show: Show, tmp_path: Path) -> None:
    import rasterio
    from rasterio.transform import from_origin

    with rasterio.open(
        tmp_path / "aerial.tif", "w", driver="GTiff", width=4096, height=4096, count=3, dtype="uint8", tiled=True,
        crs="EPSG:32632", transform=from_origin(500_000, 5_540_000, 0.5, 0.5), photometric="RGB",
    ) as out:  # fmt: skip
        out.write(np.full((3, 4096, 4096), 180, dtype=np.uint8))
    view = show("aerial.tif")
    view.look_at((500_800.0, 5_538_800.0, 501_025.0, 5_539_025.0))  # one pixel of the map for one of the file
    asked: list[tuple[int, bool]] = []
    wants = view._reading._loader.want

    def want(keys: list[TileKey]) -> None:
        asked.append((len(keys), view.picture.is_complete))
        wants(keys)

    view._reading._loader.want = want  # type: ignore[method-assign,assignment]
    view.show()
    qtbot.waitUntil(lambda: bool(asked) and view.picture.is_complete and not view._reading.busy, timeout=20000)
    qtbot.waitUntil(lambda: not view._reading._waits, timeout=5000)
    many = [each for each in asked if each[0] > 4]
    assert many
    assert all(complete for _, complete in many)
