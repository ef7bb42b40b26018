"""Edits of any kind on any table, drawn from a seed: rows added, changed, removed, several at once."""

from __future__ import annotations

import json
import string
from collections.abc import Iterator, Sequence
from dataclasses import fields, replace
from datetime import date, timedelta
from random import Random
from typing import Any

import shapely
from shapely.geometry.base import BaseGeometry

from pigmap.records import TABLES, Farm, Record, RowChange, StayState, add, change, new_uid, remove
from pigmap.store.columns import Column, Kind, columns
from pigmap.store.tables import RULES


def random_changes(chance: Random, farm: Farm) -> Sequence[RowChange]:
    """Return the changes of one edit that a farm can take."""
    table = chance.choice(list(TABLES))
    rows = list(farm.rows(table).values())
    kind = chance.random()
    if rows and kind < 0.3:
        return [_changed(chance, farm, row) for row in chance.sample(rows, min(len(rows), chance.randint(1, 3)))]
    if rows and kind < 0.45:
        return [remove(row) for row in _with_dependents(farm, chance.choice(rows))]
    return [add(row) for row in _with_what_it_needs(chance, farm, table)]


def _with_what_it_needs(chance: Random, farm: Farm, table: str) -> Iterator[Record]:
    """Yield a new row, before it the rows it must point at where the farm has none."""
    needed: dict[str, str | None] = {}
    for column in columns(TABLES[table]):
        target = RULES[table].refers.get(column.name)
        if target is None:
            continue
        there = list(farm.rows(target))
        if there and (not column.optional or chance.random() < 0.7):
            needed[column.attribute] = chance.choice(there)
        elif column.optional:
            needed[column.attribute] = None
        else:
            *first, last = _with_what_it_needs(chance, farm, target)
            yield from (*first, last)
            needed[column.attribute] = last.uid
    yield _row(chance, table, needed)


def _row(chance: Random, table: str, given: dict[str, Any]) -> Record:
    drawn = {column.attribute: _value(chance, table, column) for column in columns(TABLES[table])}
    return TABLES[table](**_agreeing(drawn | given))


def _changed(chance: Random, farm: Farm, row: Record) -> RowChange:
    names = [each.name for each in fields(row) if each.name != "uid" and each.name not in RULES[row.TABLE].refers]
    by_name = {column.attribute: column for column in columns(type(row))}
    picked = chance.sample(names, chance.randint(1, min(3, len(names))))
    drawn = {name: _value(chance, row.TABLE, by_name[name]) for name in picked}
    together = {name for pair in _IN_ORDER for name in pair} | {"state"}
    whole = _agreeing({name: getattr(row, name) for name in names if name in together} | drawn)
    return change(row, replace(row, **whole))


_IN_ORDER = (
    ("in_on", "out_on"),
    ("set_on", "taken_on"),
    ("first_used_on", "retired_on"),
    ("min_c", "max_c"),
    ("happened_on", "until_on"),
    ("kv_500", "open_kv"),
    ("given_on", "last_on"),
    ("served_on", "farrowed_on"),
    ("farrowed_on", "weaned_on"),
    ("served_on", "farrowed_on"),
)
"""Columns of which the first is never after, or above, the second."""


def _agreeing(drawn: dict[str, Any]) -> dict[str, Any]:
    """Mend what does not go together in a row."""
    for first, last in _IN_ORDER:
        begin, end = drawn.get(first), drawn.get(last)
        if begin is not None and end is not None and end < begin:
            drawn[first], drawn[last] = end, begin
    if "in_on" in drawn and drawn["out_on"] is None and drawn["state"] is StayState.PAST:
        drawn["state"] = StayState.RUNNING
    return drawn


def _with_dependents(farm: Farm, row: Record) -> list[Record]:
    """Return a row after all rows that point at it, directly or by others."""
    found: dict[str, Record] = {}
    for table, rule in RULES.items():
        for name in (name for name, target in rule.refers.items() if target == row.TABLE):
            for other in farm.rows(table).values():
                if getattr(other, name) == row.uid and other.uid != row.uid:
                    found |= {each.uid: each for each in _with_dependents(farm, other)}
    return [*found.values(), row]


def _value(chance: Random, table: str, column: Column) -> Any:
    if column.optional and chance.random() < 0.3:
        return None
    least, most = RULES[table].limits.get(column.name, (None, None))
    match column.kind:
        case Kind.TEXT:
            return _text(chance, table, column.name)
        case Kind.WHOLE:
            return chance.randint(int(least or 0), int(most if most is not None else 10**6))
        case Kind.NUMBER:
            return chance.uniform(least if least is not None else -1e6, most if most is not None else 1e6)
        case Kind.TRUTH:
            return chance.random() < 0.5
        case Kind.DAY:
            return date(2024, 1, 1) + timedelta(days=chance.randrange(1500))
        case Kind.CHOICE:
            return chance.choice(list(column.of))  # type: ignore[call-overload]
        case Kind.LIST:
            made = (chance.randint(1, 5000) if column.of is int else _word(chance) for _ in range(chance.randint(1, 9)))
            return tuple(made)
        case Kind.SHAPE:
            return _shape(chance, column.of)


def _text(chance: Random, table: str, name: str) -> str:
    if name == "uid":
        return new_uid()
    if name in RULES[table].month_days:
        return f"{chance.randint(1, 12):02}-{chance.randint(1, 28):02}"
    if name == "value_json":
        return json.dumps([chance.random(), _word(chance)])
    return _word(chance)


def _word(chance: Random) -> str:
    return "".join(chance.choices(string.ascii_letters + " äß'\"\n{}", k=chance.randint(3, 12))) + "."


def _shape(chance: Random, of: type) -> BaseGeometry:
    x, y = chance.uniform(4e5, 6e5), chance.uniform(5e6, 6e6)
    corner = (x + chance.uniform(1, 300), y + chance.uniform(1, 300))
    square = shapely.box(x, y, *corner)
    match of:
        case shapely.Point:
            return shapely.Point(x, y)
        case shapely.LineString:
            return shapely.LineString([(x, y), corner])
        case shapely.MultiPolygon:
            return shapely.MultiPolygon([square])
        case shapely.Polygon:
            return square
    return chance.choice([square, shapely.Point(x, y), shapely.LineString([(x, y), corner])])
