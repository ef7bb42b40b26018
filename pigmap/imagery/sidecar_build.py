"""Makes the kept tiles of an image, strip by strip: it can be stopped within a moment and gone on with later."""

from __future__ import annotations

from collections.abc import Callable, Iterator
from typing import NamedTuple

import numpy as np

from pigmap.imagery.pyramid import TILE_PX, Pyramid, Spot
from pigmap.imagery.sidecar_order import finer, in_order, level_tiles, tile_count, tile_size
from pigmap.imagery.sidecar_pack import GrowingPack
from pigmap.imagery.sidecar_rows import Rows
from pigmap.imagery.sidecar_tiles import Packed, halved, packed, packed_for_the_screen

PIECE_PX = 400_000
"""Pixels that are read at once: so few that stopping waits for no more than a moment."""

Stop = Callable[[], bool]
"""Whether to stop; it may also wait, to give way to somebody else."""


class StoppedError(Exception):
    """It was told to stop in the middle of a piece; never shown to a person."""


class Manner(NamedTuple):
    """How an image is to be read and kept."""

    block: tuple[int, int] = (1, 1)
    """Rows and columns of the pieces that its file is made of."""
    exact: bool = False
    """Whether its tiles are kept without loss."""


def no_stop() -> bool:
    """Never stop."""
    return False


def build(
    rows: Rows,
    pack: GrowingPack,
    manner: Manner | None = None,
    *,
    stop: Stop = no_stop,
    told: Callable[[Spot, float], None] | None = None,
) -> bool:
    """Make the tiles that a pack does not have yet; return whether it has all of them now.

    Parameters
    ----------
    rows
        Where the pixels come from.
    pack
        Takes the tiles in their order, and gives those that the coarser ones are made from.
    manner
        How it is read.
    stop
        Asked between all pieces of work.
    told
        Called after each row of tiles with the last of them and with the share that is done.

    Raises
    ------
    OSError
        If the disk takes no more.
    """
    manner = manner or Manner()
    count, strip = tile_count(pack.pyramid), _Strip(rows, pack.pyramid, manner)
    for spot in in_order(pack.pyramid):
        if spot in pack.records:
            continue
        if stop():
            return False
        tile = strip.packed(spot, stop) if spot.level == 0 else _coarser(pack, spot, manner)
        if tile is None:
            return False
        pack.add(spot, tile)
        if told is not None and spot.column == level_tiles(pack.pyramid, spot.level)[0] - 1:
            told(spot, len(pack.records) / count)
    return True


class _Strip:
    """The rows of an image that one row of tiles is cut from."""

    def __init__(self, rows: Rows, pyramid: Pyramid, manner: Manner) -> None:
        self._rows, self._manner = rows, manner
        self._pyramid = pyramid
        self._row = -1
        self._pixels = np.zeros((0, 0, 4), dtype=np.uint8)

    def packed(self, spot: Spot, stop: Stop) -> Packed | None:
        """Return a tile of the finest level; None once told to stop."""
        if spot.row != self._row and not self._read(spot.row, stop):
            return None
        columns = tile_size(self._pyramid, spot)[1]
        left = spot.column * TILE_PX
        return packed(self._pixels[:, left : left + columns], exact=self._manner.exact)

    def _read(self, row: int, stop: Stop) -> bool:
        high = tile_size(self._pyramid, Spot(0, 0, row))[0]
        self._row = -1
        if self._pixels.shape[0] != high:
            self._pixels = np.zeros((high, self._pyramid.columns, 4), dtype=np.uint8)
        for top, bottom, left, right in pieces(high, self._pyramid.columns, self._manner.block):
            if stop():
                return False
            try:
                self._rows.fill(self._pixels[top:bottom, left:right], row * TILE_PX + top, left)
            except StoppedError:
                return False
        self._row = row
        return True


def pieces(rows: int, columns: int, block: tuple[int, int]) -> Iterator[tuple[int, int, int, int]]:
    """Yield top, bottom, left and right of the pieces in which a strip is read.

    Each is as broad as it may be, so that a file of whole rows is read row by row; where its blocks are high, the
    pieces are as high as they and less broad: no block is read twice.
    """
    high = min(max(block[0], PIECE_PX // columns, 1), rows)
    across = max(PIECE_PX // high // block[1], 1) * block[1] if high * columns > PIECE_PX else columns
    for top in range(0, rows, high):
        for left in range(0, columns, across):
            yield top, min(top + high, rows), left, min(left + across, columns)


def _coarser(pack: GrowingPack, spot: Spot, manner: Manner) -> Packed:
    tile = np.zeros((*tile_size(pack.pyramid, spot), 4), dtype=np.uint8)
    half = TILE_PX // 2
    for part in finer(pack.pyramid, spot):
        kept = pack.get(part)
        assert kept is not None  # the order says so
        top, left = (part.row - 2 * spot.row) * half, (part.column - 2 * spot.column) * half
        small = halved(kept, tile_size(pack.pyramid, part))
        tile[top : top + small.shape[0], left : left + small.shape[1]] = small
    return packed_for_the_screen(tile, exact=manner.exact)
