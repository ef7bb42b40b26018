"""What was done in one copy of a farm and not in another."""

from __future__ import annotations

from collections.abc import Iterator, Mapping, Sequence
from typing import NamedTuple

from pigmap.records.frozen import dataclass
from pigmap.store.copies import CopyLog, EditMade
from pigmap.store.log import OUTSIDE, LogRow
from pigmap.text import text_to_json

WHOLE_ROW = ""
"""Stands for a row that was added or removed, in place of a column."""


class Stamp(NamedTuple):
    """When something was changed last, and by which edit; the later one counts where two copies part."""

    made_at: str
    """UTC, as text that sorts."""
    edit_uid: str
    """Empty for changes of other software."""


@dataclass(frozen=True, slots=True)
class Apart:
    """The edits that one copy has and another has not, and what they touched."""

    edits: tuple[EditMade, ...]
    touched: Mapping[tuple[str, str], Mapping[str, Stamp]]
    """By table and uid of the row: each column with its last change; `WHOLE_ROW` where it was added or removed."""


def in_effect(log: CopyLog) -> frozenset[str]:
    """Return the uids of the edits that have not been taken back."""
    back: dict[str, list[str]] = {}
    for edit in log.edits:
        if edit.undoes is not None and edit.came_with is None:
            back.setdefault(edit.undoes, []).append(edit.uid)
    stands: dict[str, bool] = {}
    for edit in reversed(log.edits):  # what takes an edit back comes after it
        stands[edit.uid] = not any(stands[each] for each in back.get(edit.uid, ()))
    return frozenset(uid for uid, holds in stands.items() if holds)


def known_edits(log: CopyLog) -> frozenset[str]:
    """Return the uids of the edits whose changes a copy holds: its own, and those that came by joining.

    Where a joining was taken back, what came with it is not there any more.
    """
    standing = in_effect(log)
    return frozenset(
        edit.name for edit in log.edits if edit.came_with is None or _stands(edit.came_with, log, standing)
    )


def _stands(uid: str, log: CopyLog, standing: frozenset[str]) -> bool:
    """Whether a joining holds; one that itself came from elsewhere holds as long as what brought it does."""
    if uid in standing:
        return True
    return all(edit.uid != uid for edit in log.edits)


def apart(log: CopyLog, other: CopyLog) -> Apart:
    """Return what a copy has that another has not. What was done and taken back since leaves no trace."""
    there = known_edits(other)
    own = {edit.uid: edit for edit in _own(log, there)}
    active: dict[str, EditMade] = {}
    for edit in own.values():
        if edit.undoes in active:
            del active[edit.undoes]
        else:
            active[edit.uid] = edit
    outside = _outside(log, other, there)
    changes = [
        (Stamp(edit.made_at, edit.uid), row) for edit in active.values() for row in log.rows.get(edit.edit_id, ())
    ]
    changes += [(Stamp(log.written_at[row.change_id], ""), row) for row in outside]
    touched: dict[tuple[str, str], dict[str, Stamp]] = {}
    for stamp, row in sorted(changes, key=lambda each: each[1].change_id):
        columns = touched.setdefault((row.table, row.uid), {})
        columns.update(dict.fromkeys(_columns(row), stamp))
    return Apart((*own.values(), *_brought(log, there), *_runs(log, outside)), touched)


def _own(log: CopyLog, there: frozenset[str]) -> Iterator[EditMade]:
    """Yield the edits of a copy that another does not know, but for joinings that brought it nothing new."""
    brought: dict[str, set[str]] = {}
    for edit in log.edits:
        if edit.came_with is not None:
            brought.setdefault(edit.came_with, set()).add(edit.name)
    for edit in log.edits:
        came = brought.get(edit.uid)
        if edit.came_with is None and edit.uid not in there and not (came and came <= there):
            yield edit


def _brought(log: CopyLog, there: frozenset[str]) -> Iterator[EditMade]:
    """Yield the edits that came to a copy from a third one, which the other does not know either."""
    standing = in_effect(log)
    for edit in log.edits:
        if edit.came_with is not None and _stands(edit.came_with, log, standing) and edit.name not in there:
            yield edit


def _outside(log: CopyLog, other: CopyLog, there: frozenset[str]) -> list[LogRow]:
    """Return the changes of other software that the other copy has not: the same number and time is the same one."""
    same = {(row.change_id, row.uid, other.written_at[row.change_id]) for row in other.rows.get(None, ())}
    came = _came_from_outside(log, there)
    return [
        row
        for row in log.rows.get(None, ())
        if (row.change_id, row.uid, log.written_at[row.change_id]) not in same and row.change_id not in came
    ]


_OUTSIDE = "outside"
"""Begins the name under which changes of other software are noted where they came by joining: no edit names them."""


def _runs(log: CopyLog, outside: Sequence[LogRow]) -> Iterator[EditMade]:
    """Yield what other software changed as if each run of changes between two edits were an edit."""
    runs: list[list[LogRow]] = []
    for row in outside:
        if runs and row.change_id == runs[-1][-1].change_id + 1:
            runs[-1].append(row)
        else:
            runs.append([row])
    for run in runs:
        at = log.written_at[run[-1].change_id]
        yield EditMade(
            0, _run_name(run[0].change_id, run[-1], at), at, "", "", text_to_json(OUTSIDE), None, None, False
        )


def _run_name(first: int, last: LogRow, written_at: str) -> str:
    return " ".join((_OUTSIDE, str(first), str(last.change_id), last.uid, written_at))


def _came_from_outside(log: CopyLog, there: frozenset[str]) -> frozenset[int]:
    """Return the numbers of changes of other software that another copy knows from joining."""
    rows = {row.change_id: row for row in log.rows.get(None, ())}
    found: set[int] = set()
    for name in there:
        said = name.split(" ")
        if said[0] == _OUTSIDE and len(said) == 5:
            first, last = int(said[1]), rows.get(int(said[2]))
            if last is not None and _run_name(first, last, log.written_at[last.change_id]) == name:
                found.update(each for each in rows if first <= each <= last.change_id)
    return frozenset(found)


def _columns(row: LogRow) -> tuple[str, ...]:
    if row.after is None:
        return (WHOLE_ROW,)
    return (WHOLE_ROW, *row.after) if row.before is None else tuple(row.after)
