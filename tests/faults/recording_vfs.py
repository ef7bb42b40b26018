"""A VFS that notes every write, sync, change of length and removal below SQLite, and one whose disk can be full."""

from __future__ import annotations

from typing import Any, NamedTuple

import apsw


class Op(NamedTuple):
    """One thing that was done to a file."""

    kind: str
    """``write``, ``sync``, ``truncate``, ``unlink`` or ``make``."""
    path: str
    at: int = 0
    """Where it was written; the new length; 1 where the folder was synced."""
    data: bytes = b""


def _name(filename: Any) -> str:
    return str(filename.filename()) if isinstance(filename, apsw.URIFilename) else str(filename)


class RecordingVfs(apsw.VFS):
    """Notes what is done in `ops`, and does it on the real disk too."""

    def __init__(self, name: str) -> None:
        super().__init__(name, "")
        self.name_of = name
        self.ops: list[Op] = []

    def xOpen(self, name: Any, flags: list[int]) -> apsw.VFSFile:  # noqa: N802
        """Open a file."""
        self.ops.append(Op("make", _name(name)))
        return _RecordingFile(name, flags, self.ops)

    def xDelete(self, filename: str, syncdir: bool) -> None:  # noqa: N802
        """Remove a file."""
        self.ops.append(Op("unlink", filename, int(syncdir)))
        super().xDelete(filename, syncdir)


class _RecordingFile(apsw.VFSFile):
    def __init__(self, filename: Any, flags: list[int], ops: list[Op]) -> None:
        super().__init__("", filename, flags)
        self._path, self._ops = _name(filename), ops

    def xWrite(self, data: bytes, offset: int) -> None:  # noqa: N802
        self._ops.append(Op("write", self._path, offset, bytes(data)))
        super().xWrite(data, offset)

    def xSync(self, flags: int) -> None:  # noqa: N802
        self._ops.append(Op("sync", self._path))
        super().xSync(flags)

    def xTruncate(self, newsize: int) -> None:  # noqa: N802
        self._ops.append(Op("truncate", self._path, newsize))
        super().xTruncate(newsize)


class FullVfs(apsw.VFS):
    """A disk with so much room: files grow until it is used up, and then take no more."""

    def __init__(self, name: str) -> None:
        super().__init__(name, "")
        self.name_of = name
        self.room: float = float("inf")

    def xOpen(self, name: Any, flags: list[int]) -> apsw.VFSFile:  # noqa: N802
        """Open a file."""
        return _FullFile(name, flags, self)


class _FullFile(apsw.VFSFile):
    def __init__(self, filename: Any, flags: list[int], disk: FullVfs) -> None:
        super().__init__("", filename, flags)
        self._disk = disk

    def xWrite(self, data: bytes, offset: int) -> None:  # noqa: N802
        grows = offset + len(data) - self.xFileSize()
        if grows > 0:
            if grows > self._disk.room:
                raise apsw.exception_for(apsw.SQLITE_FULL)
            self._disk.room -= grows
        super().xWrite(data, offset)
