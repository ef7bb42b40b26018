"""What a person decides about kept pictures: how much, where, and that they go."""

from __future__ import annotations

from contextlib import suppress
from dataclasses import replace
from pathlib import Path
from typing import NamedTuple

from pigmap.errors import StoreError
from pigmap.imagery.sidecar_place import clear, kept_in, make_room
from pigmap.session.personal import Personal, load_personal, save_personal
from pigmap.session.slow_images import place_of, usual_folder

SUBFOLDER = "pigmap kept pictures"
"""In a folder that a person chose: what is in it is ours."""


class KeptNow(NamedTuple):
    """What is kept at the moment."""

    folder: Path
    bytes: int
    images: int


def kept_now() -> KeptNow:
    """Return how much is kept, and where."""
    folder = place_of(load_personal()).folder
    kept = kept_in(folder)
    return KeptNow(folder, sum(each.bytes for each in kept), len(kept))


def clear_kept() -> int:
    """Let all kept pictures go that are not just being made; return how many bytes that gave."""
    return clear(place_of(load_personal()).folder)


def keep_at_most(megabytes: int) -> None:
    """Keep no more than so much from now on; what was looked at longest ago goes first.

    Raises
    ------
    StoreError
        If the choice cannot be saved.
    """
    chosen = replace(load_personal(), kept_mb=megabytes)
    _save(chosen)
    make_room(place_of(chosen))


def use_memory(megabytes: int) -> None:
    """Use so much memory for images from now on.

    Raises
    ------
    StoreError
        If the choice cannot be saved.
    """
    _save(replace(load_personal(), tiles_mb=megabytes))


def keep_in(chosen: Path | None) -> int:
    """Keep pictures in another folder, or in the usual one; return the bytes of those in the old one, which go.

    Raises
    ------
    StoreError
        If it cannot be written to, or the choice cannot be saved.
    """
    folder = chosen / SUBFOLDER if chosen is not None and chosen.name != SUBFOLDER else chosen
    _need_writable(folder or usual_folder())
    before = place_of(load_personal()).folder
    _save(replace(load_personal(), kept_folder=str(folder) if folder is not None else ""))
    return clear(before) if before != (folder or usual_folder()) else 0


def _need_writable(folder: Path) -> None:
    probe = folder / ".probe"
    try:
        folder.mkdir(parents=True, exist_ok=True)
        probe.write_bytes(b"pigmap")
    except OSError as why:
        raise StoreError(
            "Nothing can be written to {folder}: {why}.",
            remedy="Choose a folder of your own, on a disk of this computer; pictures are kept where they were.",
            folder=str(folder),
            why=why.strerror or type(why).__name__,
        ) from why
    with suppress(OSError):
        probe.unlink()


def _save(chosen: Personal) -> None:
    if not save_personal(chosen):
        raise StoreError(
            "This choice could not be saved on this computer.",
            remedy="Look whether its disk is full; until then all stays as it was.",
        )
