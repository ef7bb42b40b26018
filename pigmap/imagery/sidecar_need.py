"""Whether an image is slow to look at as it is: how many of its pixels must be unpacked to show a few."""

from __future__ import annotations

import math
from typing import NamedTuple

from pigmap.imagery.facts import ImageFacts
from pigmap.imagery.pyramid import TILE_PX
from pigmap.imagery.where import reader_name, reading

_PACKED_NS, _PLAIN_NS = 20.0, 4.0
"""Time to unpack a pixel, or to read one that is not packed. Measured: 14 to 19 and 5 ns for three bands of bytes."""
_MOST_TILE_NS, _MOST_WHOLE_NS = 15e6, 250e6
"""Time that a tile, and that a view of the whole image, may take before it is felt."""
_PATIENCE_NS, _HURRY_NS = 1e9, 100e6
"""Time that a tile may take while there is nothing better: of the finest level, of any other."""
_SMALL_PX = 1_500_000
"""So small an image is quick however it is kept."""


class FileForm(NamedTuple):
    """How the file of an image is laid out."""

    columns: int
    rows: int
    block: tuple[int, int]
    """Rows and columns of its pieces."""
    packed: bool
    """Whether they are compressed."""
    factors: tuple[int, ...] = ()
    """How many times smaller the smaller copies in it are."""
    warped: bool = False


def form_of(facts: ImageFacts, *, warped: bool) -> FileForm:
    """Return how the file of an image is laid out.

    Raises
    ------
    rasterio.errors.RasterioError
        If it cannot be opened.
    """
    import rasterio

    with reading(), rasterio.open(facts.opens or reader_name(facts.path)) as file:
        band = facts.bands.colours[0]
        block = file.block_shapes[band - 1]
        plain = file.driver == "GTiff" and file.compression is None
        factors = tuple(int(each) for each in file.overviews(band))
        return FileForm(int(file.width), int(file.height), (int(block[0]), int(block[1])), not plain, factors, warped)


def needs_sidecar(form: FileForm) -> bool:
    """Whether an image is to have tiles of its own.

    Examples
    --------
    >>> needs_sidecar(FileForm(30_000, 30_000, (512, 512), True, (2, 4, 8, 16, 32)))
    False
    >>> needs_sidecar(FileForm(30_000, 30_000, (1, 30_000), True))
    True
    """
    if form.columns * form.rows <= _SMALL_PX:
        return False
    return form.warped or tile_ns(form) > _MOST_TILE_NS or whole_ns(form) > _MOST_WHOLE_NS


def tile_ns(form: FileForm) -> float:
    """Return about how long a tile takes that is in no memory yet [ns]."""
    high, wide = (
        _blocks(TILE_PX, each, side) * each for each, side in zip(form.block, (form.rows, form.columns), strict=True)
    )
    return min(high, form.rows) * min(wide, form.columns) * _pixel_ns(form)


def whole_ns(form: FileForm) -> float:
    """Return about how long a view of the whole image takes [ns]."""
    enough = max(form.columns, form.rows) / 1024
    factor = max((each for each in form.factors if each <= enough * 2), default=1)
    return form.columns * form.rows / factor**2 * _pixel_ns(form)


def is_quick(form: FileForm, level: int) -> bool:
    """Whether a tile of a level can be read from the image itself without holding up those that come after it."""
    factor: int = max((each for each in form.factors if each <= 2**level), default=1)
    most = form.columns * form.rows / factor**2 * _pixel_ns(form)
    takes = min(tile_ns(form) * (2**level / factor) ** 2, most)
    return bool(takes <= (_PATIENCE_NS if level == 0 else _HURRY_NS))


def _pixel_ns(form: FileForm) -> float:
    return _PACKED_NS if form.packed else _PLAIN_NS


def _blocks(wanted: int, block: int, side: int) -> int:
    return min(math.ceil(wanted / block), math.ceil(side / block))


def rows_ns(form: FileForm, rows: int) -> float:
    """Return about how long it takes to read so many rows that are spread over an image [ns]."""
    factor = max((each for each in form.factors if each * rows <= form.rows), default=1)
    there = form.rows / factor
    unpacked = min(math.ceil(there / form.block[0]), rows) * form.block[0]
    return min(unpacked, there) * form.columns / factor * _pixel_ns(form)
