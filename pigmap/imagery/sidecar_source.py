"""The kept tiles of an image in the place of the image itself: the same questions, answered in a moment."""

from __future__ import annotations

import math
from collections.abc import Callable
from contextlib import suppress
from pathlib import Path
from typing import Protocol

import numpy as np
from numpy.typing import NDArray

from pigmap.imagery.pyramid import TILE_PX, Bounds, Pyramid, Spot
from pigmap.imagery.sidecar_order import tile_size
from pigmap.imagery.sidecar_pack import DamagedError, Pack, open_pack
from pigmap.imagery.sidecar_place import looked_at
from pigmap.imagery.sidecar_tiles import for_the_screen, unpacked
from pigmap.text import Text


class SidecarSource:
    """Reads the kept tiles of an image from any thread; needs no image reader.

    Parameters
    ----------
    pack
        The tiles: all of them, or as many as there are yet.
    name
        Of the image.
    file
        The pack's, which goes once it is found to be damaged, so that it is made again.
    """

    bgra = True
    """Tiles come as blue, green, red, alpha: what a screen draws."""

    def __init__(self, pack: Pack, name: str, file: Path | None = None) -> None:
        self.pack = pack
        self.pyramid: Pyramid = pack.pyramid
        self._name = name
        self._file = file
        self._damaged = False

    @property
    def bounds(self) -> Bounds:
        """West, south, east and north of the image [m]."""
        grid = self.pyramid
        return grid.west, grid.north - grid.rows * grid.pixel_m, grid.west + grid.columns * grid.pixel_m, grid.north

    @property
    def levels(self) -> int:
        """How many levels of tiles there are; each halves the one before."""
        return self.pyramid.levels

    @property
    def metres_per_pixel(self) -> float:
        """Side of a pixel of level 0 [grid m]."""
        return self.pyramid.pixel_m

    @property
    def troubles(self) -> tuple[Text, ...]:
        """What went wrong while reading."""
        if not self._damaged:
            return ()
        return (Text("Kept pictures of {name} were damaged; they are made again.", {"name": self._name}),)

    def has(self, spot: Spot) -> bool:
        """Whether a tile is there."""
        return spot in self.pack.records

    def tile(self, level: int, column: int, row: int) -> NDArray[np.uint8]:
        """Return a tile, (512, 512, 4) of blue, green, red and alpha; transparent beyond the edge and where damaged."""
        spot = Spot(level, column, row)
        return _whole(self._part(spot))

    def _part(self, spot: Spot) -> NDArray[np.uint8]:
        nothing = np.zeros((0, 0, 4), dtype=np.uint8)
        try:
            kept = self.pack.get(spot)
            part = unpacked(kept) if kept is not None else nothing
            if len(part) and part.shape[:2] != tile_size(self.pyramid, spot):
                raise DamagedError(str(spot))
        except DamagedError:
            self._give_up()
            return nothing
        except (ValueError, OSError):
            return nothing
        return part

    def _give_up(self) -> None:
        self._damaged = True
        if self._file is not None:
            with suppress(OSError):
                self._file.unlink(missing_ok=True)

    def tile_bounds(self, level: int, column: int, row: int) -> Bounds:
        """Return where a tile lies [m]."""
        return self.pyramid.tile_bounds(Spot(level, column, row))

    def small(self, longest_px: int) -> NDArray[np.uint8]:
        """Return all of the image as red, green, blue and alpha, its longer side at most so many pixels.

        It is the finest level that is no larger: nothing is blended again.
        """
        longer = max(self.pyramid.columns, self.pyramid.rows)
        level = min(max(0, math.ceil(math.log2(longer / longest_px))), self.pyramid.levels - 1)
        columns, rows = -(-self.pyramid.columns // 2**level), -(-self.pyramid.rows // 2**level)
        whole = np.zeros((rows, columns, 4), dtype=np.uint8)
        for spot in self.pyramid.tiles(self.bounds, level):
            part = self._part(spot)
            top, left = spot.row * TILE_PX, spot.column * TILE_PX
            whole[top : top + part.shape[0], left : left + part.shape[1]] = part
        return np.ascontiguousarray(whole[..., [2, 1, 0, 3]])

    def close(self) -> None:
        """Let the file go; what is read afterwards is transparent."""
        self.pack.close()


class NotYetError(LookupError):
    """A tile that would take long to read, and comes with the kept ones."""


class Live(Protocol):
    """The image itself, as far as it is looked at while its tiles are made."""

    @property
    def bgra(self) -> bool:
        """The order of its colours."""
        ...

    def tile(self, level: int, column: int, row: int) -> NDArray[np.uint8]:
        """Return a tile."""
        ...

    def unread(self, spot: Spot) -> tuple[Bounds, ...]:
        """Return the ground of a tile that could not be read [m]."""
        ...


class GrowingSource(SidecarSource):
    """An image while its kept tiles are made: those that are there, else the image itself where that is quick.

    Parameters
    ----------
    pack
        Grows meanwhile.
    name
        Of the image.
    live
        The image itself.
    quick
        Whether a level of it can be read so.
    """

    def __init__(self, pack: Pack, name: str, live: Live, quick: Callable[[int], bool]) -> None:
        super().__init__(pack, name)
        self.live = live
        self._quick = quick

    def tile(self, level: int, column: int, row: int) -> NDArray[np.uint8]:
        """Return a tile, (512, 512, 4) of blue, green, red and alpha.

        Raises
        ------
        NotYetError
            If it is not there yet, and the image itself is too slow.
        """
        if self.has(Spot(level, column, row)):
            return super().tile(level, column, row)
        if not self._quick(level):
            raise NotYetError(f"{level} {column} {row}")
        tile = self.live.tile(level, column, row)
        return tile if self.live.bgra else for_the_screen(tile)

    def unread(self, spot: Spot) -> tuple[Bounds, ...]:
        """Return the ground of a tile that could not be read [m]."""
        return () if self.has(spot) else self.live.unread(spot)


def _whole(part: NDArray[np.uint8]) -> NDArray[np.uint8]:
    """Return a tile in its full size, transparent beyond what there is of it."""
    if part.shape == (TILE_PX, TILE_PX, 4):
        return part
    tile = np.zeros((TILE_PX, TILE_PX, 4), dtype=np.uint8)
    tile[: part.shape[0], : part.shape[1]] = part
    return tile


def open_sidecar(whole: Path, name: str) -> SidecarSource | None:
    """Return the kept tiles of an image; None where there are none. What is damaged is let go.

    It loads no library beside the standard one and numpy until the first tile is read.
    """
    try:
        source = SidecarSource(open_pack(whole), name, whole)
    except DamagedError:
        with suppress(OSError):
            whole.unlink(missing_ok=True)
        return None
    except OSError:
        return None
    looked_at(whole)
    return source
