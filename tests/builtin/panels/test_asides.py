from __future__ import annotations

import re
from collections.abc import Iterator
from concurrent.futures import Future
from dataclasses import replace
from datetime import UTC, date, datetime, time
from pathlib import Path

import pytest
from PySide6.QtCore import QPoint, Qt
from PySide6.QtGui import QAction
from PySide6.QtTest import QTest
from PySide6.QtWidgets import QApplication, QLabel, QMenu
from pytestqt.qtbot import QtBot

from pigmap.builtin.panels.about import About
from pigmap.builtin.panels.find import Find
from pigmap.builtin.panels.history import History, Lines
from pigmap.builtin.panels.list_rows import SECOND
from pigmap.builtin.panels.messages import Messages
from pigmap.builtin.panels.more_menu import MoreMenu
from pigmap.document.edits import rename
from pigmap.qt.stage import Picked
from pigmap.qt.window import Window
from pigmap.records import ChangeSet
from pigmap.session.history import HistoryEntry
from pigmap.session.personal import load_personal
from pigmap.text import Text
from tests.qt.window_farm import made_window


@pytest.fixture
def window(qtbot: QtBot, tmp_path: Path) -> Iterator[Window]:
    with made_window(tmp_path) as made:
        yield made


def test_find_goes_to_what_begins_with_what_is_typed(window: Window) -> None:
    QTest.keyClick(window.map, Qt.Key.Key_Slash)
    plate = window.panel("find")
    assert isinstance(plate, Find)
    assert plate.isVisible()
    QTest.keyClicks(plate.line, "weaners")
    assert plate.rows.rowCount() == 1
    row = plate.rows.item(0)
    assert (row.text(), row.data(SECOND)) == ("Weaners", "group, in Top Field 13")
    assert plate.line.accessibleDescription() == "Weaners, group, in Top Field 13"
    QTest.keyClick(plate.line, Qt.Key.Key_Return)
    assert window.stage.picked == Picked("groups", "group1")
    assert not plate.isVisible()


def test_find_steps_through_the_list_and_shows_a_day(window: Window) -> None:
    window.stage.plate_asked.emit("find")
    plate = window.panel("find")
    assert isinstance(plate, Find)
    QTest.keyClicks(plate.line, "top field")
    QTest.keyClick(plate.line, Qt.Key.Key_Down)
    QTest.keyClick(plate.line, Qt.Key.Key_Return)
    assert window.stage.picked is not None
    assert window.stage.picked.table == "paddocks"
    window.stage.plate_asked.emit("find")
    QTest.keyClicks(plate.line, "1 june 2026")
    QTest.keyClick(plate.line, Qt.Key.Key_Return)
    assert window.stage.day == date(2026, 6, 1)


def test_find_says_what_can_be_looked_for_where_nothing_is(window: Window) -> None:
    window.stage.plate_asked.emit("find")
    plate = window.panel("find")
    assert isinstance(plate, Find)
    QTest.keyClicks(plate.line, "xyz")
    assert plate.nothing.text() == (
        "Nothing is called xyz. Type a field, paddock, group, place or keep-out by its name, or a day: 14 Oct."
    )
    QTest.keyClick(plate.line, Qt.Key.Key_Escape)
    assert not plate.isVisible()


def test_what_is_found_out_of_sight_comes_into_the_middle(window: Window) -> None:
    window.map.pan_by(5000, 0)
    window.stage.plate_asked.emit("find")
    plate = window.panel("find")
    assert isinstance(plate, Find)
    QTest.keyClicks(plate.line, "top field")
    QTest.keyClick(plate.line, Qt.Key.Key_Return)
    west, south, east, north = window.stage.session.farm.fields["field"].outline.bounds
    view = window.map.view
    assert west <= view.centre_x_m <= east
    assert south <= view.centre_y_m <= north


def test_history_reads_as_sentences_and_takes_back_to_a_line(window: Window) -> None:
    session = window.stage.session
    for name in ("One", "Two", "Three"):
        session.do(rename("fields", "field", name)).result()
    plate = _history(window)
    words = [plate.lines.data(plate.lines.index(at)) for at in range(3)]
    assert [name in str(each) for name, each in zip(("Three", "Two", "One"), words, strict=True)] == [True] * 3
    sentence = str(plate.lines.data(plate.lines.index(0), Qt.ItemDataRole.AccessibleTextRole))
    when, what = sentence.split(", you: ")
    assert what == words[0]
    assert re.fullmatch(r"\w{3} \d{1,2} \w{3}( \d{4})? \d\d:\d\d", when)
    plate.list.setCurrentIndex(plate.lines.index(1))
    assert plate.back.text() == "Take back this and 1 later"
    plate.back.click()
    assert session.farm.fields["field"].name == "One"
    session.redo().result()
    assert session.farm.fields["field"].name == "Two"


def test_history_says_today_and_names_who_is_not_you(window: Window) -> None:
    now = datetime.combine(window.stage.today, time(14, 2)).astimezone()
    entry = HistoryEntry(now, "Invented Person", "barn", Text("Long Field 24 placed"), "a", None)
    lines = Lines(window.stage, [entry, replace(entry, made_by="")])
    said = [lines.data(lines.index(at), Qt.ItemDataRole.AccessibleTextRole) for at in range(2)]
    assert said == [
        "Today 14:02, Invented Person: Long Field 24 placed",
        "Today 14:02, another program: Long Field 24 placed",
    ]


def test_what_undo_does_not_reach_says_why_it_stays(window: Window) -> None:
    window.stage.session.do(rename("fields", "field", "One")).result()
    window.stage.session.undo().result()
    plate = _history(window)
    said = []
    for row in (0, 1, plate.lines.rowCount() - 1):
        plate.list.setCurrentIndex(plate.lines.index(row))
        assert not plate.back.isEnabled()
        said.append(plate.whole.text())
    assert said == [
        "This was an undo. Redo brings back what it took.",
        "This was taken back already.",
        "This belongs to the making of the farm and stays.",
    ]


def test_what_is_cut_off_in_its_line_is_told_in_full(window: Window) -> None:
    long = "A name that is so long that no line of the list has the room for it"
    window.stage.session.do(rename("fields", "field", long)).result()
    plate = _history(window)
    QApplication.processEvents()
    assert long in plate.whole.text()
    window.stage.session.do(rename("fields", "field", "Short")).result()
    QApplication.processEvents()
    plate.list.setCurrentIndex(plate.lines.index(0))
    assert plate.whole.text() == ""


def test_taking_back_many_steps_can_be_stopped(window: Window, monkeypatch: pytest.MonkeyPatch) -> None:
    session = window.stage.session
    for name in ("One", "Two", "Three", "Four"):
        session.do(rename("fields", "field", name)).result()
    plate = _history(window)
    plate.list.setCurrentIndex(plate.lines.index(3))
    waiting: list[Future[ChangeSet]] = [Future(), Future()]
    answers = iter(waiting)
    monkeypatch.setattr(session, "undo", lambda: next(answers))
    plate.back.click()
    assert plate.back.text() == "Stop here, 3 left"
    plate.back.click()
    waiting[0].set_result(session.do(rename("fields", "field", "Three")).result())
    QApplication.processEvents()
    assert next(answers) is waiting[1]  # no second step was asked for
    assert plate.back.text() == "Take this back"


def test_of_a_long_history_only_what_is_in_sight_is_written(window: Window, monkeypatch: pytest.MonkeyPatch) -> None:
    now = datetime.now(UTC)
    entries = [HistoryEntry(now, "", "", Text("Line {at}", {"at": str(at)}), str(at), None) for at in range(5000)]
    monkeypatch.setattr(window.stage.session, "history", lambda: entries)
    plate = _history(window)
    written: list[Text] = []

    def words(text: Text) -> str:
        written.append(text)
        return "words"

    monkeypatch.setattr(window.stage, "words", words)
    plate.grab()
    assert plate.lines.rowCount() == 5000
    assert 5 < len({text for text in written if text.id == "Line {at}"}) < 60


def _history(window: Window) -> History:
    window.stage.plate_asked.emit("history")
    plate = window.panel("history")
    assert isinstance(plate, History)
    return plate


def test_messages_are_kept_newest_first(window: Window) -> None:
    for at in range(60):
        window.stage.notice(Text("Message {at}.", {"at": str(at)}))
    window.stage.plate_asked.emit("messages")
    plate = window.panel("messages")
    assert isinstance(plate, Messages)
    assert [plate.list.item(at).text() for at in range(plate.list.count())] == [
        f"Message {at}." for at in range(59, 9, -1)
    ]
    window.stage.notice(Text("One more."))
    assert plate.list.item(0).text() == "One more."


def test_messages_from_before_the_plate_was_made_are_kept(window: Window, qtbot: QtBot) -> None:
    window.stage.notice(Text("Said at the start."))
    plate = Messages(window.stage, window.map)
    plate.renew()
    assert plate.list.item(0).text() == "Said at the start."


def test_only_one_plate_lies_over_the_map(window: Window) -> None:
    window.stage.plate_asked.emit("about")
    about, messages = window.panel("about"), window.panel("messages")
    assert isinstance(about, About)
    assert about.isVisible()
    window.stage.plate_asked.emit("messages")
    assert not about.isVisible()
    assert messages is not None
    assert messages.isVisible()


def _menu(window: Window) -> MoreMenu:
    return MoreMenu(window.stage, window, sheet=lambda: None, redo=lambda: None, map_only=window.toggle_map_only)


def _action(menu: QMenu, words: str) -> QAction:
    for action in menu.actions():
        inside = action.menu()
        if action.text().split("\t")[0] == words:
            return action
        if isinstance(inside, QMenu):
            for each in inside.actions():
                if each.text() == words:
                    return each
    raise AssertionError(f"no {words} in the menu")


def test_more_holds_how_it_looks_and_keeps_it(window: Window) -> None:
    menu = _menu(window)
    _action(menu, "Dark").trigger()
    assert window.stage.theme == "dark"
    assert load_personal().theme == "dark"
    assert _action(_menu(window), "Dark").isChecked()


def test_more_holds_the_units_of_the_farm(window: Window) -> None:
    _action(_menu(window), "Feet, acres, pounds, degrees Fahrenheit").trigger()
    QApplication.processEvents()
    assert window.stage.units == "us"


def test_another_size_of_text_shows_the_farm_anew(window: Window) -> None:
    asked: list[object] = []
    window.stage.farm_asked.connect(asked.append)
    _action(_menu(window), "120 %").trigger()
    assert load_personal().text_pt == pytest.approx(12.6)
    (made,) = asked
    assert getattr(made, "path", None) == window.stage.session.path


def test_another_sort_of_english_is_kept_and_shows_the_farm_anew(window: Window) -> None:
    asked: list[object] = []
    window.stage.farm_asked.connect(asked.append)
    _action(_menu(window), "Australian and New Zealand English").trigger()
    assert load_personal().language == "en_AU"
    assert len(asked) == 1
    window.stage.language = "en_AU"
    assert window.stage.say("Place a paddock") == "Place a strip"


def test_single_letters_can_be_turned_off(window: Window) -> None:
    _action(_menu(window), "Single letters are keys").trigger()
    QTest.keyClick(window.map, Qt.Key.Key_D)
    assert window.stage.verb == "pick"
    _action(_menu(window), "Single letters are keys").trigger()
    QTest.keyClick(window.map, Qt.Key.Key_D)
    assert window.stage.verb == "draw"


def test_more_leaves_the_map_alone_and_says_how_to_come_back(window: Window) -> None:
    said: list[str] = []
    window.stage.noticed.connect(lambda notice: said.append(str(notice.text)))
    _action(_menu(window), "The map alone, and back").trigger()
    verbs = window.part("verbs")
    assert verbs is not None
    assert not verbs.isVisible()
    assert said == ["The map alone. F11 brings the rest back."]
    QTest.keyClick(window.map, Qt.Key.Key_F11)
    assert verbs.isVisible()


@pytest.mark.parametrize("glides", [True, False])
def test_a_map_that_is_let_go_glides_on_unless_that_is_turned_off(window: Window, qtbot: QtBot, glides: bool) -> None:
    if not glides:
        _action(_menu(window), "Map and plates glide").trigger()
    assert _action(_menu(window), "Map and plates glide").isChecked() == glides
    held = Qt.MouseButton.MiddleButton
    QTest.mousePress(window.map, held, pos=QPoint(300, 200))
    for x in range(300, 200, -10):
        QTest.qWait(2)
        QTest.mouseMove(window.map, QPoint(x, 200))
    QTest.mouseRelease(window.map, held, pos=QPoint(210, 200))
    before = window.map.view.centre_x_m
    qtbot.wait(80)
    assert (window.map.view.centre_x_m != before) == glides


def test_about_names_the_licences_of_what_is_shipped(window: Window) -> None:
    window.stage.plate_asked.emit("about")
    about = window.panel("about")
    assert about is not None
    said = " ".join(label.text() for label in about.findChildren(QLabel))
    for licence in ("BSD 3-Clause", "SIL Open Font License 1.1", "ISC and MIT", "Lesser General Public License 3"):
        assert licence in said
