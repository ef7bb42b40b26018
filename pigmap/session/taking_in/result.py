"""What becomes of a file that is taken in: of each row, and all of it as one edit."""

from __future__ import annotations

from collections.abc import Sequence
from typing import Literal

from pigmap.document.edits.taken_in import Amended, take_in_rows
from pigmap.records import Edit, Record
from pigmap.records.frozen import dataclass
from pigmap.session.taking_in.columns import SETTING
from pigmap.session.taking_in.usual import KIND_WORDS
from pigmap.text import Text

Outcome = Literal["taken", "mended", "changed", "there already", "refused"]
OUTCOMES: tuple[Outcome, ...] = ("taken", "mended", "changed", "there already", "refused")


@dataclass(frozen=True, slots=True, eq=False)
class TakenRow:
    """What becomes of one row of the file."""

    row: int
    """Counted from 1, the row of names not counted."""
    name: str
    result: Outcome
    words: tuple[Text, ...] = ()
    """What was done to it, or why it is refused and what to do."""
    added: Record | None = None
    amended: Amended | None = None
    also: tuple[Record, ...] = ()
    """Rows that go with it: the purposes of a field, further parts of a line."""


@dataclass(frozen=True, slots=True, eq=False)
class TakenIn:
    """What becomes of a file; nothing is done yet."""

    kind: str
    file: str
    layer: str
    rows: tuple[TakenRow, ...]
    notes: tuple[Text, ...] = ()
    """What is worth knowing of the whole file."""
    ready: Edit | None = None
    """The edit, where it does not follow from the rows."""
    columns: tuple[tuple[str, str], ...] = ()
    """What is told, and the column that tells it."""
    remembers: dict[str, object] | None = None
    """The setting with what was chosen; None where it stays."""

    def count(self, *results: Outcome) -> int:
        """Return how many rows came to one of these ends."""
        return sum(row.result in results for row in self.rows)

    @property
    def changes_anything(self) -> bool:
        """Whether taking it in changes the farm."""
        return self.count("taken", "mended", "changed") > 0

    @property
    def edit(self) -> Edit:
        """Return the one edit that takes it in."""
        label = Text("{things} taken in from {file}.", {"things": self._things(), "file": self.file})
        if self.ready is not None:
            return Edit(label, self.ready.changes)
        return take_in_rows(
            label,
            [each for row in self.rows for each in ((row.added,) if row.added is not None else ()) + row.also],
            [row.amended for row in self.rows if row.amended is not None],
            setting=(SETTING, self.remembers) if self.remembers is not None else None,
        )

    def _things(self) -> Text:
        return Text(
            "{count} row of {kind}",
            {"kind": KIND_WORDS[self.kind]},
            plural="{count} rows of {kind}",
            count=self.count("taken", "mended", "changed"),
        )

    @property
    def summary(self) -> Text:
        """Return how many rows came to which end."""
        parts = [Text(_COUNTS[result], {"rows": self.count(result)}) for result in OUTCOMES if self.count(result)]
        values = {f"part{at}": part for at, part in enumerate(parts)}
        listed = ", ".join(f"{{{name}}}" for name in values) or "0"
        return Text(
            "{kind} out of {file}: {counts}.",
            {"kind": Text(str(KIND_WORDS[self.kind]).capitalize()), "file": self.file, "counts": Text(listed, values)},
        )


_COUNTS: dict[Outcome, str] = {
    "taken": "{rows} taken",
    "mended": "{rows} taken and mended",
    "changed": "{rows} changed",
    "there already": "{rows} there already",
    "refused": "{rows} refused",
}


def refused(row: int, name: str, words: Sequence[Text]) -> TakenRow:
    """Return a row that is not taken."""
    return TakenRow(row, name, "refused", tuple(words))
