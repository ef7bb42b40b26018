"""The SQL of a farm table, made from its description: columns with their checks, uids, change log, RTree."""

from __future__ import annotations

import dataclasses
from collections.abc import Iterator
from enum import Enum
from typing import Any

from pigmap.records.limits import FIRST_DAY, LAST_DAY
from pigmap.store.columns import MOST_NUMBER, SHAPE_COLUMN, Column, Kind, columns
from pigmap.store.tables import TableRule

_UUID = (
    "lower(hex(randomblob(4)) || '-' || hex(randomblob(2)) || '-4' || substr(hex(randomblob(2)), 2) || '-' || "
    "substr('89ab', 1 + (random() & 3), 1) || substr(hex(randomblob(2)), 2) || '-' || hex(randomblob(6)))"
)


def statements(rule: TableRule, step: int) -> Iterator[str]:
    """Yield the SQL that makes a farm table as it is after some step of the schema."""
    kept = table_columns(rule, step)
    yield _table(rule, kept)
    yield from _indexes(rule, kept)
    yield from _uid_triggers(rule.name)
    yield from _log_triggers(rule.name, kept)
    if any(column.kind is Kind.SHAPE for column in kept):
        yield from _rtree(rule.name)


def table_columns(rule: TableRule, step: int) -> tuple[Column, ...]:
    """Return the columns that a table has after some step of the schema; none before the step that makes it."""
    if step < rule.step:
        return ()
    return tuple(column for column in columns(rule.record) if rule.since.get(column.name, rule.step) <= step)


def column_statements(rule: TableRule, name: str, step: int) -> Iterator[str]:
    """Yield the SQL that brings a column of a later step into its table, and into what the change log is told."""
    kept = table_columns(rule, step)
    column = next(each for each in kept if each.name == name)
    yield f'ALTER TABLE "{rule.name}" ADD COLUMN {_declaration(rule, column)}'
    for sql in _log_triggers(rule.name, kept):
        yield f"DROP TRIGGER {sql.split()[2]}"
        yield sql


def _table(rule: TableRule, kept: tuple[Column, ...]) -> str:
    lines = ["fid INTEGER PRIMARY KEY AUTOINCREMENT NOT NULL"]
    for column in sorted(kept, key=lambda column: column.kind is not Kind.SHAPE):  # the shape first, as GDAL does
        lines.append(_declaration(rule, column))
    for name, condition in rule.conditions.items():
        lines.append(f"CONSTRAINT {rule.name}_{name}_2 CHECK({condition})")
    return f'CREATE TABLE "{rule.name}" (\n  ' + ",\n  ".join(lines) + "\n)"


def _declaration(rule: TableRule, column: Column) -> str:
    words = [f'"{column.name}" {column.sql_type}']
    if column.name == "uid":
        words.append("UNIQUE")  # without a default: other software would store the text of an expression
    elif not column.optional:
        words.append("NOT NULL")
        if column.default is not dataclasses.MISSING and column.kind is not Kind.SHAPE:
            words.append(f"DEFAULT {literal(usual(column))}")
    if column.name in rule.unique:
        words.append("UNIQUE")
    condition = _condition(rule, column)
    words.append(f"CONSTRAINT {rule.name}_{column.name} CHECK({condition})")
    if column.name in rule.refers:
        words.append(f'REFERENCES "{rule.refers[column.name]}"(uid) DEFERRABLE INITIALLY DEFERRED')
    return " ".join(words)


def usual(column: Column) -> Any:
    """Return what a row has in a column where nothing was said, as SQLite stores it; None where something must be."""
    return None if column.default is dataclasses.MISSING else column.to_row(column.default)


def literal(value: Any) -> str:
    """Return a value as SQL writes it."""
    if value is None:
        return "NULL"
    return "'" + value.replace("'", "''") + "'" if isinstance(value, str) else repr(value)


def _condition(rule: TableRule, column: Column) -> str:
    name = f'"{column.name}"'
    parts = [f"typeof({name}) = '{_STORED[column.kind]}'", *_range(rule, column, name)]
    asked = " AND ".join(parts)
    may_be_empty = column.optional or column.name == "uid"
    return f"{name} IS NULL OR ({asked})" if may_be_empty else asked


_STORED = {
    Kind.TEXT: "text",
    Kind.WHOLE: "integer",
    Kind.NUMBER: "real",
    Kind.TRUTH: "integer",
    Kind.DAY: "text",
    Kind.CHOICE: "text",
    Kind.LIST: "text",
    Kind.SHAPE: "blob",
}


def _range(rule: TableRule, column: Column, name: str) -> Iterator[str]:
    match column.kind:
        case Kind.TRUTH:
            yield f"{name} IN (0, 1)"
        case Kind.DAY:
            # The modifier makes SQLite work the day out: without it 30 February passes.
            yield f"{name} IS date({name}, '+0 days')"
            yield f"{name} >= '{FIRST_DAY}' AND {name} < '{LAST_DAY}'"
        case Kind.CHOICE if issubclass(column.of, Enum):
            yield f"{name} IN ({', '.join(literal(each.value) for each in column.of)})"
        case Kind.LIST:
            yield f"json_valid({name}) AND json_type({name}) = 'array'"
        case Kind.SHAPE:
            yield f"length({name}) > 8 AND substr({name}, 1, 2) = x'4750'"
        case Kind.NUMBER | Kind.WHOLE:
            yield from _number_range(rule, column, name)
        case Kind.TEXT:
            yield from _text_form(rule, column, name)


def _number_range(rule: TableRule, column: Column, name: str) -> Iterator[str]:
    least, most = rule.limits.get(column.name, (None, None))
    if column.kind is Kind.NUMBER:
        least, most = -MOST_NUMBER if least is None else least, MOST_NUMBER if most is None else most
    if least is not None:
        yield f"{name} >= {least!r}"
    if most is not None:
        yield f"{name} <= {most!r}"


def _text_form(rule: TableRule, column: Column, name: str) -> Iterator[str]:
    if column.name in rule.named or column.name == "uid":
        yield f"trim({name}) <> ''"
    if column.name in rule.month_days:
        yield f"{name} GLOB '[01][0-9]-[0-3][0-9]'"
        yield f"substr({name}, 1, 2) BETWEEN '01' AND '12' AND substr({name}, 4, 2) BETWEEN '01' AND '31'"


def _indexes(rule: TableRule, kept: tuple[Column, ...]) -> Iterator[str]:
    names = {column.name for column in kept}
    wanted = [index for index in rule.indexes if set(index) <= names]
    led = {index[0] for index in wanted}
    wanted += [(name,) for name in rule.refers if name in names and name not in led]
    for index in wanted:
        listed = ", ".join(f'"{name}"' for name in index)
        yield f'CREATE INDEX "pigmap_{rule.name}_{"_".join(index)}" ON "{rule.name}" ({listed})'


def _uid_triggers(table: str) -> Iterator[str]:
    yield (
        f'CREATE TRIGGER "pigmap_uid_{table}" AFTER INSERT ON "{table}" WHEN NEW.uid IS NULL BEGIN '
        f'UPDATE "{table}" SET uid = {_UUID} WHERE fid = NEW.fid; END'
    )
    yield (
        f'CREATE TRIGGER "pigmap_uid_{table}_stays" BEFORE UPDATE OF uid ON "{table}" '
        "WHEN OLD.uid IS NOT NULL AND OLD.uid IS NOT NEW.uid BEGIN "
        "SELECT RAISE(ABORT, 'the uid of a row never changes'); END"
    )


def _log_triggers(table: str, kept: tuple[Column, ...]) -> Iterator[str]:
    """Yield the triggers that write the change log with nothing but functions that every SQLite has."""
    values = [column for column in kept if column.name != "uid"]
    new, old = (row_as_json(values, side) for side in ("NEW", "OLD"))
    row = _log_row(table, "add", "NULL", new)
    head = f'CREATE TRIGGER "pigmap_log_{table}_'
    yield f'{head}add" AFTER INSERT ON "{table}" WHEN NEW.uid IS NOT NULL BEGIN {row} END'
    yield f'{head}named" AFTER UPDATE OF uid ON "{table}" WHEN OLD.uid IS NULL AND NEW.uid IS NOT NULL BEGIN {row} END'
    differs = " OR ".join(_differs(column) for column in values)
    row = _log_row(table, "change", _changed_values(values, "OLD"), _changed_values(values, "NEW"))
    yield f'{head}change" AFTER UPDATE ON "{table}" WHEN OLD.uid IS NOT NULL AND ({differs}) BEGIN {row} END'
    row = _log_row(table, "remove", old, "NULL").replace("NEW.uid", "OLD.uid")
    yield f'{head}remove" AFTER DELETE ON "{table}" WHEN OLD.uid IS NOT NULL BEGIN {row} END'


def _log_row(table: str, op: str, before: str, after: str) -> str:
    return (
        "INSERT INTO pigmap_changes (edit_id, table_name, row_uid, op, before_json, after_json) VALUES "
        f"((SELECT current_edit FROM pigmap_document), '{table}', NEW.uid, '{op}', {before}, {after});"
    )


def _differs(column: Column) -> str:
    return f'OLD."{column.name}" IS NOT NEW."{column.name}"'


def row_as_json(values: list[Column], side: str) -> str:
    """Return SQL for a whole row as the change log has it; `side` is ``NEW``, ``OLD`` or the name of the table."""
    pairs = [f"'\"{column.name}\":' || {_json(column, side)}" for column in values]
    return "'{' || " + " || ',' || ".join(pairs) + " || '}'"


def _changed_values(values: list[Column], side: str) -> str:
    pairs = [
        f"CASE WHEN {_differs(column)} THEN ',\"{column.name}\":' || {_json(column, side)} ELSE '' END"
        for column in values
    ]
    return "'{' || substr(" + " || ".join(pairs) + ", 2) || '}'"


def _json(column: Column, side: str) -> str:
    """Return SQL for a value as JSON text: reals with 17 digits (json_object would keep 15), blobs as hex."""
    value = f'{side}."{column.name}"'
    match column.kind:
        case Kind.NUMBER:
            return f"CASE WHEN {value} IS NULL THEN 'null' ELSE printf('%!.17g', {value}) END"
        case Kind.SHAPE:
            return f"CASE WHEN {value} IS NULL THEN 'null' ELSE '\"' || hex({value}) || '\"' END"  # hex(NULL) is ''
    return f"json_quote({value})"


def _rtree(table: str) -> Iterator[str]:
    """Yield the spatial index of a table with the triggers of GeoPackage 1.4, as GDAL names them."""
    tree, shape = f'"rtree_{table}_{SHAPE_COLUMN}"', f'"{SHAPE_COLUMN}"'
    new, old = (f"({side}.{shape} NOTNULL AND NOT ST_IsEmpty({side}.{shape}))" for side in ("NEW", "OLD"))
    no_new, no_old = (f"({side}.{shape} ISNULL OR ST_IsEmpty({side}.{shape}))" for side in ("NEW", "OLD"))
    box = ", ".join(f"ST_{name}(NEW.{shape})" for name in ("MinX", "MaxX", "MinY", "MaxY"))
    boxed = ", ".join(f"{name.lower()} = ST_{name}(NEW.{shape})" for name in ("MinX", "MaxX", "MinY", "MaxY"))
    put = f"INSERT OR REPLACE INTO {tree} VALUES (NEW.fid, {box});"
    of_shape, same = f"UPDATE OF {shape}", "OLD.fid = NEW.fid"
    triggers = {
        "insert": ("INSERT", new, put),
        "update6": (of_shape, f"{same} AND {new} AND {old}", f"UPDATE {tree} SET {boxed} WHERE id = NEW.fid;"),
        "update7": (of_shape, f"{same} AND {new} AND {no_old}", f"INSERT INTO {tree} VALUES (NEW.fid, {box});"),
        "update2": (of_shape, f"{same} AND {no_new}", f"DELETE FROM {tree} WHERE id = OLD.fid;"),
        "update5": ("UPDATE", f"OLD.fid != NEW.fid AND {new}", f"DELETE FROM {tree} WHERE id = OLD.fid; {put}"),
        "update4": (
            "UPDATE",
            f"OLD.fid != NEW.fid AND {no_new}",
            f"DELETE FROM {tree} WHERE id IN (OLD.fid, NEW.fid);",
        ),
        "delete": ("DELETE", f"OLD.{shape} NOT NULL", f"DELETE FROM {tree} WHERE id = OLD.fid;"),
    }
    yield f"CREATE VIRTUAL TABLE {tree} USING rtree(id, minx, maxx, miny, maxy)"
    for name, (event, condition, act) in triggers.items():
        yield (
            f'CREATE TRIGGER "rtree_{table}_{SHAPE_COLUMN}_{name}" AFTER {event} ON "{table}" '
            f"WHEN {condition} BEGIN {act} END"
        )
