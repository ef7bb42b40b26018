"""Rows of a file held against those of the farm: new, there already, told otherwise, or refused."""

from __future__ import annotations

from collections.abc import Callable, Mapping, Sequence
from dataclasses import dataclass, field, replace
from datetime import date
from typing import Any, Generic, TypeVar

import shapely
from shapely.geometry.base import BaseGeometry

from pigmap.document.edits.taken_in import Amended
from pigmap.document.incoming import Incoming
from pigmap.errors import PigmapError, RecordError
from pigmap.records import Farm, Record
from pigmap.session.handing_out.library import LONGEST_TEXT
from pigmap.session.intake import There
from pigmap.session.taking_in.columns import Columns
from pigmap.session.taking_in.named import Named, known_as
from pigmap.session.taking_in.result import TakenRow, refused
from pigmap.session.taking_in.values import Days, plainly, words
from pigmap.session.taking_in.values import told as said_value
from pigmap.session.taking_in.where import Placed
from pigmap.text import Text

R = TypeVar("R", bound=Record)
SAME_M = 0.01
"""Outlines of which no corner is farther off are one [grid m]."""


@dataclass(slots=True)
class Row:
    """One row of a file while it is looked at."""

    at: int
    """Counted from 1."""
    incoming: Incoming
    there: There
    """Its shape in the farm's metres."""
    given: Mapping[str, Any]
    """What its columns tell, of those that tell something."""
    said: list[Text] = field(default_factory=list)
    mended: bool = False

    def words(self, what: str) -> str:
        """Return what is told, as words; nothing where no column tells it."""
        return words(self.given.get(what))


class Rows(Generic[R]):
    """How rows of one kind are read; a kind says how in what it overrides."""

    record: type[R]
    shape = ""
    """The column with the shape, where one that differs changes a row that is known by its uid."""
    keeps: frozenset[str] = frozenset()
    """Columns of a row that is known which no file changes."""

    def __init__(self, placed: Placed, columns: Columns, file: str, farm: Farm, today: date) -> None:
        self.placed, self.columns, self.file, self.farm, self.today = placed, columns, file, farm, today
        self.named = Named(farm)
        self.rows: list[Any] = list(farm.rows(self.record.TABLE).values())
        """Those of the farm, and those that are taken."""

    def called(self, row: Row) -> str:
        """Return what a row is called in words about it."""
        return said_value(row.given.get("name")) or row.incoming.name

    def read(self, row: Row) -> dict[str, Any]:
        """Return the columns that a row tells, and its shape."""
        raise NotImplementedError

    def make(self, row: Row, told: dict[str, Any]) -> R:
        """Return the record of a row that is new; what it does not tell is as usual."""
        return self.record(**told)

    def known(self, row: Row, told: Mapping[str, Any]) -> Record | None:
        """Return the row of the farm that a row of the file is about, whatever else it tells of it."""
        return self.farm.rows(self.record.TABLE).get(row.words("uid"))

    def same(self, made: R) -> Record | None:
        """Return the row that tells the same already."""
        return next((each for each in self.rows if self.alike(each, made)), None)

    def alike(self, one: R, other: R) -> bool:
        """Whether two records tell of one thing."""
        raise NotImplementedError

    def more(self, row: Row, told: dict[str, Any]) -> Sequence[dict[str, Any]]:
        """Return what further rows come of one: a shape of several parts may be several things."""
        return ()

    def also(self, row: Row, made: R, *, new: bool) -> Sequence[Record]:
        """Return the rows that go with one, new or not."""
        return ()

    def taken(self, kept: Sequence[int] | None = None) -> list[TakenRow]:
        """Return what becomes of each row, or of those that are kept."""
        layer = self.placed.layer.rows
        return [self._taken(at, layer[at]) for at in (range(len(layer)) if kept is None else kept)]

    def _taken(self, at: int, incoming: Incoming) -> TakenRow:
        given = {what: incoming.columns.get(column) for what, column in self.columns.items()}
        row = Row(at + 1, incoming, self.placed.there[at], given)
        called = self.called(row)
        try:
            told = self.read(row)
            old = self.known(row, told)
            return self._known(row, called, old, told) if old is not None else self._new(row, called, told)
        except PigmapError as why:
            return refused(row.at, called, (why.message, why.remedy))

    def _known(self, row: Row, called: str, old: Any, told: dict[str, Any]) -> TakenRow:
        """Return a row that is known by its uid: there already, or told otherwise."""
        changed = {name: value for name, value in told.items() if not _alike(getattr(old, name), value)}
        changed = {name: value for name, value in changed.items() if name not in self.keeps}
        if changed:
            replace(old, **changed)  # refuses what cannot be
        also = tuple(self.also(row, old, new=False))
        if not changed and not also:
            return TakenRow(row.at, called, "there already", tuple(row.said))
        amended = Amended(self.record.TABLE, old.uid, changed) if changed else None
        return TakenRow(row.at, called, "changed", tuple(row.said), amended=amended, also=also)

    def _new(self, row: Row, called: str, told: dict[str, Any]) -> TakenRow:
        further = self.more(row, told)
        made = self.make(row, told)
        same: Any = self.same(made)
        if same is not None:
            also = tuple(self.also(row, same, new=False))
            return TakenRow(row.at, called, "changed" if also else "there already", also=also)
        self.rows.append(made)
        also = tuple(self.also(row, made, new=True))
        for each in further:
            part = self.make(row, each)
            self.rows.append(part)
            also = (*also, part)
        return TakenRow(row.at, called, "mended" if row.mended else "taken", tuple(row.said), made, also=also)


class CalledRows(Rows[R]):
    """Rows that are known by their names."""

    def known(self, row: Row, told: Mapping[str, Any]) -> Record | None:
        """Return the row of the uid, else that of the name.

        Raises
        ------
        RecordError
            If an earlier row of the file has that name.
        """
        name = known_as(told["name"])
        there = self.farm.rows(self.record.TABLE)
        if any(known_as(each.name) == name and each.uid not in there for each in self.rows):
            raise RecordError(
                "{told} stands in the file twice; the first is taken.",
                remedy="Give it another name, or leave it out.",
                told=said_value(told["name"]),
            )
        named = (each for each in self.rows if known_as(each.name) == name)
        return super().known(row, told) or next(named, None)

    def name_of(self, row: Row) -> str:
        """Return the name of a row.

        Raises
        ------
        RecordError
            If it has none.
        """
        if not row.words("name"):
            raise RecordError("it has no name.", remedy="Write one.")
        return row.words("name")

    def same(self, made: R) -> Record | None:
        """Return nothing: it is known by its name."""
        return None


def days_of(rows: Rows[Any], which: Sequence[str]) -> Days:
    """Return what reads the days of a file, as some of its columns write them."""
    used = [rows.columns[what] for what in which if what in rows.columns]
    return Days(rows.file, [row.columns.get(column) for row in rows.placed.layer.rows for column in used])


def pointed_at(row: Row, what: str, find: Callable[[Any], Record]) -> dict[str, Any]:
    """Return the column that points at what a row names; nothing, and words, where there is no such."""
    if not row.words(what):
        return {}
    try:
        return {f"{what}_uid": find(row.given[what]).uid}
    except PigmapError as why:
        row.said.append(Text("{why} The rest of the row is taken.", {"why": why.message}))
        return {}


def _alike(one: Any, other: Any) -> bool:
    """Whether two values are one as far as files hold them."""
    if isinstance(one, BaseGeometry) and isinstance(other, BaseGeometry):
        return same_shape(one, other)
    if isinstance(one, float) and isinstance(other, float):
        return abs(one - other) < 1e-9
    if isinstance(one, str) and isinstance(other, str):
        return _same_words(one, other)
    return bool(one == other)


def _same_words(one: str, other: str) -> bool:
    """Whether words are one: spaces at the ends are lost in some files, so are letters, and the end of long texts."""
    one, other = plainly(one), plainly(other)
    if one == other:
        return True
    packed = other.encode()
    return LONGEST_TEXT - 4 < len(packed) <= LONGEST_TEXT and one.startswith(other)


def same_shape(one: BaseGeometry, other: BaseGeometry) -> bool:
    """Whether two shapes of one kind lie in one place."""
    if shapely.get_dimensions(one) != shapely.get_dimensions(other):
        return False
    near = all(abs(a - b) <= SAME_M for a, b in zip(one.bounds, other.bounds, strict=True))
    return near and bool(shapely.hausdorff_distance(one, other) <= SAME_M)
