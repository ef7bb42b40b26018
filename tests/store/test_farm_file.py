from __future__ import annotations

import os
import sqlite3
import subprocess
import sys
import threading
from contextlib import closing
from dataclasses import replace
from pathlib import Path

import pytest
import shapely

from pigmap.errors import EditError, StoreError
from pigmap.records import TABLES, Group, Record, RowChange, Setting, add, change, remove
from pigmap.session import Session
from pigmap.store import FarmFile, connection, faults
from pigmap.store.connection import connect
from pigmap.store.health import findings
from pigmap.text import Text
from tests.store.made import PROJECTION, edit, one_of_each


def test_a_farm_is_read_as_it_was_written(farm_rows: tuple[Path, dict[str, Record]]) -> None:
    path, rows = farm_rows
    with Session.open(path) as session:
        assert session.farm.name == "Made-up Farm"
        assert session.farm.projection == PROJECTION
        for table, row in rows.items():
            assert session.farm.rows(table)[row.uid] == row


def test_every_layer_is_read_by_a_vector_library(farm_rows: tuple[Path, dict[str, Record]]) -> None:
    pyogrio = pytest.importorskip("pyogrio")
    path, rows = farm_rows
    layers = dict(pyogrio.list_layers(path))
    assert set(layers) == set(TABLES)
    assert layers["fields"] == "MultiPolygon"
    assert layers["keep_outs"] == "Unknown"
    assert layers["groups"] is None
    for table in TABLES:
        frame = pyogrio.read_dataframe(path, layer=table)
        assert rows[table].uid in set(frame["uid"])
    fields = pyogrio.read_dataframe(path, layer="fields")
    assert fields.crs.to_epsg() == 25832
    assert fields.geometry[0].equals(rows["fields"].outline)  # type: ignore[attr-defined]
    assert tuple(pyogrio.read_info(path, layer="fields")["total_bounds"]) == (0, 0, 400, 300)


def test_the_settings_that_keep_a_file_safe_are_on(farm_path: Path) -> None:
    with closing(connect(farm_path)) as db:
        found = {
            pragma: db.execute(f"PRAGMA {pragma}").fetchone()[0]
            for pragma in (
                "journal_mode",
                "synchronous",
                "foreign_keys",
                "recursive_triggers",
                "trusted_schema",
                "fullfsync",
            )
        }
    assert found == {
        "journal_mode": "truncate",
        "synchronous": 3,
        "foreign_keys": 1,
        "recursive_triggers": 1,
        "trusted_schema": 1,
        "fullfsync": 1,
    }


def test_nothing_stays_beside_a_file_that_was_closed(farm_path: Path) -> None:
    with Session.open(farm_path) as session:
        session.do(edit("More", add(Group(name="More")))).result()
        assert {each.name for each in farm_path.parent.iterdir()} == {"farm.gpkg", "farm.gpkg-journal"}
    assert [each.name for each in farm_path.parent.iterdir()] == ["farm.gpkg"]


def test_extent_and_last_change_are_kept(farm_path: Path) -> None:
    def contents() -> tuple[object, ...]:
        with closing(connect(farm_path)) as db:
            found: tuple[object, ...] = db.execute(
                "SELECT min_x, min_y, max_x, max_y, last_change FROM gpkg_contents WHERE table_name = 'paddocks'"
            ).fetchone()
        return found

    *extent, changed = contents()
    assert extent == [100.1, 200.2, 150.3, 250.4]
    with Session.open(farm_path) as session:
        (paddock,) = session.farm.paddocks.values()
        far = replace(paddock, outline=shapely.box(900, 0, 950, 20))
        session.do(edit("Redrawn", change(paddock, far))).result()
    *extent, later = contents()
    assert extent == [100.1, 0, 950, 250.4]
    assert str(later) > str(changed)


def test_an_edit_is_whole_or_not_at_all(farm_path: Path) -> None:
    with Session.open(farm_path) as session:
        before = session.farm
        (units,) = [row for row in before.settings.values() if row.key == "units"]
        twice = Setting(key="units", value_json='"us"')
        error = session.do(edit("Two things", add(Group(name="Sows")), add(twice))).exception()
        assert isinstance(error, EditError)
        assert (str(error.message), str(error.remedy)) == (
            "There is already a row of settings with that key.",
            "Choose another key, or change the row that is there.",
        )
        assert session.farm is before
        session.do(edit("One after another", remove(units), add(twice))).result()
        assert session.farm.setting("units") == "us"
    assert findings(farm_path) == []


def test_rows_may_come_in_any_order_inside_an_edit(tmp_path: Path) -> None:
    rows = list(one_of_each().values())
    with Session.create(tmp_path / "farm.gpkg", PROJECTION, "Backwards") as session:
        session.do(edit("Backwards", *(add(row) for row in reversed(rows)))).result()
        session.do(edit("And out", *(remove(row) for row in rows))).result()
        session.undo().result()
        assert all(session.farm.rows(row.TABLE)[row.uid] == row for row in rows)


def test_a_row_that_others_point_at_is_not_removed_from_under_them(farm_path: Path) -> None:
    with Session.open(farm_path) as session:
        before = session.farm
        (paddock,) = before.paddocks.values()
        error = session.do(edit("Removed", remove(paddock))).exception()
        assert isinstance(error, EditError)
        assert str(error.message).startswith("1 of the ")
        assert str(error.message).endswith(" would point at something in paddocks that is not there.")
        assert str(error.remedy) == "Change or remove what points at it first, or in the same edit."
        assert session.farm is before


def test_a_value_that_only_the_file_refuses_is_named(farm_path: Path) -> None:
    with Session.open(farm_path) as session:
        (kept,) = session.farm.keep_outs.values()
        odd = replace(kept)
        object.__setattr__(odd, "from_month_day", "in spring")  # a record of its own accord does not take it
        error = session.do(edit("Odd", change(kept, odd))).exception()
        assert isinstance(error, EditError)
        assert str(error) == (
            "From month day of keep-outs is out of its range, or not of its form. Give a value that can exist; "
            "a day is written as 2026-05-31, a day of any year as 05-31."
        )
        (field,) = session.farm.fields.values()
        far = replace(field, origin_x_m=float("inf"))
        assert str(session.do(edit("Odd", change(field, far))).exception()).startswith("Origin x m cannot be inf.")


def test_a_row_that_is_gone_cannot_be_changed(farm_path: Path) -> None:
    with Session.open(farm_path) as session:
        (group,) = session.farm.groups.values()
        gone = Group(name="Gone")
        for asked in (change(gone, replace(gone, note="x")), remove(gone)):
            error = session.do(edit("Gone", asked)).exception()
            assert isinstance(error, EditError)
            assert str(error) == (
                "Group Gone is no longer there. It was removed meanwhile; look at the farm as it is now."
            )
        assert session.farm.groups == {group.uid: group}


def test_an_edit_that_changes_nothing_leaves_no_trace(farm_path: Path) -> None:
    with Session.open(farm_path) as session:
        entries = len(session.history())
        published: list[object] = []
        session.listen(published.append)
        assert session.do(edit("Nothing")).result().rows == ()
        assert len(session.history()) == entries
        assert published == []


def test_two_writers_take_turns(farm_path: Path) -> None:
    def write(name: str) -> None:
        with Session.open(farm_path) as session:
            for number in range(20):
                session.do(edit(name, add(Group(name=f"{name} {number}")))).result()

    threads = [threading.Thread(target=write, args=(name,)) for name in ("One", "Two")]
    for thread in threads:
        thread.start()
    for thread in threads:
        thread.join()
    with Session.open(farm_path) as session:
        assert len(session.farm.groups) == 41
    assert findings(farm_path) == []


def test_a_file_that_another_program_holds_says_so(farm_path: Path, monkeypatch: pytest.MonkeyPatch) -> None:
    monkeypatch.setattr(connection, "BUSY_SECONDS", 0.05)
    with Session.open(farm_path) as session, closing(sqlite3.connect(farm_path, isolation_level=None)) as other:
        before = session.farm
        other.execute("BEGIN IMMEDIATE")
        error = session.do(edit("More", add(Group(name="More")))).exception()
        assert isinstance(error, StoreError)
        assert str(error) == (
            f"farm.gpkg could not be written or read for {faults.BUSY_SECONDS} seconds: another program holds it. "
            "Close that program or wait until it is done, then do it again; nothing was lost."
        )
        assert session.farm is before
        other.execute("ROLLBACK")
        session.do(edit("More", add(Group(name="More")))).result()


def test_a_full_disk_says_so_and_goes_on_after_room_is_made(farm_path: Path) -> None:
    file = FarmFile.open(farm_path)
    farm = file.read()
    # A limit on pages is what SQLite reports as a full disk, without a disk to fill.
    (pages,) = file._db.execute("PRAGMA page_count").fetchone()
    file._db.execute(f"PRAGMA max_page_count = {pages}")
    big = Group(name="More", note="x" * 100_000)
    with pytest.raises(StoreError) as error:
        file.write(Text("More"), [RowChange(None, big)])
    assert str(error.value) == (
        "farm.gpkg could not be written: the disk is full. Make room on it, then do it again; nothing was lost."
    )
    assert file.news(farm) == []
    file._db.execute("PRAGMA max_page_count = 100000")
    file.write(Text("More"), [RowChange(None, big)])
    assert [entry.changes.rows for entry in file.news(farm)] == [(RowChange(None, big),)]
    file.close()
    assert findings(farm_path) == []


@pytest.mark.skipif(not Path("/dev/full").exists(), reason="needs a limit on the size of files")
def test_a_disk_that_takes_no_more_bytes_loses_nothing(farm_path: Path) -> None:
    script = """
import resource, signal, sys
from pathlib import Path
from pigmap.records import Group, add
from pigmap.session import Session
from tests.store.made import edit

path = Path(sys.argv[1])
with Session.open(path) as session:
    signal.signal(signal.SIGXFSZ, signal.SIG_IGN)
    resource.setrlimit(resource.RLIMIT_FSIZE, (path.stat().st_size + 40_000, resource.RLIM_INFINITY))
    done = 0
    while (error := session.do(edit("More", add(Group(name=f"{done}", note="x" * 5000)))).exception()) is None:
        done += 1
    print(done, len(session.farm.groups), type(error).__name__, error)
    resource.setrlimit(resource.RLIMIT_FSIZE, (resource.RLIM_INFINITY, resource.RLIM_INFINITY))
    session.do(edit("More", add(Group(name="after", note="x" * 5000)))).result()
"""
    done = subprocess.run(
        [sys.executable, "-c", script, str(farm_path)],
        cwd=Path(__file__).parents[2],
        capture_output=True,
        text=True,
        check=False,
    )
    assert done.returncode == 0, done.stderr
    made, groups, said = done.stdout.split(" ", 2)
    assert int(made) > 0
    assert int(groups) == int(made) + 1
    assert said.startswith("StoreError ")
    assert "do it again; nothing" in said
    with Session.open(farm_path) as session:
        assert len(session.farm.groups) == int(made) + 2
    assert findings(farm_path) == []


def test_a_program_fault_is_not_dressed_up_as_a_fault_of_the_disk(farm_path: Path) -> None:
    with pytest.raises(sqlite3.OperationalError), faults.words(farm_path), closing(sqlite3.connect(":memory:")) as db:
        db.execute("SELECT FROM nothing")


@pytest.mark.parametrize(
    ("name", "said", "remedy"),
    [
        ("SQLITE_READONLY_DIRECTORY", "farm.gpkg cannot be written: ", "Copy the farm file to a folder of your own"),
        (
            "SQLITE_CORRUPT_INDEX",
            "farm.gpkg is damaged: ",
            "Do not work on in it; copy it aside and go back to a backup.",
        ),
        ("SQLITE_NOTADB", "farm.gpkg is damaged: ", "Do not work on in it"),
        ("SQLITE_IOERR_WRITE", "The disk did not take or give what belongs to farm.gpkg: ", "See that the disk"),
        ("SQLITE_CANTOPEN", "farm.gpkg cannot be opened: ", "See that the folder "),
        ("SQLITE_LOCKED", "farm.gpkg could not be written or read for 5 seconds: ", "Close that program or wait"),
    ],
)
def test_what_the_disk_says_is_put_into_words(name: str, said: str, remedy: str) -> None:
    error = sqlite3.OperationalError("short reason")
    error.sqlite_errorname = name
    found = faults.in_words(error, Path(os.sep, "farms", "farm.gpkg"))
    assert isinstance(found, StoreError)
    assert str(found.message).startswith(said)
    assert str(found.remedy).startswith(remedy)
