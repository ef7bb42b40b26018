from __future__ import annotations

from collections.abc import Iterator
from pathlib import Path

import pytest
from PySide6.QtCore import Qt
from pytestqt.qtbot import QtBot

from pigmap.drawing.layer import Labels
from tests.builtin.tools.map_hand import Hand, made_hand
from tests.qt.window_farm import WIDE


@pytest.fixture
def hand(qtbot: QtBot, tmp_path: Path) -> Iterator[Hand]:
    with made_hand(tmp_path) as made:
        made.take_up("measure")
        yield made


def total(hand: Hand) -> tuple[str, str]:
    (labels,) = (layer for layer in hand.map.preview_layers if isinstance(layer, Labels))
    return labels.labels[-1].words, labels.labels[-1].second


def test_lengths_and_the_area_inside_are_ground_metres(hand: Hand) -> None:
    for words in ("E 0 N 0", "40 at 90", "30 at 0"):
        hand.type(words)
    assert total(hand) == ("70.0 m", "600 m² inside")


def test_the_line_follows_the_pointer_until_it_is_finished(hand: Hand) -> None:
    hand.type("E 0 N 0")
    hand.hover(100, 0)
    assert total(hand)[0].endswith("100 m") or total(hand)[0].startswith(("99.", "100"))
    hand.double(100, 0)
    hand.hover(300, 0)
    assert total(hand)[0].startswith(("99.", "100"))


def test_the_first_corner_after_a_finished_line_begins_a_new_one(hand: Hand) -> None:
    for words in ("E 0 N 0", "40 at 90"):
        hand.type(words)
    hand.key(Qt.Key.Key_Return)
    hand.click(50, 50)
    assert len(hand.tool._corners.points) == 1


def test_backspace_and_esc_take_back(hand: Hand) -> None:
    for words in ("E 0 N 0", "40 at 90", "30 at 0"):
        hand.type(words)
    hand.key(Qt.Key.Key_Backspace)
    assert total(hand)[0] == "40.0 m"
    hand.key(Qt.Key.Key_Escape)
    assert hand.map.preview_layers == ()


def test_measuring_changes_nothing(hand: Hand) -> None:
    before = hand.stage.session.farm
    hand.click(10, 10)
    hand.double(60, 10)
    assert hand.stage.session.farm is before


@pytest.mark.parametrize(
    "words", [("E 0 N 0", "E 0 N 24", "E 32 N 24"), ("E 0 N 0", "30 at 0", "40 at 90")], ids=["places", "lengths"]
)
def test_where_a_grid_metre_is_no_ground_metre_the_ground_is_measured(
    qtbot: QtBot, tmp_path: Path, words: tuple[str, ...]
) -> None:
    with made_hand(tmp_path, projection=WIDE) as hand:
        hand.take_up("measure")
        for each in words:
            hand.type(each)
        assert total(hand) == ("70.0 m", "600 m² inside")
        (labels,) = (layer for layer in hand.map.preview_layers if isinstance(layer, Labels))
        assert [label.words for label in labels.labels[:-1]] == ["30.0 m", "40.0 m"]
        assert labels.labels[-1].x_m == pytest.approx(32.0)
