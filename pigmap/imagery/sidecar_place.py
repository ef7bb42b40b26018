"""Where kept tiles lie, how much room they may take, and which go first: those not looked at for longest."""

from __future__ import annotations

import hashlib
import os
import re
import shutil
from collections.abc import Iterator
from contextlib import suppress
from pathlib import Path
from typing import NamedTuple

from pigmap.imagery.pyramid import Pyramid
from pigmap.imagery.sidecar_words import disk_full, too_large
from pigmap.imagery.where import state_of

_OURS = re.compile("[0-9a-f]{32}")
WHOLE, GROWING = ".kept", ".part"
_BYTES_PER_PIXEL = 0.55
"""More than most images take: an estimate before one is begun."""
_LEAVE_FREE = 200_000_000
"""Bytes of the disk that are never taken."""
MB = 1_000_000


class Kept(NamedTuple):
    """One file in the folder."""

    path: Path
    bytes: int
    used: float
    """When it was looked at last [s]."""


class Place(NamedTuple):
    """The folder of kept tiles and how much may be in it."""

    folder: Path
    limit_bytes: int

    def whole(self, key: str) -> Path:
        """Return the file of a pack that is whole."""
        return self.folder / f"{key}{WHOLE}"

    def growing(self, key: str) -> Path:
        """Return the file of a pack in work."""
        return self.folder / f"{key}{GROWING}"


def key_of(image: Path, projection: str, also: str = "") -> str:
    """Return the name of an image's pack; another one once the image, the projection or what else counts changes.

    Parameters
    ----------
    image
        The file.
    projection
        Definition of the farm's.
    also
        What else its picture depends on: the pins that place it, how a person wants it shown.

    Raises
    ------
    OSError
        If there is no such file.
    """
    size, time = state_of(image)
    told = f"{image.resolve()}\n{size}\n{time}\n{projection}\n{also}"
    return hashlib.sha256(told.encode()).hexdigest()[:32]


def kept_in(folder: Path) -> list[Kept]:
    """Return what is in the folder, what was looked at longest ago first; nothing where there is no folder."""
    found = []
    for path in _files(folder):
        with suppress(OSError):
            state = path.stat()
            found.append(Kept(path, state.st_size, state.st_mtime))
    return sorted(found, key=lambda each: (each.used, each.path.name))


def bytes_in(folder: Path) -> int:
    """Return how much is in the folder."""
    return sum(each.bytes for each in kept_in(folder))


def looked_at(pack: Path) -> None:
    """Note that a pack is in use; where that cannot be noted it goes a little sooner."""
    with suppress(OSError):
        os.utime(pack)


def make_room(place: Place, wanted: int = 0, spare: tuple[Path, ...] = ()) -> bool:
    """Let go of what was not looked at for longest until so many bytes more have room; return whether they have.

    Parameters
    ----------
    place
        The folder and its limit.
    wanted
        Bytes that are to be added.
    spare
        Files that stay.
    """
    kept = kept_in(place.folder)
    total = sum(each.bytes for each in kept) + wanted
    for each in kept:
        if total <= place.limit_bytes:
            break
        if each.path not in spare and _gone(each.path):
            total -= each.bytes
    return total <= place.limit_bytes


def clear(folder: Path) -> int:
    """Let go of all kept tiles, but for those that are in work or cannot go; return how many bytes that gave."""
    return sum(each.bytes for each in kept_in(folder) if each.path.suffix == WHOLE and _gone(each.path))


def need_room(place: Place, pyramid: Pyramid, name: str, there: Path) -> None:
    """Make room for the tiles of an image, or say why there is none.

    Raises
    ------
    RasterError
        If they take more than may be kept at all.
    StoreError
        If the disk is too full.
    """
    wanted = max(round(pyramid.columns * pyramid.rows * _BYTES_PER_PIXEL) - _size(there), 0)
    if not make_room(place, wanted, (there,)):
        raise too_large(place, name, wanted + _size(there))
    above = next(each for each in (place.folder, *place.folder.parents) if each.is_dir())
    if shutil.disk_usage(above).free < wanted + _LEAVE_FREE:
        raise disk_full(place, name)


def _files(folder: Path) -> Iterator[Path]:
    """Yield our own files: others in the folder are never touched."""
    for suffix in (WHOLE, GROWING):
        yield from (path for path in folder.glob(f"*{suffix}") if _OURS.fullmatch(path.stem))


def _size(path: Path) -> int:
    try:
        return path.stat().st_size
    except OSError:
        return 0


def _gone(path: Path) -> bool:
    try:
        path.unlink()
    except OSError:
        return False
    return True
