from __future__ import annotations

from collections.abc import Iterator
from pathlib import Path
from typing import cast

import pytest
from PySide6.QtCore import QPoint, QPointF, Qt
from PySide6.QtGui import QWheelEvent
from PySide6.QtTest import QTest
from PySide6.QtWidgets import QApplication
from pytestqt.qtbot import QtBot

from pigmap.builtin.tools.place import Place
from pigmap.builtin.tools.place_figures import PlateWords, Row
from pigmap.builtin.tools.place_plate import PlacePlate
from pigmap.builtin.tools.plate_page import Page, page_of, pages
from pigmap.builtin.tools.plate_spot import SHADOW_PX
from tests.builtin.tools.map_hand import Hand, made_hand
from tests.qt.window_farm import day

ROWS = tuple(Row(name, "1", "") for name in ("Area", "Stay", "Rest"))
WORDS = PlateWords(
    "Carry 3 nets", "", Row("Carry", "3 nets", ""), ROWS, others=("worse",), cares=("first", "second", "third")
)


def _parts(page: Page) -> float:
    return len(page.words.rows) + len(page.words.cares) + len(page.words.others)


def test_where_all_has_room_there_is_one_page() -> None:
    (page,) = pages(WORDS, _parts, 7)
    assert (page.words, page.figures, page.more) == (WORDS, (0, 1, 2, 3), 0)


def test_the_gravest_comes_on_the_first_page_and_nothing_is_lost() -> None:
    made = pages(WORDS, _parts, 3)
    assert [(page.words.others, page.words.cares, [row.name for row in page.words.rows]) for page in made] == [
        (("worse",), ("first",), ["Area"]),
        ((), ("second",), ["Stay", "Rest"]),
        ((), ("third",), []),
    ]
    assert [page.more for page in made] == [4, 1, 0]
    assert [page.figures for page in made] == [(0, 1), (0, 2, 3), (0,)]


def test_a_part_that_is_too_high_has_a_page_of_its_own() -> None:
    assert len(pages(WORDS, _parts, 0.5)) == 7


def test_the_page_of_a_figure_has_it_and_the_gravest_beside_it() -> None:
    page = page_of(WORDS, 3, _parts, 2)
    assert ([row.name for row in page.words.rows], page.words.others, page.more) == (["Rest"], ("worse",), 5)
    assert page.figures == (0, 3)


@pytest.fixture
def hand(qtbot: QtBot, tmp_path: Path) -> Iterator[Hand]:
    with made_hand(tmp_path) as made:
        made.map.resize(900, 380)
        made.look(-40, -60, 440, 140)
        made.take_up("place")
        made.stage.placing.choose(group_uid="group0", in_on=day(8), snap_side=False, snap_edge=False)
        yield made


def _plate(hand: Hand) -> PlacePlate:
    return cast("Place", hand.tool).plate


def _say(hand: Hand, cares: int) -> PlacePlate:
    plate = _plate(hand)
    assert plate.words is not None
    said = tuple(f"Something of some length that wants care, number {number}, as it is." for number in range(cares))
    plate.say(
        PlateWords("Carry 3 nets", "", ROWS[0], ROWS, cares=said, held="Held.", deeds=("row", "free")), plate._clear
    )
    return plate


def test_a_plate_with_many_cares_is_no_higher_than_the_map_and_tells_how_many_more_there_are(hand: Hand) -> None:
    hand.hover(250, 55)
    plate = _say(hand, 9)
    assert plate.height() <= hand.map.height() - 16 + 2 * SHADOW_PX
    assert plate.geometry().bottom() <= hand.map.height() + SHADOW_PX
    page = plate._room.page
    assert page is not None
    assert page.more
    assert plate.deeds is not None
    assert not plate.deeds.buttons["more"].isVisible()  # it follows the pointer, which cannot come to it


def test_the_rest_comes_page_by_page_and_then_the_first_again(hand: Hand) -> None:
    hand.hover(250, 55)
    cast("Place", hand.tool)._held = True
    plate = _say(hand, 9)
    assert plate.deeds is not None
    more, seen, said = plate.deeds.buttons["more"], set[str](), list[str]()
    for _ in range(12):
        page = plate._room.page
        assert page is not None
        assert plate.height() <= hand.map.height() - 16 + 2 * SHADOW_PX
        seen |= set(page.words.cares)
        said.append(more.text())
        if more.text() == "Back":
            break
        QTest.mouseClick(more, Qt.MouseButton.LeftButton)
    assert len(seen) == 9
    assert said[0].endswith(" more")
    assert said[-1] == "Back"
    QTest.mouseClick(more, Qt.MouseButton.LeftButton)
    assert more.text() == said[0]


def test_a_held_plate_that_has_no_room_even_so_is_moved_by_the_wheel(hand: Hand) -> None:
    hand.map.resize(900, 150)
    hand.hover(250, 55)
    cast("Place", hand.tool)._held = True
    plate = _say(hand, 9)
    before = plate.y()
    at = QPointF(20, 20)
    turned = QWheelEvent(
        at,
        at,
        QPoint(0, 0),
        QPoint(0, -240),
        Qt.MouseButton.NoButton,
        Qt.KeyboardModifier.NoModifier,
        Qt.ScrollPhase.NoScrollPhase,
        False,
    )
    QApplication.sendEvent(plate, turned)
    assert plate.y() < before
    assert plate.geometry().bottom() >= hand.map.height() - 8
