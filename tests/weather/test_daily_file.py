from __future__ import annotations

from datetime import date
from pathlib import Path

import pytest

from pigmap.errors import RecordError
from pigmap.records import WeatherDay
from pigmap.weather.daily_file import head_of_file, read_daily_file


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
        "Yr,DOY,Rain,Tmax,Tmin\n2026,73,4.5,9,-1\n",
        "year,day,rain,tmax,tmin\n2026,73,4.5,9,-1\n",
        "year,month,day,rain,tmax,tmin\n2026,3,14,4.5,9,-1\n",
        "Station of the hill\n*****\n\nYear-DOY  Tmax  Tmin  Wind  Rain\n2026-073  9.0 -1.0 NaN 4.5\n",
        "Datum;Niederschlag [mm];TN;TX\n14.03.2026;4,5;-1,0;9,0\n",
        "date,rain_cm,tmin,tmax\n2026-03-14,0.45,-1,9\n",
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
        "Row 2: The rain is -3.",
        "Row 3: wet in rain is no number.",
        "Row 4: 2026-02-30 is no date.",
        "Row 5: The highest temperature is 99.",
    ]


def test_inches_and_fahrenheit_are_known_by_the_names_of_the_columns(tmp_path: Path) -> None:
    read = read_daily_file(told(tmp_path, "date,Precip (in),TMAX_F,Tmin [°F]\n2026-07-14,0.25,86,59\n"))
    assert [(day.rain_mm, day.max_c, day.min_c) for day in read.days] == [(6.35, 30.0, 15.0)]
    assert [str(note) for note in read.notes] == ["Taken over: rain from inches and temperatures from °F."]


def test_a_column_without_a_unit_is_as_the_others_of_its_file(tmp_path: Path) -> None:
    (day,) = read_daily_file(told(tmp_path, "date,rain,tmax (F),tmin\n2026-07-14,1,86,59\n")).days
    assert (day.rain_mm, day.max_c, day.min_c) == (25.4, 30.0, 15.0)


def test_units_can_be_told(tmp_path: Path) -> None:
    path = told(tmp_path, "date,rain,tmax,tmin\n2026-07-14,1,86,59\n2026-07-15,0,88,60\n")
    first, _ = read_daily_file(path, units="us").days
    assert (first.rain_mm, first.max_c, first.min_c) == (25.4, 30.0, 15.0)
    with pytest.raises(RecordError, match="None of the 2 rows"):
        read_daily_file(path, units="metric")


def test_a_file_that_is_too_hot_for_its_units_is_asked_about(tmp_path: Path) -> None:
    with pytest.raises(RecordError) as asked:
        read_daily_file(told(tmp_path, "date,rain,max\n2026-07-14,1,86\n2026-07-15,0,61\n"))
    assert str(asked.value) == (
        "The highest temperature in weather.csv is 86, more than there is in °C. Is it in °F, and rain in inches? "
        "Write (F) or (C) beside max in its first row, or say that it is in US or in metric units."
    )


def test_columns_of_any_name_can_be_told(tmp_path: Path) -> None:
    path = told(tmp_path, "when;wet;cold;warm;air\n2026-03-14;4.5;-1;9;80\n")
    with pytest.raises(RecordError, match="no column for the date; its columns are: when, wet, cold, warm, air"):
        read_daily_file(path)
    columns = {"date": "When", "rain": "wet", "tmin": "cold", "tmax": "warm", "humidity": "air"}
    read = read_daily_file(path, columns=columns)
    assert [(day.day, day.rain_mm, day.min_c, day.max_c, day.humidity_pct) for day in read.days] == [
        (date(2026, 3, 14), 4.5, -1.0, 9.0, 80.0)
    ]
    assert read.head == "when|wet|cold|warm|air"
    assert head_of_file(path) == ("when", "wet", "cold", "warm", "air")


@pytest.mark.parametrize(
    ("columns", "said"),
    [
        (
            {"date": "date", "rain": "drops"},
            "weather.csv has no column drops; its columns are: date, wet. Take one of these.",
        ),
        (
            {"snow": "wet"},
            "A daily file has no reading snow. Readings are: date, rain, tmin, tmax, humidity, year, month, doy.",
        ),
    ],
)
def test_a_column_that_is_told_and_not_there_is_refused(tmp_path: Path, columns: dict[str, str], said: str) -> None:
    with pytest.raises(RecordError) as refused:
        read_daily_file(told(tmp_path, "date,wet\n2026-03-14,4.5\n"), columns=columns)
    assert str(refused.value).startswith(said)


def test_exchanged_columns_are_refused_and_a_single_exchanged_row_is_left_out(tmp_path: Path) -> None:
    rows = [f"2026-03-{day:02},{9},{-1}" for day in range(1, 6)]
    with pytest.raises(RecordError) as refused:
        read_daily_file(told(tmp_path, "\n".join(["date,tmin,tmax", *rows])))
    assert str(refused.value) == (
        "In 5 of 5 rows of weather.csv tmin lies above tmax: the two columns are exchanged. "
        "Exchange the two names in its first row."
    )
    read = read_daily_file(told(tmp_path, "\n".join(["date,tmax,tmin", *rows, "2026-03-09,-4,7"])))
    assert len(read.days) == 5
    assert [str(words) for words in read.left_out] == [
        "Row 6: The lowest temperature of 2026-03-09 is 7.0 °C, above the highest, -4.0 °C."
    ]


def test_humidity_above_a_hundred_is_left_out_and_the_rain_of_its_day_taken(tmp_path: Path) -> None:
    read = read_daily_file(told(tmp_path, "date,rain,RH\n2026-03-14,4,104\n2026-03-15,1,80 %\n"))
    assert [(day.rain_mm, day.humidity_pct) for day in read.days] == [(4.0, None), (1.0, 80.0)]
    assert [str(words) for words in read.left_out] == ["Row 1: the humidity is 104 %; the rest of the row is taken."]


def test_the_mean_humidity_is_that_between_the_highest_and_the_lowest(tmp_path: Path) -> None:
    (day,) = read_daily_file(told(tmp_path, "date,rain,rhmax,rhmin\n2026-03-14,4,95,60\n")).days
    assert day.humidity_pct == 77.5


def test_a_day_that_stands_twice_is_taken_once_and_said(tmp_path: Path) -> None:
    read = read_daily_file(told(tmp_path, "date,rain\n2026-03-14,4\n2026-03-15,1\n2026-03-14,9\n"))
    assert [(day.day.day, day.rain_mm) for day in read.days] == [(14, 4.0), (15, 1.0)]
    assert [str(words) for words in read.left_out] == [
        "Row 3: 2026-03-14 stands in row 1 already, which is the one taken."
    ]


def test_months_without_a_day_are_named(tmp_path: Path) -> None:
    read = read_daily_file(told(tmp_path, "date,rain\n2026-01-14,4\n2026-04-15,1\n"))
    assert [str(note) for note in read.notes] == [
        "No day of February 2026, March 2026 is in it; usual weather stands for it."
    ]
    read = read_daily_file(told(tmp_path, "date,rain\n2025-01-14,4\n2026-04-15,1\n"))
    assert [str(note) for note in read.notes] == [
        "No day of 14 months is in it, February 2025, March 2025, April 2025 and 11 more; "
        "usual weather stands for them."
    ]


def test_readings_a_station_did_not_take_are_none_and_a_trace_of_rain_is_nought(tmp_path: Path) -> None:
    text = "date,rain,tmin\n2026-03-13,-9999,M\n2026-03-14,T,-99.9\n2026-03-15,--,\n2026-03-16,2\n"
    read = read_daily_file(told(tmp_path, text))
    assert [(day.rain_mm, day.min_c) for day in read.days] == [(None, None), (0.0, None), (None, None)]
    assert [str(words) for words in read.left_out] == ["Row 4: it has 2 of 3 columns."]


def test_a_day_of_the_year_that_is_none_is_left_out(tmp_path: Path) -> None:
    read = read_daily_file(told(tmp_path, "year,doy,rain\n2026,1,4\n2026,366,1\n2024,366,2\n"))
    assert [day.day for day in read.days] == [date(2024, 12, 31), date(2026, 1, 1)]
    assert [str(words) for words in read.left_out] == ["Row 2: 2026 366 is no date."]


def test_an_older_programs_degree_sign_is_read(tmp_path: Path) -> None:
    path = tmp_path / "old.csv"
    path.write_bytes("date;TMAX (°C);rain\n14.03.2026;9,5;1\n".encode("cp1252"))
    assert [day.max_c for day in read_daily_file(path).days] == [9.5]


def test_what_is_no_text_is_no_table(tmp_path: Path) -> None:
    path = tmp_path / "photo.csv"
    path.write_bytes(b"\x89PNG\0\0\0,\n1,2\n")
    with pytest.raises(RecordError, match="is not a table of daily weather"):
        read_daily_file(path)


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


@pytest.mark.parametrize(
    ("name", "count", "first", "last", "rain_mm"),
    [
        ("seattle-weather.csv", 1461, date(2012, 1, 1), date(2015, 12, 31), 4426.0),
        ("LIRF.wth", 333, date(2022, 1, 1), date(2022, 11, 29), None),
        ("cotton2013.wth", 365, date(2013, 1, 1), date(2013, 12, 31), None),
    ],
)
def test_every_real_file_is_read(
    shared_data: Path, name: str, count: int, first: date, last: date, rain_mm: float | None
) -> None:
    path = shared_data / "weather" / name
    read = read_daily_file(path)
    assert (len(read.days), read.days[0].day, read.days[-1].day, read.left_out) == (count, first, last, ())
    if rain_mm is None:  # the column of rain of the file itself, by its place
        rows = [line.split() for line in path.read_text(encoding="utf-8").splitlines() if line[:2] == "20"]
        rain_mm = sum(float(row[9]) for row in rows)
    assert sum(day.rain_mm or 0.0 for day in read.days) == pytest.approx(rain_mm, abs=0.05)
    assert all(_has_temperatures(day) for day in read.days)


def _has_temperatures(day: WeatherDay) -> bool:
    return day.min_c is not None and day.max_c is not None and day.min_c <= day.max_c


def test_no_real_file_of_weather_is_left_out_of_the_test_above(shared_data: Path) -> None:
    there = {path.name for path in (shared_data / "weather").iterdir()}
    assert there == {"seattle-weather.csv", "LIRF.wth", "cotton2013.wth"}
