"""The pixels of an image that lies otherwise than on the map, for its kept tiles: blended, in all bands at once.

The image library blends band by band with a general kernel; here the file's own pixels are read and drawn out over
quadrilaterals, in less than half of the time. Within each of them the way from map to file counts as bilinear; they
are so small that this is off by less than a tenth of a pixel.
"""

from __future__ import annotations

import math
from collections import OrderedDict
from contextlib import ExitStack
from types import TracebackType
from typing import TYPE_CHECKING, NamedTuple

import numpy as np
from numpy.typing import NDArray

from pigmap.geometry.coordinates import same_system
from pigmap.imagery.facts import ImageFacts
from pigmap.imagery.handle import Handle
from pigmap.imagery.jpeg_tiles import JpegTiles, jpeg_tiles
from pigmap.imagery.pixels import coloured
from pigmap.imagery.pyramid import TILE_PX, PixelGrid, Spot
from pigmap.imagery.sidecar_build import PIECE_PX, Stop, StoppedError, no_stop
from pigmap.imagery.sidecar_need import FileForm
from pigmap.imagery.sidecar_tiles import for_the_screen

if TYPE_CHECKING:
    from pigmap.imagery.source import ImageSource

CELLS_PX = (256, 128, 64, 32)
"""Sides that the quadrilaterals on the map may have: the fewer there are, the sooner they are drawn."""
_EDGE_PX = 2
"""Read round what is wanted, for blending."""
_MOST_SHRUNK = 1.5
"""Where more pixels of the file than so many go into one of the map along a side, blending two by two skips some."""
_MOST_OFF_PX = 0.1
_TRIED = 7
"""Middles along each side of an image."""
_KEPT_TILES = 24

Spots = NDArray[np.float64]
"""Columns and rows, (..., 2)."""


class Window(NamedTuple):
    """Pixels of the file: columns and rows from, to."""

    left: int
    top: int
    right: int
    bottom: int


class WarpedRows:
    """Gives the pixels of the finest level. Used and closed by the thread that made it.

    Parameters
    ----------
    source
        The image as the map reads it.
    onto
        Definition of the farm's metres, which its grid counts in.
    cell_px
        Side of the quadrilaterals, as `cell_for` says.
    form
        How the file is laid out: of one of long rows few are unpacked at a time.
    stop
        Asked between such pieces.
    """

    def __init__(self, source: ImageSource, onto: str, cell_px: int, form: FileForm, stop: Stop = no_stop) -> None:
        facts = source.facts
        self._cell_px, self._stop = cell_px, stop
        self._at_once = _rows_at_once(form)
        self._facts, self._grid, self._stretch = facts, source.grid, source.stretch
        self._way = _Way(facts, source.grid, onto)
        self._open = ExitStack()
        self._handle = Handle(facts, "")
        self._open.callback(self._handle.close)
        straight = _is_straight(facts, self._handle)
        self._jpeg = _KeptTiles(found) if straight and (found := jpeg_tiles(facts.path)) is not None else None
        if self._jpeg is not None:
            self._open.callback(self._jpeg.close)

    def fill(self, out: NDArray[np.uint8], top: int, left: int) -> None:
        """Write the pixels from a row and a column on as red, green, blue and alpha into (rows, columns, 4).

        Raises
        ------
        RasterioError
            If the file cannot be read there.
        StoppedError
            If it was told to stop meanwhile.
        """
        from PIL import Image

        rows, columns = out.shape[:2]
        across, down = _edges(columns, self._cell_px), _edges(rows, self._cell_px)
        spots = self._way.to_file(left + across[None, :], top + down[:, None])
        window = self._window(spots)
        if window is None:
            out[:] = 0
            return
        pixels = self._pixels(window)
        opaque = bool(pixels[..., 3].min() == 255)
        shown = pixels if opaque else _multiplied(pixels)
        picture = Image.frombuffer("RGBX", shown.shape[1::-1], shown, "raw", "RGBX", 0, 1)
        mesh = _mesh(across, down, spots - (window.left, window.top))
        drawn = picture.transform((columns, rows), Image.Transform.MESH, mesh, Image.Resampling.BILINEAR)
        out[:] = np.asarray(drawn)
        if not opaque:
            _divide(out)

    def _window(self, spots: Spots) -> Window | None:
        """Return the pixels of the file that some spots lie between; None where there are none."""
        (left, top), (right, bottom) = spots.min(axis=(0, 1)), spots.max(axis=(0, 1))
        if not np.isfinite((left, top, right, bottom)).all():
            return None
        window = Window(
            max(math.floor(left) - _EDGE_PX, 0),
            max(math.floor(top) - _EDGE_PX, 0),
            min(math.ceil(right) + _EDGE_PX, self._facts.columns),
            min(math.ceil(bottom) + _EDGE_PX, self._facts.rows),
        )
        return window if window.left < window.right and window.top < window.bottom else None

    def _pixels(self, window: Window) -> NDArray[np.uint8]:
        if self._jpeg is not None:
            straight = self._jpeg.window(window)
            if straight is not None:
                return straight
        pixels = np.empty((window.bottom - window.top, window.right - window.left, 4), dtype=np.uint8)
        for top in range(window.top, window.bottom, self._at_once):
            if self._stop():
                raise StoppedError
            bottom = min(top + self._at_once, window.bottom)
            part = float(window.left), float(top), float(window.right), float(bottom)
            piece = self._handle.read(part, (window.right - window.left, bottom - top), smooth=False)
            shown = coloured(piece.values, piece.alpha, stretch=self._stretch, palette=None)
            pixels[top - window.top : bottom - window.top] = shown
        return pixels

    def __enter__(self) -> WarpedRows:
        return self

    def __exit__(
        self, kind: type[BaseException] | None, why: BaseException | None, where: TracebackType | None
    ) -> None:
        self._open.close()


def _rows_at_once(form: FileForm) -> int:
    """Return how many rows of the file are read at once: whole blocks, and few where they are long."""
    high, wide = form.block
    many = PIECE_PX // max(wide, TILE_PX)
    return max(many // high, 1) * high


def cell_for(source: ImageSource, onto: str) -> int:
    """Return the side of the quadrilaterals over which an image can be drawn out so; 0 where it cannot.

    It must lie by corners, not by points, and must not be shrunk by it; a palette is never blended. How large they may
    be is tried at the middles of some all over the image.
    """
    facts, grid = source.facts, source.grid
    if not source.warped or facts.bands.palette or source.placed_by_points:
        return 0
    way = _Way(facts, grid, onto)
    return next((cell for cell in CELLS_PX if _is_near(way, grid, cell)), 0)


def _is_near(way: _Way, grid: PixelGrid, cell: int) -> bool:
    columns = np.linspace(0, grid.columns, _TRIED)[None, :] + np.zeros((_TRIED, 1))
    rows = np.linspace(0, grid.rows, _TRIED)[:, None] + np.zeros((1, _TRIED))
    half = cell / 2
    here, east, south, corner, middle = (
        way.to_file(columns + x * half, rows + y * half) for x, y in ((-1, -1), (1, -1), (-1, 1), (1, 1), (0, 0))
    )
    if not all(np.isfinite(each).all() for each in (here, east, south, corner, middle)):
        return False
    off = np.abs((here + east + south + corner) / 4 - middle).max()
    step = max(np.hypot(*np.moveaxis(each - here, -1, 0)).max() for each in (east, south)) / cell
    return bool(off <= _MOST_OFF_PX and step <= _MOST_SHRUNK)


class _Way:
    """From pixels of the map's grid to pixels of the file."""

    def __init__(self, facts: ImageFacts, grid: PixelGrid, onto: str) -> None:
        from pyproj import Transformer

        self._grid = grid
        a, b, c, d, e, f = facts.transform
        self._back = np.linalg.inv(np.array([[a, b], [d, e]]))
        self._corner = np.array([c, f])
        same = same_system(facts.crs, onto)
        self._moved = None if same else Transformer.from_crs(onto, facts.crs, always_xy=True)

    def to_file(self, columns: NDArray[np.float64], rows: NDArray[np.float64]) -> Spots:
        grid = self._grid
        east, north = np.broadcast_arrays(grid.west + columns * grid.pixel_x_m, grid.north - rows * grid.pixel_y_m)
        if self._moved is not None:
            east, north = self._moved.transform(east, north)
        spots: Spots = (np.stack([east, north], axis=-1) - self._corner) @ self._back.T
        return spots


class _KeptTiles:
    """Tiles of a tiled JPEG file, the last ones of which are kept: neighbours on the map share them."""

    def __init__(self, tiles: JpegTiles) -> None:
        self._tiles = tiles
        self._kept: OrderedDict[Spot, NDArray[np.uint8]] = OrderedDict()

    def window(self, window: Window) -> NDArray[np.uint8] | None:
        """Return pixels as red, green, blue and alpha; None where one of the tiles cannot be read so."""
        pixels = np.empty((window.bottom - window.top, window.right - window.left, 4), dtype=np.uint8)
        for row in range(window.top // TILE_PX, -(-window.bottom // TILE_PX)):
            for column in range(window.left // TILE_PX, -(-window.right // TILE_PX)):
                tile = self._tile(Spot(0, column, row))
                if tile is None:
                    return None
                x, y = column * TILE_PX, row * TILE_PX
                left, top = max(window.left, x), max(window.top, y)
                right, bottom = min(window.right, x + TILE_PX), min(window.bottom, y + TILE_PX)
                part = tile[top - y : bottom - y, left - x : right - x]
                pixels[top - window.top : bottom - window.top, left - window.left : right - window.left] = part
        return pixels

    def _tile(self, spot: Spot) -> NDArray[np.uint8] | None:
        if spot in self._kept:
            self._kept.move_to_end(spot)
            return self._kept[spot]
        tile = self._tiles.tile(spot, "RGBA")
        if tile is not None:
            self._kept[spot] = tile
            if len(self._kept) > _KEPT_TILES:
                self._kept.popitem(last=False)
        return tile

    def close(self) -> None:
        self._tiles.close()


def _is_straight(facts: ImageFacts, handle: Handle) -> bool:
    """Whether the file's bytes are its colours: red, green and blue, all of them data."""
    bands = facts.bands
    plain = bands.colours == (1, 2, 3) and bands.alpha is None and not bands.stretched
    return plain and not facts.opens and not handle.has_bare


def _edges(pixels: int, cell_px: int) -> NDArray[np.float64]:
    """Return where the quadrilaterals of so many pixels begin and end."""
    return np.append(np.arange(0, pixels, cell_px), pixels).astype(np.float64)


Quad = tuple[float, float, float, float, float, float, float, float]


def _mesh(
    across: NDArray[np.float64], down: NDArray[np.float64], spots: Spots
) -> list[tuple[tuple[int, int, int, int], Quad]]:
    """Return each quadrilateral: its box on the map, and its corners in the file from the north-west anticlockwise."""
    x, y = across.astype(int).tolist(), down.astype(int).tolist()
    corners = np.concatenate([spots[:-1, :-1], spots[1:, :-1], spots[1:, 1:], spots[:-1, 1:]], axis=-1).tolist()
    return [
        ((x[column], y[row], x[column + 1], y[row + 1]), tuple(corners[row][column]))
        for row in range(len(y) - 1)
        for column in range(len(x) - 1)
    ]


def _multiplied(pixels: NDArray[np.uint8]) -> NDArray[np.uint8]:
    """Return colours multiplied by alpha: what is no data then gives nothing to what it is blended with."""
    return np.ascontiguousarray(for_the_screen(pixels)[..., [2, 1, 0, 3]])


def _divide(pixels: NDArray[np.uint8]) -> None:
    """Turn colours that were multiplied by alpha back, in place."""
    alpha = pixels[..., 3]
    part = (alpha > 0) & (alpha < 255)
    if part.any():
        share = alpha[part, None].astype(np.uint16)
        pixels[part, :3] = np.minimum((pixels[part, :3].astype(np.uint32) * 255 + share // 2) // share, 255)
    pixels[alpha == 0] = 0
