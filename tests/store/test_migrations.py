from __future__ import annotations

import gzip
import sqlite3
from collections.abc import Iterator
from contextlib import closing
from dataclasses import replace
from datetime import date
from pathlib import Path
from typing import Any

import pytest

from pigmap.records import TABLES, Energizer, Forage, NetRepair, SlaughterBooking, Treatment, add, change
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


def _of_step(step: int, folder: Path) -> Path:
    """Write a farm file with a row of every table, as the program wrote it before there was a further step."""
    path = folder / "farm.gpkg"
    path.write_bytes(gzip.decompress(Path(__file__).with_name(f"farm_of_step_{step}.gpkg.gz").read_bytes()))
    return path


@pytest.fixture
def first(tmp_path: Path) -> Path:
    """Return a farm file of step 1 of one's own."""
    return _of_step(1, tmp_path)


OF_STEP_4 = (
    "treatments",
    "escapes",
    "litters",
    "slaughter_bookings",
    "register_entries",
    "own_days",
    "terrains",
    "moves",
    "photos",
)
"""Tables that files of step 3 have not got."""
OF_STEP_5 = ("gear_places", "flow_lines")
"""Tables that files of step 4 have not got."""
LATER = ("ground_jobs", "energizers", "energizer_readings", "net_repairs", *OF_STEP_4, *OF_STEP_5)
"""Tables that files of step 1 have not got."""


def _drawn_up(db: sqlite3.Connection) -> list[Any]:
    """Return all that a file says of its own tables: their SQL, and what stands of them in the GeoPackage's lists."""
    return [
        *db.execute("SELECT type, name, tbl_name, sql FROM sqlite_master WHERE sql NOT NULL ORDER BY name, type"),
        *db.execute("SELECT table_name, data_type, identifier, srs_id FROM gpkg_contents ORDER BY 1"),
        *db.execute("SELECT * FROM gpkg_geometry_columns ORDER BY 1"),
        *db.execute("SELECT * FROM gpkg_extensions ORDER BY 1, 2, 3"),
        *db.execute("SELECT schema_version, oldest_reader FROM pigmap_document"),
    ]


def test_a_file_is_kept_of_every_step_that_was_the_last() -> None:
    kept = {path.name for path in Path(__file__).parent.glob("farm_of_step_*.gpkg.gz")}
    assert kept == {f"farm_of_step_{step}.gpkg.gz" for step in range(1, len(migrations.STEPS))}


@pytest.mark.parametrize("step", range(1, len(migrations.STEPS)))
def test_a_file_of_an_earlier_step_becomes_the_file_that_a_new_farm_has(
    db: sqlite3.Connection, step: int, tmp_path: Path
) -> None:
    migrations.bring_up_to_date(db)
    with closing(connect(_of_step(step, tmp_path))) as old:
        assert migrations.version_of(old)[0] == step
        assert migrations.bring_up_to_date(old) == len(migrations.STEPS) - step
        assert _drawn_up(old) == _drawn_up(db)


def test_a_file_of_step_2_keeps_all_its_rows_and_takes_new_ones(tmp_path: Path) -> None:
    path = _of_step(2, tmp_path)
    with Session.open(path) as session:
        farm = session.farm
        empty = {"energizers", "energizer_readings", "net_repairs", *OF_STEP_4, *OF_STEP_5}
        assert {table for table in TABLES if not farm.rows(table)} == empty
        (paddock,), (kind,), (net,) = farm.paddocks.values(), farm.net_kinds.values(), farm.nets.values()
        assert (paddock.energizer_uid, paddock.own_switch, kind.price) == (None, False, None)
        assert [(each.bands, each.darkest) for each in farm.images.values()] == [((), None)]
        unit = Energizer(name="Far unit", output_j=0.5)
        session.do(
            edit(
                "More",
                add(unit),
                add(NetRepair(net_uid=net.uid, mended_on=date(2026, 4, 1))),
                change(paddock, replace(paddock, energizer_uid=unit.uid, own_switch=True)),
                change(kind, replace(kind, price=120.0)),
            )
        ).result()
    assert findings(path) == []
    with Session.open(path) as session:
        assert [paddock.energizer_uid for paddock in session.farm.paddocks.values()] == [unit.uid]
        session.undo().result()
        assert [each.price for each in session.farm.net_kinds.values()] == [None]
        assert not session.farm.energizers
    assert findings(path) == []


def test_a_file_of_step_3_keeps_all_its_rows_and_takes_new_ones(tmp_path: Path) -> None:
    path = _of_step(3, tmp_path)
    with Session.open(path) as session:
        farm = session.farm
        assert {table for table in TABLES if not farm.rows(table)} == {*OF_STEP_4, *OF_STEP_5}
        (group,), (field,), (day,) = farm.groups.values(), farm.fields.values(), farm.weather_days.values()
        assert (group.ringed, group.tank_l, field.forage, day.hot) == (False, None, None, False)
        booking = SlaughterBooking(group_uid=group.uid, goes_on=date(2026, 9, 1), pigs=4)
        session.do(
            edit(
                "More",
                add(booking),
                add(Treatment(group_uid=group.uid, given_on=date(2026, 4, 1), product="Drench", withdrawal_days=14)),
                change(group, replace(group, ringed=True, tank_l=250.0)),
                change(field, replace(field, forage=Forage.FESCUE)),
                change(day, replace(day, hot=True)),
            )
        ).result()
    assert findings(path) == []
    with Session.open(path) as session:
        assert [each.uid for each in session.farm.slaughter_bookings.values()] == [booking.uid]
        assert [each.clear_on for each in session.farm.treatments.values()] == [date(2026, 4, 16)]
        session.undo().result()
        assert [(each.ringed, each.tank_l) for each in session.farm.groups.values()] == [(False, None)]
        assert not session.farm.treatments
    assert findings(path) == []


def test_a_file_of_step_4_keeps_all_its_rows_and_takes_new_ones(tmp_path: Path) -> None:
    path = _of_step(4, tmp_path)
    with Session.open(path) as session:
        assert {table for table in TABLES if not session.farm.rows(table)} == set(OF_STEP_5)
        (net,) = session.farm.nets.values()
        assert net.damaged_on is None
        session.do(edit("Torn", change(net, replace(net, damaged_on=date(2026, 4, 1))))).result()
    assert findings(path) == []
    with Session.open(path) as session:
        assert [each.damaged_on for each in session.farm.nets.values()] == [date(2026, 4, 1)]
        session.undo().result()
        assert [each.damaged_on for each in session.farm.nets.values()] == [None]
    assert findings(path) == []


def test_a_file_of_step_1_keeps_all_its_rows_and_takes_new_ones(first: Path) -> None:
    with Session.open(first) as session:
        farm = session.farm
        assert {table: len(farm.rows(table)) for table in TABLES if not farm.rows(table)} == dict.fromkeys(LATER, 0)
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
