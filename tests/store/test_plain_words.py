import sqlite3
from contextlib import closing
from datetime import date
from pathlib import Path

import pytest

from pigmap.errors import StoreError
from pigmap.records import Check, add
from pigmap.store import FarmFile
from pigmap.store.connection import connect
from pigmap.store.plain_words import plain
from pigmap.text import Text

TOLD = {
    "database disk image is malformed": "its pages do not fit together",
    "malformed database schema (checks) - near x: syntax error": "its pages do not fit together",
    "file is not a database": "its beginning is not that of a farm file",
    "no such table: weather_days": "its table of weather days is missing",
    "no such table: main.rtree_fields_geom": "its table of rtree_fields_geom is missing",
    "no such column: c.fence_kv": "a column of it is missing: fence kv",
    "Could not decode to UTF-8 column 'note' with text 'w\ufffdt'": "a text in it is garbled",
    "*** in database main ***\nTree 5 page 12 cell 3: Rowid 3 out of order": "its page 12 is not in order",
    "row 7 missing from index checks_by_day": "an index of it does not fit its rows",
    "wrong # of entries in index sqlite_autoindex_checks_1": "an index of it does not fit its rows",
    "NULL value in checks.paddock_uid": "paddock of daily checks cannot be what it is",
    "disk I/O error": "the disk did not do what it was asked to",
    "[Errno 28] No space left on device: 'farm.gpkg'": "the disk is full",
    "database or disk is full": "the disk is full",
    "unable to open database file": "the system does not open it",
    "[Errno 13] Permission denied: 'farm.gpkg'": "the system does not allow it",
    "database is locked": "another program holds it",
    "attempt to write a readonly database": "it is read-only",
    "bad parameter or other API misuse": "its pages do not fit together",
}


@pytest.mark.parametrize("told", TOLD)
def test_what_sqlite_tells_is_told_in_words_of_the_trade(told: str) -> None:
    assert str(plain(told)) == TOLD[told]


WRONG = {
    "checked_on": ("'2026-13-45'", "Checked on cannot be 2026-13-45."),
    "fence_kv": ("99", "The fence voltage is 99."),
    "pigs_seen": ("'many'", "A value in it is not of the kind that belongs there."),
    "geom": ("x'4750000000000000'", "A shape in the farm file cannot be read."),
}


@pytest.mark.parametrize("column", WRONG)
def test_a_row_that_no_record_can_hold_is_told_with_what_is_wrong_in_it(farm_path: Path, column: str) -> None:
    value, words = WRONG[column]
    with closing(FarmFile.open(farm_path)) as file:
        paddock = next(iter(file.read().paddocks))
        seen = Check(checked_on=date(2026, 5, 1), paddock_uid=paddock)
        file.write(Text("Checked"), [add(seen)])
    with closing(connect(farm_path)) as db:
        db.execute("PRAGMA ignore_check_constraints = ON")
        db.execute(f"UPDATE checks SET {column} = {value} WHERE uid = ?", (seen.uid,))
    with closing(FarmFile.open(farm_path)) as file:
        farm = file.read()
    assert seen.uid not in farm.checks
    (note,) = file.notes
    assert str(note) == f"A row of daily checks that other software wrote is left out ({seen.uid}): {words}"


def test_a_row_that_becomes_one_that_no_record_can_hold_while_it_is_shown_is_told_too(farm_path: Path) -> None:
    with closing(FarmFile.open(farm_path)) as file:
        farm = file.read()
        with closing(connect(farm_path)) as db:
            db.execute("PRAGMA ignore_check_constraints = ON")
            db.execute("UPDATE weather_days SET day = 'yesterday'")
        file.news(farm)
    (note,) = file.notes
    assert str(note).endswith("): Day cannot be yesterday.")


def test_a_table_that_is_gone_is_told_by_its_name(farm_path: Path) -> None:
    with closing(sqlite3.connect(farm_path)) as db:
        db.execute("PRAGMA foreign_keys = OFF")
        db.execute("ALTER TABLE photos RENAME TO gone")
        db.commit()
    with closing(FarmFile.open(farm_path)) as file, pytest.raises(StoreError) as refused:
        file.read()
    assert str(refused.value.message) == "farm.gpkg is damaged: its table of photos is missing."
    assert "go back to a backup" in str(refused.value.remedy)
