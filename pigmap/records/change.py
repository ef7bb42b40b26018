"""Changes of rows: what an edit asks for, and what the farm file then reports."""

from __future__ import annotations

from collections.abc import Callable, Iterable, Iterator, Sequence
from dataclasses import field, replace
from typing import TYPE_CHECKING

from pigmap.records.frozen import dataclass
from pigmap.records.record import Record
from pigmap.text import Text

if TYPE_CHECKING:
    from pigmap.records.farm import Farm


@dataclass(frozen=True, slots=True)
class RowChange:
    """One row before and after: no before adds it, no after removes it."""

    before: Record | None
    after: Record | None

    def __post_init__(self) -> None:
        if self.before is None and self.after is None:
            raise ValueError("a change of a row needs a side")
        if self.before is not None and self.after is not None and self.before.uid != self.after.uid:
            raise ValueError(f"row {self.before.uid} cannot become row {self.after.uid}")

    @property
    def row(self) -> Record:
        """The row as it is afterwards, or as it was where it is removed."""
        row = self.after if self.after is not None else self.before
        assert row is not None
        return row

    @property
    def table(self) -> str:
        """Name of the table."""
        return self.row.TABLE

    @property
    def uid(self) -> str:
        """The row's own name."""
        return self.row.uid

    def inverse(self) -> RowChange:
        """Return the change that takes this one back."""
        return RowChange(self.after, self.before)


def add(row: Record) -> RowChange:
    """Return the change that adds a row."""
    return RowChange(None, row)


def change(before: Record, after: Record) -> RowChange:
    """Return the change from one state of a row to another."""
    return RowChange(before, after)


def remove(row: Record) -> RowChange:
    """Return the change that removes a row."""
    return RowChange(row, None)


@dataclass(frozen=True, slots=True)
class Edit:
    """One thing a person does to the farm: a pure function with a name.

    Calling it looks at a farm and returns the rows to change, or raises an `EditError` in words; it changes nothing.
    The writer calls it on the newest farm, a preview on the one that is shown.
    """

    label: Text
    changes: Callable[[Farm], Sequence[RowChange]]
    can_undo: bool = True
    """Whether undo takes it back: not where it belongs to the making of the farm."""
    names: str = ""
    """Uid of the row that its label calls by its kind as long as the name is not known."""

    def __call__(self, farm: Farm) -> Sequence[RowChange]:
        """Return the rows to change on this farm."""
        return self.changes(farm)

    def label_of(self, rows: Sequence[RowChange]) -> Text:
        """Return the label once it is known what changed: with the name of what it is about.

        Examples
        --------
        >>> from pigmap.records import Group
        >>> edit = Edit(Text("{name} removed.", {"name": Text("Group")}), lambda farm: [], names="g1")
        >>> str(edit.label_of([remove(Group(uid="g1", name="Dry sows"))]))
        'Dry sows removed.'
        """
        if not isinstance(self.label.values.get("name"), Text):
            return self.label
        name = next((str(getattr(each.row, "name", "")) for each in rows if each.uid == self.names), "")
        return replace(self.label, values={**self.label.values, "name": name}) if name else self.label


@dataclass(frozen=True, slots=True)
class ChangeSet:
    """What really changed from one revision of the farm to the next, as the farm file tells it."""

    rows: tuple[RowChange, ...]
    label: Text = field(default=Text(""), compare=False)
    """What a person did that changed them: of undo and redo, what was taken back or done again."""

    def of(self, *tables: str) -> Iterator[RowChange]:
        """Yield the changes in some tables, in the order in which they were made."""
        return (row for row in self.rows if row.table in tables)

    @staticmethod
    def joined(sets: Iterable[ChangeSet], label: Text | None = None) -> ChangeSet:
        """Return several sets as one, in order, under one label."""
        return ChangeSet(tuple(row for each in sets for row in each.rows), label or Text(""))
