"""Before a file of an older program is brought up to date a whole copy of it lies beside it, whatever happens then."""

from __future__ import annotations

import gzip
import sqlite3
import subprocess
import sys
from contextlib import closing
from pathlib import Path

import pytest

from pigmap.session import Session
from pigmap.store import FarmFile, migrations, opening
from pigmap.store.connection import connect
from pigmap.store.health import findings
from pigmap.store.kept_copy import copy_of

HERE = Path(__file__).parent


@pytest.fixture(params=range(1, len(migrations.STEPS)))
def old(request: pytest.FixtureRequest, tmp_path: Path) -> Path:
    """Return a farm file of each earlier step."""
    path = tmp_path / "farm.gpkg"
    path.write_bytes(gzip.decompress((HERE / f"farm_of_step_{request.param}.gpkg.gz").read_bytes()))
    return path


def version(path: Path) -> int:
    with closing(connect(path, read_only=True)) as db:
        return migrations.version_of(db)[0]


def rows(path: Path) -> list[str]:
    """Return all that a file holds."""
    with closing(connect(path, read_only=True)) as db:
        return list(db.iterdump())


def test_the_file_as_it_was_is_kept_beside_it(old: Path) -> None:
    was, before = version(old), rows(old)
    with Session.open(old) as session:
        assert not session.read_only
    kept = copy_of(old)
    assert kept.name == f"farm.gpkg.before-schema-{len(migrations.STEPS)}.bak"
    assert (version(old), version(kept)) == (len(migrations.STEPS), was)
    assert rows(kept) == before
    assert findings(kept) == []
    assert sorted(each.name for each in old.parent.iterdir()) == ["farm.gpkg", kept.name]


def test_a_file_that_is_up_to_date_is_not_copied(old: Path) -> None:
    Session.open(old).close()
    copy_of(old).unlink()
    Session.open(old).close()
    assert [each.name for each in old.parent.iterdir()] == ["farm.gpkg"]


def test_where_no_copy_can_be_kept_the_file_stays_as_it_is_and_can_be_read(
    old: Path, monkeypatch: pytest.MonkeyPatch
) -> None:
    def full(*_: object) -> None:
        raise OSError(28, "No space left on device")

    monkeypatch.setattr(opening, "keep_copy", full)
    before = old.read_bytes()
    with closing(FarmFile.open(old)) as file:
        assert str(file.read_only) == (
            f"farm.gpkg can only be read: it is of an older version, and no copy could be kept in {old.parent} before "
            "it is brought up to date: the disk is full. Make room there, and open it again."
        )
        assert len(file.read().groups) == 1
    assert old.read_bytes() == before


def test_a_copy_that_does_not_come_out_whole_is_none(old: Path, monkeypatch: pytest.MonkeyPatch) -> None:
    def half(path: Path) -> None:
        raise OSError(5, "Input/output error")

    monkeypatch.setattr("pigmap.store.kept_copy._on_disk", half)
    was = version(old)
    with closing(FarmFile.open(old)) as file:
        assert "the disk did not do what it was asked to" in str(file.read_only)
    assert version(old) == was
    assert [each.name for each in old.parent.iterdir()] == ["farm.gpkg"]


KILLED = """
import os, signal, sys
from pathlib import Path
from pigmap.store import FarmFile, migrations

def dies(db):
    db.execute("CREATE TABLE half_done (x)")
    os.kill(os.getpid(), signal.SIGKILL)

migrations.STEPS = (*migrations.STEPS[:-1], dies)
FarmFile.open(Path(sys.argv[1]))
"""


@pytest.mark.skipif(sys.platform == "win32", reason="there is no SIGKILL")
def test_killed_in_the_middle_both_are_whole_and_the_next_try_is_right(old: Path) -> None:
    before = rows(old)
    died = subprocess.run([sys.executable, "-c", KILLED, str(old)], check=False)
    assert died.returncode == -9
    with closing(sqlite3.connect(old)) as db:  # rolls back what the dead one left
        db.execute("SELECT count(*) FROM pigmap_document").fetchone()
    assert rows(old) == before
    assert rows(copy_of(old)) == before
    with Session.open(old) as session:
        assert len(session.farm.groups) == 1
    assert version(old) == len(migrations.STEPS)
    assert findings(old) == []
