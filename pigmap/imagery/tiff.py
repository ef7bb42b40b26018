"""What a TIFF file says of its pictures: the directory alone, read without any image library.

Tags and their meaning: TIFF Revision 6.0, Final (Aldus, 1992), sections 2, 8, 15 and 22, and its supplement of 2002 on
compression 7 (JPEG with shared tables). The 64-bit form (version 43) is widely written; it differs in the width of
counts and places only.
"""

from __future__ import annotations

import struct
from pathlib import Path
from typing import BinaryIO, NamedTuple

import numpy as np
from numpy.typing import NDArray

from pigmap.records.frozen import dataclass

NEW_SUBFILE, COLUMNS, ROWS, BITS, COMPRESSION, PHOTOMETRIC = 254, 256, 257, 258, 259, 262
SAMPLES, PLANAR, TILE_COLUMNS, TILE_ROWS, TILE_OFFSETS, TILE_BYTES, JPEG_TABLES = 277, 284, 322, 323, 324, 325, 347

_KINDS = {1: "u1", 2: "u1", 3: "u2", 4: "u4", 7: "u1", 16: "u8"}
"""Kinds of values that the tags above may have: bytes, letters, and whole numbers of three widths."""
_MOST_PICTURES = 64
_MOST_VALUES = 50_000_000


class _Form(NamedTuple):
    """How wide numbers are, and in which order their bytes stand."""

    order: str
    number: str
    """Of how many values, and of where they are."""
    tags: str
    """Of how many tags there are."""


@dataclass(frozen=True, slots=True)
class Directory:
    """The tags of one picture in a TIFF file."""

    tags: dict[int, NDArray[np.uint64]]

    def one(self, tag: int, otherwise: int = -1) -> int:
        """Return the first value of a tag."""
        values = self.tags.get(tag)
        return otherwise if values is None or not len(values) else int(values[0])

    def all(self, tag: int) -> NDArray[np.uint64]:
        """Return the values of a tag; none where it is missing."""
        return self.tags.get(tag, np.zeros(0, dtype=np.uint64))


def directories(path: Path) -> tuple[Directory, ...]:
    """Return the pictures of a TIFF file in their order; none where it is no TIFF file or its directory is torn.

    Raises
    ------
    OSError
        If the file cannot be read.
    """
    with path.open("rb") as file:
        try:
            return _directories(file)
        except (struct.error, ValueError, OverflowError, MemoryError):
            return ()


def _directories(file: BinaryIO) -> tuple[Directory, ...]:
    head = file.read(16)
    order = {b"II": "<", b"MM": ">"}.get(head[:2])
    if order is None:
        return ()
    (version,) = struct.unpack_from(f"{order}H", head, 2)
    if version not in (42, 43):
        return ()
    form = _Form(order, "Q", "Q") if version == 43 else _Form(order, "I", "H")
    (at,) = struct.unpack_from(f"{order}{form.number}", head, 8 if version == 43 else 4)
    found: list[Directory] = []
    seen: set[int] = set()
    while at and at not in seen and len(found) < _MOST_PICTURES:
        seen.add(at)
        directory, at = _directory(file, at, form)
        found.append(directory)
    return tuple(found)


def _directory(file: BinaryIO, at: int, form: _Form) -> tuple[Directory, int]:
    file.seek(at)
    (count,) = struct.unpack(form.order + form.tags, file.read(struct.calcsize(form.tags)))
    line = struct.Struct(f"{form.order}HH{form.number}")
    place = struct.calcsize(form.number)
    if count > 4096:
        raise ValueError(count)
    lines = file.read(count * (line.size + place) + place)
    tags = {}
    for start in range(0, count * (line.size + place), line.size + place):
        tag, kind, many = line.unpack_from(lines, start)
        if kind in _KINDS and many <= _MOST_VALUES:
            tags[tag] = _values(file, lines[start + line.size : start + line.size + place], _KINDS[kind], many, form)
    (following,) = struct.unpack_from(form.order + form.number, lines, count * (line.size + place))
    return Directory(tags), following


def _values(file: BinaryIO, held: bytes, kind: str, many: int, form: _Form) -> NDArray[np.uint64]:
    """Return the values of a tag, which stand in its line if they are few, elsewhere in the file if not."""
    wide = many * int(kind[1])
    if wide > len(held):
        file.seek(struct.unpack(form.order + form.number, held)[0])
        held = file.read(wide)
    return np.frombuffer(held[:wide], dtype=form.order + kind, count=many).astype(np.uint64)
