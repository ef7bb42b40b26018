"""What was done to a farm: entries of its history, as the change log remembers them."""

from __future__ import annotations

from collections.abc import Sequence
from pathlib import Path

from pigmap.store import FarmFile, HistoryEntry, whose

__all__ = ["HistoryEntry", "is_yours", "read_history", "steps_back"]


def read_history(path: Path, newest: int | None = None) -> list[HistoryEntry]:
    """Return the edits of a farm file, newest first, over a connection of its own that is closed again.

    The writer's connection belongs to the writer; a short look of one's own needs no waiting for it.
    """
    file = FarmFile.look(path)
    try:
        return file.history(newest)
    finally:
        file.close()


def is_yours(entry: HistoryEntry) -> bool:
    """Whether an edit was made by the person who uses this computer now, on this computer."""
    return bool(entry.made_by) and (entry.made_by, entry.computer) == whose("")


def steps_back(entries: Sequence[HistoryEntry], edit_uid: str) -> int:
    """Return how many steps of undo it takes to be where an edit was not made yet; 0 where undo does not reach it.

    Parameters
    ----------
    entries
        All that was done, newest first.
    edit_uid
        One of them.
    """
    done: list[str] = []
    undone: list[tuple[str, str]] = []
    for entry in reversed(entries):
        if not entry.can_undo:
            continue
        if entry.undoes is not None and done and done[-1] == entry.undoes:
            undone.append((entry.edit_uid, done.pop()))
        elif entry.undoes is not None and undone and undone[-1][0] == entry.undoes:
            undone.pop()
            done.append(entry.edit_uid)
        else:
            done.append(entry.edit_uid)
            undone.clear()
    return len(done) - done.index(edit_uid) if edit_uid in done else 0
