"""A photo with what a camera writes into it, made byte by byte; nothing of a real one."""

from __future__ import annotations

import struct
from collections.abc import Sequence
from pathlib import Path

import numpy as np
import simplejpeg

Entry = tuple[int, int, int, bytes]
"""Tag, type, count and value of an Exif entry."""
SHOT: tuple[Entry, ...] = (
    (0x829A, 5, 1, struct.pack(">II", 1, 200)),  # exposure [s]
    (0x920A, 5, 1, struct.pack(">II", 4, 1)),  # focal length [mm]
)
PHONE: tuple[Entry, ...] = ((0x10F, 2, 9, b"Invented\0"), (0x110, 2, 6, b"Phone\0"))
SCANNER: tuple[Entry, ...] = ((0x10F, 2, 9, b"Invented\0"), (0x110, 2, 12, b"Scanner 100\0"))
_INNER_AT = 400


def photo(path: Path, device: Sequence[Entry] = PHONE, shot: Sequence[Entry] = SHOT) -> Path:
    """Write a grey photo of 400 by 200 pixels."""
    jpeg = simplejpeg.encode_jpeg(np.full((200, 400, 3), 120, np.uint8))
    first = [*device, (0x8769, 4, 1, struct.pack(">I", _INNER_AT))] if shot else list(device)
    told = b"MM\0*" + struct.pack(">I", 8) + _directory(first, 8)
    told = told.ljust(_INNER_AT, b"\0") + (_directory(shot, _INNER_AT) if shot else b"")
    part = b"Exif\0\0" + told
    path.write_bytes(jpeg[:2] + b"\xff\xe1" + struct.pack(">H", len(part) + 2) + part + jpeg[2:])
    return path


def _directory(entries: Sequence[Entry], at: int) -> bytes:
    body, data, after = b"", b"", at + 2 + 12 * len(entries) + 4
    for tag, kind, count, value in entries:
        kept = value.ljust(4, b"\0")
        if len(value) > 4:
            kept, data = struct.pack(">I", after + len(data)), data + value
        body += struct.pack(">HHI", tag, kind, count) + kept
    return struct.pack(">H", len(entries)) + body + bytes(4) + data
