"""The rules of the OGC GeoPackage standard that every farm file is held against, with the number of its requirement.

They are those of the standard (12-128r19, version 1.4) that concern a file with layers and plain tables; its tiles,
gridded coverages and schema extension are not used. Those that an exported file keeps too are in
`tests.session.handing_out.geopackage_rules`.
"""

from __future__ import annotations

import re
import sqlite3
from collections.abc import Callable, Iterable, Iterator
from contextlib import closing
from pathlib import Path

from tests.session.handing_out import geopackage_rules as of_layers
from tests.session.handing_out.geopackage_rules import quoted

Rule = Callable[[sqlite3.Connection], Iterable[str]]

REQUIRED = {
    "gpkg_spatial_ref_sys": {
        "srs_name": ("TEXT", 1, 0),
        "srs_id": ("INTEGER", 1, 1),
        "organization": ("TEXT", 1, 0),
        "organization_coordsys_id": ("INTEGER", 1, 0),
        "definition": ("TEXT", 1, 0),
        "description": ("TEXT", 0, 0),
    },
    "gpkg_contents": {
        "table_name": ("TEXT", 1, 1),
        "data_type": ("TEXT", 1, 0),
        "identifier": ("TEXT", 0, 0),
        "description": ("TEXT", 0, 0),
        "last_change": ("DATETIME", 1, 0),
        "min_x": ("DOUBLE", 0, 0),
        "min_y": ("DOUBLE", 0, 0),
        "max_x": ("DOUBLE", 0, 0),
        "max_y": ("DOUBLE", 0, 0),
        "srs_id": ("INTEGER", 0, 0),
    },
    "gpkg_geometry_columns": {
        "table_name": ("TEXT", 1, 1),
        "column_name": ("TEXT", 1, 2),
        "geometry_type_name": ("TEXT", 1, 0),
        "srs_id": ("INTEGER", 1, 0),
        "z": ("TINYINT", 1, 0),
        "m": ("TINYINT", 1, 0),
    },
    "gpkg_extensions": {
        "table_name": ("TEXT", 0, 0),
        "column_name": ("TEXT", 0, 0),
        "extension_name": ("TEXT", 1, 0),
        "definition": ("TEXT", 1, 0),
        "scope": ("TEXT", 1, 0),
    },
}
"""Type, NOT NULL and place in the key of each column of the standard's own tables (annex C)."""
RTREE_TRIGGERS = ("delete", "insert", "update2", "update4", "update5", "update6", "update7")
"""Triggers of a spatial index since version 1.4 (annex F.3)."""


def _pages(db: sqlite3.Connection) -> Iterator[str]:
    (found,) = db.execute("PRAGMA integrity_check").fetchone()
    if found != "ok":
        yield found


def _links(db: sqlite3.Connection) -> Iterator[str]:
    for table, row, parent, _ in db.execute("PRAGMA foreign_key_check"):
        yield f"row {row} of {table} points at no {parent}"


def _head(db: sqlite3.Connection) -> Iterator[str]:
    if db.execute("PRAGMA application_id").fetchone() != (0x47504B47,):
        yield "application_id is not GPKG"
    if db.execute("PRAGMA user_version").fetchone() != (10_400,):
        yield "user_version is not that of 1.4"


def _columns_of(table: str) -> Rule:
    def held(db: sqlite3.Connection) -> Iterator[str]:
        found = {name: (kind, null, key) for _, name, kind, null, _, key in db.execute(f"PRAGMA table_info({table})")}
        for name, wanted in REQUIRED[table].items():
            if found.get(name) != wanted:
                yield f"{table}.{name} is {found.get(name)}"

    return held


def _systems(db: sqlite3.Connection) -> Iterator[str]:
    there = dict(db.execute("SELECT srs_id, organization || organization_coordsys_id FROM gpkg_spatial_ref_sys"))
    for number, wanted in {4326: "EPSG4326", -1: "NONE-1", 0: "NONE0"}.items():
        if str(there.get(number)).upper() != wanted:
            yield f"coordinate system {number} is {there.get(number)}"
    for (number,) in db.execute("SELECT srs_id FROM gpkg_spatial_ref_sys WHERE trim(definition) = ''"):
        yield f"coordinate system {number} is not defined"


def _contents(db: sqlite3.Connection) -> Iterator[str]:
    for name, kind, changed in db.execute("SELECT table_name, data_type, last_change FROM gpkg_contents"):
        if db.execute("SELECT 1 FROM sqlite_master WHERE type = 'table' AND name = ?", (name,)).fetchone() is None:
            yield f"{name} is not there"
        if kind not in ("features", "attributes"):
            yield f"{name} is {kind}"
        if not of_layers.CHANGED.fullmatch(changed):
            yield f"{name} changed {changed}"


def _reach(db: sqlite3.Connection) -> Iterator[str]:
    """Yield the layers whose extent does not hold their shapes; it may be wider."""
    asked = "SELECT c.table_name, g.column_name, min_x, min_y, max_x, max_y FROM gpkg_contents c JOIN "
    for name, column, *told in db.execute(f"{asked}gpkg_geometry_columns g USING (table_name)").fetchall():
        tree = quoted(f"rtree_{name}_{column}")
        has = db.execute(f"SELECT min(minx), min(miny), max(maxx), max(maxy) FROM {tree}").fetchone()
        if has[0] is None:
            continue
        slack = 1e-6 * max(1.0, *(abs(each) for each in has))  # an RTree keeps 32 bits, rounded outwards
        if any(each is None for each in told) or not (
            told[0] <= has[0] + slack
            and told[1] <= has[1] + slack
            and told[2] >= has[2] - slack
            and told[3] >= has[3] - slack
        ):
            yield f"{name} reaches {has}, and is listed with {told}"


def _listed_systems(db: sqlite3.Connection) -> Iterator[str]:
    for table in ("gpkg_contents", "gpkg_geometry_columns"):
        yield from (
            f"{name} of {table} lies in coordinates that are not listed"
            for (name,) in db.execute(
                f"SELECT table_name FROM {table} WHERE srs_id IS NOT NULL AND srs_id NOT IN "
                "(SELECT srs_id FROM gpkg_spatial_ref_sys)"
            )
        )


def _layers_listed(db: sqlite3.Connection) -> Iterator[str]:
    listed = {name for (name,) in db.execute("SELECT table_name FROM gpkg_contents WHERE data_type = 'features'")}
    shaped = [name for (name,) in db.execute("SELECT table_name FROM gpkg_geometry_columns")]
    if sorted(listed) != sorted(shaped):
        yield f"{listed.symmetric_difference(shaped)} are listed once only"


def _keys(db: sqlite3.Connection) -> Iterator[str]:
    for (name,) in db.execute("SELECT table_name FROM gpkg_contents").fetchall():
        keys = [each[2] for each in db.execute(f"PRAGMA table_info({quoted(name)})") if each[5]]
        if keys != ["INTEGER"]:
            yield f"{name} has the key {keys}"


def _column_types(db: sqlite3.Connection) -> Iterator[str]:
    for (name,) in db.execute("SELECT table_name FROM gpkg_contents").fetchall():
        for _, column, kind, *_ in db.execute(f"PRAGMA table_info({quoted(name)})"):
            if not of_layers.COLUMN_TYPES.fullmatch(kind) and kind not in of_layers.TYPES:
                yield f"{name}.{column} is {kind}"


def _values(db: sqlite3.Connection) -> Iterator[str]:
    forms = {"DATE": r"\d{4}-\d{2}-\d{2}", "BOOLEAN": "[01]"}
    for (name,) in db.execute("SELECT table_name FROM gpkg_contents").fetchall():
        for _, column, kind, *_ in db.execute(f"PRAGMA table_info({quoted(name)})").fetchall():
            asked = f"SELECT {quoted(column)} FROM {quoted(name)} WHERE {quoted(column)} NOTNULL"
            if kind in forms and any(not re.fullmatch(forms[kind], str(value)) for (value,) in db.execute(asked)):
                yield f"{name}.{column} holds what is no {kind}"


def _extensions(db: sqlite3.Connection) -> Iterator[str]:
    tables = {name for (name,) in db.execute("SELECT name FROM sqlite_master")}
    for table, column, name, told, scope in db.execute("SELECT * FROM gpkg_extensions"):
        if table is not None and table not in tables:
            yield f"{name} is said of {table}, which is not there"
        if column is not None and column not in {row[1] for row in db.execute(f"PRAGMA table_info({quoted(table)})")}:
            yield f"{name} is said of {table}.{column}, which is not there"
        if not re.fullmatch(r"[A-Za-z0-9]+_[A-Za-z0-9_]+", name) or not told:
            yield f"{name} is no name of an extension, or nothing tells of it"
        if scope not in ("read-write", "write-only"):
            yield f"{name} is for {scope}"


def _own_tables_told(db: sqlite3.Connection) -> Iterator[str]:
    """Yield tables of the program's own that no extension tells of: other software may then remove them."""
    told = {table for (table,) in db.execute("SELECT table_name FROM gpkg_extensions")}
    for (name,) in db.execute(
        "SELECT name FROM sqlite_master WHERE type = 'table' AND name LIKE 'pigmap!_%' ESCAPE '!'"
    ):
        if name not in told:
            yield f"nothing tells of {name}"


def _triggers(db: sqlite3.Connection) -> Iterator[str]:
    asked = "SELECT table_name, column_name FROM gpkg_extensions WHERE extension_name = 'gpkg_rtree_index'"
    indexed = db.execute(asked).fetchall()
    shaped = db.execute("SELECT table_name, column_name FROM gpkg_geometry_columns").fetchall()
    if sorted(indexed) != sorted(shaped):
        yield f"{set(indexed).symmetric_difference(shaped)} have an index or shapes only"
    for table, column in indexed:
        wanted = {f"rtree_{table}_{column}_{name}" for name in RTREE_TRIGGERS}
        found = {
            name
            for (name,) in db.execute(
                "SELECT name FROM sqlite_master WHERE type = 'trigger' AND tbl_name = ? AND name LIKE 'rtree%'",
                (table,),
            )
        }
        if found != wanted:
            yield f"{table} has the triggers {sorted(found ^ wanted)} too many or too few"


def _layer_rules(db: sqlite3.Connection) -> Iterator[str]:
    db.row_factory = sqlite3.Row
    try:
        yield from of_layers._layers(db)
    finally:
        db.row_factory = None


RULES: dict[str, Rule] = {
    "2: the head says GeoPackage 1.4": _head,
    "5: columns are of the standard's types": _column_types,
    "5: dates and truth values are of their form": _values,
    "6: the pages are sound": _pages,
    "7: no row points at nothing": _links,
    "10: gpkg_spatial_ref_sys is made as the standard has it": _columns_of("gpkg_spatial_ref_sys"),
    "11: the three coordinate systems that are always there": _systems,
    "12: every coordinate system that is used is listed": _listed_systems,
    "13: gpkg_contents is made as the standard has it": _columns_of("gpkg_contents"),
    "14, 15, 17: what is listed is there, with the moment of its last change": _contents,
    "13: the extent of a layer holds all its shapes": _reach,
    "19 to 33, 75, 77: heads, kinds, coordinates and boxes of shapes": _layer_rules,
    "21: gpkg_geometry_columns is made as the standard has it": _columns_of("gpkg_geometry_columns"),
    "22, 23: every layer has one column of shapes": _layers_listed,
    "29, 119: every table has a whole number as its key": _keys,
    "58: gpkg_extensions is made as the standard has it": _columns_of("gpkg_extensions"),
    "60 to 64: extensions are named, told of, and said of what is there": _extensions,
    "59: every table of our own is told of": _own_tables_told,
    "75, 77: every layer has an index and its triggers": _triggers,
}
"""Each rule by the numbers of its requirements and what it asks for."""


def broken_rules(path: Path) -> list[str]:
    """Return what a farm file does against the rules; it is only read."""
    with closing(sqlite3.connect(f"{path.absolute().as_uri()}?mode=ro", uri=True)) as db:
        head = path.read_bytes()[:16] == b"SQLite format 3\0"
        found = [f"{name}: {each}" for name, rule in RULES.items() for each in _held(db, rule)]
    return [*([] if head else ["1: no SQLite file"]), *found]


def _held(db: sqlite3.Connection, rule: Rule) -> list[str]:
    try:
        return list(rule(db))
    except (sqlite3.Error, LookupError) as error:
        return [f"nothing can be said: {error}"]
