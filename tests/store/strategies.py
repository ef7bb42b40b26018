"""Any record that can exist, drawn column by column from its annotations and limits."""

from __future__ import annotations

import json
from datetime import date, timedelta
from typing import Any

import shapely
from hypothesis import strategies as st
from shapely.geometry.base import BaseGeometry

from pigmap.records import NetKind, Purpose, Record, Setting, Stay, StayState
from pigmap.records.limits import FIRST_DAY, LAST_DAY
from pigmap.store.columns import MOST_NUMBER, Column, Kind, columns
from pigmap.store.tables import RULES

TEXTS = st.text(st.characters(exclude_categories=["Cs"], exclude_characters="\0"), max_size=12)
NAMES = TEXTS.filter(lambda text: text.strip() != "" and text.strip(" ") != "")
DAYS = st.dates(FIRST_DAY, LAST_DAY - timedelta(days=1))
METRES = st.floats(-1e7, 1e7, allow_nan=False)
MONTH_DAYS = st.dates(date(2024, 1, 1), date(2024, 12, 31)).map(lambda day: f"{day:%m-%d}")


@st.composite
def squares(draw: st.DrawFn) -> shapely.Polygon:
    """Draw a rectangle with its corners anticlockwise, as the farm file keeps them."""
    x, y = draw(METRES), draw(METRES)
    return shapely.box(x, y, x + draw(st.floats(1, 900)), y + draw(st.floats(1, 900)))


POINTS = st.builds(shapely.Point, METRES, METRES)
LINES = st.lists(st.tuples(METRES, METRES), min_size=2, max_size=5, unique=True).map(shapely.LineString)
SHAPES: dict[type, st.SearchStrategy[Any]] = {
    shapely.Polygon: squares(),
    shapely.MultiPolygon: squares().map(lambda square: shapely.MultiPolygon([square])),
    shapely.Point: POINTS,
    shapely.LineString: LINES,
    BaseGeometry: squares() | POINTS | LINES,
}


def values(table: str, column: Column) -> st.SearchStrategy[Any]:
    """Return all values that a column may hold."""
    found = _filled(table, column)
    return st.none() | found if column.optional else found


def _filled(table: str, column: Column) -> st.SearchStrategy[Any]:
    rule = RULES[table]
    least, most = rule.limits.get(column.name, (None, None))
    match column.kind:
        case Kind.TEXT:
            if column.name in rule.month_days:
                return MONTH_DAYS
            return NAMES if column.name in rule.named else TEXTS
        case Kind.WHOLE:
            return st.integers(
                int(least if least is not None else -(2**63)), int(most if most is not None else 2**63 - 1)
            )
        case Kind.NUMBER:
            return st.floats(
                -MOST_NUMBER if least is None else least, MOST_NUMBER if most is None else most, allow_nan=False
            )
        case Kind.TRUTH:
            return st.booleans()
        case Kind.DAY:
            return DAYS
        case Kind.CHOICE:
            return st.sampled_from(list(column.of))  # type: ignore[call-overload]
        case Kind.LIST:
            items: st.SearchStrategy[Any] = st.integers(1, 5000) if column.of is int else TEXTS
            return st.lists(items, min_size=1 if table == NetKind.TABLE else 0, max_size=4).map(tuple)
        case Kind.SHAPE:
            return SHAPES[column.of]


def records(kind: type[Record]) -> st.SearchStrategy[Record]:
    """Return all records of a kind; what they point at is made up."""
    drawn = {
        column.attribute: values(kind.TABLE, column) for column in columns(kind) if column.name != "uid"
    } | _together(kind)
    return st.fixed_dictionaries(drawn).map(lambda found: kind(**_agreeing(kind, found)))


def _together(kind: type[Record]) -> dict[str, st.SearchStrategy[Any]]:
    if kind is Setting:
        return {
            "value_json": (st.booleans() | TEXTS | st.floats(allow_nan=False, allow_infinity=False)).map(json.dumps)
        }
    if kind is Purpose:
        return {"from_month_day": MONTH_DAYS, "to_month_day": MONTH_DAYS}
    return {}


_IN_ORDER = (
    ("in_on", "out_on"),
    ("set_on", "taken_on"),
    ("first_used_on", "retired_on"),
    ("happened_on", "until_on"),
    ("min_c", "max_c"),
    ("kv_500", "open_kv"),
    ("given_on", "last_on"),
    ("served_on", "farrowed_on"),
    ("farrowed_on", "weaned_on"),
    ("served_on", "farrowed_on"),
)
"""Columns of which the first is never after, or above, the second."""


def _agreeing(kind: type[Record], found: dict[str, Any]) -> dict[str, Any]:
    for first, last in _IN_ORDER:
        begin, end = found.get(first), found.get(last)
        if begin is not None and end is not None and end < begin:
            found[first], found[last] = end, begin
    if kind is Stay and found["out_on"] is None and found["state"] is StayState.PAST:
        found["state"] = StayState.RUNNING
    return found
