from __future__ import annotations

import csv
import json
from datetime import date, timedelta
from pathlib import Path

import pytest

from pigmap.cli.main import main
from pigmap.document.edits import book_slaughter, treat
from pigmap.records import Edit, add
from pigmap.session import Session
from pigmap.text import Text
from tests.document.example_farm import DAY, GROUP, done, example


@pytest.fixture(scope="module")
def path(tmp_path_factory: pytest.TempPathFactory) -> Path:
    farm = done(example(), treat(GROUP, DAY, "Wormer", withdrawal_days=28))
    rows = [add(row) for table in ("groups", "treatments") for row in farm.rows(table).values()]
    made = tmp_path_factory.mktemp("books") / "farm.gpkg"
    with Session.create(made, farm.projection, "Invented Farm") as session:
        session.do(Edit(Text("The invented farm"), lambda _: rows)).result()
    return made


def test_a_page_is_printed_as_a_table_or_as_json(path: Path, capsys: pytest.CaptureFixture[str]) -> None:
    assert main(["books", str(path)]) == 0
    out = capsys.readouterr().out
    assert "given_on" in out
    assert "Wormer" in out
    assert main(["books", str(path), "--group", "sows", "--year", "2026", "--json"]) == 0
    (row,) = json.loads(capsys.readouterr().out)
    assert (row["medicine"], row["withdrawal_days"], row["free_on"]) == ("Wormer", 28, "2026-05-30")


def test_an_empty_page_says_so(path: Path, capsys: pytest.CaptureFixture[str]) -> None:
    assert main(["books", str(path), "--page", "escapes"]) == 0
    assert capsys.readouterr().out == "Nothing is written down.\n"


def test_a_page_is_written_as_a_list_or_as_sheets(path: Path, tmp_path: Path) -> None:
    pytest.importorskip("PySide6.QtGui")
    assert main(["books", str(path), "-o", str(tmp_path / "book.csv")]) == 0
    with (tmp_path / "book.csv").open(encoding="utf-8-sig", newline="") as file:
        assert [row["medicine"] for row in csv.DictReader(file)] == ["Wormer"]
    assert main(["books", str(path), "-o", str(tmp_path / "book.pdf")]) == 0
    assert (tmp_path / "book.pdf").read_bytes().startswith(b"%PDF")


def test_another_ending_and_another_group_are_refused_in_words(path: Path, capsys: pytest.CaptureFixture[str]) -> None:
    assert main(["books", str(path), "-o", "book.odt"]) == 2
    assert "Books cannot be written as book.odt. End the name in .csv or .pdf." in capsys.readouterr().err
    assert main(["books", str(path), "--group", "Hens"]) == 1
    assert "No group is called Hens. The groups are: Sows, Weaners." in capsys.readouterr().err


def test_verify_lists_a_booking_within_the_days_of_withdrawal(
    tmp_path: Path, capsys: pytest.CaptureFixture[str]
) -> None:
    today = date.today()
    farm = done(
        example(),
        treat(GROUP, today, "Wormer", withdrawal_days=28),
        book_slaughter(today + timedelta(days=5), group_uid=GROUP, pigs=2),
    )
    tables = ("groups", "group_events", "treatments", "slaughter_bookings")
    rows = [add(row) for table in tables for row in farm.rows(table).values()]
    path = tmp_path / "held.gpkg"
    with Session.create(path, farm.projection, "Invented Farm") as session:
        session.do(Edit(Text("The invented farm"), lambda _: rows)).result()
    assert main(["verify", str(path)]) == 1
    said = capsys.readouterr().out
    assert "Sows are booked for" in said
    assert "they are free of Wormer on" in said
    assert "Book them for" in said
