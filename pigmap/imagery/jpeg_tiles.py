"""Tiles of a tiled JPEG image straight from its file: a quarter of the time of the general reader.

The general reader decodes with another library, interleaves bands and turns the order of colours; here one call makes
what a screen draws.
"""

from __future__ import annotations

import threading
from pathlib import Path

import numpy as np
from numpy.typing import NDArray

from pigmap.imagery import tiff
from pigmap.imagery.pyramid import TILE_PX, Spot
from pigmap.imagery.tiff import Directory, directories
from pigmap.records.frozen import dataclass

_JPEG, _YCBCR = 7, 6
_REDUCED, _MASK = 1, 4
PATIENCE_S = 1.0
"""So long closing waits for a tile that is being read [s]. Own choice."""


@dataclass(frozen=True, slots=True)
class _Level:
    """One picture of the file: the image itself, or a smaller copy."""

    columns: int
    rows: int
    side: int
    """Of a tile of the file [px]."""
    offsets: NDArray[np.uint64]
    lengths: NDArray[np.uint64]
    tables: bytes

    @property
    def across(self) -> int:
        """How many tiles stand side by side."""
        return -(-self.columns // self.side)


class JpegTiles:
    """Reads tiles of a file from any thread.

    Parameters
    ----------
    path
        The file.
    levels
        Its pictures by level of the pyramid; some may be missing.
    """

    def __init__(self, path: Path, levels: dict[int, _Level]) -> None:
        self._levels = levels
        self._file = path.open("rb", buffering=0)
        self._lock = threading.Lock()

    def tile(self, spot: Spot, order: str = "BGRA") -> NDArray[np.uint8] | None:
        """Return a tile, (512, 512, 4) of blue, green, red and alpha (or in another order), 0 beyond the image's edge.

        None where the file has no such level, or cannot be read or decoded there: the general reader says why.
        """
        level = self._levels.get(spot.level)
        if level is None:
            return None
        per = TILE_PX // level.side
        first_column, first_row = spot.column * per, spot.row * per
        if per == 1 and self._is_whole(level, spot.column, spot.row):
            return self._decoded(level, spot.column, spot.row, order)
        tile = np.zeros((TILE_PX, TILE_PX, 4), dtype=np.uint8)
        for row in range(first_row, min(first_row + per, -(-level.rows // level.side))):
            for column in range(first_column, min(first_column + per, level.across)):
                part = self._decoded(level, column, row, order)
                if part is None:
                    return None
                x, y = (column - first_column) * level.side, (row - first_row) * level.side
                wide = min(level.side, level.columns - column * level.side)
                high = min(level.side, level.rows - row * level.side)
                tile[y : y + high, x : x + wide] = part[:high, :wide]
        return tile

    def close(self) -> None:
        """Let the file go; what is read afterwards is None. It is kept where its disk does not answer."""
        if self._lock.acquire(timeout=PATIENCE_S):
            self._file.close()
            self._lock.release()

    def _is_whole(self, level: _Level, column: int, row: int) -> bool:
        return (column + 1) * level.side <= level.columns and (row + 1) * level.side <= level.rows

    def _decoded(self, level: _Level, column: int, row: int, order: str) -> NDArray[np.uint8] | None:
        from simplejpeg import decode_jpeg

        number = row * level.across + column
        offset, length = int(level.offsets[number]), int(level.lengths[number])
        if not offset or not length:
            return None
        try:
            with self._lock:
                self._file.seek(offset)
                kept = self._file.read(length)
            decoded: NDArray[np.uint8] = decode_jpeg(kept[:2] + level.tables + kept[2:], order)
        except (OSError, ValueError):
            return None
        return decoded if decoded.shape == (level.side, level.side, 4) else None


def jpeg_tiles(path: Path) -> JpegTiles | None:
    """Return the reader of a file's tiles; None where the general reader has to do it.

    It has to unless the file is a TIFF of tiles of 512 px, or of a size that divides 512, in three bands of bytes,
    pixel by pixel, JPEG in luminance and chrominance, without a mask of its own. A mask beside the file, or a value
    that stands for no data, is for the caller to find.
    """
    try:
        found = directories(path)
        if not found or any(each.one(tiff.NEW_SUBFILE, 0) & _MASK for each in found):
            return None
        whole = found[0].one(tiff.COLUMNS), found[0].one(tiff.ROWS)
        levels: dict[int, _Level] = {}
        for each in found:
            number = _level_number(each, whole)
            level = _level(each)
            if number is not None and level is not None:
                levels.setdefault(number, level)
        return JpegTiles(path, levels) if 0 in levels else None
    except OSError:
        return None


def _level_number(directory: Directory, whole: tuple[int, int]) -> int | None:
    """Return of which level a picture is: how often it is half the size of the image."""
    columns, rows = directory.one(tiff.COLUMNS), directory.one(tiff.ROWS)
    if columns < 1 or rows < 1 or (directory.one(tiff.NEW_SUBFILE, 0) & _REDUCED) != ((columns, rows) != whole):
        return None
    for number in range(32):
        factor = 2**number
        if all(side in (full // factor, -(-full // factor)) for side, full in zip((columns, rows), whole, strict=True)):
            return number
        if factor > max(whole):
            break
    return None


def _level(directory: Directory) -> _Level | None:
    side = directory.one(tiff.TILE_COLUMNS)
    plain = (
        directory.one(tiff.COMPRESSION) == _JPEG
        and directory.one(tiff.PHOTOMETRIC) == _YCBCR
        and directory.one(tiff.SAMPLES, 1) == 3
        and directory.all(tiff.BITS).tolist() == [8, 8, 8]
        and directory.one(tiff.PLANAR, 1) == 1
        and 0 < side == directory.one(tiff.TILE_ROWS)
        and TILE_PX % max(side, 1) == 0
    )
    if not plain:
        return None
    level = _Level(
        directory.one(tiff.COLUMNS),
        directory.one(tiff.ROWS),
        side,
        directory.all(tiff.TILE_OFFSETS),
        directory.all(tiff.TILE_BYTES),
        directory.all(tiff.JPEG_TABLES).astype(np.uint8).tobytes()[2:-2],
    )
    tiles = level.across * -(-level.rows // side)
    return level if len(level.offsets) == len(level.lengths) == tiles else None
