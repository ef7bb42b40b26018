from __future__ import annotations

import sqlite3
from collections.abc import Iterator
from contextlib import closing
from pathlib import Path
from typing import Any

import pytest

from pigmap.store import migrations
from pigmap.store.connection import add_functions, connect
from pigmap.store.frame import make_frame, projection_of
from tests.store.made import PROJECTION


@pytest.fixture
def db() -> Iterator[sqlite3.Connection]:
    """Return a farm file in memory that no step has been applied to."""
    connection = sqlite3.connect(":memory:", isolation_level=None)
    add_functions(connection)
    make_frame(connection, PROJECTION)
    yield connection
    connection.close()


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
