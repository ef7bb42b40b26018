from __future__ import annotations

from collections.abc import Iterator
from pathlib import Path
from typing import NamedTuple

import pytest
from PySide6.QtCore import Qt
from PySide6.QtTest import QTest
from PySide6.QtWidgets import QApplication, QLabel, QWidget
from pytestqt.qtbot import QtBot

from pigmap.builtin.panels.form_parts import FormLine
from pigmap.builtin.panels.more_menu import MoreMenu
from pigmap.builtin.panels.net_figure import NetFigure
from pigmap.builtin.panels.stock import Stock
from pigmap.builtin.panels.stock_deeds import AddPage, DamagedPage, OutPage
from pigmap.builtin.panels.stock_kind import KindPage
from pigmap.builtin.panels.stock_list import ListPage
from pigmap.builtin.panels.stock_numbers import NumbersPage
from pigmap.document.edits import add_net_kind, change_setting, net_damaged, net_mended, number_all, number_net
from pigmap.qt.buttons import WordButton
from pigmap.qt.following import undo
from pigmap.qt.stage import Stage
from pigmap.qt.window import Window
from pigmap.records import NetCondition
from tests.qt.window_farm import TODAY, day, made_panel, made_stage, made_window


class Held(NamedTuple):
    """The plate alone, over a widget in the map's place: it is made faster than a whole window."""

    stage: Stage
    made: QWidget

    def panel(self, name: str) -> QWidget:
        assert name == "stock"
        return self.made


@pytest.fixture
def whole(qtbot: QtBot, tmp_path: Path) -> Iterator[Window]:
    with made_window(tmp_path, size=(1280, 800)) as made:
        yield made


@pytest.fixture
def window(qtbot: QtBot, tmp_path: Path) -> Iterator[Held]:
    with made_stage(tmp_path) as stage, made_panel(stage, "stock", (1020, 560)) as made:
        assert isinstance(made, Stock)
        stage.plate_asked.connect(lambda _: made.open_plate())
        yield Held(stage, made)


@pytest.fixture
def plate(window: Held) -> Stock:
    return _plate(window)


def _plate(window: Held | Window) -> Stock:
    window.stage.plate_asked.emit("stock")
    plate = window.panel("stock")
    assert isinstance(plate, Stock)
    assert plate.isVisible()
    QApplication.processEvents()
    return plate


def _said(widget: QWidget) -> list[str]:
    labels = [each for each in widget.findChildren(QLabel) if each.isVisible()]
    return [each.text() for each in labels]


def _press(button: QWidget) -> None:
    QTest.mouseClick(button, Qt.MouseButton.LeftButton)
    QApplication.processEvents()


def _named(plate: Stock, words: str) -> WordButton:
    found = [each for each in plate.findChildren(WordButton) if each.isVisible() and each.accessibleName() == words]
    assert len(found) == 1, [each.accessibleName() for each in plate.findChildren(WordButton) if each.isVisible()]
    return found[0]


def _notice(window: Held) -> str:
    return window.stage.words(window.stage.notices[-1].text)


def test_the_figure_of_nets_the_key_and_more_open_it(whole: Window, qtbot: QtBot) -> None:
    (figure,) = whole.findChildren(NetFigure)
    qtbot.waitUntil(lambda: not whole.stage.coming_up)  # it is counted after the first frame
    assert figure.accessibleName().startswith("Nets: 11 nets owned, 8 standing")
    _press(figure)
    plate = whole.panel("stock")
    assert isinstance(plate, Stock)
    assert plate.isVisible()
    assert plate.damaged.hasFocus()
    QTest.keyClick(plate.damaged, Qt.Key.Key_Escape)
    assert not plate.isVisible()
    QTest.keyClick(whole.map, Qt.Key.Key_N)
    assert plate.isVisible()
    plate.put_away()
    menu = MoreMenu(whole.stage, whole, sheet=lambda: None, redo=lambda: None, map_only=lambda: None)
    next(each for each in menu.actions() if each.text() == "Nets\tN").trigger()
    assert plate.isVisible()


def test_while_a_paddock_is_placed_the_key_chooses_the_kind(whole: Window) -> None:
    whole.stage.take_up("place")
    plate = _plate(whole)
    plate.put_away()
    whole.map.setFocus()
    QTest.keyClick(whole.map, Qt.Key.Key_N)
    assert not plate.isVisible()


def test_it_says_how_many_there_are_and_who_has_them(plate: Stock) -> None:
    said = _said(plate.overview)
    assert said == [
        "Today, Wednesday 13 May 2026",
        "50 m, blue tape",
        "11 owned, 8 standing, 3 spare",
        "Enough for all that is planned, to Sat 16 May",
        "Who has them",
        "Dry sows, Top Field 3: 4 \u00d7 50 m",
        "Weaners, Top Field 13: 4 \u00d7 50 m",
    ]


def test_it_follows_the_day_that_is_shown(window: Held, plate: Stock) -> None:
    window.stage.show_day(day(4))
    QApplication.processEvents()
    said = _said(plate.overview)
    assert said[0] == "Sunday 17 May 2026, as planned"
    assert "Dry sows, Top Field 4: 3 \u00d7 50 m" in said
    assert "Weaners, Top Field 14: 4 \u00d7 50 m" in said  # with the side that both share
    window.stage.show_day(day(-1))
    QApplication.processEvents()
    assert _said(plate.overview)[0] == "Tuesday 12 May 2026, as recorded"


def test_two_touches_say_that_a_net_is_damaged_and_one_that_it_is_mended(window: Held, plate: Stock) -> None:
    _press(plate.damaged)
    assert isinstance(plate.page, DamagedPage)
    assert plate.page.choices[0].hasFocus()
    plate.page.what.setText("Torn at post 4.")
    _press(plate.page.choices[0])
    assert plate.page is None
    assert "11 owned, 8 standing, 2 spare, 1 damaged" in _said(plate.overview)
    assert "A net of the 50 m, since Wed 13 May: Torn at post 4." in _said(plate.overview)
    assert _notice(window) == "One of the 50 m is damaged from Wed 13 May 2026 on."
    _press(plate.overview.mended[0])
    assert "11 owned, 8 standing, 3 spare" in _said(plate.overview)
    (repair,) = window.stage.session.farm.net_repairs.values()
    assert (repair.mended_on, repair.what) == (TODAY, "Torn at post 4.")
    assert _notice(window) == "A net of the 50 m is mended."
    undo(window.stage)
    QApplication.processEvents()
    assert len(plate.overview.mended) == 1


def test_a_net_with_a_number_is_damaged_by_its_number(window: Held) -> None:
    session = window.stage.session
    session.do(number_all("fifty", TODAY)).result()
    plate = _plate(window)
    _press(plate.damaged)
    _press(_named(plate, "50 m, blue tape, number 7"))
    (net,) = [net for net in session.farm.nets.values() if net.condition is NetCondition.DAMAGED]
    assert net.number == "7"
    assert _notice(window) == "Net 7 is damaged from Wed 13 May 2026 on."


def _counts_on(window: Held, plate: Stock, by: int) -> str:
    window.stage.show_day(day(by))
    QApplication.processEvents()
    return _said(plate.overview)[2]


def test_a_net_counts_until_the_day_it_is_torn_and_again_from_the_day_it_is_mended(window: Held, plate: Stock) -> None:
    _press(plate.damaged)
    assert isinstance(plate.page, DamagedPage)
    _press(plate.page.choices[0])
    assert "damaged" not in _counts_on(window, plate, -1)
    assert _counts_on(window, plate, 3).endswith("1 damaged")
    (net,) = [net for net in window.stage.session.farm.nets.values() if net.condition is NetCondition.DAMAGED]
    window.stage.session.do(net_mended(net.uid, day(2))).result()
    QApplication.processEvents()
    assert _counts_on(window, plate, 1).endswith("1 damaged")
    assert "A net of the 50 m, since Wed 13 May, mended on Fri 15 May" in _said(plate.overview)
    assert not any(button.isVisibleTo(plate.overview) for button in plate.overview.mended)
    assert "damaged" not in _counts_on(window, plate, 2)


def test_what_is_told_on_a_day_to_come_is_damaged_from_today_on(window: Held, plate: Stock) -> None:
    window.stage.show_day(day(3))
    QApplication.processEvents()
    _press(plate.damaged)
    assert isinstance(plate.page, DamagedPage)
    _press(plate.page.choices[0])
    assert [net.damaged_on for net in window.stage.session.farm.nets.values() if net.damaged_on] == [TODAY]


def test_where_more_stand_than_are_sound_it_is_told(window: Held) -> None:
    for at in range(5):
        window.stage.session.do(net_damaged(f"net{at}", window.stage.today)).result()
    plate = _plate(window)
    assert _said(plate.overview)[1] == (
        "8 of the 50 m stand, and 6 are owned in good order. Add those that are missing, or put right where they stand."
    )
    names = [each.accessibleName() for each in plate.overview.mended]
    assert len(names) == len(set(names)) == 5


def test_nets_are_added_from_a_day_on_and_go_on_with_the_numbers(window: Held) -> None:
    window.stage.session.do(number_all("fifty", TODAY)).result()
    plate = _plate(window)
    _press(plate.add)
    page = plate.page
    assert isinstance(page, AddPage)
    assert page.count.hasFocus()
    QTest.keyClicks(page.count, "2")
    assert page.numbers.text() == "They get the numbers 12, 13."
    page.since.setText("2026-05-01")
    QTest.keyClick(page.count, Qt.Key.Key_Return)
    QApplication.processEvents()
    assert plate.page is None
    new = [net for net in window.stage.session.farm.nets.values() if net.number in ("12", "13")]
    assert [net.first_used_on for net in new] == [day(-12)] * 2
    assert _notice(window) == "2 nets added."
    undo(window.stage)
    assert len(window.stage.session.farm.nets) == 11


def test_nets_of_another_length_are_added_with_their_kind_at_once(window: Held, plate: Stock) -> None:
    _press(plate.add)
    page = plate.page
    assert isinstance(page, AddPage)
    assert not page.long.isVisible()
    page.kind.setCurrentIndex(1)
    assert page.long.isVisible()
    page.count.setText("3")
    page.long.setText("25")
    _press(page.go)
    (kind,) = [kind for kind in window.stage.session.farm.net_kinds.values() if kind.length_mm == 25_000]
    assert "3 owned, 0 standing, 3 spare" in _said(plate.overview)
    undo(window.stage)
    assert kind.uid not in window.stage.session.farm.net_kinds


@pytest.mark.parametrize(
    ("line", "typed", "words"),
    [
        ("count", "none", "The number of nets is 'none': that is no number. Give a number, such as 4."),
        ("count", "0", "The number of nets is 0. Give a number from 1 to 999."),
        (
            "since",
            "2026-02-30",
            "2026-02-30 is not a day of the calendar. Give year, month and day, such as 2026-03-01.",
        ),
    ],
)
def test_what_cannot_be_added_is_told_at_its_line(plate: Stock, line: str, typed: str, words: str) -> None:
    _press(plate.add)
    page = plate.page
    assert isinstance(page, AddPage)
    page.count.setText("2")
    at: FormLine = getattr(page, line)
    at.setText(typed)
    _press(page.go)
    assert page.refused.text() == words
    assert at.hasFocus()
    assert page.rows.indexOf(page.refused) == page.rows.indexOf(at) + 1
    QTest.keyClick(at, Qt.Key.Key_Backspace)
    assert not page.refused.isVisible()


def test_nets_of_no_length_cannot_be_added(plate: Stock) -> None:
    _press(plate.add)
    page = plate.page
    assert isinstance(page, AddPage)
    page.kind.setCurrentIndex(1)
    page.count.setText("2")
    page.long.setText("0")
    _press(page.go)
    assert page.refused.text() == "The length of a net is 0 m. Give a length from 2 m to 500 m."


def test_nets_go_out_of_use_by_count_or_by_number(window: Held) -> None:
    session = window.stage.session
    session.do(number_net("net3", "7")).result()
    plate = _plate(window)
    _press(plate.out)
    page = plate.page
    assert isinstance(page, OutPage)
    page.count.setText("2")
    _press(page.go)
    assert "9 owned, 8 standing, 1 spare" in _said(plate.overview)
    _press(plate.out)
    assert isinstance(plate.page, OutPage)
    assert plate.page.number is not None
    plate.page.number.setText("8")
    _press(plate.page.go)
    assert plate.page.refused.text() == (
        "None of them has the number 8 on this day. Look up the number under Numbers, or choose the other kind."
    )
    plate.page.number.setText("7")
    _press(plate.page.go)
    assert session.farm.nets["net3"].retired_on == TODAY


def test_more_nets_than_there_are_cannot_go_out_of_use(plate: Stock) -> None:
    _press(plate.out)
    page = plate.page
    assert isinstance(page, OutPage)
    page.count.setText("12")
    _press(page.go)
    assert page.refused.text() == (
        "The farm owns 11 of the 50 m on Wed 13 May 2026: 12 cannot go out of use. "
        "Give a number that is not above 11, or put right how many you own."
    )


def _kind(plate: Stock) -> KindPage:
    _press(plate.overview.more[0])
    assert isinstance(plate.page, KindPage)
    return plate.page


def test_what_is_known_of_a_kind_stands_under_more(window: Held, plate: Stock) -> None:
    page = _kind(plate)
    assert (page.bays.text(), page.long.text(), page.high.text()) == ("13 x 3.572 + 3.564", "50", "90")
    page.bays.setText("13 x 3.57 + 3.5")
    page.tape.setText("red")
    page.price.setText("119,5")
    page.leak.setText("40")
    _press(page.go)
    kind = window.stage.session.farm.net_kinds["fifty"]
    assert (kind.tape, kind.price, kind.leak, kind.ohm_per_km) == ("red", 119.5, 40.0, None)
    assert (kind.length_mm, kind.bays_mm[-1], kind.height_mm) == (50_000, 3538, 900)


def test_bays_that_do_not_add_up_are_told_at_their_line(plate: Stock) -> None:
    page = _kind(plate)
    page.bays.setText("14 x 3.5")
    _press(page.go)
    assert page.refused.text() == (
        "The bays add up to 49 m: 1 m less than the 50 m of the net. Give 14 x 3.571, or 49 m as the length of the net."
    )
    assert page.bays.hasFocus()
    page.long.setText("0")
    _press(page.go)
    assert page.refused.text() == "The net is 0 m long. Give its length from the first post to the last, such as 50 m."
    assert page.long.hasFocus()


def test_in_feet_lengths_are_shown_and_taken_in_feet(window: Held) -> None:
    window.stage.session.do(change_setting("units", "us")).result()
    page = _kind(_plate(window))
    assert page.long.text() == "164.042"
    page.high.setText("32")
    _press(page.go)
    kind = window.stage.session.farm.net_kinds["fifty"]
    assert (kind.height_mm, kind.length_mm) == (813, 50_000)


def test_numbers_are_given_and_nets_that_were_mixed_up_change_places(window: Held, plate: Stock) -> None:
    session = window.stage.session
    _press(plate.numbers)
    assert isinstance(plate.page, NumbersPage)
    assert not plate.page.boxes
    _press(_named(plate, "50 m, blue tape: Give all 11 a number"))
    page = plate.page
    assert isinstance(page, NumbersPage)
    assert len(page.lines) == 11
    box = page.boxes["group0u0"]
    assert box.currentText() == "not known"
    box.setFocus()
    box.setCurrentIndex(box.findText("5"))
    box.activated.emit(box.currentIndex())
    QApplication.processEvents()
    four = next(net for net in session.farm.nets.values() if net.number == "5")
    assert [use.net_uid for use in session.farm.net_uses.values() if use.stands(TODAY)].count(four.uid) == 1
    assert _notice(window).endswith(": net 5 stands there.")
    assert isinstance(plate.page, NumbersPage)
    focused = QApplication.focusWidget()
    assert focused is not None
    assert focused.accessibleName() == box.accessibleName()


def test_a_number_that_another_has_is_refused_and_stays_typed(window: Held) -> None:
    session = window.stage.session
    session.do(number_all("fifty", TODAY)).result()
    plate = _plate(window)
    _press(plate.numbers)
    page = plate.page
    assert isinstance(page, NumbersPage)
    line = page.lines["net0"]
    line.setFocus()
    line.setText("4")
    QTest.keyClick(line, Qt.Key.Key_Return)
    QApplication.processEvents()
    assert page.refused.text() == (
        "Another of the 50 m has the number 4 already. "
        "Give it one that is free, such as 12, or change that of the other first."
    )
    assert line.text() == "4"
    line.setText("20")
    QTest.keyClick(line, Qt.Key.Key_Return)
    assert session.farm.nets["net0"].number == "20"


def test_the_list_goes_out_and_comes_in_after_it_was_told(window: Held, plate: Stock, tmp_path: Path) -> None:
    session, path = window.stage.session, tmp_path / "nets"
    plate.save_list(path)
    assert _notice(window) == "11 nets are in the list nets.csv."
    written = path.with_suffix(".csv")
    text = written.read_text(encoding="utf-8-sig").splitlines()
    written.write_text("\n".join([*text, "50 m,50,blue,4,,,,", "50 m,50,blue,4,,,,"]), encoding="utf-8")
    plate.show_list(written)
    page = plate.page
    assert isinstance(page, ListPage)
    assert [each.text() for each in page.told] == [
        "12 nets, 1 of them new; 1 line left out.",
        "Line 14: two nets with number 4, the other in line 13.",
    ]
    assert len(session.farm.nets) == 11
    _press(page.go)
    assert len(session.farm.nets) == 12
    assert _notice(window) == "Nets taken in from nets.csv."
    undo(window.stage)
    assert len(session.farm.nets) == 11


def test_a_list_with_nothing_new_only_says_so(window: Held, plate: Stock, tmp_path: Path) -> None:
    path = tmp_path / "nets.csv"
    plate.save_list(path)
    plate.show_list(path)
    assert isinstance(plate.page, ListPage)
    assert not plate.page.go.isVisible()
    assert "Nothing of it is new to the farm." in _said(plate.page)


def test_what_is_no_list_is_told(window: Held, plate: Stock, tmp_path: Path) -> None:
    path = tmp_path / "nets.csv"
    path.write_text("hello")
    plate.show_list(path)
    assert plate.page is None
    assert _notice(window).startswith("nets.csv is not a list of nets. Give a text file (CSV)")
    plate.save_list(tmp_path / "nowhere" / "nets.csv")
    assert _notice(window).startswith("nets.csv cannot be written")


def test_esc_leaves_a_page_then_the_plate(window: Held, plate: Stock) -> None:
    _press(plate.add)
    assert isinstance(plate.page, AddPage)
    QTest.keyClick(plate.page.count, Qt.Key.Key_Escape)
    assert plate.page is None
    assert plate.isVisible()
    assert plate.damaged.hasFocus()
    QTest.keyClick(plate.damaged, Qt.Key.Key_Escape)
    assert not plate.isVisible()


def test_the_tab_key_goes_through_as_it_is_read(window: Held) -> None:
    window.stage.session.do(net_damaged("net0", window.stage.today)).result()
    plate = _plate(window)
    plate.overview.more[0].setFocus()
    seen = []
    for _ in range(9):
        at = QApplication.focusWidget()
        assert at is not None
        seen.append(at.accessibleName())
        QTest.keyClick(at, Qt.Key.Key_Tab)
    assert seen == [
        "More: 50 m, blue tape",
        "Mended: A net of the 50 m, since Wed 13 May",
        "What was mended, if you like to say",
        "Numbers",
        "Save as a list",
        "Take in a list",
        "A net is damaged",
        "Add nets",
        "Out of use",
    ]


def test_a_farm_without_nets_offers_to_add_them(qtbot: QtBot, tmp_path: Path) -> None:
    with made_window(tmp_path, empty=True) as window:
        plate = _plate(window)
        assert "No nets yet. Say how many you own, and how long they are." in _said(plate.overview)
        assert not plate.damaged.isVisible()
        assert plate.add.hasFocus()
        _press(plate.add)
        page = plate.page
        assert isinstance(page, AddPage)
        assert page.long.hasFocus()
        page.long.setText("50")
        page.count.setText("12")
        _press(page.go)
        nets = list(window.stage.session.farm.nets.values())
        assert [net.first_used_on for net in nets] == [None] * 12


@pytest.mark.parametrize("size", [(640, 480), (960, 700)])
def test_in_a_small_window_all_of_it_can_be_reached(qtbot: QtBot, tmp_path: Path, size: tuple[int, int]) -> None:
    with made_window(tmp_path, size=size) as window:
        window.stage.text_scale = 1.5
        window.stage.session.do(add_net_kind("25 m", (25_000,), nets=2)).result()
        plate = _plate(window)
        for deed in plate.deeds:
            deed.setFocus(Qt.FocusReason.TabFocusReason)
            plate.tall.ensureWidgetVisible(deed)
            assert plate.rect().contains(deed.mapTo(plate, deed.rect().bottomRight()))
        assert plate.geometry().right() <= window.map.width()


def test_another_program_that_changes_the_farm_is_followed_and_the_keys_stay(window: Held, plate: Stock) -> None:
    plate.overview.more[0].setFocus()
    window.stage.session.do(net_damaged("net0", window.stage.today)).result()
    QApplication.processEvents()
    assert "11 owned, 8 standing, 2 spare, 1 damaged" in _said(plate.overview)
    assert plate.overview.more[0].hasFocus()


def test_nets_that_are_enough_for_the_plan_say_until_when(plate: Stock) -> None:
    assert "Enough for all that is planned, to Sat 16 May" in _said(plate.overview)


def test_nets_that_fall_short_say_when_and_what_mends_it(window: Held) -> None:
    for at in range(2):
        window.stage.session.do(net_damaged(f"net{at}", window.stage.today)).result()
    plate = _plate(window)
    (said,) = [each for each in _said(plate.overview) if each.startswith("Short by")]
    assert said.startswith("Short by 2 on Sat 16 May. Mend 2")


def test_a_number_half_typed_is_dropped_on_esc(window: Held) -> None:
    session = window.stage.session
    session.do(number_all("fifty", TODAY)).result()
    plate = _plate(window)
    _press(plate.numbers)
    assert isinstance(plate.page, NumbersPage)
    line = plate.page.lines["net0"]
    line.setFocus()
    line.setText("99")
    QTest.keyClick(line, Qt.Key.Key_Escape)
    QApplication.processEvents()
    assert plate.page is None
    assert session.farm.nets["net0"].number != "99"


def test_a_farm_for_reading_only_shows_and_saves(window: Held, monkeypatch: pytest.MonkeyPatch) -> None:
    window.stage.session.do(net_damaged("net0", window.stage.today)).result()
    monkeypatch.setattr(window.stage.session, "read_only", True)
    plate = _plate(window)
    assert [each.text() for each in plate.findChildren(WordButton) if each.isVisible()] == ["Save as a list"]
    assert plate.save.hasFocus()
