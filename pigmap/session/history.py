"""What was done to a farm: entries of its history, as the change log remembers them."""

from __future__ import annotations

from pathlib import Path

from pigmap.store import FarmFile, HistoryEntry

__all__ = ["HistoryEntry", "read_history"]


def read_history(path: Path, newest: int | None = None) -> list[HistoryEntry]:
    """Return the edits of a farm file, newest first, over a connection of its own that is closed again.

    The writer's connection belongs to the writer; a short look of one's own needs no waiting for it.
    """
    file = FarmFile.look(path)
    try:
        return file.history(newest)
    finally:
        file.close()
