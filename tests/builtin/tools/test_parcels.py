from __future__ import annotations

import time
from collections.abc import Iterator
from pathlib import Path
from typing import cast

import pytest
import shapely
from PySide6.QtCore import Qt
from PySide6.QtTest import QTest
from PySide6.QtWidgets import QApplication
from pytestqt.qtbot import QtBot

from pigmap.builtin.tools.parcels import ParcelsTool
from pigmap.geometry.projection import projection_for
from pigmap.qt.parcel_picking import picking_of
from tests.builtin.tools.map_hand import Hand, made_hand
from tests.session.test_county import YARD, county

SOMEWHERE = projection_for("", (9.0, 50.0))


@pytest.fixture
def hand(qtbot: QtBot, tmp_path: Path) -> Iterator[Hand]:
    with made_hand(tmp_path, empty=True, projection=SOMEWHERE) as made:
        made.look(YARD.x - 400, YARD.y - 250, YARD.x + 400, YARD.y + 250)
        made.take_up("parcels")
        read(made, county(tmp_path / "county.geojson", 6, 6))
        yield made
        picking_of(made.stage).close()


def read(hand: Hand, file: Path, yard: shapely.Point = YARD) -> None:
    picking = picking_of(hand.stage)
    picking.open(file, yard)
    until = time.monotonic() + 20
    while picking.reading and time.monotonic() < until:
        QApplication.processEvents()
    assert not picking.reading


def tool(hand: Hand) -> ParcelsTool:
    return cast("ParcelsTool", hand.tool)


def middle(hand: Hand, number: int) -> tuple[float, float]:
    point = picking_of(hand.stage).outlines[number].representative_point()
    return point.x, point.y


def test_clicks_take_and_leave_single_outlines_and_say_how_much_it_is(hand: Hand) -> None:
    plate = tool(hand).plate
    assert plate.file.text() == "county.geojson: 36 of 36 outlines lie within 3000 m."
    assert plate.said.text() == "No outline taken yet"
    for number in (0, 1, 2):
        hand.click(*middle(hand, number))
    assert picking_of(hand.stage).taken == {0, 1, 2}
    assert plate.said.text() == "3 outlines taken, 4.7 ha"
    hand.click(*middle(hand, 1))
    assert plate.said.text() == "2 outlines taken, 3.1 ha"
    assert plate.list.item(0).checkState() is Qt.CheckState.Checked
    assert plate.list.item(1).checkState() is Qt.CheckState.Unchecked


def test_what_is_taken_becomes_fields_as_one_edit(hand: Hand) -> None:
    hand.click(*middle(hand, 0))
    hand.click(*middle(hand, 3))
    hand.key(Qt.Key.Key_Return)
    assert len(hand.stage.session.farm.fields) == 2
    assert hand.words == "2 fields taken from county.geojson."
    assert hand.stage.verb == "pick"
    hand.stage.session.undo().result()
    assert not hand.stage.session.farm.fields


def test_all_of_it_goes_by_keys(hand: Hand) -> None:
    hand.key(Qt.Key.Key_A)
    assert len(picking_of(hand.stage).taken) == 36
    hand.key(Qt.Key.Key_N)
    assert not picking_of(hand.stage).taken
    rows = tool(hand).plate.list
    rows.setFocus()
    QTest.keyClick(rows, Qt.Key.Key_Down)
    QTest.keyClick(rows, Qt.Key.Key_Space)
    assert picking_of(hand.stage).taken == {rows.currentRow()}
    QTest.keyClick(rows, Qt.Key.Key_Return)
    QApplication.processEvents()
    assert len(hand.stage.session.farm.fields) == 1


def test_with_nothing_taken_enter_says_so(hand: Hand) -> None:
    hand.key(Qt.Key.Key_Return)
    assert hand.words == "No outline is taken yet. Click those that are yours, or press A for all."
    assert not hand.stage.session.farm.fields


def test_what_was_taken_stays_while_another_verb_runs(hand: Hand) -> None:
    hand.click(*middle(hand, 2))
    hand.take_up("pick")
    hand.take_up("parcels")
    assert picking_of(hand.stage).taken == {2}
    assert tool(hand).plate.list.item(2).checkState() is Qt.CheckState.Checked


def test_a_file_that_is_none_is_told_on_the_plate(hand: Hand, tmp_path: Path) -> None:
    (tmp_path / "empty.geojson").write_bytes(b"")
    read(hand, tmp_path / "empty.geojson")
    assert tool(hand).plate.file.text().startswith("empty.geojson is empty")
    assert not tool(hand).plate.list.isVisible()
