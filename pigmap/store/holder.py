"""Who changes a farm file: one program at a time, by a lock that the system lets go of when a program is gone."""

from __future__ import annotations

import json
import os
import platform
import sys
from contextlib import suppress
from datetime import datetime
from pathlib import Path
from typing import IO

from pigmap.records.frozen import dataclass
from pigmap.text import Text

if sys.platform == "win32":
    import msvcrt

    _FAR = 1 << 30  # where nothing is written: what is locked there cannot be read by others

    def _lock(file: IO[bytes]) -> None:
        file.seek(_FAR)
        msvcrt.locking(file.fileno(), msvcrt.LK_NBLCK, 1)
else:
    import fcntl

    def _lock(file: IO[bytes]) -> None:
        fcntl.flock(file, fcntl.LOCK_EX | fcntl.LOCK_NB)


@dataclass(frozen=True, slots=True)
class Holder:
    """Who has a farm file open to change it."""

    who: str
    """Name under which they use their computer; may be empty."""
    computer: str
    since: str
    """Local time, to the minute."""

    def words(self, file: str) -> Text:
        """Return why the file can only be looked at."""
        values = {"file": file, "who": self.who or "?", "computer": self.computer or "?", "since": self.since}
        return Text(
            "{file} is open in another window: {who} on {computer}, since {since}. Here it can be looked at; what is "
            "done there is shown here. Once it is closed there it can be changed here.",
            values,
        )


class Hold:
    """The right to change a farm file, as long as this object is not let go of and its program lives."""

    def __init__(self, path: Path, file: IO[bytes]) -> None:
        self._path, self._file = path, file

    def let_go(self) -> None:
        """Let another program change the file; nothing stays beside it."""
        if self._file.closed:
            return
        if sys.platform != "win32":  # while it is locked nobody else has it; there a file in use cannot be removed
            with suppress(OSError):
                self._path.unlink()
        self._file.close()
        if sys.platform == "win32":
            with suppress(OSError):
                self._path.unlink()


def holder_path(path: Path) -> Path:
    """Return the file beside a farm file by which it is held."""
    return path.with_name(f"{path.name}-open")


def take_hold(path: Path, who: str = "") -> Hold | Holder | None:
    """Take a farm file to change it, or return who has it; None where the system keeps no locks there.

    A program that was killed holds nothing, whatever it left behind.
    """
    beside = holder_path(path)
    for _ in range(10):  # whoever lets go removes the file: then another one is to be locked
        try:
            file = beside.open("a+b")
        except OSError:
            return None
        try:
            _lock(file)
        except BlockingIOError:
            return _told(file)
        except OSError as error:
            if isinstance(error, PermissionError):  # Windows says it so
                return _told(file)
            file.close()
            return None
        if _is_still(beside, file):
            _sign(file, who)
            return Hold(beside, file)
        file.close()
    return None


def _is_still(beside: Path, file: IO[bytes]) -> bool:
    if sys.platform == "win32":
        return True
    try:
        there, has = beside.stat(), os.fstat(file.fileno())
    except OSError:
        return False
    return (there.st_dev, there.st_ino) == (has.st_dev, has.st_ino)


def _sign(file: IO[bytes], who: str) -> None:
    signed = {"who": who, "computer": platform.node(), "since": datetime.now().strftime("%Y-%m-%d %H:%M")}
    with suppress(OSError):  # a full disk: then others see that it is held, but not by whom
        file.truncate(0)
        file.seek(0)
        file.write(json.dumps(signed).encode())
        file.flush()


def _told(file: IO[bytes]) -> Holder:
    with file:
        try:
            file.seek(0)
            told = json.loads(file.read(1000))
            return Holder(str(told["who"]), str(told["computer"]), str(told["since"]))
        except (OSError, ValueError, TypeError, KeyError):
            return Holder("", "", "?")
