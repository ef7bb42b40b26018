from __future__ import annotations

from collections.abc import Iterator
from pathlib import Path

import pytest
from PySide6.QtWidgets import QApplication, QWidget
from pytestqt.qtbot import QtBot

from pigmap.builtin.panels.form_parts import Words
from pigmap.builtin.panels.move_row import MoveRow
from pigmap.builtin.panels.moves import Moves
from pigmap.builtin.panels.moves_words import day_of_moves
from pigmap.document.edits import amend
from pigmap.qt.buttons import WordButton
from pigmap.qt.stage import Picked, Stage
from pigmap.records import ChangeSet, NetCondition
from tests.qt.window_farm import day, made_panel, made_stage


@pytest.fixture
def stage(qtbot: QtBot, tmp_path: Path) -> Iterator[Stage]:
    with made_stage(tmp_path) as made:
        yield made


@pytest.fixture
def panel(stage: Stage) -> Iterator[Moves]:
    with made_panel(stage, "moves", (292, 760)) as made:
        assert isinstance(made, Moves)
        stage.take_up("moves")
        yield made


def _button(panel: QWidget, begun: str) -> WordButton:
    return next(each for each in panel.findChildren(WordButton) if each.text().startswith(begun))


def _rows(panel: QWidget) -> list[MoveRow]:
    return [each for each in panel.findChildren(MoveRow) if not each.isHidden()]


def test_a_day_without_moves_says_when_the_next_is_and_goes_there(panel: Moves, stage: Stage) -> None:
    assert day_of_moves(stage).none == "No move on Wednesday 13 May 2026. The next is on Saturday 16 May 2026."
    assert _rows(panel) == []
    go = _button(panel, "Go to")
    assert go.text() == "Go to Sat 16 May"
    go.click()
    assert stage.day == day(3)
    assert [row.words.group for row in _rows(panel)] == ["Dry sows", "Weaners"]
    assert not go.isVisible()


def test_when_the_moves_are_made_anew_the_keys_stay_with_them(panel: Moves, stage: Stage) -> None:
    stage.show_day(day(3))
    _rows(panel)[1].setFocus()
    stage.farm_changed.emit(ChangeSet(()))
    assert QApplication.focusWidget() is _rows(panel)[1]
    stage.show_day(day(0))
    assert QApplication.focusWidget() is _button(panel, "Go to")


def test_a_move_says_where_to_and_its_nets(panel: Moves, stage: Stage) -> None:
    stage.show_day(day(3))
    first, second = day_of_moves(stage).moves
    assert first.way == "Top Field 3 to 4"
    assert first.lines[0] == "set 3 of 50 m blue"
    assert second.lines[-1].endswith("m away in a straight line")
    assert first.spoken.startswith("1, Dry sows, Top Field 3 to 4, set 3 of 50 m blue")


def test_how_long_the_moves_of_a_day_take_is_said_as_what_is_usual(panel: Moves, stage: Stage) -> None:
    assert day_of_moves(stage).lasts == ""
    stage.show_day(day(3))
    said = "Usually about 60 minutes for one person, 40 for two, feed and huts not counted (common practice)."
    assert day_of_moves(stage).lasts == said
    assert any(each.text() == said and not each.isHidden() for each in panel.findChildren(Words))


def test_how_far_is_walked_with_nets_follows_how_many_one_carries(panel: Moves, stage: Stage) -> None:
    assert panel.a_trip.isHidden()
    stage.show_day(day(3))
    said = day_of_moves(stage).walk
    assert said == "About 920 m on foot with nets, 6 trips; for two people 4 trips each."
    assert any(each.text() == said and not each.isHidden() for each in panel.findChildren(Words))
    panel.a_trip.stepped.emit(1)
    QApplication.processEvents()
    assert stage.session.farm.setting("nets a trip") == 3
    assert "4 trips; for two people 4 trips each" in day_of_moves(stage).walk
    for _ in range(4):
        panel.a_trip.stepped.emit(-1)
    assert stage.session.farm.setting("nets a trip") == 1


def test_touching_a_move_picks_the_paddock_it_goes_to(panel: Moves, stage: Stage) -> None:
    stage.show_day(day(3))
    row = _rows(panel)[0]
    row.click()
    assert stage.picked == Picked("paddocks", row.words.uid)
    assert row.isChecked()


def test_the_cards_of_the_day_are_printed_beside_the_farm(panel: Moves, stage: Stage, qtbot: QtBot) -> None:
    stage.show_day(day(3))
    said: list[str] = []
    stage.noticed.connect(lambda notice: said.append(stage.words(notice.text)))
    _button(panel, "Print the cards").click()
    qtbot.waitUntil(lambda: bool(said), timeout=20_000)
    (printed,) = stage.session.path.parent.glob("*.pdf")
    assert printed.name.endswith(" moves 2026-05-16.pdf")
    assert printed.read_bytes().startswith(b"%PDF")
    assert said == [f"{printed.name} is saved, in {printed.parent}."]


def test_where_nothing_is_planned_it_says_how_to_plan(stage: Stage, panel: Moves) -> None:
    stage.show_day(day(400))
    assert day_of_moves(stage).none.endswith("and none is planned after it. Place a paddock for a group (P).")
    QApplication.processEvents()
    assert not _button(panel, "Print the cards").isVisible()


def test_the_picked_move_is_put_later_and_undone(panel: Moves, stage: Stage) -> None:
    stage.show_day(day(3))
    assert not panel.earlier.isEnabled()
    _rows(panel)[0].click()
    assert panel.later.accessibleName() == "Later: Dry sows"
    assert not panel.earlier.isEnabled()
    panel.later.click()
    assert [row.words.group for row in _rows(panel)] == ["Weaners", "Dry sows"]
    assert panel.earlier.isEnabled()
    assert not panel.later.isEnabled()
    stage.session.undo().result()
    assert [row.words.group for row in _rows(panel)] == ["Dry sows", "Weaners"]


def test_nets_that_are_missing_for_the_moves_of_a_day_are_said(panel: Moves, stage: Stage) -> None:
    stage.show_day(day(3))
    assert day_of_moves(stage).short == ""
    nets = [net.uid for net in stage.session.farm.nets.values()][:2]
    for uid in nets:
        stage.session.do(amend("nets", uid, condition=NetCondition.DAMAGED)).result()
    found = day_of_moves(stage)
    assert found.short == "2 nets more than lie spare. Have more, or move a group on another day."
    assert panel._short.text() == found.short


def test_the_map_of_the_field_of_the_moves_is_printed_whatever_is_picked(
    panel: Moves, stage: Stage, monkeypatch: pytest.MonkeyPatch
) -> None:
    stage.show_day(day(3))
    printed: list[str] = []
    monkeypatch.setattr(panel.printing, "print_field", printed.append)
    _button(panel, "Print the field map").click()
    assert printed == ["field"]


def test_what_prints_the_cards_is_in_sight_in_a_low_window(panel: Moves, stage: Stage) -> None:
    stage.show_day(day(3))
    panel.resize(248, 300)
    QApplication.processEvents()
    printing = _button(panel, "Print the cards")
    assert panel.rect().contains(printing.geometry())
    assert not printing.visibleRegion().isEmpty()


def test_in_a_broad_row_the_nets_of_a_move_stand_in_one_line(panel: Moves, stage: Stage) -> None:
    stage.show_day(day(3))
    row = _rows(panel)[0]
    assert row.high_at(900) < row.high_at(270) - 20


def test_nothing_scrolls_where_all_of_it_fits(panel: Moves, stage: Stage) -> None:
    stage.show_day(day(3))
    QApplication.processEvents()
    inside = panel._scroll.widget()
    assert inside is not None
    panel.resize(292, 300)
    QApplication.processEvents()
    assert panel._scroll.verticalScrollBar().isVisible()
    panel.resize(292, inside.heightForWidth(292) + 70)
    QApplication.processEvents()
    assert not panel._scroll.verticalScrollBar().isVisible()
