"""Does a farm file still keep to its frame: the lists of the GeoPackage, and the triggers that write the change log."""

from __future__ import annotations

import sqlite3
from collections.abc import Iterator, Mapping
from contextlib import closing
from functools import cache
from types import MappingProxyType

from pigmap.records import Projection
from pigmap.records.projection import NO_PLACE
from pigmap.store import migrations
from pigmap.store.columns import SHAPE_COLUMN, Kind
from pigmap.store.connection import add_functions
from pigmap.store.frame import APPLICATION_ID, GEOPACKAGE_VERSION, make_frame
from pigmap.store.naming import table_word
from pigmap.store.schema import table_columns
from pigmap.store.tables import RULES, TableRule
from pigmap.text import Text


def frame_faults(db: sqlite3.Connection) -> Iterator[Text]:
    """Yield what is missing of the frame; a file with other things beside it is sound."""
    step, _ = migrations.version_of(db)
    if _numbers(db) != (APPLICATION_ID, GEOPACKAGE_VERSION):
        yield Text("The head of the file no longer says that it is a GeoPackage 1.4.")
    has = dict(db.execute("SELECT name, sql FROM sqlite_master"))
    for name, sql in drawn_up(min(step, len(migrations.STEPS))).items():
        if name not in has:
            yield Text("{name} is missing among what belongs to the file's tables.", {"name": name})
        elif sql.startswith("CREATE TRIGGER") and has[name] != sql:
            yield Text("The trigger {name} is not the one that keeps the file in order.", {"name": name})
    for rule in RULES.values():
        if rule.step <= step:
            yield from _listed(db, rule, step)


@cache
def drawn_up(step: int) -> Mapping[str, str]:
    """Return the SQL of all that a new file of some step of the schema has, by name."""
    with closing(empty_farm(NO_PLACE, step)) as db:
        return MappingProxyType(dict(db.execute("SELECT name, sql FROM sqlite_master WHERE sql NOT NULL")))


def empty_farm(projection: Projection, step: int) -> sqlite3.Connection:
    """Return a farm file in memory, of some step of the schema, with nothing in it; it may go to other threads."""
    db = sqlite3.connect(":memory:", isolation_level=None, check_same_thread=False)
    add_functions(db)
    db.execute("BEGIN")
    make_frame(db, projection)
    for bring in migrations.STEPS[:step]:
        bring(db)
    db.execute("UPDATE pigmap_document SET schema_version = ?, oldest_reader = ?", (step, migrations.OLDEST_READER))
    db.execute("COMMIT")
    return db


def _numbers(db: sqlite3.Connection) -> tuple[int, int]:
    (application,), (version,) = (
        db.execute(f"PRAGMA {name}").fetchone() for name in ("application_id", "user_version")
    )
    return int(application), int(version)


def _listed(db: sqlite3.Connection, rule: TableRule, step: int) -> Iterator[Text]:
    shapes = any(column.kind is Kind.SHAPE for column in table_columns(rule, step))
    asked = [("gpkg_contents", "data_type = ?", "features" if shapes else "attributes")]
    if shapes:
        asked += [
            ("gpkg_geometry_columns", "column_name = ?", SHAPE_COLUMN),
            ("gpkg_extensions", "extension_name = ?", "gpkg_rtree_index"),
        ]
    for where, condition, value in asked:
        found = db.execute(f"SELECT 1 FROM {where} WHERE table_name = ? AND {condition}", (rule.name, value))
        if found.fetchone() is None:
            words = "The list {list} of the GeoPackage does not have {table}: other programs would not see them."
            yield Text(words, {"list": where, "table": table_word(rule.name)})
