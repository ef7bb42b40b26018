"""The books of a farm, page by page: medicine, register, litters, slaughter, escapes; lines with their columns."""

from __future__ import annotations

from collections.abc import Callable, Iterator, Mapping
from datetime import date
from enum import StrEnum
from types import MappingProxyType
from typing import NamedTuple, TypeAlias

from pigmap.planning.names import group_called, paddock_called
from pigmap.records import Direction, Farm, Record
from pigmap.text import Text, Value

Cell: TypeAlias = Value | float | None


class BookPage(StrEnum):
    """The pages."""

    MEDICINE = "medicine"
    REGISTER = "register"
    LITTERS = "litters"
    SLAUGHTER = "slaughter"
    ESCAPES = "escapes"


TITLES: Mapping[BookPage, Text] = MappingProxyType(
    {
        BookPage.MEDICINE: Text("Medicine"),
        BookPage.REGISTER: Text("Register"),
        BookPage.LITTERS: Text("Litters"),
        BookPage.SLAUGHTER: Text("Slaughter"),
        BookPage.ESCAPES: Text("Escapes"),
    }
)


class Column(NamedTuple):
    """One column of a page."""

    name: str
    """In a list for a spreadsheet."""
    heading: Text
    wide: float
    """Share of the breadth."""
    unit: str = ""
    """``kg`` or ``kV`` where its numbers have one."""


class BookLine(NamedTuple):
    """One line of a page."""

    row: Record
    day: date | None
    """The day by which it is sorted, and counts to a year."""
    group_uid: str | None
    cells: tuple[Cell, ...]


_DAY = Column("day", Text("Day"), 2.0)
_GROUP = Column("group", Text("Group"), 2.4)
_PIGS = Column("pigs", Text("Pigs"), 1.0)
_NOTE = Column("note", Text("Note"), 2.0)

COLUMNS: Mapping[BookPage, tuple[Column, ...]] = MappingProxyType(
    {
        BookPage.MEDICINE: (
            Column("given_on", Text("Given on"), 2.0),
            Column("last_on", Text("Last on"), 2.0),
            _GROUP,
            _PIGS,
            Column("which", Text("Which"), 1.8),
            Column("medicine", Text("Medicine"), 2.2),
            Column("dose", Text("Dose"), 1.6),
            Column("batch", Text("Batch"), 1.6),
            Column("withdrawal_days", Text("Days held"), 1.1),
            Column("free_on", Text("Free on"), 2.0),
            Column("given_by", Text("Given by"), 1.6),
            _NOTE,
        ),
        BookPage.REGISTER: (
            _DAY,
            Column("direction", Text("On or off"), 1.2),
            _PIGS,
            Column("mark", Text("Mark"), 2.0),
            Column("from_where", Text("From"), 2.6),
            Column("to_where", Text("To"), 2.6),
            _GROUP,
            _NOTE,
        ),
        BookPage.LITTERS: (
            Column("sow", Text("Sow"), 1.8),
            _GROUP,
            Column("served_on", Text("Served"), 2.0),
            Column("due_on", Text("Due"), 2.0),
            Column("farrowed_on", Text("Farrowed"), 2.0),
            Column("born", Text("Born"), 0.9),
            Column("weaned_on", Text("Weaned on"), 2.0),
            Column("weaned", Text("Weaned"), 1.1),
            Column("weaned_to", Text("To group"), 2.0),
            _NOTE,
        ),
        BookPage.SLAUGHTER: (
            _DAY,
            _GROUP,
            Column("booked", Text("Booked"), 1.1),
            Column("heavy_enough_from_kg", Text("From"), 1.3, "kg"),
            Column("went", Text("Went"), 1.0),
            Column("dead_kg", Text("Dead weight"), 1.5, "kg"),
            Column("loaded_at", Text("Loaded at"), 2.0),
            _NOTE,
        ),
        BookPage.ESCAPES: (
            _DAY,
            _GROUP,
            Column("paddock", Text("Paddock"), 2.2),
            Column("out", Text("Out"), 0.8),
            Column("back", Text("Back"), 0.8),
            Column("fence_kv", Text("Fence"), 1.2, "kV"),
            Column("why", Text("Why"), 3.0),
            _NOTE,
        ),
    }
)


def book_lines(farm: Farm, page: BookPage, *, group_uid: str | None = None, year: int | None = None) -> list[BookLine]:
    """Return the lines of a page, earliest first; of one group and of one year where that is asked for."""
    found = [
        each
        for each in _LINES[page](farm)
        if group_uid in (None, each.group_uid) and (year is None or (each.day is not None and each.day.year == year))
    ]
    return sorted(found, key=lambda each: each.day or date.min)  # of one day as they went in


def years_of(farm: Farm, page: BookPage) -> list[int]:
    """Return the years that a page has lines of, the last first."""
    return sorted({each.day.year for each in _LINES[page](farm) if each.day is not None}, reverse=True)


def _medicine(farm: Farm) -> Iterator[BookLine]:
    for row in farm.treatments.values():
        cells: tuple[Cell, ...] = (
            row.given_on,
            row.last_on,
            group_called(farm, row.group_uid),
            row.pigs if row.pigs is not None or row.which else Text("all"),
            row.which,
            row.product,
            row.dose,
            row.batch,
            row.withdrawal_days if row.withdrawal_days is not None else Text("not typed"),
            row.clear_on,
            row.given_by,
            row.note,
        )
        yield BookLine(row, row.given_on, row.group_uid, cells)


def _register(farm: Farm) -> Iterator[BookLine]:
    for row in farm.register_entries.values():
        way = Text("on") if row.direction is Direction.ON else Text("off")
        group = group_called(farm, row.group_uid) if row.group_uid else None
        cells = (row.happened_on, way, row.pigs, row.mark, row.from_where, row.to_where, group, row.note)
        yield BookLine(row, row.happened_on, row.group_uid, cells)


def _litters(farm: Farm) -> Iterator[BookLine]:
    for row in farm.litters.values():
        to = group_called(farm, row.weaned_group_uid) if row.weaned_group_uid else None
        cells: tuple[Cell, ...] = (
            row.sow,
            group_called(farm, row.group_uid),
            row.served_on,
            row.due,
            row.farrowed_on,
            row.born,
            row.weaned_on,
            row.weaned,
            to,
            row.note,
        )
        yield BookLine(row, row.farrowed_on or row.served_on or row.due or row.weaned_on, row.group_uid, cells)


def _slaughter(farm: Farm) -> Iterator[BookLine]:
    for row in farm.slaughter_bookings.values():
        place = farm.places.get(row.place_uid or "")
        cells: tuple[Cell, ...] = (
            row.goes_on,
            group_called(farm, row.group_uid) if row.group_uid else None,
            row.pigs,
            row.least_kg,
            row.gone,
            row.dead_kg,
            (place.name or Text(str(place.kind))) if place is not None else None,
            row.note,
        )
        yield BookLine(row, row.goes_on, row.group_uid, cells)


def _escapes(farm: Farm) -> Iterator[BookLine]:
    for row in farm.escapes.values():
        cells: tuple[Cell, ...] = (
            row.happened_on,
            group_called(farm, row.group_uid),
            paddock_called(farm, row.paddock_uid) if row.paddock_uid else None,
            row.pigs_out,
            row.pigs_back,
            row.fence_kv,
            row.why,
            row.note,
        )
        yield BookLine(row, row.happened_on, row.group_uid, cells)


_LINES: Mapping[BookPage, Callable[[Farm], Iterator[BookLine]]] = {
    BookPage.MEDICINE: _medicine,
    BookPage.REGISTER: _register,
    BookPage.LITTERS: _litters,
    BookPage.SLAUGHTER: _slaughter,
    BookPage.ESCAPES: _escapes,
}


def cell_plain(cell: Cell) -> str:
    """Return a cell as it stands in a list for a spreadsheet: days as 2026-05-01, weights in kg, words in English."""
    if cell is None:
        return ""
    if isinstance(cell, date):
        return cell.isoformat()
    return f"{cell:g}" if isinstance(cell, float) else str(cell)
