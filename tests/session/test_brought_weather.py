from __future__ import annotations

from pathlib import Path

import pytest

from pigmap.errors import RecordError
from pigmap.records import Farm, Projection
from pigmap.session.brought_weather import (
    COLUMNS_SETTING,
    FileTold,
    parsed_columns,
    read_weather,
    said_of,
    told_of,
    weather_taken,
)
from pigmap.weather.daily_file import read_daily_file

TOLD = FileTold({"date": "when", "rain": "wet"}, "us")


def farm() -> Farm:
    return Farm(document_uid="d", projection=Projection(name="", authority="NONE", code=1, definition=""))


def file(folder: Path, name: str, rows: str) -> Path:
    path = folder / name
    path.write_text(f"when,wet\n{rows}", encoding="utf-8")
    return path


def test_columns_that_were_told_once_serve_for_the_next_file_of_that_kind(tmp_path: Path) -> None:
    first = file(tmp_path, "may.csv", "2026-05-01,1\n")
    read = read_weather(farm(), first, TOLD)
    after = farm().after(weather_taken(read, TOLD).changes(farm()))
    assert after.setting(COLUMNS_SETTING) == {"when|wet": {"columns": {"date": "when", "rain": "wet"}, "units": "us"}}
    second = file(tmp_path, "june.csv", "2026-06-01,0.5\n")
    assert told_of(after, second) == TOLD
    assert [day.rain_mm for day in read_weather(after, second).days] == [12.7]
    assert [day.rain_mm for day in after.weather_days.values()] == [25.4]


def test_a_file_of_which_nothing_was_told_keeps_nothing(tmp_path: Path) -> None:
    path = tmp_path / "plain.csv"
    path.write_text("date,rain\n2026-05-01,1\n", encoding="utf-8")
    edit = weather_taken(read_weather(farm(), path))
    after = farm().after(edit.changes(farm()))
    assert (len(after.weather_days), len(after.settings), str(edit.label)) == (1, 0, "Weather of a day taken in.")


def test_a_setting_that_another_program_wrote_counts_for_nothing(tmp_path: Path) -> None:
    from pigmap.document.edits import change_setting

    for odd in ([1, 2], {"when|wet": 3}, {"when|wet": {"columns": 4, "units": "furlongs"}}):
        after = farm().after(change_setting(COLUMNS_SETTING, odd).changes(farm()))
        assert told_of(after, file(tmp_path, "may.csv", "2026-05-01,1\n")) == FileTold()


def test_a_few_rows_that_were_left_out_are_said_and_the_others_counted(tmp_path: Path) -> None:
    path = tmp_path / "plain.csv"
    path.write_text("date,rain\n2026-05-01,1\n" + "2026-05-02,x1\n" * 5, encoding="utf-8")
    said = [str(words) for words in said_of(read_daily_file(path))]
    assert said[0] == "Row 2: x1 in rain is no number."
    assert said[-1] == "2 more rows were left out."
    assert len(said) == 4


def test_columns_are_written_in_one_word_each() -> None:
    assert parsed_columns("date=When it was, rain=mm") == {"date": "When it was", "rain": "mm"}
    with pytest.raises(RecordError) as refused:
        parsed_columns("date=when,rain")
    assert str(refused.value) == (
        "rain does not say which column holds which reading. "
        "Write date=NAME,rain=NAME,tmin=NAME,tmax=NAME with the names in the file's first row."
    )
