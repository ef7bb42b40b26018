from __future__ import annotations

from collections import Counter
from collections.abc import Iterator
from datetime import timedelta
from pathlib import Path

import pytest
import shapely
from PySide6.QtCore import Qt
from PySide6.QtTest import QTest
from PySide6.QtWidgets import QApplication
from pytestqt.qtbot import QtBot

from pigmap.builtin.tools.stand_plate import StandPlate
from pigmap.document.edits import add_group, add_net_kind, nets_are_guessed
from pigmap.drawing.layer import Label, Labels
from pigmap.qt.stage import Picked
from pigmap.records import Paddock, Stay, StayState
from tests.builtin.tools.map_hand import Hand, made_hand

CROOKED = ((200.0, 200.0), (251.0, 202.0), (249.0, 252.0), (199.0, 250.0))
BESIDE = ((251.0, 202.0), (300.0, 201.0), (299.0, 251.0), (249.0, 252.0))


@pytest.fixture
def hand(qtbot: QtBot, tmp_path: Path) -> Iterator[Hand]:
    with made_hand(tmp_path) as made:
        made.stage.session.do(add_group("Gilts", pigs=6, mean_kg=90.0, since=made.stage.today, uid="gilts")).result()
        made.stage.session.do(add_group("Boar", pigs=1, since=made.stage.today, uid="boar")).result()
        made.look(150, 150, 450, 330)
        made.stage.pick(Picked("groups", "gilts"))
        made.take_up("stand")
        yield made


def plate(hand: Hand) -> StandPlate:
    return hand.map.findChildren(StandPlate)[-1]


def clicked(hand: Hand, corners: tuple[tuple[float, float], ...] = CROOKED) -> None:
    for corner in corners:
        hand.click(*corner)


def stay_of(hand: Hand, group_uid: str) -> tuple[Stay, Paddock]:
    (stay,) = (each for each in hand.stage.session.farm.stays.values() if each.group_uid == group_uid)
    return stay, hand.stage.session.farm.paddocks[stay.paddock_uid]


def test_corners_and_enter_record_where_a_group_stands(hand: Hand) -> None:
    clicked(hand)
    hand.key(Qt.Key.Key_Return)
    stay, paddock = stay_of(hand, "gilts")
    assert (stay.state, stay.in_on) == (StayState.RUNNING, hand.stage.today)
    assert shapely.hausdorff_distance(paddock.outline, shapely.Polygon(CROOKED)) < 1.0
    assert hand.words.startswith(f"Gilts in {paddock.name}.")
    assert sum(use.paddock_uid == paddock.uid for use in hand.stage.session.farm.net_uses.values()) == 4


def test_it_goes_on_with_the_next_group_that_stands_nowhere_and_then_ends(hand: Hand) -> None:
    clicked(hand)
    hand.key(Qt.Key.Key_Return)
    assert hand.stage.verb == "stand"
    assert hand.stage.picked == Picked("groups", "boar")
    clicked(hand, BESIDE)
    hand.click(*BESIDE[0])
    assert hand.stage.verb == "pick"
    assert stay_of(hand, "boar")[0].state is StayState.RUNNING


def test_the_column_marks_whose_paddock_is_clicked_and_another_that_is_picked_is_gone_on_with(hand: Hand) -> None:
    group = plate(hand)._group
    group.setCurrentIndex(group.findData("boar"))
    group.activated.emit(group.currentIndex())
    assert hand.stage.picked == Picked("groups", "boar")
    hand.stage.pick(Picked("groups", "gilts"))
    assert group.currentData() == "gilts"
    clicked(hand)
    hand.key(Qt.Key.Key_Return)
    assert stay_of(hand, "gilts")[0].state is StayState.RUNNING


def test_a_corner_of_another_paddock_that_is_clicked_is_that_corner(hand: Hand) -> None:
    clicked(hand)
    hand.key(Qt.Key.Key_Return)
    clicked(hand, tuple((x + 0.8, y - 0.7) for x, y in BESIDE))
    hand.key(Qt.Key.Key_Return)
    first, second = stay_of(hand, "gilts")[1].outline, stay_of(hand, "boar")[1].outline
    assert shapely.intersection(first.exterior, second.exterior).length == pytest.approx(50, abs=1.5)


def test_one_undo_takes_all_of_it_back(hand: Hand) -> None:
    before = hand.stage.session.farm
    clicked(hand)
    hand.key(Qt.Key.Key_Return)
    hand.stage.session.undo().result()
    after = hand.stage.session.farm
    assert (after.paddocks, after.stays, after.net_uses) == (before.paddocks, before.stays, before.net_uses)


def test_the_day_since_when_is_the_one_that_was_chosen(hand: Hand) -> None:
    plate(hand)._since.setCurrentIndex(5)
    clicked(hand)
    hand.key(Qt.Key.Key_Return)
    assert stay_of(hand, "gilts")[0].in_on == hand.stage.today - timedelta(days=5)


def test_corners_set_crosswise_go_in_and_are_said(hand: Hand) -> None:
    first, second, third, fourth = CROOKED
    clicked(hand, (first, third, second, fourth))
    hand.key(Qt.Key.Key_Return)
    assert stay_of(hand, "gilts")[1].outline.area == pytest.approx(2500, rel=0.05)
    assert "The corners were set crosswise. They are taken in order round the paddock." in hand.words
    assert hand.said[-1].kind == "care"


def test_two_corners_close_nothing_and_stay_to_go_on_from(hand: Hand) -> None:
    clicked(hand, CROOKED[:2])
    hand.key(Qt.Key.Key_Return)
    assert hand.words == "A paddock has three corners or more; 2 are there. Click each corner of it once."
    hand.take_up("pick")
    hand.take_up("stand")
    clicked(hand, CROOKED[2:])
    hand.key(Qt.Key.Key_Return)
    assert stay_of(hand, "gilts")[1].outline.area == pytest.approx(2500, rel=0.05)


def test_the_plate_says_what_the_corners_take_so_far(hand: Hand) -> None:
    clicked(hand, CROOKED)
    assert "Nets 4 of 50 m for 20" in plate(hand)._figures.text()
    assert plate(hand)._figures.isVisible()


def test_corners_can_be_typed(hand: Hand) -> None:
    hand.type("E 200 N 200")
    for leg in ("50 at 90", "50 at 0", "50 at 270"):
        hand.type(leg)
    hand.key(Qt.Key.Key_Return)
    assert stay_of(hand, "gilts")[1].outline.area == pytest.approx(2500, rel=0.001)


def test_corners_left_half_clicked_are_said_with_a_way_to_go_on(hand: Hand) -> None:
    clicked(hand, CROOKED[:2])
    hand.take_up("measure")
    assert hand.words == "2 corners wait where you left them."
    assert hand.said[-1].deed == "stand"
    hand.take_up("stand")
    clicked(hand, CROOKED[2:])
    hand.key(Qt.Key.Key_Return)
    assert stay_of(hand, "gilts")[1].outline.area == pytest.approx(2500, rel=0.05)


def test_corners_that_esc_dropped_come_back_with_backspace(hand: Hand) -> None:
    clicked(hand, CROOKED[:3])
    hand.key(Qt.Key.Key_Escape)
    assert hand.words == "3 corners dropped. Backspace brings them back."
    hand.key(Qt.Key.Key_Backspace)
    hand.key(Qt.Key.Key_Backspace)
    assert len(hand.tool._corners.points) == 2
    clicked(hand, CROOKED[2:])
    hand.key(Qt.Key.Key_Return)
    assert stay_of(hand, "gilts")[1].outline.area == pytest.approx(2500, rel=0.05)


def test_a_corner_set_after_esc_begins_anew(hand: Hand) -> None:
    clicked(hand, CROOKED[:3])
    hand.key(Qt.Key.Key_Escape)
    hand.click(*CROOKED[0])
    hand.key(Qt.Key.Key_Backspace)
    hand.key(Qt.Key.Key_Backspace)
    assert hand.tool._corners.points == []


def test_ground_where_others_are_goes_in_and_is_flagged(hand: Hand) -> None:
    hand.look(60, -40, 260, 130)
    clicked(hand, ((100.0, 0.0), (145.0, 2.0), (148.0, 49.0), (100.0, 50.0)))
    hand.key(Qt.Key.Key_Return)
    assert stay_of(hand, "gilts")[0].state is StayState.RUNNING
    assert hand.said[-1].kind == "care"
    assert "Dry sows and Gilts are both on" in hand.words


def test_corners_come_from_a_file_of_the_phone(hand: Hand, tmp_path: Path, monkeypatch: pytest.MonkeyPatch) -> None:
    monkeypatch.setattr("pigmap.builtin.tools.stand.corners_in", lambda path, projection, registry: CROOKED)
    hand.tool.choose_file = lambda parent, title, kinds: str(tmp_path / "walk.gpx")
    plate(hand)._phone.click()
    for _ in range(200):
        hand.settle()
        if hand.said:
            break
    assert hand.words.startswith("4 corners from walk.gpx. A phone errs by metres")
    hand.key(Qt.Key.Key_Return)
    assert stay_of(hand, "gilts")[1].outline.equals(shapely.Polygon(CROOKED))


def test_a_file_of_the_phone_that_cannot_be_read_is_said_and_the_corners_stay(hand: Hand, tmp_path: Path) -> None:
    clicked(hand, CROOKED[:2])
    hand.tool.choose_file = lambda parent, title, kinds: str(tmp_path / "gone.gpx")
    plate(hand)._phone.click()
    for _ in range(200):
        hand.settle()
        if hand.said:
            break
    assert hand.said[-1].kind == "refused"
    assert "gone.gpx" in hand.words
    assert len(hand.tool._corners.points) == 2


def test_no_length_is_written_on_a_side_that_is_none_yet(hand: Hand) -> None:
    clicked(hand, CROOKED[:2])
    hand.hover(*CROOKED[1])
    labels = [label.words for layer in hand.tool._layers(hand.tool._corners.points, CROOKED[1]) for label in _of(layer)]
    assert labels == ["about 51 m"]


def _of(layer: object) -> tuple[Label, ...]:
    return layer.labels if isinstance(layer, Labels) else ()


def test_the_map_has_the_keys_and_tab_goes_from_it_through_the_plate(hand: Hand) -> None:
    its = plate(hand)
    assert hand.map.hasFocus()
    seen = []
    for _ in [its._group, its._since, its._phone]:
        here = QApplication.focusWidget()
        assert here is not None
        QTest.keyClick(here, Qt.Key.Key_Tab)
        seen.append(QApplication.focusWidget())
    assert seen == [its._group, its._since, its._phone]
    assert all(each is not None and each.accessibleName() for each in seen)


NARROW = ((200.0, 200.0), (249.0, 200.0), (249.0, 226.0), (200.0, 226.0))


def with_halves(hand: Hand) -> None:
    """Let the farm own two nets of 25 m, and take the verb up anew."""
    hand.stage.session.do(add_net_kind("25 m nets", (25_000,), nets=2, uid="half")).result()
    hand.take_up("pick")
    hand.stage.pick(Picked("groups", "gilts"))
    hand.take_up("stand")


def nets_of(hand: Hand, paddock_uid: str) -> Counter[str]:
    uses = hand.stage.session.farm.net_uses.values()
    return Counter(use.net_kind_uid for use in uses if use.paddock_uid == paddock_uid)


def test_the_nets_are_guessed_by_the_sides_and_said_to_be(hand: Hand) -> None:
    with_halves(hand)
    clicked(hand, NARROW)
    assert plate(hand).nets.isVisible()
    assert plate(hand)._asked.text() == "The nets are guessed from its sides. Which ones stand there?"
    hand.key(Qt.Key.Key_Return)
    _, paddock = stay_of(hand, "gilts")
    assert sorted(nets_of(hand, paddock.uid).values()) == [2, 2]
    assert "Nets: 2 of 50 m, 2 of 25 m, guessed from its sides." in hand.words
    assert nets_are_guessed(hand.stage.session.farm, paddock.uid)


def test_nets_that_are_stepped_by_keys_are_those_that_stand(hand: Hand) -> None:
    with_halves(hand)
    clicked(hand, NARROW)
    steppers = plate(hand).nets.steppers
    for each in steppers["half"].stops[:1] * 2:
        each.setFocus()
        QTest.keyClick(each, Qt.Key.Key_Space)
    (fifty,) = (uid for uid in steppers if uid != "half")
    QTest.keyClick(steppers[fifty].stops[1], Qt.Key.Key_Space)
    assert plate(hand)._asked.text() == "The nets as you counted them:"
    assert plate(hand)._figures.text().startswith("Nets 3 of 50 m for 150 m")
    hand.key(Qt.Key.Key_Return)
    _, paddock = stay_of(hand, "gilts")
    assert nets_of(hand, paddock.uid) == {fifty: 3}
    assert hand.words.startswith(f"Gilts in {paddock.name}. Nets: 3 of 50 m.")
    assert not nets_are_guessed(hand.stage.session.farm, paddock.uid)


def test_no_count_is_kept_for_the_next_paddock(hand: Hand) -> None:
    with_halves(hand)
    clicked(hand, NARROW)
    QTest.keyClick(plate(hand).nets.steppers["half"].stops[1], Qt.Key.Key_Space)
    hand.key(Qt.Key.Key_Return)
    clicked(hand, tuple((x, y + 60) for x, y in NARROW))
    assert plate(hand)._asked.text().startswith("The nets are guessed")


def test_figures_and_warnings_come_of_corners_that_are_set(hand: Hand) -> None:
    clicked(hand)
    before = plate(hand)._figures.text()
    hand.hover(225.0, 190.0)
    hand.hover(190.0, 280.0)
    assert plate(hand)._figures.text() == before
    assert "crosswise" not in plate(hand)._notes.text()


def test_two_corners_and_the_pointer_make_no_figures(hand: Hand) -> None:
    clicked(hand, CROOKED[:2])
    hand.hover(*CROOKED[2])
    assert not plate(hand)._figures.isVisible()


@pytest.mark.parametrize("off", [0.8, 5.0])
def test_a_corner_that_a_click_would_take_lights_up_before_it(hand: Hand, off: float) -> None:
    clicked(hand)
    hand.key(Qt.Key.Key_Return)
    taken = shapely.get_coordinates(stay_of(hand, "gilts")[1].outline.exterior)
    hand.hover(251.0 + off, 202.0)
    assert min(abs(taken - hand.tool._caught).max(axis=1)) == 0.0
    hand.hover(275.0, 225.0)
    assert hand.tool._caught is None


def test_a_little_of_another_standing_paddock_under_it_is_said_while_it_is_clicked(hand: Hand) -> None:
    clicked(hand)
    hand.key(Qt.Key.Key_Return)
    clicked(hand, ((240.0, 212.0), (300.0, 201.0), (299.0, 251.0), (240.0, 240.0)))
    assert "which stands too" in plate(hand)._notes.text()
