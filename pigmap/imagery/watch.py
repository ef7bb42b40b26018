"""Whether the file of an open image is still what it was."""

from __future__ import annotations

import threading
from pathlib import Path
from time import monotonic

from pigmap.errors import RasterError
from pigmap.imagery.web_file import version_of
from pigmap.imagery.where import called, file_of, host_of, web_address

EVERY_S = 2.0
"""A file is looked at no more often than this [s]. Own choice."""


class FileWatch:
    """Looks at a file now and then; for the threads that read it.

    Of a file on the web it hears from those who read it: it never asks a server itself.

    Parameters
    ----------
    path
        The image, which is open already.
    """

    def __init__(self, path: Path) -> None:
        self._path = path
        self.changed = False
        """Whether there is another file in its place now: what was read of the old one is out of date."""
        self.gone = False
        try:
            self._state = _state(path)
        except OSError:
            self._state = None
        self._looked = monotonic()

    def look(self, *, at_once: bool = False) -> RasterError | None:
        """Return what to say of a change, once for each; None where there is none, or it is too soon to look again."""
        now = monotonic()
        if self.changed or (now - self._looked < EVERY_S and not at_once):
            return None
        self._looked = now
        try:
            state = _state(self._path)
        except OSError:
            said = not self.gone
            self.gone = True
            return _gone(self._path) if said else None
        self.gone = False
        if state == self._state:
            return None
        self.changed = True
        return changed_words(self._path)


def _state(path: Path) -> object:
    """Return what a file is known by: one that was put in its place differs, and so does one that was written into."""
    address = web_address(path)
    if address:
        return version_of(address)
    return _state_on_disk(path)


_NUMBERS: dict[Path, tuple[int, int, int, int]] = {}
"""Size, time and number of each file when it was looked at last, and how often the number alone changed."""
_UNSTEADY = 2
_LOCK = threading.Lock()


def _state_on_disk(path: Path) -> tuple[int, int, int]:
    """Return size, time and number of a file; some network disks give new numbers at will: there it is left out."""
    file = file_of(path)
    state = file.stat()
    size, time, number = state.st_size, state.st_mtime_ns, state.st_ino
    with _LOCK:
        before = _NUMBERS.get(file, (size, time, number, 0))
        changes = before[3] + (before[:2] == (size, time) and before[2] != number)
        _NUMBERS[file] = size, time, number, changes
    return size, time, number if changes < _UNSTEADY else 0


def state_now(path: Path) -> tuple[int, int, int] | None:
    """Return size, time and number of the file that holds an image; None where there is none."""
    try:
        return _state_on_disk(path)
    except OSError:
        return None


def _gone(path: Path) -> RasterError:
    return RasterError(
        "{name} is no longer in {folder}; the map shows what it has of it.",
        remedy="Put it back, or show where it is.",
        name=called(path),
        folder=str(file_of(path).resolve().parent),
    )


def changed_words(path: Path) -> RasterError:
    """Return what to say of an image in whose place another file stands."""
    if web_address(path):
        return RasterError(
            "{host} hands out another {name} now.",
            remedy="The map reads it anew; look whether it still lies right.",
            host=host_of(path),
            name=called(path),
        )
    return RasterError(
        "{name} was changed by another program while it was open.",
        remedy="The map reads it anew; look whether it still lies right.",
        name=called(path),
    )
