"""What a farm table refuses, whoever writes to it: plain SQL, past all records."""

from __future__ import annotations

import sqlite3
from collections.abc import Iterator
from contextlib import closing
from dataclasses import fields, replace
from pathlib import Path
from typing import Any

import pytest

from pigmap.records import TABLES, Record
from pigmap.store.columns import Kind, columns
from pigmap.store.connection import add_functions, connect
from pigmap.store.tables import RULES


@pytest.fixture
def db(made_farm: tuple[Path, dict[str, Record]]) -> Iterator[sqlite3.Connection]:
    """Return a copy of a whole farm in memory, as any program has it that knows the functions of the index."""
    with closing(sqlite3.connect(":memory:", isolation_level=None)) as copy:
        with closing(connect(made_farm[0], read_only=True)) as made:
            made.backup(copy)
        add_functions(copy)
        copy.execute("PRAGMA foreign_keys = ON")
        yield copy


IMPOSSIBLE: list[tuple[str, str, object]] = [
    ("group_events", "pigs", "'twelve'"),
    ("group_events", "pigs", -1),
    ("group_events", "pigs", 1.5),
    ("group_events", "mean_kg", "9e999"),
    ("group_events", "mean_kg", 0.2),
    ("group_events", "happened_on", "'2026-13-45'"),
    ("group_events", "happened_on", "'0000-00-00'"),
    ("group_events", "happened_on", "'yesterday'"),
    ("group_events", "happened_on", "'2023-02-29'"),
    ("group_events", "happened_on", "'2026-04-31'"),
    ("group_events", "happened_on", "'2026'"),
    ("group_events", "happened_on", "'2026-03-01 10:00'"),
    ("group_events", "happened_on", "'1899-12-31'"),
    ("group_events", "happened_on", "'2200-01-01'"),
    ("group_events", "happened_on", 2460000),
    ("group_events", "happened_on", "NULL"),
    ("group_events", "kind", "'eaten'"),
    ("checks", "rooting_score", 9),
    ("checks", "rooting_score", "'half'"),
    ("checks", "fence_kv", -0.1),
    ("checks", "all_well", 2),
    ("checks", "all_well", "'yes'"),
    ("checks", "water_ok", 0.5),
    ("fields", "geom", "NULL"),
    ("fields", "geom", "'POLYGON((0 0, 1 0, 1 1, 0 0))'"),
    ("fields", "geom", "x'00'"),
    ("fields", "name", "'  '"),
    ("fields", "name", 7.5),
    ("fields", "origin_x_m", "9e999"),
    ("fields", "origin_x_m", "-9e999"),
    ("fields", "origin_x_m", "'nan'"),
    ("fields", "cell_m", 0),
    ("fields", "turned_deg", 91),
    ("stays", "out_on", "'2026-02-27'"),
    ("stays", "out_on", "NULL"),
    ("net_kinds", "bays_mm", "'late'"),
    ("net_kinds", "bays_mm", "'{}'"),
    ("stays", "state", "'gone'"),
    ("net_kinds", "bays_mm", "'[]'"),
    ("purposes", "from_month_day", "'3-1'"),
    ("purposes", "from_month_day", "'13-01'"),
    ("purposes", "to_month_day", "'01-32'"),
    ("keep_outs", "net_m", -1),
    ("settings", "value_json", "'not json'"),
    ("weather_days", "rain_mm", -0.1),
    ("weather_days", "max_c", -3.5),
    ("nets", "retired_on", "'2024-02-29'"),
    ("net_uses", "taken_on", "'2026-02-28'"),
    ("images", "opacity", 1.5),
    ("images", "pins", "NULL"),
    ("ground_jobs", "kind", "'ploughed'"),
    ("ground_jobs", "geom", "NULL"),
    ("ground_jobs", "rooting_score", 5),
    ("ground_jobs", "within_days", -1),
    ("ground_jobs", "n_kg_ha", -0.5),
    ("ground_jobs", "happened_on", "'autumn 2024'"),
    ("ground_jobs", "until_on", "'2024-10-15'"),
    ("energizers", "output_j", 5.1),
    ("energizers", "kv_500", 9.1),
    ("energizers", "source", "'wind'"),
    ("energizers", "soil", "'chalk'"),
    ("energizers", "lead_m", -1),
    ("energizers", "name", "' '"),
    ("energizer_readings", "battery_v", 61),
    ("energizer_readings", "earth_kv", -0.1),
    ("net_repairs", "mended_on", "'2026-02-30'"),
    ("net_kinds", "price", -1),
    ("paddocks", "own_switch", 2),
    ("fields", "forage", "'moss'"),
    ("groups", "ringed", 2),
    ("groups", "feed_share", 1.6),
    ("groups", "feed_kg", 21),
    ("groups", "feed_protein_g_kg", -1),
    ("groups", "tank_l", -1),
    ("groups", "drinkers", -1),
    ("groups", "target_kg", 601),
    ("group_events", "weighed_by", "'guess'"),
    ("weather_days", "humidity_pct", 101),
    ("weather_days", "hot", 2),
    ("treatments", "product", "' '"),
    ("treatments", "last_on", "'2026-03-02'"),
    ("treatments", "withdrawal_days", 3651),
    ("escapes", "fence_kv", 21),
    ("escapes", "pigs_out", -1),
    ("litters", "sow", "''"),
    ("litters", "farrowed_on", "'2026-01-04'"),
    ("litters", "weaned_on", "'2026-04-28'"),
    ("litters", "born", -1),
    ("slaughter_bookings", "pigs", 0),
    ("slaughter_bookings", "dead_kg", 0.1),
    ("register_entries", "direction", "'over'"),
    ("register_entries", "pigs", 0),
    ("own_days", "days", 0.2),
    ("own_days", "from_month_day", "'02-32'"),
    ("terrains", "link", "' '"),
    ("moves", "minutes", 0.5),
    ("photos", "sha256", "' '"),
    ("photos", "width_px", 0),
    ("moves", "people", 0),
    ("gear_places", "kind", "'barn'"),
    ("gear_places", "set_on", "'spring'"),
    ("flow_lines", "geom", "NULL"),
    ("groups", "tank_filled_on", "'late'"),
    ("ways", "height_m", -1),
    ("ways", "communication", 2),
]


@pytest.mark.parametrize(("table", "column", "value"), IMPOSSIBLE)
def test_a_value_that_cannot_exist_is_refused(db: sqlite3.Connection, table: str, column: str, value: object) -> None:
    with pytest.raises(sqlite3.IntegrityError):
        # Numbers reach text columns as text: SQLite turns them before it looks.
        db.execute(
            f'UPDATE "{table}" SET "{column}" = {value if column != "name" or value != 7.5 else "x" + chr(39) * 2}'
        )


def test_infinite_and_missing_numbers_from_a_driver_are_refused(db: sqlite3.Connection) -> None:
    for value in (float("inf"), float("-inf"), float("nan")):
        with pytest.raises(sqlite3.IntegrityError):
            db.execute("UPDATE fields SET origin_x_m = ?", (value,))


@pytest.mark.parametrize(
    ("table", "column"), [(rule.name, name) for rule in RULES.values() for name in rule.refers], ids="-".join
)
def test_a_row_that_points_at_nothing_is_refused_at_the_end_of_the_edit(
    db: sqlite3.Connection, table: str, column: str
) -> None:
    db.execute("BEGIN")
    db.execute(f"UPDATE {table} SET {column} = 'nobody'")
    with pytest.raises(sqlite3.IntegrityError, match="FOREIGN KEY"):
        db.execute("COMMIT")
    db.execute("ROLLBACK")


def test_every_column_that_names_a_row_is_watched() -> None:
    for name, rule in RULES.items():
        named = {column.name for column in columns(TABLES[name]) if column.name.endswith("_uid")}
        assert named == set(rule.refers), name


_AS_FAR_AS_NOTHING_STANDS_BESIDE_IT = {"weather_days": ("min_c", "max_c"), "energizers": ("open_kv", "kv_500")}
"""Columns whose limits reach as far only where the other is empty."""


def test_limits_of_the_file_are_those_of_the_records(db: sqlite3.Connection) -> None:
    from pigmap.errors import RecordError
    from tests.store.made import one_of_each

    rows = one_of_each()
    for name, rule in RULES.items():
        alone = _AS_FAR_AS_NOTHING_STANDS_BESIDE_IT.get(name, ())
        row = replace(rows[name], **dict.fromkeys(alone))  # type: ignore[arg-type]
        for attribute, (least, most) in rule.limits.items():
            for limit, step in ((least, -1), (most, 1)):
                if limit is None:
                    continue
                whole = next(c for c in columns(rule.record) if c.name == attribute).kind is Kind.WHOLE
                kept = {each.name: getattr(row, each.name) for each in fields(row)}
                on: Any = int(limit) if whole else float(limit)
                rule.record(**{**kept, attribute: on})
                db.execute(f"UPDATE {name} SET {attribute} = ?", (on,))
                with pytest.raises(RecordError):
                    rule.record(**{**kept, attribute: on + step})
                with pytest.raises(sqlite3.IntegrityError):
                    db.execute(f"UPDATE {name} SET {attribute} = ?", (on + step,))
                for each in alone:
                    db.execute(f"UPDATE {name} SET {each} = NULL")


def test_two_settings_of_one_key_are_refused(db: sqlite3.Connection) -> None:
    with pytest.raises(sqlite3.IntegrityError, match="UNIQUE"):
        db.execute("INSERT INTO settings (key, value_json) VALUES ('units', '\"us\"')")


def test_a_row_keeps_its_uid(db: sqlite3.Connection) -> None:
    for uid in ("'another'", "NULL"):
        with pytest.raises(sqlite3.IntegrityError, match="never changes"):
            db.execute(f"UPDATE groups SET uid = {uid}")


def test_a_row_without_a_uid_gets_one(db: sqlite3.Connection) -> None:
    db.execute("INSERT INTO groups (name) VALUES ('Boars')")
    (uid,) = db.execute("SELECT uid FROM groups WHERE name = 'Boars'").fetchone()
    assert [len(part) for part in uid.split("-")] == [8, 4, 4, 4, 12]
    assert uid[14] == "4"
    assert uid[19] in "89ab"


def test_searches_by_paddock_group_and_day_have_their_index(db: sqlite3.Connection) -> None:
    for where in (
        "stays WHERE paddock_uid = 'a' AND in_on > '2026'",
        "stays WHERE group_uid = 'a' AND in_on > '2026'",
        "checks WHERE checked_on = '2026-01-01'",
        "pigmap_changes WHERE row_uid = 'a'",
        "pigmap_changes WHERE edit_id = 1",
    ):
        (plan,) = db.execute(f"EXPLAIN QUERY PLAN SELECT * FROM {where}").fetchall()
        assert "USING INDEX pigmap_" in plan[3], plan[3]


def test_every_shape_has_its_index_with_the_triggers_of_geopackage_1_4(db: sqlite3.Connection) -> None:
    for name, record in TABLES.items():
        triggers = {
            found
            for (found,) in db.execute(
                "SELECT name FROM sqlite_master WHERE type = 'trigger' AND tbl_name = ? AND name LIKE 'rtree%'", (name,)
            )
        }
        shaped = any(column.kind is Kind.SHAPE for column in columns(record))
        wanted = {"insert", "update2", "update4", "update5", "update6", "update7", "delete"} if shaped else set()
        assert triggers == {f"rtree_{name}_geom_{event}" for event in wanted}


def test_the_index_follows_shapes_and_numbers_of_rows(db: sqlite3.Connection) -> None:
    def boxes() -> list[Any]:
        return db.execute("SELECT id, minx, maxx FROM rtree_checks_geom").fetchall()

    (fid, low, high) = boxes()[0]
    assert low <= 120 <= high
    db.execute("UPDATE checks SET geom = NULL")
    assert boxes() == []
    db.execute("UPDATE checks SET geom = (SELECT geom FROM places)")
    assert boxes()[0][1] <= 1.5 <= boxes()[0][2]
    db.execute("UPDATE checks SET fid = fid + 10")
    assert [row[0] for row in boxes()] == [fid + 10]
    db.execute("DELETE FROM photos")
    db.execute("DELETE FROM checks")
    assert boxes() == []
