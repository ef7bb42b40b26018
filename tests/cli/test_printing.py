from __future__ import annotations

import json
from datetime import date

import pytest

from pigmap.cli.printing import Row, complain, print_rows, say, table
from pigmap.errors import StoreError
from pigmap.text import Quantity, Text

ROWS: list[Row] = [
    {"name": "Dry sows", "pigs": 8, "since": date(2026, 11, 22), "well": True},
    {"name": "Weaners", "pigs": 24, "since": None, "well": False},
]


def test_columns_are_as_wide_as_their_longest_value_and_numbers_stand_right() -> None:
    assert table(["name", "pigs", "since", "well"], ROWS).splitlines() == [
        "name      pigs  since       well",
        "Dry sows     8  2026-11-22  yes",
        "Weaners     24              no",
    ]


def test_a_table_without_rows_is_its_heading() -> None:
    assert table(["name"], []) == "name\n"


def test_json_keeps_numbers_days_and_what_is_missing(capsys: pytest.CaptureFixture[str]) -> None:
    print_rows(["name", "pigs", "since", "well"], ROWS, as_json=True)
    assert json.loads(capsys.readouterr().out) == [
        {"name": "Dry sows", "pigs": 8, "since": "2026-11-22", "well": True},
        {"name": "Weaners", "pigs": 24, "since": None, "well": False},
    ]


def test_texts_are_put_into_words(capsys: pytest.CaptureFixture[str]) -> None:
    far = Text("Keep {distance} off.", {"distance": Quantity(6, "m")})
    say(far)
    print_rows(["words"], [{"words": far}])
    assert capsys.readouterr().out == "Keep 6 m off.\nwords\nKeep 6 m off.\n"


def test_an_error_goes_to_standard_error_with_its_remedy(capsys: pytest.CaptureFixture[str]) -> None:
    complain(StoreError("{file} is not there.", remedy="Look where it is.", file="a.gpkg"))
    shown = capsys.readouterr()
    assert shown.err == "a.gpkg is not there. Look where it is.\n"
    assert shown.out == ""
