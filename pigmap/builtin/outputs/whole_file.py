"""Write a file so that it is complete or not there."""

from __future__ import annotations

import os
from collections.abc import Iterator
from contextlib import contextmanager
from pathlib import Path

from pigmap.errors import SheetError


@contextmanager
def whole_file(path: Path) -> Iterator[Path]:
    """Give a name beside `path` to write to, and put the file in its place once it is complete.

    Raises
    ------
    SheetError
        If the folder is missing or nothing can be written there.
    """
    beside = path.with_name(f".{path.name}.{os.getpid()}.part")
    try:
        if not path.parent.is_dir():
            raise SheetError(
                "{file} cannot be written: the folder {folder} is not there.",
                remedy="Make the folder, or name another place.",
                file=path.name,
                folder=str(path.parent),
            )
        yield beside
        os.replace(beside, path)
    except OSError as error:
        raise SheetError(
            "{file} cannot be written to {folder}: {why}.",
            remedy="Close it in other programs, or name another place.",
            file=path.name,
            folder=str(path.parent),
            why=error.strerror or str(error),
        ) from error
    finally:
        beside.unlink(missing_ok=True)


def not_started(path: Path) -> OSError:
    """Return what to raise where Qt says only that it could not begin."""
    folder = path.parent
    return PermissionError(13, "the place does not take files" if folder.is_dir() else "no such folder", str(path))
