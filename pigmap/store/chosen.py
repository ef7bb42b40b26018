"""Which of its two tellings a row of a damaged farm file is taken from: its table, or the change log."""

from __future__ import annotations

from collections.abc import Iterable, Iterator
from dataclasses import dataclass, field, fields
from typing import Any

from shapely.geometry.base import BaseGeometry

from pigmap.errors import PigmapError
from pigmap.records import TABLES
from pigmap.store.audit import Row, broken_link, replayed, what_differs
from pigmap.store.columns import MOST_NUMBER, Column, Kind
from pigmap.store.kept_words import row_of
from pigmap.store.log import LogRow
from pigmap.store.rows import codec
from pigmap.store.salvage import Salvaged
from pigmap.store.schema import usual
from pigmap.store.tables import RULES

_WIDEST_M = 100_000.0
"""No field, way or paddock reaches so far. Own choice."""

Rows = dict[str, dict[str, Row]]


@dataclass(slots=True)
class Chosen:
    """The rows of a farm as they were pieced together, and how many came from where."""

    rows: Rows
    """By table and uid, whole, values as the log has them."""
    from_table: int = 0
    """As they stood in their table."""
    logged: set[tuple[str, str]] = field(default_factory=set)
    """Table and uid of those that were lost or damaged in their table, and made anew from the log."""
    doubted: set[tuple[str, str]] = field(default_factory=set)
    """Of those, the ones that stood in both and readable, but not alike."""
    lost: int = 0
    """Known to have been there, and in neither any more."""
    unlinked: int = 0
    """References to lost rows that were taken out."""


def choose(found: Salvaged) -> Chosen:
    """Piece the rows together: the log where it hangs together, else the table; neither is dropped without need."""
    chosen = Chosen({table: {} for table in TABLES})
    log = _by_row(found)
    for table in TABLES:
        has, told = found.tables.get(table, {}), log[table]
        for uid in has.keys() | told.keys():
            _take(chosen, found, table, uid, has.get(uid), told.get(uid, []))
    _unlink(chosen)
    return chosen


def log_rows(found: Salvaged) -> Iterator[LogRow]:
    """Yield the entries of the log that can be understood, oldest first."""
    for number in sorted(found.changes):
        edit, table, uid, _, before, after, _ = found.changes[number]
        try:
            entry = LogRow(number, edit, table, uid, row_of(before), row_of(after))
        except ValueError:
            continue
        yield entry


def _by_row(found: Salvaged) -> dict[str, dict[str, list[LogRow]]]:
    """Return the entries of each row by table and uid; none of a row of which no entry can be understood."""
    log: dict[str, dict[str, list[LogRow]]] = {table: {} for table in TABLES}
    for _, table, uid, *_ in found.changes.values():
        if table in log:
            log[table][uid] = []
    for entry in log_rows(found):
        if entry.table in log:
            log[entry.table][entry.uid].append(entry)
    return log


def _take(chosen: Chosen, found: Salvaged, table: str, uid: str, has: Row | None, entries: list[LogRow]) -> None:
    told = replayed(entries).get(table, {}).get(uid)
    links = bool(entries) and not broken_link(entries)
    stands = has if has is not None and is_row(table, uid, has) else None
    logged = whole_row(table, told) if told is not None and is_row(table, uid, told) else None
    if stands is not None and (logged is None or not links or not what_differs(table, logged, stands)):
        chosen.rows[table][uid] = stands
        chosen.from_table += 1
        if not entries and found.log_is_whole:
            chosen.doubted.add((table, uid))
    elif logged is not None and (has is not None or _may_be_missing(found, table)):
        chosen.rows[table][uid] = logged
        chosen.logged.add((table, uid))
        if stands is not None:
            chosen.doubted.add((table, uid))
    elif told is not None or has is not None or not entries:
        chosen.lost += _may_be_missing(found, table)


def _may_be_missing(found: Salvaged, table: str) -> bool:
    """Whether a row that is in the log alone was lost; else it may be its removal that the log has lost."""
    return table in found.torn or found.log_is_whole


def is_row(table: str, uid: Any, row: Row) -> bool:
    """Whether values, as the log has them, make a row that can exist."""
    whole = whole_row(table, row)
    if not isinstance(uid, str) or not all(_fits(each, whole.get(each.name)) for each in _told(table)):
        return False
    try:
        made = codec(table).made(uid, whole)
    except (PigmapError, ValueError, TypeError, KeyError, AttributeError):
        return False
    values = (getattr(made, each.name) for each in fields(made))
    return all(_can_be(each) for each in values if isinstance(each, BaseGeometry))


def _can_be(shape: BaseGeometry) -> bool:
    """Whether a shape can be one of a farm: a flipped bit flings a corner far off, or lets edges cross."""
    if shape.is_empty:
        return True
    west, south, east, north = shape.bounds
    return bool(shape.is_valid and max(east - west, north - south) <= _WIDEST_M)


def _told(table: str) -> list[Column]:
    return [column for column in codec(table).columns if column.name != "uid"]


def _fits(column: Column, value: Any) -> bool:
    if value is None:
        return column.optional
    match column.kind:
        case Kind.NUMBER:
            return isinstance(value, int | float) and abs(value) <= MOST_NUMBER
        case Kind.WHOLE | Kind.TRUTH:
            return isinstance(value, int)
    return isinstance(value, str)


def whole_row(table: str, row: Row) -> Row:
    """Return a row with what a later step of the schema brought, where it tells nothing of that."""
    later = {column.name: usual(column) for column in codec(table).columns if column.name in RULES[table].since}
    known = {column.name for column in codec(table).columns}
    return {**later, **{name: value for name, value in row.items() if name in known}}


def drop(chosen: Chosen, rows: Iterable[tuple[str, str]]) -> None:
    """Take rows out that the farm file does not take, and what points at them."""
    for table, uid in rows:
        _lose(chosen, table, uid)
    _unlink(chosen)


def _unlink(chosen: Chosen) -> None:
    """Take out what points at rows that are lost: the reference where it may be empty, else the row."""
    changed = True
    while changed:
        changed = False
        for table, rule in RULES.items():
            for name, target in rule.refers.items():
                optional = next(column.optional for column in codec(table).columns if column.name == name)
                rows = chosen.rows[table]
                there = chosen.rows[target]
                for uid in [uid for uid, row in rows.items() if row.get(name) is not None and row[name] not in there]:
                    changed = True
                    if optional:
                        rows[uid] = {**rows[uid], name: None}
                        chosen.unlinked += 1
                    else:
                        _lose(chosen, table, uid)


def _lose(chosen: Chosen, table: str, uid: str) -> None:
    """Take a row out, and out of what is counted of those that are there."""
    del chosen.rows[table][uid]
    chosen.logged.discard((table, uid))
    chosen.doubted.discard((table, uid))
    chosen.lost += 1
