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
