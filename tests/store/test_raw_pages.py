"""Rows read without SQLite, held against what SQLite reads."""

from __future__ import annotations

import sqlite3
from contextlib import closing
from pathlib import Path
from random import Random

import pytest

from pigmap.store.raw_pages import page_bytes, raw_rows


@pytest.mark.parametrize("size", [512, 4096, 65536])
def test_every_row_is_read_as_sqlite_reads_it(tmp_path: Path, size: int) -> None:
    path, chance = tmp_path / "a.db", Random(size)
    with closing(sqlite3.connect(path)) as db:
        db.execute(f"PRAGMA page_size = {size}")
        db.execute("CREATE TABLE rows (number INTEGER PRIMARY KEY, a, b, c)")
        values = [
            None,
            0,
            1,
            -1,
            127,
            -129,
            70_000,
            -(2**40),
            2**62,
            0.5,
            -1e300,
            "",
            "pig",
            "ä" * 5000,
            b"",
            b"\0" * 9000,
        ]
        for each in range(300):
            row = (each * 1_000_003, *(chance.choice(values) for _ in range(3)))
            db.execute("INSERT INTO rows VALUES (?, ?, ?, ?)", row)
        db.commit()
        wanted = {row[0]: (None, *row[1:]) for row in db.execute("SELECT * FROM rows")}
    assert dict(raw_rows(path, frozenset([4]))) == wanted


def test_whatever_bytes_are_damaged_it_comes_to_an_end(tmp_path: Path) -> None:
    path, chance = tmp_path / "a.db", Random(5)
    with closing(sqlite3.connect(path)) as db:
        db.execute("CREATE TABLE rows (number INTEGER PRIMARY KEY, a)")
        db.executemany("INSERT INTO rows (a) VALUES (?)", [("pig" * chance.randrange(3000),) for _ in range(50)])
        db.commit()
    sound = path.read_bytes()
    for _ in range(100):
        hurt = bytearray(sound)
        for _ in range(40):
            hurt[chance.randrange(len(hurt))] = chance.randrange(256)
        path.write_bytes(bytes(hurt[: chance.randrange(len(hurt))]))
        assert len(list(raw_rows(path, frozenset([2])))) <= 5000


def test_a_head_that_tells_no_size_of_pages_means_the_usual_one() -> None:
    assert page_bytes(b"") == page_bytes(b"\0" * 100) == page_bytes(b"\xff" * 100) == 4096
