"""Kept tiles of an image that is slow to look at: begun, made in the background, and used ever after."""

from __future__ import annotations

import errno
import math
from collections.abc import Callable, Iterator
from contextlib import contextmanager, suppress
from functools import partial
from pathlib import Path
from typing import NamedTuple

from pigmap.errors import PigmapError
from pigmap.imagery.pyramid import TILE_PX, Spot
from pigmap.imagery.sidecar_build import Manner, Stop, build, no_stop
from pigmap.imagery.sidecar_need import FileForm, form_of, is_quick, needs_sidecar
from pigmap.imagery.sidecar_pack import DamagedError, GrowingPack
from pigmap.imagery.sidecar_place import Place, key_of, make_room, need_room
from pigmap.imagery.sidecar_rows import AnyRows, PlainRows, Rows
from pigmap.imagery.sidecar_source import GrowingSource, SidecarSource, open_sidecar
from pigmap.imagery.sidecar_warp import WarpedRows, cell_for
from pigmap.imagery.sidecar_words import disk_full, no_memory, not_whole, other_bytes, too_large, unwritable
from pigmap.imagery.source import ImageSource
from pigmap.imagery.where import web_address
from pigmap.records import Projection

_FULL = (errno.ENOSPC, errno.EDQUOT, errno.EFBIG)

Told = Callable[[Spot, float], None]
"""Is told the last tile of each row of tiles, and the share of all that is there."""


class Growing(NamedTuple):
    """An image whose tiles are to be made."""

    source: ImageSource
    tiles: GrowingSource
    """Shows what there is of them."""
    pack: GrowingPack
    form: FileForm
    place: Place
    key: str
    projection: Projection

    @property
    def name(self) -> str:
        """Of the image."""
        return self.source.facts.path.name

    @property
    def onto(self) -> str:
        """Definition of the metres that the tiles lie in."""
        facts = self.source.facts
        return facts.crs if facts.pins else self.projection.definition  # pins are in the farm's metres already


def kept_tiles(image: Path, projection: Projection, place: Place, also: str = "") -> SidecarSource | None:
    """Return the tiles that are kept of an image as it is now; None where there are none. It needs no image reader."""
    try:
        key = key_of(image, projection.definition, also)
    except OSError:
        return None
    return open_sidecar(place.whole(key), image.name)


def slow_form(source: ImageSource) -> FileForm | None:
    """Return how the file of an image is laid out if that makes it slow to look at, else None; None on the web."""
    from rasterio.errors import RasterioError

    if web_address(source.facts.path):
        return None  # nobody can tell when it changes
    try:
        form = form_of(source.facts, warped=source.warped)
    except (RasterioError, OSError):
        return None
    return form if needs_sidecar(form) else None


def begin(source: ImageSource, projection: Projection, place: Place, form: FileForm) -> Growing | None:
    """Begin the tiles of an image, or take up what there is of them; None where another program makes them.

    Raises
    ------
    RasterError
        If they take more than may be kept.
    StoreError
        If the disk is too full, or the folder cannot be written to.
    """
    name = source.facts.path.name
    try:
        key = key_of(source.facts.path, projection.definition, source.facts.also)
        need_room(place, source.pyramid, name, place.growing(key))
        pack = GrowingPack(place.growing(key), source.pyramid, name)
    except PigmapError:
        raise
    except BlockingIOError:
        return None
    except OSError as why:
        raise _refused(place, name, why) from why
    tiles = GrowingSource(pack, name, source, partial(is_quick, form))
    return Growing(source, tiles, pack, form, place, key, projection)


def grow(growing: Growing, *, stop: Stop = no_stop, told: Told | None = None) -> bool:
    """Make the tiles that are not there yet; return whether all are there now. What was made before a stop stays.

    Raises
    ------
    RasterError
        If they take more than may be kept, or parts of the image cannot be read.
    StoreError
        If the disk takes no more, or takes nothing.
    """
    from rasterio.errors import RasterioError

    pack, place = growing.pack, growing.place

    def row_made(spot: Spot, share: float) -> None:
        if growing.source.troubles:
            raise not_whole(growing.name)
        if not make_room(place, 0, (pack.path,)):
            raise too_large(place, growing.name, round(pack.taken / share))
        if told is not None:
            told(spot, share)

    try:
        with _rows(growing, stop) as rows:
            whole = build(rows, pack, _manner(growing), stop=stop, told=row_made)
        if not whole or not _unchanged(growing):
            return False
        pack.finish(place.whole(growing.key))
    except PigmapError:
        _drop(growing)
        raise
    except RasterioError as why:  # some of them are faults of the disk by their kind, but are the image's
        _drop(growing)
        raise not_whole(growing.name) from why
    except (OSError, ValueError, MemoryError) as why:
        _drop(growing)
        raise _refused(place, growing.name, why) from why
    return True


@contextmanager
def _rows(growing: Growing, stop: Stop) -> Iterator[Rows]:
    """Give the pixels of an image through a reader of its own, which nobody closes meanwhile."""
    source = growing.source
    if source.plain:
        with PlainRows(source.facts, AnyRows(source)) as plain:
            yield plain
        return
    cell_px = cell_for(source, growing.onto)
    if cell_px:
        with WarpedRows(source, growing.onto, cell_px, growing.form, stop) as warped:
            yield warped
        return
    square = math.isclose(source.grid.pixel_x_m, source.grid.pixel_y_m, rel_tol=1e-9)
    with ImageSource(source.facts, growing.projection, blended=True) as image:
        yield AnyRows(image, smooth=not square and not source.warped)
        if image.troubles:
            raise not_whole(growing.name)


def _manner(growing: Growing) -> Manner:
    block = (TILE_PX, TILE_PX) if growing.source.warped else growing.form.block
    return Manner(block, exact=growing.source.facts.bands.palette)


def _unchanged(growing: Growing) -> bool:
    """Whether the image is still that from which the tiles were made; else they go."""
    facts = growing.source.facts
    try:
        same = key_of(facts.path, growing.projection.definition, facts.also) == growing.key
    except OSError:
        same = False
    if not same:
        _drop(growing)
    return same


def _drop(growing: Growing) -> None:
    """Give the room back: what cannot be finished is of no use. The tiles are read from the image again."""
    growing.pack.records.clear()
    growing.pack.close()
    with suppress(OSError):
        growing.pack.path.unlink(missing_ok=True)


def _refused(place: Place, name: str, why: Exception) -> PigmapError:
    if isinstance(why, MemoryError):
        return no_memory(name)
    if isinstance(why, DamagedError):
        return other_bytes(place, name)
    if not isinstance(why, OSError):
        return not_whole(name)
    return disk_full(place, name) if why.errno in _FULL else unwritable(place, name, why)
