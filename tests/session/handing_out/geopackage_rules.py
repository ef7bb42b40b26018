"""Rules of the OGC GeoPackage standard (12-128r18, version 1.3) that a file with feature layers has to keep."""

from __future__ import annotations

import re
import sqlite3
from collections.abc import Iterator
from contextlib import closing
from pathlib import Path
from typing import Any, Literal

import numpy as np
import shapely

TYPES = {
    "GEOMETRY": None, "POINT": 0, "LINESTRING": 1, "POLYGON": 3, "MULTIPOINT": 4, "MULTILINESTRING": 5,
    "MULTIPOLYGON": 6, "GEOMETRYCOLLECTION": 7,
}  # fmt: skip
"""Core geometry types (annex G), and shapely's number for each."""
COLUMN_TYPES = re.compile(
    r"BOOLEAN|TINYINT|SMALLINT|MEDIUMINT|INT|INTEGER|FLOAT|DOUBLE|REAL|TEXT(\(\d+\))?|BLOB(\(\d+\))?|DATE|DATETIME"
)
"""Table 1 of the standard."""
ENVELOPE_BYTES = {0: 0, 1: 32, 2: 48, 3: 48, 4: 64}
CHANGED = re.compile(r"\d{4}-\d{2}-\d{2}T\d{2}:\d{2}:\d{2}\.\d{3}Z")


def broken_rules(path: Path) -> list[str]:
    """Return each rule that a file breaks, with the number of its requirement."""
    with closing(sqlite3.connect(path)) as db:
        db.row_factory = sqlite3.Row
        return [*_file(db, path), *_systems(db), *_contents(db), *_layers(db)]


def _one(db: sqlite3.Connection, ask: str) -> Any:
    return db.execute(ask).fetchone()[0]


def _file(db: sqlite3.Connection, path: Path) -> Iterator[str]:
    if path.read_bytes()[:16] != b"SQLite format 3\0":
        yield "1: no SQLite file"
    if _one(db, "PRAGMA application_id") != 0x47504B47:
        yield "2: application_id is not GPKG"
    if not 10_200 <= _one(db, "PRAGMA user_version") < 10_500:
        yield "2: user_version is no version of GeoPackage"
    if _one(db, "PRAGMA integrity_check") != "ok":
        yield "6: integrity_check"
    if db.execute("PRAGMA foreign_key_check").fetchall():
        yield "7: foreign_key_check"


def _systems(db: sqlite3.Connection) -> Iterator[str]:
    there = {row["srs_id"]: row for row in db.execute("SELECT * FROM gpkg_spatial_ref_sys")}
    if not {4326, -1, 0} <= set(there):
        yield "11: EPSG:4326, undefined cartesian and undefined geographic are not all there"
    for row in there.values():
        if not row["definition"] or not row["srs_name"] or row["organization_coordsys_id"] is None:
            yield f"10: coordinate system {row['srs_id']} is not defined"


def _contents(db: sqlite3.Connection) -> Iterator[str]:
    known = {row[0] for row in db.execute("SELECT srs_id FROM gpkg_spatial_ref_sys")}
    for row in db.execute("SELECT * FROM gpkg_contents"):
        name = row["table_name"]
        if not db.execute("SELECT 1 FROM sqlite_master WHERE name = ?", (name,)).fetchone():
            yield f"14: {name} is not there"
        if row["data_type"] != "features":
            yield f"18: {name} has no features"
        if not CHANGED.fullmatch(row["last_change"]):
            yield f"15: last_change of {name} is {row['last_change']}"
        if row["srs_id"] not in known:
            yield f"16: {name} has coordinates that are not listed"


def _layers(db: sqlite3.Connection) -> Iterator[str]:
    for row in db.execute("SELECT * FROM gpkg_geometry_columns").fetchall():
        name, column = row["table_name"], row["column_name"]
        if row["geometry_type_name"] not in TYPES:
            yield f"25: {name} holds {row['geometry_type_name']}"
        if row["z"] not in (0, 1, 2) or row["m"] not in (0, 1, 2):
            yield f"27: {name} says nothing of heights"
        columns = db.execute(f"PRAGMA table_info({quoted(name)})").fetchall()
        if [each["type"] for each in columns if each["pk"]] != ["INTEGER"]:
            yield f"29: {name} has no whole number as its key"
        for each in columns:
            if each["name"] == column and each["type"] != row["geometry_type_name"]:
                yield f"31: {name}.{column} is {each['type']}"
            elif each["name"] != column and not COLUMN_TYPES.fullmatch(each["type"]):
                yield f"5: {name}.{each['name']} is {each['type']}"
        yield from _dates(db, name, columns)
        yield from _shapes(db, row)
        yield from _index(db, name, column)


def _dates(db: sqlite3.Connection, name: str, columns: list[Any]) -> Iterator[str]:
    for each in columns:
        if each["type"] == "DATE":
            ask = f"SELECT {quoted(each['name'])} FROM {quoted(name)} WHERE {quoted(each['name'])} IS NOT NULL"
            if any(not re.fullmatch(r"\d{4}-\d{2}-\d{2}", str(value)) for (value,) in db.execute(ask)):
                yield f"5: {name}.{each['name']} holds what is no date"


def _shapes(db: sqlite3.Connection, told: Any) -> Iterator[str]:
    ask = f"SELECT {quoted(told['column_name'])} FROM {quoted(told['table_name'])}"
    wanted = TYPES.get(told["geometry_type_name"])
    for (blob,) in db.execute(ask):
        if blob is None:
            continue
        magic, version, flags = blob[:2], blob[2], blob[3]
        order: Literal["little", "big"] = "little" if flags & 1 else "big"
        if magic != b"GP" or version != 0 or flags & 0b1110_0000:
            yield f"19: a shape of {told['table_name']} has another head"
        if int.from_bytes(blob[4:8], order, signed=True) != told["srs_id"]:
            yield f"33: a shape of {told['table_name']} has other coordinates than its layer"
        shape = shapely.from_wkb(blob[8 + ENVELOPE_BYTES[flags >> 1 & 7] :])
        if bool(flags >> 4 & 1) != shape.is_empty:
            yield f"19: a shape of {told['table_name']} says wrongly whether it is empty"
        if wanted is not None and shapely.get_type_id(shape) != wanted:
            yield f"32: a {shape.geom_type} in {told['table_name']}"


def _index(db: sqlite3.Connection, name: str, column: str) -> Iterator[str]:
    """Yield what is wrong with the spatial index (annex F.3), where the file says that there is one."""
    ask = "SELECT 1 FROM gpkg_extensions WHERE table_name = ? AND extension_name = 'gpkg_rtree_index'"
    if not db.execute(ask, (name,)).fetchone():
        yield f"75: {name} has no index"
        return
    key = next(row["name"] for row in db.execute(f"PRAGMA table_info({quoted(name)})") if row["pk"])
    blobs = db.execute(f"SELECT {quoted(key)}, {quoted(column)} FROM {quoted(name)}").fetchall()
    boxes = {row[0]: row[1:] for row in db.execute(f"SELECT * FROM {quoted(f'rtree_{name}_{column}')}")}
    for number, blob in blobs:
        shape = None if blob is None else shapely.from_wkb(blob[8 + ENVELOPE_BYTES[blob[3] >> 1 & 7] :])
        if (shape is None or shape.is_empty) != (number not in boxes):
            yield f"77: row {number} of {name} is not as the index says"
        elif shape is not None and not shape.is_empty:
            west, south, east, north = shape.bounds
            box = boxes[number]
            slack = 1e-6 * max(1.0, float(np.abs(shape.bounds).max()))
            if not (box[0] - slack <= west and box[1] + slack >= east and box[2] - slack <= south and
                    box[3] + slack >= north):  # fmt: skip
                yield f"77: row {number} of {name} lies outside its box in the index"


def quoted(name: str) -> str:
    """Return a name as SQL takes any name."""
    return '"' + name.replace('"', '""') + '"'
