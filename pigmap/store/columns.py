"""What each column of a farm table holds, read off the annotations of its record."""

from __future__ import annotations

import dataclasses
import json
from collections.abc import Callable
from datetime import date
from enum import Enum, auto
from functools import cache
from types import NoneType, UnionType
from typing import Any, get_args, get_origin, get_type_hints

from shapely.geometry.base import BaseGeometry

from pigmap.errors import EditError
from pigmap.records import TABLES, Record
from pigmap.store.naming import column_word
from pigmap.text import Text

SHAPE_COLUMN = "geom"

MOST_NUMBER = 1e15
"""No number of a farm is larger; far above it (from about 1e50) 17 digits of SQLite's are not always the number."""


class Kind(Enum):
    """What sort of value a column holds."""

    TEXT = auto()
    WHOLE = auto()
    NUMBER = auto()
    TRUTH = auto()
    DAY = auto()
    CHOICE = auto()
    LIST = auto()
    SHAPE = auto()


_SQL_TYPES = {
    Kind.TEXT: "TEXT",
    Kind.WHOLE: "INTEGER",
    Kind.NUMBER: "DOUBLE",
    Kind.TRUTH: "BOOLEAN",
    Kind.DAY: "DATE",
    Kind.CHOICE: "TEXT",
    Kind.LIST: "TEXT",
}


@dataclasses.dataclass(frozen=True, slots=True)
class Column:
    """One column of a farm table, and the attribute of the record it comes from."""

    attribute: str
    name: str
    kind: Kind
    of: type
    """The attribute's own type; of a list, that of its items."""
    optional: bool
    default: Any
    """What a row has where nothing was said, `dataclasses.MISSING` where something must be said."""

    @property
    def sql_type(self) -> str:
        """Type under which a GeoPackage declares the column."""
        if self.kind is not Kind.SHAPE:
            return _SQL_TYPES[self.kind]
        return "GEOMETRY" if self.of is BaseGeometry else self.of.__name__.upper()

    def to_row(self, value: Any) -> Any:
        """Return the value as SQLite stores it; shapes are left to `pigmap.store.shapes`.

        Raises
        ------
        EditError
            If the value cannot be stored without becoming another one.
        """
        if value is None or self.kind is Kind.SHAPE:
            return value
        return _TO_ROW[self.kind](self, value)

    def from_row(self, value: Any) -> Any:
        """Return the value as the record holds it; shapes are left to `pigmap.store.shapes`."""
        if value is None:
            return None
        match self.kind:
            case Kind.NUMBER:
                return float(value)
            case Kind.TRUTH:
                return bool(value)
            case Kind.DAY:
                return date.fromisoformat(value)
            case Kind.CHOICE:
                return self.of(value)
            case Kind.LIST:
                return tuple(json.loads(value))
        return value

    @property
    def as_stored(self) -> bool:
        """Whether SQLite hands out exactly what the record holds, so that nothing needs converting."""
        return self.kind in (Kind.TEXT, Kind.WHOLE, Kind.NUMBER)


def _text(column: Column, value: Any) -> str:
    text = str(value)
    if not text.isprintable() and any(letter == "\0" or "\ud800" <= letter <= "\udfff" for letter in text):
        raise _cannot(column, text.encode("unicode_escape").decode("ascii")[:40], "Give it without that sign.")
    return text


def _whole(column: Column, value: Any) -> int:
    number = int(value)
    if number != value or not -(2**63) <= number < 2**63:
        raise _cannot(column, str(value), "Give a whole number.")
    return number


def _number(column: Column, value: Any) -> float:
    number = float(value)
    if not abs(number) <= MOST_NUMBER:
        raise _cannot(column, f"{number:g}", f"Give a number within {MOST_NUMBER:g}.")
    return number


def _list(_column: Column, value: Any) -> str:
    return json.dumps(list(value), ensure_ascii=False, separators=(",", ":"))


_TO_ROW: dict[Kind, Callable[[Column, Any], Any]] = {
    Kind.TEXT: _text,
    Kind.WHOLE: _whole,
    Kind.NUMBER: _number,
    Kind.TRUTH: lambda _, value: int(bool(value)),
    Kind.DAY: lambda _, value: value.isoformat(),
    Kind.CHOICE: lambda column, value: column.of(value).value,
    Kind.LIST: _list,
}


def _cannot(column: Column, value: str, remedy: str) -> EditError:
    return EditError("{what} cannot be {value}.", remedy=remedy, what=Text(column_word(column.name)), value=value)


def columns(record: type[Record]) -> tuple[Column, ...]:
    """Return the columns of a record's table in the order of its attributes; ``fid`` is not among them."""
    return _columns(record.TABLE)


@cache
def _columns(table: str) -> tuple[Column, ...]:
    record = TABLES[table]
    hints = get_type_hints(record)
    return tuple(_column(each, hints[each.name]) for each in dataclasses.fields(record))


def _column(attribute: dataclasses.Field[Any], hint: Any) -> Column:
    optional = get_origin(hint) is UnionType and NoneType in get_args(hint)
    if optional:
        (hint,) = (part for part in get_args(hint) if part is not NoneType)
    kind, of = _kind(hint)
    name = SHAPE_COLUMN if kind is Kind.SHAPE else attribute.name
    return Column(attribute.name, name, kind, of, optional, attribute.default)


_PLAIN: dict[type, Kind] = {
    str: Kind.TEXT,
    int: Kind.WHOLE,
    float: Kind.NUMBER,
    bool: Kind.TRUTH,
    date: Kind.DAY,
}


def _kind(hint: Any) -> tuple[Kind, type]:
    if get_origin(hint) is tuple:
        return Kind.LIST, get_args(hint)[0]
    if hint in _PLAIN:
        return _PLAIN[hint], hint
    if isinstance(hint, type) and issubclass(hint, Enum):
        return Kind.CHOICE, hint
    if isinstance(hint, type) and issubclass(hint, BaseGeometry):
        return Kind.SHAPE, hint
    raise TypeError(f"a farm table has no column for {hint!r}")
