"""Whether a file or a folder can really be written: tried, since not every system tells it when asked."""

from __future__ import annotations

import errno
import os
from pathlib import Path

from pigmap.records import new_uid


def takes_writing(path: Path) -> bool:
    """Whether a file that is there may be written; nothing in it is changed."""
    try:
        path.open("r+b").close()
    except OSError as error:
        return not _keeps_out(error)
    return True


def takes_files(folder: Path) -> bool:
    """Whether files may be made in a folder; the one that is made to find out is gone again."""
    trial = folder / f".{new_uid()}.part"
    try:
        os.close(os.open(trial, os.O_CREAT | os.O_EXCL | os.O_WRONLY))
        trial.unlink()
    except OSError as error:
        return not _keeps_out(error)
    return True


def _keeps_out(error: OSError) -> bool:
    """Whether it is a matter of rights; a full disk and the like are said by what is really written."""
    return error.errno in (errno.EACCES, errno.EPERM, errno.EROFS)
