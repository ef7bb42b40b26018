from __future__ import annotations

from collections.abc import Iterator
from pathlib import Path

import pytest
import shapely
from PySide6.QtCore import Qt
from pytestqt.qtbot import QtBot

from pigmap.builtin.tools.split_line import SplitLine
from pigmap.document.edits import place_paddock
from pigmap.drawing.layer import Labels
from pigmap.geometry.rectangle import Rectangle
from pigmap.qt.stage import Picked
from pigmap.records import Stay
from tests.builtin.tools.map_hand import SHIFT, Hand, made_hand
from tests.qt.window_farm import day

LONG = Rectangle(200.0, 20.0, 0.0, 100_000, 50_000)
TWO = (2_000,) * 10


@pytest.fixture
def hand(qtbot: QtBot, tmp_path: Path) -> Iterator[Hand]:
    with made_hand(tmp_path, groups=1) as made:
        made.look(100, -40, 400, 120)
        placed = place_paddock(
            LONG,
            net_kind_uid="fifty",
            uid="long",
            name="Long one",
            group_uid="group0",
            in_on=day(20),
            out_on=day(27),
            stay_uid="coming",
        )
        made.stage.session.do(placed).result()
        made.stage.pick(Picked("paddocks", "long"))
        made.take_up("split")
        yield made


def stays(hand: Hand) -> list[Stay]:
    found = (each for uid, each in hand.stage.session.farm.stays.items() if not uid.startswith("group"))
    return sorted(found, key=lambda stay: stay.in_on)


def said_on_map(hand: Hand) -> list[str]:
    layers = (layer for layer in hand.map.preview_layers if isinstance(layer, Labels))
    return [f"{label.words} {label.second}".strip() for layer in layers for label in layer.labels]


def test_a_click_splits_it_at_the_end_of_a_net_and_undo_joins_it_again(hand: Hand) -> None:
    assert hand.words.startswith("Click where Long one is to be split.")
    hand.hover(246, 40)
    assert said_on_map(hand) == ["50 m", "First: 0.25 ha from Tue 2 Jun", "Then: 0.25 ha from Sat 6 Jun"]
    hand.click(246, 40)
    hand.settle()
    first, second = stays(hand)
    assert first.ground.equals(shapely.box(200, 20, 250, 70))
    assert second.ground.equals(shapely.box(250, 20, 300, 70))
    assert (first.in_on, first.out_on, second.in_on, second.out_on) == (day(20), day(24), day(24), day(27))
    assert hand.words == "Split in two: first Long one, then Top Field 5."
    assert hand.stage.verb == "pick"
    hand.stage.session.undo().result()
    assert [stay.uid for stay in stays(hand)] == ["coming"]


def test_arrows_step_the_line_by_a_post_and_enter_splits(hand: Hand) -> None:
    hand.key(Qt.Key.Key_Right)
    hand.key(Qt.Key.Key_Return)
    hand.settle()
    first, _ = stays(hand)
    assert first.ground.bounds[2] == pytest.approx(250 + 3.572, abs=0.01)  # to the right on the map


def test_it_is_turned_by_keys(hand: Hand) -> None:
    hand.key(Qt.Key.Key_Q)
    hand.key(Qt.Key.Key_E, SHIFT)
    hand.key(Qt.Key.Key_Return)
    hand.settle()
    first, second = stays(hand)
    assert first.ground.area + second.ground.area == pytest.approx(5000)
    assert len(first.ground.exterior.coords) == 5
    assert first.ground.area != pytest.approx(2500, abs=1)


def test_without_a_planned_paddock_it_says_what_to_do(hand: Hand) -> None:
    hand.take_up("pick")
    hand.stage.pick(None)
    hand.take_up("split")
    assert hand.words == "Pick a planned paddock first, then split it from its card."
    hand.click(250, 40)
    assert len(stays(hand)) == 1


def test_where_pigs_are_it_is_refused_in_words(hand: Hand) -> None:
    hand.take_up("pick")
    hand.stage.pick(Picked("paddocks", "group0p2"))
    hand.take_up("split")
    hand.click(125, 25)
    assert hand.words.startswith("Pigs are in")


def test_the_line_keeps_to_posts_and_within_the_side() -> None:
    line = SplitLine(shapely.box(0, 0, 60, 30), TWO)
    line.follow(31.3, 12)
    assert line.line.bounds[0] == pytest.approx(32.0)
    line.follow(31.3, 12, free=True)
    assert line.line.bounds[0] == pytest.approx(31.3)
    line.follow(200, 12)
    assert line.line.bounds[0] < 60
    assert line.net_m == pytest.approx(30)


def test_the_end_of_a_net_draws_it() -> None:
    line = SplitLine(shapely.box(0, 0, 60, 30), TWO)
    line.follow(37.1, 12)
    assert line.line.bounds[0] == pytest.approx(40.0)


def test_without_nets_it_goes_by_metres() -> None:
    line = SplitLine(shapely.box(0, 0, 60, 30), ())
    line.step(3)
    assert line.line.bounds[0] == pytest.approx(33.0)
