from __future__ import annotations

from collections.abc import Iterator
from datetime import date, timedelta
from pathlib import Path

import pytest
from PySide6.QtCore import Qt
from PySide6.QtTest import QTest
from PySide6.QtWidgets import QLabel
from pytestqt.qtbot import QtBot

from pigmap.builtin.panels.find import Find
from pigmap.builtin.panels.weather import Weather
from pigmap.builtin.panels.weather_typed import rain_typed
from pigmap.document.edits import change_setting
from pigmap.drawing.words import day_words
from pigmap.errors import EditError
from pigmap.qt.following import undo
from pigmap.qt.stage import Stage
from pigmap.qt.window import Window
from pigmap.records import WeatherDay
from pigmap.session.brought_weather import COLUMNS_SETTING
from tests.qt.window_farm import TODAY, made_panel, made_stage, made_window

TOMORROW = TODAY + timedelta(days=1)


@pytest.fixture
def window(qtbot: QtBot, tmp_path: Path) -> Iterator[Window]:
    with made_window(tmp_path) as made:
        yield made


@pytest.fixture
def stage(qtbot: QtBot, tmp_path: Path) -> Iterator[Stage]:
    with made_stage(tmp_path) as made:
        yield made


@pytest.fixture
def plate(stage: Stage) -> Iterator[Weather]:
    with made_panel(stage, "weather", (500, 900)) as made:
        assert isinstance(made, Weather)
        made.open_plate()
        yield made


def known(stage: Stage) -> dict[date, WeatherDay]:
    return {row.day: row for row in stage.session.farm.weather_days.values()}


def settled(qtbot: QtBot, stage: Stage, days: int) -> None:
    qtbot.waitUntil(lambda: len(known(stage)) == days, timeout=5000)


def test_rain_takes_a_key_a_number_and_enter(window: Window, qtbot: QtBot) -> None:
    QTest.keyClick(window.map, Qt.Key.Key_R)
    plate = window.panel("weather")
    assert isinstance(plate, Weather)
    assert plate.rain.hasFocus()
    QTest.keyClicks(plate.rain, "4,5")
    QTest.keyClick(plate.rain, Qt.Key.Key_Return)
    settled(qtbot, window.stage, 1)
    assert (known(window.stage)[TODAY].rain_mm, known(window.stage)[TODAY].source) == (4.5, "gauge")
    qtbot.waitUntil(lambda: not plate.isVisible(), timeout=5000)
    undo(window.stage)
    settled(qtbot, window.stage, 0)


def test_rain_of_another_day_is_written_to_that_day_and_what_is_known_of_it_is_said(
    stage: Stage, plate: Weather, qtbot: QtBot
) -> None:
    before = TODAY - timedelta(days=9)
    plate.day.setText(before.isoformat())
    plate.rain.setText("0")
    plate.take.click()
    settled(qtbot, stage, 1)
    assert known(stage)[before].rain_mm == 0.0
    stage.show_day(before)
    plate.open_plate()
    assert plate.day.text() == before.isoformat()
    assert plate.known.text() == f"Written down for {day_words(before, 'short year')}: no rain."


def test_tomorrow_is_hot_with_one_touch_and_not_with_another(stage: Stage, plate: Weather, qtbot: QtBot) -> None:
    assert plate.hot_next.text() == "Hot tomorrow"
    plate.hot_next.click()
    settled(qtbot, stage, 1)
    assert known(stage)[TOMORROW].hot
    assert plate.hot_next.isChecked()
    assert not plate.hot.isChecked()
    plate.hot_next.click()
    settled(qtbot, stage, 0)
    assert not plate.hot_next.isChecked()


def test_another_day_is_called_hot_too(stage: Stage, plate: Weather, qtbot: QtBot) -> None:
    plate.day.setText("2026-07-03")
    assert plate.hot.text() == "Hot on Fri 3 Jul"
    plate.hot.click()
    settled(qtbot, stage, 1)
    assert known(stage)[date(2026, 7, 3)].hot


REFUSED = [
    ("", "", "The rain is not given. Give a number, such as 4.5."),
    ("wet", "", "The rain is 'wet': that is no number. Give a number, such as 4.5."),
    ("4", "2026-02-30", "2026-02-30 is not a day of the calendar. Give year, month and day, such as 2026-03-01."),
    (
        "-1",
        "",
        "The rain is -1.0 mm; in a day between none and 500 mm falls. Look at the gauge and at the unit again.",
    ),
    (
        "900",
        "",
        "The rain is 900.0 mm; in a day between none and 500 mm falls. Look at the gauge and at the unit again.",
    ),
]


def test_what_cannot_be_rain_is_said_and_stays_typed(stage: Stage, plate: Weather) -> None:
    for rain, day, said in REFUSED:
        plate.rain.setText(rain)
        plate.day.setText(day)
        plate.write()
        assert plate.refused.text() == said
        assert plate.rain.text() == rain
    assert plate.isVisible()
    assert not known(stage)


def test_rain_of_a_day_to_come_is_not_in_the_gauge(stage: Stage, plate: Weather) -> None:
    plate.rain.setText("4")
    plate.day.setText(TOMORROW.isoformat())
    plate.write()
    assert plate.refused.text().endswith(
        "is still to come, so no rain of it is in the gauge. Give today or a day that was."
    )


def test_inches_are_typed_where_the_farm_has_them(stage: Stage, plate: Weather, qtbot: QtBot) -> None:
    stage.session.do(change_setting("units", "us")).result()
    assert str(rain_typed("0.25 in", TODAY, "us").label) == f"6.3 mm of rain on {TODAY}."
    with pytest.raises(EditError, match=r"such as 0\.2"):
        rain_typed("", TODAY, "us")


def test_find_brings_the_plate(window: Window) -> None:
    window.stage.plate_asked.emit("find")
    find = window.panel("find")
    assert isinstance(find, Find)
    QTest.keyClicks(find.line, "hot tom")
    QTest.keyClick(find.line, Qt.Key.Key_Return)
    plate = window.panel("weather")
    assert isinstance(plate, Weather)
    assert plate.isVisible()


def test_a_file_is_taken_in_and_what_was_left_out_is_said(
    stage: Stage, plate: Weather, qtbot: QtBot, tmp_path: Path
) -> None:
    path = tmp_path / "may.csv"
    path.write_text("date,rain\n2026-05-01,2\n2026-05-02,x2\n2026-05-03,0\n", encoding="utf-8")
    plate.file.choose_file = lambda parent, title, kinds: str(path)
    plate.file.bring.click()
    settled(qtbot, stage, 2)
    assert plate.file.said.text() == "Row 2: x2 in rain is no number."
    assert not plate.file.lists.isVisible()
    assert plate.file.bring.isEnabled()


def test_columns_of_a_file_are_told_once(stage: Stage, plate: Weather, qtbot: QtBot, tmp_path: Path) -> None:
    path = tmp_path / "may.csv"
    path.write_text("when,wet\n2026-05-01,2\n", encoding="utf-8")
    plate.file.take_file(path)
    qtbot.waitUntil(lambda: plate.file.lists.isVisible(), timeout=5000)
    assert plate.file.said.text() == (
        "may.csv has no column for the date; its columns are: when, wet. "
        "Name them in its first row: date, rain, tmin, tmax."
    )
    for word, name in (("date", "when"), ("rain", "wet")):
        box = plate.file.columns[word]
        box.setCurrentIndex(box.findData(name))
    plate.file.units.setCurrentIndex(plate.file.units.findData("us"))
    plate.file.again.click()
    settled(qtbot, stage, 1)
    assert known(stage)[date(2026, 5, 1)].rain_mm == 50.8
    assert "when|wet" in stage.session.farm.setting(COLUMNS_SETTING)
    path.write_text("when,wet\n2026-05-02,1\n", encoding="utf-8")
    plate.file.take_file(path)
    settled(qtbot, stage, 2)


def test_a_file_that_is_no_table_offers_no_columns(stage: Stage, plate: Weather, qtbot: QtBot, tmp_path: Path) -> None:
    path = tmp_path / "letter.txt"
    path.write_text("Dear neighbour\nit rained\n", encoding="utf-8")
    plate.file.take_file(path)
    qtbot.waitUntil(plate.file.bring.isEnabled, timeout=5000)
    assert plate.file.said.text().startswith("letter.txt is not a table of daily weather.")
    assert not plate.file.lists.isVisible()


def test_every_line_and_list_has_a_name(stage: Stage, plate: Weather) -> None:
    assert plate.rain.accessibleName() == "Rain in the gauge, mm"
    assert [box.accessibleName() for box in plate.file.columns.values()] == [
        "Date",
        "Rain",
        "Lowest temperature",
        "Highest temperature",
    ]
    assert all(label.buddy() is not None or label.accessibleName() is not None for label in plate.findChildren(QLabel))
