from __future__ import annotations

import gzip
import sqlite3
from collections.abc import Iterator
from contextlib import closing
from dataclasses import replace
from pathlib import Path
from typing import Any

import pytest

from pigmap.records import TABLES, add, change
from pigmap.session import Session
from pigmap.store import FarmFile, migrations
from pigmap.store.connection import add_functions, connect
from pigmap.store.frame import make_frame, projection_of
from pigmap.store.health import findings
from tests.store.made import PROJECTION, edit, one_of_each


@pytest.fixture
def db() -> Iterator[sqlite3.Connection]:
    """Return a farm file in memory that no step has been applied to."""
    connection = sqlite3.connect(":memory:", isolation_level=None)
    add_functions(connection)
    make_frame(connection, PROJECTION)
    yield connection
    connection.close()


STEP_1 = Path(__file__).with_name("farm_of_step_1.gpkg.gz")
"""A farm file with a row of every table, as the program wrote it before there was a second step."""


@pytest.fixture
def first(tmp_path: Path) -> Path:
    """Return a farm file of step 1 of one's own."""
    path = tmp_path / "farm.gpkg"
    path.write_bytes(gzip.decompress(STEP_1.read_bytes()))
    return path


def _drawn_up(db: sqlite3.Connection) -> list[Any]:
    """Return all that a file says of its own tables: their SQL, and what stands of them in the GeoPackage's lists."""
    return [
        *db.execute("SELECT type, name, tbl_name, sql FROM sqlite_master WHERE sql NOT NULL ORDER BY name, type"),
        *db.execute("SELECT table_name, data_type, identifier, srs_id FROM gpkg_contents ORDER BY 1"),
        *db.execute("SELECT * FROM gpkg_geometry_columns ORDER BY 1"),
        *db.execute("SELECT * FROM gpkg_extensions ORDER BY 1, 2, 3"),
        *db.execute("SELECT schema_version, oldest_reader FROM pigmap_document"),
    ]


def test_a_file_of_step_1_becomes_the_file_that_a_new_farm_has(db: sqlite3.Connection, first: Path) -> None:
    migrations.bring_up_to_date(db)
    with closing(connect(first)) as old:
        assert migrations.version_of(old)[0] == 1
        assert migrations.bring_up_to_date(old) == len(migrations.STEPS) - 1
        assert _drawn_up(old) == _drawn_up(db)


def test_a_file_of_step_1_keeps_all_its_rows_and_takes_new_ones(first: Path) -> None:
    with Session.open(first) as session:
        farm = session.farm
        assert {table: len(farm.rows(table)) for table in TABLES if not farm.rows(table)} == {"ground_jobs": 0}
        (image,) = farm.images.values()
        assert (image.name, image.pins) == ("Air", "")
        session.do(edit("More", add(one_of_each()["ground_jobs"]), change(image, replace(image, pins="[1]")))).result()
    assert findings(first) == []
    with Session.open(first) as session:
        assert [image.pins for image in session.farm.images.values()] == ["[1]"]
        assert [job.kind for job in session.farm.ground_jobs.values()] == ["used before"]
        session.undo().result()
        assert [image.pins for image in session.farm.images.values()] == [""]
    assert findings(first) == []


def test_a_file_of_step_1_is_read_and_looked_through_as_it_is(first: Path) -> None:
    before = first.read_bytes()
    assert findings(first) == []
    with closing(FarmFile.open(first, read_only=True)) as file:
        farm = file.read()
        assert not file.notes
    assert not farm.ground_jobs
    assert [image.pins for image in farm.images.values()] == [""]
    assert [group.name for group in farm.groups.values()] == ["Weaners"]
    assert first.read_bytes() == before


def test_a_file_without_steps_gets_all_of_them_once(db: sqlite3.Connection) -> None:
    assert migrations.bring_up_to_date(db) == len(migrations.STEPS)
    assert migrations.version_of(db) == (len(migrations.STEPS), migrations.OLDEST_READER)
    assert migrations.bring_up_to_date(db) == 0


def test_a_step_that_stops_leaves_the_file_as_it_was(db: sqlite3.Connection, monkeypatch: pytest.MonkeyPatch) -> None:
    def broken(connection: sqlite3.Connection) -> None:
        connection.execute("CREATE TABLE half_done (x)")
        raise RuntimeError("power cut")

    monkeypatch.setattr(migrations, "STEPS", (*migrations.STEPS, broken))
    before = list(db.iterdump())
    with pytest.raises(RuntimeError, match="power cut"):
        migrations.bring_up_to_date(db)
    assert list(db.iterdump()) == before
    assert migrations.version_of(db)[0] == 0


def test_steps_that_another_program_did_meanwhile_are_not_done_again(tmp_path: Path) -> None:
    path = tmp_path / "farm.gpkg"
    path.touch()
    mine, theirs = connect(path), connect(path)
    make_frame(mine, PROJECTION)

    class Waited(sqlite3.Connection):
        """Gets the file only after the other program."""

        def execute(self, sql: str, /, *parameters: Any) -> sqlite3.Cursor:
            if sql == "BEGIN IMMEDIATE":
                migrations.bring_up_to_date(theirs)
            return super().execute(sql, *parameters)

    with closing(sqlite3.connect(path, isolation_level=None, factory=Waited)) as waited:
        add_functions(waited)
        assert migrations.bring_up_to_date(waited) == 0
    assert migrations.version_of(mine)[0] == len(migrations.STEPS)
    mine.close()
    theirs.close()


def test_the_number_of_the_schema_is_ours_and_the_user_version_is_geopackages(db: sqlite3.Connection) -> None:
    migrations.bring_up_to_date(db)
    assert db.execute("PRAGMA user_version").fetchone() == (10400,)
    assert db.execute("PRAGMA application_id").fetchone() == (0x47504B47,)


def test_the_projection_comes_back_as_it_went_in(db: sqlite3.Connection) -> None:
    assert projection_of(db) == PROJECTION
