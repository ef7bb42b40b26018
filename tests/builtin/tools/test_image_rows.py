"""Several images brought in the window: from files, a zip and the web; listed, laid over each other, taken away."""

from __future__ import annotations

import zipfile
from collections.abc import Iterator
from pathlib import Path
from typing import cast

import pytest
from pytestqt.qtbot import QtBot

from pigmap.builtin.tools.image_rows import ImageRows
from pigmap.builtin.tools.pin import PinTool
from pigmap.document.edits.image_order import images_from_above
from pigmap.geometry.projection import projection_for
from pigmap.imagery.look import Look
from pigmap.imagery.source import ImageSource
from pigmap.qt.pinning import pinning_of
from tests.builtin.tools.map_hand import Hand, made_hand
from tests.imagery.web_server import serving
from tests.session.test_images import written


@pytest.fixture
def hand(qtbot: QtBot, tmp_path: Path) -> Iterator[Hand]:
    with made_hand(tmp_path) as made:
        yield made
        cast("PinTool", made.tool).plate.images.close_down()
        pinning_of(made.stage).close()


def rows(hand: Hand) -> ImageRows:
    hand.take_up("pin")
    return cast("PinTool", hand.tool).plate.images


def names(hand: Hand) -> list[str]:
    return [image.name for image in images_from_above(hand.stage.session.farm)]


def test_several_files_come_as_one_edit_and_are_listed_from_above(hand: Hand, qtbot: QtBot, tmp_path: Path) -> None:
    listed = rows(hand)
    paths = [written(tmp_path / f"{name}.tif") for name in ("west", "east", "barn")]
    listed.choose_files = lambda *_: [str(each) for each in paths]
    listed.bring.click()
    qtbot.waitUntil(lambda: len(listed.rows) == 3, timeout=8000)
    assert names(hand) == ["barn", "east", "west"]  # the newest lies on top
    assert [not row.up.isHidden() for row in listed.rows] == [False, True, True]
    listed.rows[2].up.click()
    qtbot.waitUntil(lambda: names(hand) == ["barn", "west", "east"], timeout=5000)
    listed.rows[0].away.click()
    qtbot.waitUntil(lambda: len(listed.rows) == 2, timeout=5000)
    assert names(hand) == ["west", "east"]
    assert paths[2].is_file()
    hand.stage.session.undo().result()
    hand.stage.session.undo().result()
    hand.stage.session.undo().result()
    assert names(hand) == []


def test_of_a_zip_those_come_that_can_and_why_not_the_others_is_said(hand: Hand, qtbot: QtBot, tmp_path: Path) -> None:
    with zipfile.ZipFile(tmp_path / "county.zip", "w") as packed:
        for name in ("north.tif", "south.tif"):
            packed.write(written(tmp_path / "one.tif"), name)
        packed.writestr("torn.tif", "x")
    listed = rows(hand)
    listed.take([tmp_path / "county.zip"])
    qtbot.waitUntil(lambda: len(listed.rows) == 2, timeout=8000)
    links = {image.link for image in hand.stage.session.farm.images.values()}
    assert {link.rpartition("county.zip/")[2] for link in links} == {"north.tif", "south.tif"}
    assert listed.said.text() == (
        "2 images came. 1 was left out: torn.tif is not an image that can be read here. Export it as a GeoTIFF, or "
        "fetch it again if it was one."
    )


def test_an_address_is_pasted(hand: Hand, qtbot: QtBot, tmp_path: Path) -> None:
    listed = rows(hand)
    with serving(written(tmp_path / "aerial.tif")) as server:
        listed.address.setText(f"  {server.address()}?key=1 ")
        listed.address.returnPressed.emit()
        qtbot.waitUntil(lambda: len(listed.rows) == 1, timeout=8000)
        (image,) = hand.stage.session.farm.images.values()
        assert (image.name, image.link) == ("aerial", f"{server.address()}?key=1")
        assert listed.address.text() == ""
        listed.address.setText("aerial photo")
        listed.address.returnPressed.emit()
        assert listed.said.text() == (
            "aerial photo is no address of an image on the web. Paste it whole, from https:// on; a file on this "
            "computer is chosen with the button."
        )
        listed.address.setText(server.address("gone.tif"))
        listed.address.returnPressed.emit()
        qtbot.waitUntil(lambda: "404" in listed.said.text(), timeout=8000)


def test_a_picture_on_the_web_without_a_place_is_there_to_be_pinned(hand: Hand, qtbot: QtBot, tmp_path: Path) -> None:
    from PIL import Image

    Image.new("RGB", (60, 40), (90, 130, 70)).save(tmp_path / "aerial.png")
    listed, pinning = rows(hand), pinning_of(hand.stage)
    with serving(tmp_path / "aerial.png") as server:
        server.beside["plan.png"] = server.content
        listed.address.setText(server.address("plan.png?key=secret"))
        listed.address.returnPressed.emit()
        qtbot.waitUntil(lambda: pinning.path is not None, timeout=15000)
        assert pinning.size == (60, 40)
        plate = cast("PinTool", hand.tool).plate
        assert plate.file.text() == "plan.png"
        for column, row, east, north in ((0, 0, 0, 40), (60, 0, 60, 40), (0, 40, 0, 0)):
            pinning.take_spot((column, row))
            pinning.put(east, north)
        edit = pinning.edit()
        hand.stage.session.do(edit).result()
        (image,) = hand.stage.session.farm.images.values()
        assert (image.name, image.link) == ("plan", server.address("plan.png?key=secret"))


def four_bands(path: Path) -> Path:
    """Write an image of four bands of which every pixel is 10, 60, 110 and 160."""
    import numpy as np
    import rasterio
    from rasterio.transform import from_origin

    with rasterio.open(
        path, "w", driver="GTiff", width=60, height=40, count=4, dtype="uint8", photometric="RGB",
        crs="EPSG:32632", transform=from_origin(500_000, 5_540_000, 0.5, 0.5),
    ) as out:  # fmt: skip
        out.write(np.stack([np.full((40, 60), value, dtype=np.uint8) for value in (10, 60, 110, 160)]))
    return path


@pytest.fixture
def on_earth(qtbot: QtBot, tmp_path: Path) -> Iterator[Hand]:
    with made_hand(tmp_path, projection=projection_for("EPSG:32632", (9.0, 50.0))) as made:
        yield made
        cast("PinTool", made.tool).plate.images.close_down()
        pinning_of(made.stage).close()


def looking(hand: Hand, qtbot: QtBot, path: Path) -> ImageRows:
    """Bring an image and open its colours."""
    listed = rows(hand)
    listed.take([path])
    qtbot.waitUntil(lambda: len(listed.rows) == 1, timeout=8000)
    listed.rows[0].colours.click()
    qtbot.waitUntil(lambda: bool(listed.rows[0].look and listed.rows[0].look.said.isHidden()), timeout=8000)
    return listed


def shown(hand: Hand) -> tuple[tuple[int, ...], float | None, float | None]:
    (image,) = hand.stage.session.farm.images.values()
    return image.bands, image.darkest, image.brightest


def look_on_map(hand: Hand) -> str:
    """Return the look of the image whose tiles the map shows; nothing while it is not open."""
    (photo,) = hand.map.picture.photo.photos.values()
    return photo.source.facts.look if isinstance(photo.source, ImageSource) else ""


def test_infrared_can_be_shown_as_red_and_taken_back(on_earth: Hand, qtbot: QtBot, tmp_path: Path) -> None:
    listed = looking(on_earth, qtbot, four_bands(tmp_path / "flight.tif"))
    look = listed.rows[0].look
    assert look is not None
    assert [box.currentData() for box in look.bands] == [1, 2, 3]
    assert [box.accessibleName() for box in look.bands] == ["Red", "Green", "Blue"]
    assert look.white.placeholderText() == "found: 255"
    for box, band in zip(look.bands, (4, 1, 2), strict=True):
        box.setCurrentIndex(box.findData(band))
    look.black.setText("20,5")
    look.show_so.click()
    qtbot.waitUntil(lambda: shown(on_earth) == ((4, 1, 2), 20.5, None), timeout=5000)
    qtbot.waitUntil(lambda: look_on_map(on_earth) == Look((4, 1, 2), 20.5).text, timeout=5000)
    assert listed.rows[0].look is not None  # it stays open, to go on trying
    qtbot.waitUntil(lambda: len(listed.rows[0].look.bands) == 3, timeout=5000)  # type: ignore[union-attr]
    assert [box.currentData() for box in listed.rows[0].look.bands] == [4, 1, 2]
    assert listed.rows[0].look.black.text() == "20.5"
    listed.rows[0].look.as_it_is.click()
    qtbot.waitUntil(lambda: shown(on_earth) == ((), None, None), timeout=5000)
    on_earth.stage.session.undo().result()
    assert shown(on_earth)[0] == (4, 1, 2)


def test_a_value_that_is_none_is_said_and_nothing_changes(on_earth: Hand, qtbot: QtBot, tmp_path: Path) -> None:
    listed = looking(on_earth, qtbot, four_bands(tmp_path / "flight.tif"))
    look = listed.rows[0].look
    assert look is not None
    look.white.setText("bright")
    look.show_so.click()
    assert look.said.text() == "White at bright: that is no number. Give a value of the image, or leave it empty."
    look.white.setText("5")
    look.black.setText("200")
    look.show_so.click()
    assert look.said.text() == (
        "The picture would be black at 200 and white at 5. Give a value for white that is above that for black."
    )
    assert shown(on_earth) == ((), None, None)


def test_colours_are_put_away_as_they_were_opened(on_earth: Hand, qtbot: QtBot, tmp_path: Path) -> None:
    listed = looking(on_earth, qtbot, four_bands(tmp_path / "flight.tif"))
    listed.rows[0].colours.click()
    assert listed.rows[0].look is None
