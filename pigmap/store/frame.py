"""The frame of a farm file: the tables that GeoPackage 1.4 asks for, and the tool's own."""

from __future__ import annotations

import sqlite3
from collections.abc import Iterator

from pigmap.records import Projection, new_uid
from pigmap.store.columns import SHAPE_COLUMN, Kind
from pigmap.store.schema import table_columns
from pigmap.store.tables import TableRule

APPLICATION_ID = 0x47504B47  # 'GPKG'
GEOPACKAGE_VERSION = 10400  # PRAGMA user_version belongs to GeoPackage, not to us
_OWN_SRS = 100_000  # for coordinate systems that no register numbers, as GDAL does
_NOW = "strftime('%Y-%m-%dT%H:%M:%fZ', 'now')"

_WGS84 = (
    'GEOGCS["WGS 84",DATUM["WGS_1984",SPHEROID["WGS 84",6378137,298.257223563,AUTHORITY["EPSG","7030"]],'
    'AUTHORITY["EPSG","6326"]],PRIMEM["Greenwich",0,AUTHORITY["EPSG","8901"]],UNIT["degree",0.0174532925199433,'
    'AUTHORITY["EPSG","9122"]],AXIS["Latitude",NORTH],AXIS["Longitude",EAST],AUTHORITY["EPSG","4326"]]'
)
_ALWAYS = (
    ("Undefined Cartesian SRS", -1, "NONE", -1, "undefined", "undefined Cartesian coordinate reference system"),
    ("Undefined geographic SRS", 0, "NONE", 0, "undefined", "undefined geographic coordinate reference system"),
    ("WGS 84 geodetic", 4326, "EPSG", 4326, _WGS84, "longitude/latitude coordinates in decimal degrees"),
)

_GEOPACKAGE_TABLES = (
    "CREATE TABLE gpkg_spatial_ref_sys (srs_name TEXT NOT NULL, srs_id INTEGER NOT NULL PRIMARY KEY, "
    "organization TEXT NOT NULL, organization_coordsys_id INTEGER NOT NULL, definition TEXT NOT NULL, "
    "description TEXT)",
    "CREATE TABLE gpkg_contents (table_name TEXT NOT NULL PRIMARY KEY, data_type TEXT NOT NULL, "
    f"identifier TEXT UNIQUE, description TEXT DEFAULT '', last_change DATETIME NOT NULL DEFAULT ({_NOW}), "
    "min_x DOUBLE, min_y DOUBLE, max_x DOUBLE, max_y DOUBLE, srs_id INTEGER, "
    "CONSTRAINT fk_gc_r_srs_id FOREIGN KEY (srs_id) REFERENCES gpkg_spatial_ref_sys(srs_id))",
    "CREATE TABLE gpkg_geometry_columns (table_name TEXT NOT NULL, column_name TEXT NOT NULL, "
    "geometry_type_name TEXT NOT NULL, srs_id INTEGER NOT NULL, z TINYINT NOT NULL, m TINYINT NOT NULL, "
    "CONSTRAINT pk_geom_cols PRIMARY KEY (table_name, column_name), CONSTRAINT uk_gc_table_name UNIQUE (table_name), "
    "CONSTRAINT fk_gc_tn FOREIGN KEY (table_name) REFERENCES gpkg_contents(table_name), "
    "CONSTRAINT fk_gc_srs FOREIGN KEY (srs_id) REFERENCES gpkg_spatial_ref_sys (srs_id))",
    "CREATE TABLE gpkg_extensions (table_name TEXT, column_name TEXT, extension_name TEXT NOT NULL, "
    "definition TEXT NOT NULL, scope TEXT NOT NULL, "
    "CONSTRAINT ge_tce UNIQUE (table_name, column_name, extension_name))",
)

_OWN_TABLES = {
    "pigmap_document": (
        "CREATE TABLE pigmap_document (one INTEGER PRIMARY KEY CHECK(one = 1), document_uid TEXT NOT NULL, "
        "copy_uid TEXT NOT NULL, schema_version INTEGER NOT NULL, oldest_reader INTEGER NOT NULL, "
        "current_edit INTEGER, srs_id INTEGER NOT NULL REFERENCES gpkg_spatial_ref_sys(srs_id), "
        "ground_per_grid REAL NOT NULL CHECK(ground_per_grid > 0 AND ground_per_grid < 9e999))"
    ),
    "pigmap_edits": (
        "CREATE TABLE pigmap_edits (edit_id INTEGER PRIMARY KEY AUTOINCREMENT NOT NULL, edit_uid TEXT NOT NULL UNIQUE, "
        f"made_at_utc TEXT NOT NULL DEFAULT ({_NOW}), made_by TEXT NOT NULL DEFAULT '', "
        "computer TEXT NOT NULL DEFAULT '', label TEXT NOT NULL CHECK(json_valid(label)), undoes_edit_uid TEXT, "
        "came_with_edit_uid TEXT, can_undo INTEGER NOT NULL DEFAULT 1 CHECK(can_undo IN (0, 1)))"
    ),
    "pigmap_changes": (
        "CREATE TABLE pigmap_changes (change_id INTEGER PRIMARY KEY AUTOINCREMENT NOT NULL, "
        "edit_id INTEGER REFERENCES pigmap_edits(edit_id), table_name TEXT NOT NULL, row_uid TEXT NOT NULL, "
        "op TEXT NOT NULL CHECK(op IN ('add', 'change', 'remove')), before_json TEXT, after_json TEXT, "
        f"written_at_utc TEXT NOT NULL DEFAULT ({_NOW}))"
    ),
    "pigmap_conflicts": (
        "CREATE TABLE pigmap_conflicts (conflict_id INTEGER PRIMARY KEY AUTOINCREMENT NOT NULL, "
        "table_name TEXT NOT NULL, row_uid TEXT NOT NULL, column_name TEXT NOT NULL, kept_json TEXT, other_json TEXT, "
        "kept_edit_uid TEXT NOT NULL, other_edit_uid TEXT NOT NULL, settled_on TEXT, settled_by TEXT)"
    ),
}


def make_frame(db: sqlite3.Connection, projection: Projection) -> None:
    """Write the frame into an empty database: a farm file of schema 0, with no farm tables yet."""
    for statement in _frame_statements():
        db.execute(statement)
    db.executemany("INSERT INTO gpkg_spatial_ref_sys VALUES (?, ?, ?, ?, ?, ?)", _ALWAYS)
    srs_id = projection.code if projection.authority == "EPSG" else _OWN_SRS
    db.execute(
        "INSERT OR REPLACE INTO gpkg_spatial_ref_sys VALUES (?, ?, ?, ?, ?, NULL)",
        (projection.name, srs_id, projection.authority, projection.code, projection.definition),
    )
    db.execute(
        "INSERT INTO pigmap_document VALUES (1, ?, ?, 0, 1, NULL, ?, ?)",
        (new_uid(), new_uid(), srs_id, projection.ground_per_grid),
    )
    db.executemany(
        "INSERT INTO gpkg_extensions VALUES (?, NULL, 'pigmap_change_log', ?, 'write-only')",
        [(name, "The change log of a pigmap farm file, written by triggers.") for name in _OWN_TABLES],
    )


def _frame_statements() -> Iterator[str]:
    yield f"PRAGMA application_id = {APPLICATION_ID}"
    yield f"PRAGMA user_version = {GEOPACKAGE_VERSION}"
    yield from _GEOPACKAGE_TABLES
    yield from _OWN_TABLES.values()
    yield "CREATE INDEX pigmap_changes_edit ON pigmap_changes(edit_id)"
    yield "CREATE INDEX pigmap_changes_row ON pigmap_changes(row_uid)"
    yield from _append_only("pigmap_changes", "change_id")
    yield from _append_only("pigmap_edits", "edit_id")


def _append_only(table: str, key: str) -> Iterator[str]:
    refuse = "BEGIN SELECT RAISE(ABORT, 'the change log is append-only'); END"
    yield f"CREATE TRIGGER {table}_no_update BEFORE UPDATE ON {table} {refuse}"
    yield f"CREATE TRIGGER {table}_no_delete BEFORE DELETE ON {table} {refuse}"
    # INSERT OR REPLACE removes rows without the trigger above where recursive triggers are off.
    yield (
        f"CREATE TRIGGER {table}_no_replace BEFORE INSERT ON {table} "
        f"WHEN EXISTS (SELECT 1 FROM {table} WHERE {key} = NEW.{key}) {refuse}"
    )


def register(db: sqlite3.Connection, rule: TableRule, step: int) -> None:
    """Enter a farm table into the lists of the GeoPackage."""
    shapes = [column for column in table_columns(rule, step) if column.kind is Kind.SHAPE]
    (srs_id,) = db.execute("SELECT srs_id FROM pigmap_document").fetchone()
    db.execute(
        "INSERT INTO gpkg_contents (table_name, data_type, identifier, srs_id) VALUES (?, ?, ?, ?)",
        (rule.name, "features" if shapes else "attributes", rule.name, srs_id if shapes else None),
    )
    for column in shapes:
        db.execute(
            "INSERT INTO gpkg_geometry_columns VALUES (?, ?, ?, ?, 0, 0)",
            (rule.name, SHAPE_COLUMN, column.sql_type, srs_id),
        )
        db.execute(
            "INSERT INTO gpkg_extensions VALUES (?, ?, 'gpkg_rtree_index', ?, 'write-only')",
            (rule.name, SHAPE_COLUMN, "http://www.geopackage.org/spec140/#extension_rtree"),
        )


def touch(db: sqlite3.Connection, table: str, bounds: tuple[float, float, float, float] | None) -> None:
    """Move a table's last change to now, and widen its extent (min x, min y, max x, max y) if shapes came in."""
    if bounds is None:
        db.execute(f"UPDATE gpkg_contents SET last_change = {_NOW} WHERE table_name = ?", (table,))
        return
    told = dict(zip(("west", "south", "east", "north"), bounds, strict=True))
    db.execute(
        f"UPDATE gpkg_contents SET last_change = {_NOW}, min_x = min(coalesce(min_x, :west), :west), "
        "min_y = min(coalesce(min_y, :south), :south), max_x = max(coalesce(max_x, :east), :east), "
        "max_y = max(coalesce(max_y, :north), :north) WHERE table_name = :name",
        {**told, "name": table},
    )


def write_projection(db: sqlite3.Connection, projection: Projection) -> None:
    """Say where the metres of the file lie from now on; its shapes stay as they are.

    The number under which the coordinate system stands in the file stays too: it means nothing outside, and every
    shape names it.
    """
    db.execute(
        "UPDATE gpkg_spatial_ref_sys SET srs_name = ?, organization = ?, organization_coordsys_id = ?, definition = ? "
        "WHERE srs_id = (SELECT srs_id FROM pigmap_document)",
        (projection.name, projection.authority, projection.code, projection.definition),
    )
    db.execute("UPDATE pigmap_document SET ground_per_grid = ?", (projection.ground_per_grid,))


def projection_of(db: sqlite3.Connection) -> Projection:
    """Return the farm's projection as the file has it."""
    name, authority, code, definition, ground_per_grid = db.execute(
        "SELECT s.srs_name, s.organization, s.organization_coordsys_id, s.definition, d.ground_per_grid "
        "FROM pigmap_document d JOIN gpkg_spatial_ref_sys s ON s.srs_id = d.srs_id"
    ).fetchone()
    return Projection(name=name, authority=authority, code=code, definition=definition, ground_per_grid=ground_per_grid)
