"""The change log: append-only, and told of everything, whoever writes."""

from __future__ import annotations

import json
import sqlite3
from collections.abc import Iterator
from contextlib import closing
from pathlib import Path

import pytest

from pigmap.records import Farm, Group
from pigmap.session import Published, Session
from pigmap.store import FarmFile
from pigmap.store.connection import connect
from pigmap.store.health import findings


@pytest.fixture
def plain(farm_path: Path) -> Iterator[sqlite3.Connection]:
    """Return a connection that knows nothing of ours, as another program has it: no functions, no settings."""
    with closing(sqlite3.connect(farm_path, isolation_level=None)) as connection:
        yield connection


@pytest.mark.parametrize("recursive", ["ON", "OFF"])
@pytest.mark.parametrize("table", ["pigmap_changes", "pigmap_edits"])
def test_nothing_in_the_log_can_be_changed_or_taken_out(plain: sqlite3.Connection, table: str, recursive: str) -> None:
    plain.execute(f"PRAGMA recursive_triggers = {recursive}")
    before = plain.execute(f"SELECT * FROM {table}").fetchall()
    column = plain.execute(f"PRAGMA table_info({table})").fetchall()[1][1]
    for statement in (
        f"UPDATE {table} SET {column} = 'x'",
        f"DELETE FROM {table}",
        f"INSERT OR REPLACE INTO {table} SELECT * FROM {table} LIMIT 1",
    ):
        with pytest.raises(sqlite3.IntegrityError, match="the change log is append-only"):
            plain.execute(statement)
    assert plain.execute(f"SELECT * FROM {table}").fetchall() == before


def test_an_edit_of_ours_is_logged_under_its_name(farm_path: Path, plain: sqlite3.Connection) -> None:
    rows = plain.execute(
        "SELECT label, op, count(*) FROM pigmap_changes JOIN pigmap_edits USING (edit_id) GROUP BY label, op"
    ).fetchall()
    assert {(json.loads(label)["id"], op): count for label, op, count in rows} == {
        ("Everything added", "add"): 31,
        ("Farm file made", "add"): 1,
    }
    assert plain.execute("SELECT current_edit FROM pigmap_document").fetchone() == (None,)


def test_edits_of_another_program_are_logged_as_made_outside(plain: sqlite3.Connection) -> None:
    plain.execute("INSERT INTO groups (name) VALUES ('Boars')")
    plain.execute("UPDATE groups SET note = 'calm', colour_index = 2 WHERE name = 'Boars'")
    plain.execute("UPDATE groups SET note = 'calm' WHERE name = 'Boars'")
    plain.execute("DELETE FROM groups WHERE name = 'Boars'")
    rows = plain.execute(
        "SELECT edit_id, op, before_json, after_json FROM pigmap_changes ORDER BY change_id DESC LIMIT 3"
    ).fetchall()[::-1]
    full = {"name": "Boars", "pig_class": "growing", "breed_type": "", "colour_index": 0, "closed_on": None, "note": ""}
    full |= {"ringed": 0, "feed_share": None, "feed_kg": None, "feed_protein_g_kg": None}
    full |= {"tank_l": None, "feeder_kg": None, "drinkers": None, "target_kg": None}
    full |= {"tank_filled_on": None, "feeder_filled_on": None}
    assert [(edit, op) for edit, op, *_ in rows] == [(None, "add"), (None, "change"), (None, "remove")]
    assert [json.loads(side) if side else None for row in rows for side in row[2:]] == [
        None,
        full,
        {"note": "", "colour_index": 0},
        {"note": "calm", "colour_index": 2},
        full | {"note": "calm", "colour_index": 2},
        None,
    ]


def test_a_row_that_replaces_another_is_logged_as_removed_and_added(farm_path: Path) -> None:
    with closing(connect(farm_path)) as db:
        db.execute("INSERT OR REPLACE INTO settings (uid, key, value_json) VALUES ('new', 'units', '\"us\"')")
        ops = db.execute("SELECT op FROM pigmap_changes ORDER BY change_id DESC LIMIT 2").fetchall()
    assert ops == [("add",), ("remove",)]
    assert findings(farm_path) == []


def test_another_programs_edit_is_picked_up_and_published(farm_path: Path, plain: sqlite3.Connection) -> None:
    with Session.open(farm_path) as session:
        seen: list[Published] = []
        session.listen(seen.append)
        assert not session.poll()
        plain.execute("INSERT INTO groups (name) VALUES ('Boars')")
        plain.execute("UPDATE weather_days SET rain_mm = 12.5")
        assert session.poll()
        assert not session.poll()
        assert "Boars" in {group.name for group in session.farm.groups.values()}
        assert [day.rain_mm for day in session.farm.weather_days.values()] == [12.5]
        assert [str(each.label) for each in seen] == ["Changed by another program"]
        assert [row.table for row in seen[0].changes.rows] == ["groups", "weather_days"]
        assert_as_on_disk(session.farm, farm_path)


def test_rows_that_a_vector_library_appends_get_a_uid_and_are_picked_up(farm_path: Path) -> None:
    geopandas = pytest.importorskip("geopandas")
    import shapely

    with Session.open(farm_path) as session:
        frame = geopandas.GeoDataFrame(
            {"kind": ["gate", "tree"], "name": ["North", "Oak"], "radius_m": [0.0, 4.5], "note": ["", "old"]},
            geometry=[shapely.Point(5, 6), shapely.Point(7, 8)],
            crs=25832,
        )
        frame.to_file(farm_path, layer="places", engine="pyogrio", mode="a")
        assert session.poll()
        added = {place.name: place for place in session.farm.places.values() if place.name != "Yard"}
        assert {name: (place.point.coords[0], place.radius_m) for name, place in added.items()} == {
            "North": ((5, 6), 0.0),
            "Oak": ((7, 8), 4.5),
        }
        assert all(len(place.uid) == 36 for place in added.values())
        assert_as_on_disk(session.farm, farm_path)
    assert findings(farm_path) == []


def test_a_row_that_no_record_can_hold_is_left_out_and_comes_in_once_it_is_mended(farm_path: Path) -> None:
    with Session.open(farm_path) as session, closing(connect(farm_path)) as other:
        (good,) = other.execute("SELECT geom FROM fields").fetchone()
        other.execute("UPDATE fields SET geom = (SELECT geom FROM places)")
        assert session.poll()
        assert len(session.farm.fields) == 0
        other.execute("UPDATE fields SET geom = ?", (good,))
        assert session.poll()
        assert len(session.farm.fields) == 1
        assert_as_on_disk(session.farm, farm_path)


def test_a_row_that_cannot_be_read_does_not_keep_the_farm_shut(farm_path: Path) -> None:
    with closing(connect(farm_path)) as other:
        other.execute("UPDATE fields SET geom = (SELECT geom FROM places)")
    with Session.open(farm_path) as session:
        assert len(session.farm.fields) == 0
        assert [str(note).split(": ")[1] for note in session.notes] == [
            "A shape in the farm file is a Point where a MultiPolygon belongs."
        ]


def test_changes_of_two_programs_come_in_the_order_in_which_they_were_made(farm_path: Path) -> None:
    with Session.open(farm_path) as one, Session.open(farm_path) as two:
        from pigmap.records import add
        from tests.store.made import edit

        one.do(edit("First", add(Group(name="First")))).result()
        two.do(edit("Second", add(Group(name="Second")))).result()
        assert {group.name for group in two.farm.groups.values()} == {"Weaners", "First", "Second"}
        assert one.poll()
        assert {group.name for group in one.farm.groups.values()} == {"Weaners", "First", "Second"}
        assert str(one.undo_label) == "Second"


def assert_as_on_disk(farm: Farm, path: Path) -> None:
    """Hold a farm in memory against the file, read afresh."""
    file = FarmFile.open(path, read_only=True)
    try:
        read = file.read()
    finally:
        file.close()
    from pigmap.records import TABLES

    for table in TABLES:
        assert farm.rows(table) == read.rows(table), table
