"""The kept tiles of one image in one file: added at its end only, so that what was cut off can be gone on with.

A head tells the grid; then come records, each a line of its own facts and the bytes of one tile. A whole pack ends in a
table of all records. No image library is needed to read it.
"""

from __future__ import annotations

import json
import os
import struct
import sys
import threading
import zlib
from io import FileIO
from pathlib import Path
from typing import Any, BinaryIO, NamedTuple

import numpy as np

from pigmap.imagery.pyramid import Pyramid, Spot
from pigmap.imagery.sidecar_order import in_order
from pigmap.imagery.sidecar_tiles import Packed

_HEAD, _FOOT = b"KEPTPIX1", b"KEPTPIXE"
_LENGTH = struct.Struct("<I")
_RECORD = struct.Struct("<HHIIII")
"""A mark, the kind of tile, level and column and row in two numbers, the number of bytes, their check sum."""
_MARK = 0x7A5D
_LEVEL_SHIFT = 27
_TABLE = np.dtype(
    [
        ("level", "<u1"),
        ("kind", "<u1"),
        ("column", "<u4"),
        ("row", "<u4"),
        ("at", "<u8"),
        ("length", "<u4"),
        ("sum", "<u4"),
    ]
)
_END = struct.Struct("<QI8s")
_MOST_TILE = 4 * 1024 * 1024
_MOST_HEAD = 65536
_LOCKED_AT = 1 << 40
"""A byte that no pack has."""


class DamagedError(ValueError):
    """A pack, or a tile in it, whose bytes are not those that were written."""


class Record(NamedTuple):
    """Where a tile stands in the file."""

    kind: int
    at: int
    length: int
    sum: int


def head_of(pyramid: Pyramid, name: str) -> bytes:
    """Return the head of a pack: the grid, and the name of the image for people who look into the folder."""
    told = {
        "image": name,
        "west": pyramid.west,
        "north": pyramid.north,
        "pixel_m": pyramid.pixel_m,
        "columns": pyramid.columns,
        "rows": pyramid.rows,
    }
    content = json.dumps(told).encode()
    return _HEAD + _LENGTH.pack(len(content)) + content


def _grid(told: dict[str, Any]) -> Pyramid:
    return Pyramid(
        float(told["west"]), float(told["north"]), float(told["pixel_m"]), int(told["columns"]), int(told["rows"])
    )


class Pack:
    """Reads kept tiles, from any thread.

    Parameters
    ----------
    file
        Open for reading; the pack closes it.
    pyramid
        The grid of the tiles.
    records
        The tiles that are there; a writer adds to them.
    """

    def __init__(self, file: BinaryIO | FileIO, pyramid: Pyramid, records: dict[Spot, Record]) -> None:
        self.pyramid = pyramid
        self.records = records
        self._file = file
        self._lock = threading.Lock()

    def get(self, spot: Spot) -> Packed | None:
        """Return a tile as it is kept; None where it is not there.

        Raises
        ------
        DamagedError
            If its bytes are not those that were written.
        OSError
            If the file cannot be read.
        """
        record = self.records.get(spot)
        if record is None:
            return None
        with self._lock:
            self._file.seek(record.at)
            content = self._file.read(record.length)
        if len(content) != record.length or zlib.crc32(content) != record.sum:
            raise DamagedError(str(spot))
        return Packed(record.kind, content)

    def close(self) -> None:
        """Let the file go."""
        with self._lock:
            self._file.close()


def open_pack(path: Path) -> Pack:
    """Return a whole pack.

    Raises
    ------
    DamagedError
        If it is not whole.
    OSError
        If it cannot be read.
    """
    file = path.open("rb")
    try:
        pyramid = _read_head(file)
        records = _read_table(file)
        if len(records) != sum(1 for _ in in_order(pyramid)):
            raise DamagedError(path.name)
    except BaseException:
        file.close()
        raise
    return Pack(file, pyramid, records)


class GrowingPack(Pack):
    """A pack that tiles are added to, in their order; goes on with what an earlier try left in the file.

    Parameters
    ----------
    path
        The file; made where it is missing, emptied where it is of another grid.
    pyramid
        The grid of the tiles.
    name
        Of the image.

    Raises
    ------
    OSError
        If it cannot be written to, or another program is writing to it.
    """

    def __init__(self, path: Path, pyramid: Pyramid, name: str) -> None:
        path.parent.mkdir(parents=True, exist_ok=True)
        path.touch()
        file = path.open("r+b", buffering=0)  # what the disk did not take must not be tried again when it is closed
        super().__init__(file, pyramid, {})
        self.path = path
        self._end = 0
        try:
            _keep_alone(file)
            self._begin(head_of(pyramid, name))
        except BaseException:
            file.close()
            raise

    def _begin(self, head: bytes) -> None:
        if self._file.read(len(head)) == head:
            self._end = len(head)
            self._take_up()
        self._file.seek(self._end)
        self._file.truncate()
        if not self._end:
            self._write(head)

    @property
    def taken(self) -> int:
        """Bytes that it takes on the disk."""
        return self._end

    def add(self, spot: Spot, tile: Packed) -> None:
        """Add a tile at the end.

        Raises
        ------
        OSError
            If the disk takes no more; what was there before stays whole.
        """
        check = zlib.crc32(tile.content)
        line = _RECORD.pack(
            _MARK, tile.kind, spot.level << _LEVEL_SHIFT | spot.column, spot.row, len(tile.content), check
        )
        at = self._end + len(line)
        self._write(line + tile.content)
        self.records[spot] = Record(tile.kind, at, len(tile.content), check)

    def finish(self, path: Path) -> None:
        """Write the table of all tiles, and give the file its lasting name; tiles can be read on.

        Raises
        ------
        OSError
            If the disk takes no more.
        """
        table = np.array(
            [(s.level, r.kind, s.column, s.row, r.at, r.length, r.sum) for s, r in self.records.items()], dtype=_TABLE
        ).tobytes()
        self._write(table + _END.pack(self._end, zlib.crc32(table), _FOOT))
        with self._lock:
            os.fsync(self._file.fileno())
            self._file.close()
            self.path.replace(path)
            self._file = path.open("rb", buffering=0)

    def _write(self, content: bytes) -> None:
        with self._lock:
            self._file.seek(self._end)
            rest = memoryview(content)
            while rest:
                rest = rest[self._file.write(rest) :]
            self._end += len(content)

    def _take_up(self) -> None:
        """Find the whole records there are; the first that is torn, or not the next in order, ends them."""
        for spot in in_order(self.pyramid):
            line = self._file.read(_RECORD.size)
            if len(line) < _RECORD.size:
                return
            mark, kind, place, row, length, check = _RECORD.unpack(line)
            there = Spot(place >> _LEVEL_SHIFT, place & (1 << _LEVEL_SHIFT) - 1, row)
            if mark != _MARK or there != spot or length > _MOST_TILE:
                return
            content = self._file.read(length)
            if len(content) < length or zlib.crc32(content) != check:
                return
            self.records[spot] = Record(kind, self._end + _RECORD.size, length, check)
            self._end += _RECORD.size + length


def _keep_alone(file: BinaryIO | FileIO) -> None:
    """Keep other programs from writing to a file as long as it is open.

    Raises
    ------
    OSError
        If another one does.
    """
    if sys.platform == "win32":
        import msvcrt

        file.seek(_LOCKED_AT)
        msvcrt.locking(file.fileno(), msvcrt.LK_NBLCK, 1)
        file.seek(0)
    else:
        import fcntl

        fcntl.flock(file.fileno(), fcntl.LOCK_EX | fcntl.LOCK_NB)


def _read_head(file: BinaryIO) -> Pyramid:
    try:
        if file.read(len(_HEAD)) != _HEAD:
            raise DamagedError("head")
        (length,) = _LENGTH.unpack(file.read(_LENGTH.size))
        if length > _MOST_HEAD:
            raise DamagedError("head")
        return _grid(json.loads(file.read(length)))
    except (struct.error, ValueError, KeyError, TypeError) as why:
        raise DamagedError("head") from why


def _read_table(file: BinaryIO) -> dict[Spot, Record]:
    size = file.seek(0, 2)
    if size < _END.size:
        raise DamagedError("table")
    file.seek(size - _END.size)
    at, check, foot = _END.unpack(file.read(_END.size))
    length = size - _END.size - at
    if foot != _FOOT or length < 0 or length % _TABLE.itemsize:
        raise DamagedError("table")
    file.seek(at)
    table = file.read(length)
    if zlib.crc32(table) != check:
        raise DamagedError("table")
    rows = np.frombuffer(table, dtype=_TABLE).tolist()
    return {Spot(r[0], r[2], r[3]): Record(r[1], r[4], r[5], r[6]) for r in rows}
