from __future__ import annotations

from datetime import date
from pathlib import Path

import pytest

from pigmap.errors import RecordError
from pigmap.weather.daily_file import read_daily_file


def told(folder: Path, text: str) -> Path:
    path = folder / "weather.csv"
    path.write_text(text, encoding="utf-8")
    return path


@pytest.mark.parametrize(
    "text",
    [
        "date,rain,tmin,tmax\n2026-03-14,4.5,-1,9\n",
        "\ufeffDate;Precipitation;Temp Min;Temp Max\n14.03.2026;4,5;-1,0;9\n",
        "day\tprcp\tmin_c\tmax_c\twind\n2026-073\t4.5\t-1\t9\t3\n",
        "date,rainfall,tmax,tmin\n14/03/2026,4.5,9,-1\n",
        "date,rainfall,tmax,tmin\n03/14/2026,4.5,9,-1\n",
        "date,rain,tmin,tmax\n20260314,4.5,-1,9\n\n",
    ],
)
def test_usual_tables_say_the_same(tmp_path: Path, text: str) -> None:
    (day,) = read_daily_file(told(tmp_path, text)).days
    assert (day.day, day.rain_mm, day.min_c, day.max_c) == (date(2026, 3, 14), 4.5, -1.0, 9.0)
    assert day.source == "weather.csv"


def test_what_was_not_read_is_none_and_days_come_in_order(tmp_path: Path) -> None:
    read = read_daily_file(told(tmp_path, "date,rain\n2026-03-15,NA\n2026-03-14,\n2026-03-13,1.5\n"))
    assert [(day.day.day, day.rain_mm, day.max_c) for day in read.days] == [
        (13, 1.5, None),
        (14, None, None),
        (15, None, None),
    ]


def test_rows_that_cannot_be_are_left_out_and_said(tmp_path: Path) -> None:
    text = "date,rain,tmax\n2026-03-13,1.5,9\n2026-03-14,-3,9\n2026-03-15,wet,9\n2026-02-30,1,9\n2026-03-16,0,99\n"
    read = read_daily_file(told(tmp_path, text))
    assert [day.day.day for day in read.days] == [13]
    assert [str(words) for words in read.left_out] == [
        "Row 3: The rain is -3.",
        "Row 4: it holds a value that is no number or date.",
        "Row 5: it holds a value that is no number or date.",
        "Row 6: The highest temperature is 99.",
    ]


NO_TABLE = "Give a text file with commas: a first row with date, rain, tmin and tmax, then one row a day."


@pytest.mark.parametrize(
    ("text", "message", "remedy"),
    [
        ("Dear neighbour\nit rained\n", "weather.csv is not a table of daily weather.", NO_TABLE),
        ("date,rain\n", "weather.csv is not a table of daily weather.", NO_TABLE),
        (
            "when,rain\n2026-03-14,1\n",
            "weather.csv has no column for the date; its columns are: when, rain.",
            "Name them in its first row: date, rain, tmin, tmax.",
        ),
        (
            "date,wind\n2026-03-14,1\n",
            "weather.csv has no column for rain or temperature; its columns are: date, wind.",
            "Name them in its first row: date, rain, tmin, tmax.",
        ),
        (
            "date,rain\n01/02/2026,1\n02/02/2026,1\n",
            "The dates of weather.csv, such as 01/02/2026, do not say which number is the day and which the month.",
            "Write them as YYYY-MM-DD.",
        ),
        (
            "date,rain\nMonday,1\nTuesday,1\n",
            "The dates of weather.csv, such as Monday, cannot be read.",
            "Write them as YYYY-MM-DD.",
        ),
        (
            "date,rain\n2026-03-14,wet\n",
            "None of the 1 rows of weather.csv is a day of weather.",
            "Give rain in millimetres and temperatures in degrees Celsius, one row a day.",
        ),
    ],
)
def test_what_is_no_table_of_weather_is_refused_with_a_remedy(
    tmp_path: Path, text: str, message: str, remedy: str
) -> None:
    with pytest.raises(RecordError) as refused:
        read_daily_file(told(tmp_path, text))
    assert (str(refused.value.message), str(refused.value.remedy)) == (message, remedy)


def test_a_missing_file_is_named_with_its_folder(tmp_path: Path) -> None:
    with pytest.raises(RecordError) as refused:
        read_daily_file(tmp_path / "gone.csv")
    assert str(refused.value) == (
        f"The weather file gone.csv is not in {tmp_path}. Look for the file, and name it where it is."
    )


def test_a_real_record_has_the_rain_of_its_years(shared_data: Path) -> None:
    """Sums of the file itself, taken with another reader."""
    days = read_daily_file(shared_data / "weather" / "seattle-weather.csv").days
    sums = {year: sum(day.rain_mm or 0 for day in days if day.day.year == year) for year in range(2012, 2016)}
    assert len(days) == 1461
    assert sums == pytest.approx({2012: 1226.0, 2013: 828.0, 2014: 1232.8, 2015: 1139.2}, abs=0.05)
