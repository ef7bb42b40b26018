"""An aerial image as the map reads it: any piece, in the farm's metres, as red, green, blue and alpha."""

from __future__ import annotations

import math
import threading
from collections.abc import Callable
from functools import partial
from pathlib import Path
from time import monotonic

import numpy as np
from numpy.typing import NDArray

from pigmap.errors import RasterError
from pigmap.geometry.coordinates import same_system
from pigmap.imagery.facts import ImageFacts
from pigmap.imagery.handle import Handle, Window
from pigmap.imagery.jpeg_tiles import JpegTiles, jpeg_tiles
from pigmap.imagery.look import AS_IT_IS, Look, with_look
from pigmap.imagery.pixels import Stretch, coloured, palette_table, stretch_between, stretch_of
from pigmap.imagery.pyramid import TILE_PX, Bounds, PixelGrid, Spot
from pigmap.imagery.unread import AGAIN_S, Part, TileLaterError, fill, inside, out_of_reach, silent, torn
from pigmap.imagery.vet import vet
from pigmap.imagery.watch import FileWatch
from pigmap.imagery.where import called, host_of
from pigmap.records import Projection
from pigmap.text import Text

_SAMPLE_PX = 512
"""Longer side of the small picture that the stretch is taken from."""


def open_source(path: Path, projection: Projection, look: Look = AS_IT_IS) -> ImageSource:
    """Return the reader of an image, in the farm's metres, shown as a person wants.

    Raises
    ------
    RasterError
        If the file cannot lie under the map, lies where the farm's metres do not reach, or lacks a band.
    """
    return ImageSource(with_look(vet(path), look), projection)


class ImageSource:
    """Reads pieces of one image from any thread: each has its own hold on the file.

    A piece that cannot be read is transparent, and `troubles` says so once; reading pieces never raises.

    Parameters
    ----------
    facts
        What is known of the image.
    projection
        The farm's.
    blended
        Blend neighbouring pixels wherever it is warped: slower, for tiles that are kept.
    """

    def __init__(self, facts: ImageFacts, projection: Projection, *, blended: bool = False) -> None:
        self.facts = facts
        self._blended = blended
        onto = facts.crs if facts.pins else projection.definition  # pins are in the farm's metres already
        self._warp_to = "" if facts.north_up and same_system(facts.crs, onto) else onto
        self._mine = threading.local()
        self._lock = threading.Lock()
        self._handles: list[Handle] = []
        self._closed = False
        self._troubles: tuple[Text, ...] = ()
        self.told: Callable[[RasterError], None] | None = None
        """Is told of each new trouble, by the thread that met it."""
        self._host = host_of(facts.path)
        self._rests_until = 0.0
        self._holes: dict[Spot, tuple[Bounds, ...]] = {}
        self._jpeg: JpegTiles | None = None
        first = self._first_handle(projection)
        self._watch = FileWatch(facts.path)
        a, _, c, _, e, f = first.transform
        self.grid = PixelGrid(c, f, a, -e, first.columns, first.rows)
        self.pyramid = self.grid.pyramid()
        self.placed_by_points = first.by_points
        """Whether points, not corners, say where it lies."""
        self._palette = palette_table(first.palette) if first.palette is not None else None
        wanted = partial(stretch_between, facts.bands.darkest, facts.bands.brightest, partial(self._sampled, first))
        self.stretch = wanted() if facts.bands.stretched else None
        """Values that are shown black and white; None where the file's own bytes are shown as they are."""
        self.plain = self._may_be_straight(first)
        """Whether the file's own pixels are those of the map: in its metres, square, and all of them data."""
        if self.plain:
            self._jpeg = jpeg_tiles(facts.path)

    @property
    def bounds(self) -> Bounds:
        """West, south, east and north of the image [m]."""
        return self.grid.bounds

    @property
    def levels(self) -> int:
        """How many levels of tiles there are; each halves the one before."""
        return self.pyramid.levels

    @property
    def metres_per_pixel(self) -> float:
        """Side of a pixel of level 0 [grid m]."""
        return self.pyramid.pixel_m

    @property
    def bgra(self) -> bool:
        """Whether tiles come as blue, green, red, alpha: what a screen draws. Pieces never do."""
        return self._jpeg is not None

    @property
    def warped(self) -> bool:
        """Whether its pixels are not those of its file but computed from them."""
        return bool(self._warp_to)

    @property
    def troubles(self) -> tuple[Text, ...]:
        """What went wrong while reading, one sentence for each kind of trouble."""
        return self._troubles

    def read(self, bounds: Bounds, size: tuple[int, int], *, smooth: bool = True) -> NDArray[np.uint8]:
        """Return a piece of the image.

        Parameters
        ----------
        bounds
            West, south, east and north of the piece [m]; it may reach beyond the image.
        size
            Columns and rows wanted.
        smooth
            Blend neighbouring pixels: for pages and pictures.

        Returns
        -------
        NDArray
            Red, green, blue and alpha, (rows, columns, 4), the northern row first; alpha 0 where there is no data.
        """
        return self._filled(self.grid.window(bounds), size, smooth=smooth)[0]

    def tile(self, level: int, column: int, row: int) -> NDArray[np.uint8]:
        """Return a tile of the pyramid, (512, 512, 4), its colours as `bgra` says; transparent beyond the edge.

        Raises
        ------
        TileLaterError
            If its server does not answer, or another file stands in the place of the image now.
        """
        if (why := self._watch.look()) is not None:
            self._say(why)
        if self._watch.changed:
            raise TileLaterError
        straight = self._jpeg.tile(Spot(level, column, row)) if self._jpeg is not None else None
        if straight is not None:
            return straight
        window = self.grid.window(self.tile_bounds(level, column, row))
        tile, holes = self._filled(window, (TILE_PX, TILE_PX), smooth=False)
        if holes and (self._host or self._watch.gone or self._watch.changed):
            raise TileLaterError
        if holes:
            self._keep_holes(Spot(level, column, row), holes)
        return tile[..., [2, 1, 0, 3]] if self.bgra else tile

    def unread(self, spot: Spot) -> tuple[Bounds, ...]:
        """Return the ground of a tile that could not be read when it was read last [m]."""
        return self._holes.get(spot, ())

    @property
    def stale(self) -> bool:
        """Whether another file stands in the place of the image now."""
        return self._watch.changed

    def tile_bounds(self, level: int, column: int, row: int) -> Bounds:
        """Return where a tile lies [m]."""
        return self.pyramid.tile_bounds(Spot(level, column, row))

    def close(self) -> None:
        """Let the file go; what is read afterwards is transparent."""
        with self._lock:
            self._closed = True
            handles, self._handles = self._handles, []
        if self._jpeg is not None:
            self._jpeg.close()
        for handle in handles:
            handle.close()

    def __enter__(self) -> ImageSource:
        return self

    def __exit__(self, *_: object) -> None:
        self.close()

    def _filled(self, window: Window, size: tuple[int, int], *, smooth: bool) -> tuple[NDArray[np.uint8], list[Part]]:
        """Return a picture, and the parts of it that cannot be read; a server is asked for all of it, or not at all."""
        picture = np.zeros((size[1], size[0], 4), dtype=np.uint8)
        across = inside(window[0], window[2], size[0], self.grid.columns)
        down = inside(window[1], window[3], size[1], self.grid.rows)
        if across is None or down is None:
            return picture, []
        (first, last, left, right), (upper, lower, top, bottom) = across, down
        whole = Part(left, top, right, bottom, first, last, upper, lower)
        if not self._host:
            return picture, fill(whole, lambda part: self._put(picture, part, smooth=smooth))
        if monotonic() >= self._rests_until and self._put(picture, whole, smooth=smooth):
            return picture, []
        return picture, [whole]

    def _put(self, picture: NDArray[np.uint8], part: Part, *, smooth: bool) -> bool:
        """Read a part of a picture into its place; return whether it could be."""
        from rasterio.errors import RasterioError

        try:
            handle = self._handle()
            if handle is None:
                return True
            piece = handle.read(part.window, part.size, smooth=smooth)
        except (RasterioError, OSError, MemoryError):
            self._say_unread()
            return False
        picture[part.upper : part.lower, part.first : part.last] = coloured(
            piece.values, piece.alpha, stretch=self.stretch, palette=self._palette
        )
        return True

    def _keep_holes(self, spot: Spot, holes: list[Part]) -> None:
        west, _, _, north = self.pyramid.tile_bounds(spot)
        side = self.pyramid.pixel_m * 2**spot.level
        self._holes[spot] = tuple(
            (west + hole.first * side, north - hole.lower * side, west + hole.last * side, north - hole.upper * side)
            for hole in holes
        )

    def _handle(self) -> Handle | None:
        """Return this thread's hold on the file; None once the source is closed."""
        handle: Handle | None = getattr(self._mine, "handle", None)
        if self._closed:
            return None
        if handle is None:
            handle = Handle(self.facts, self._warp_to, blended=self._blended)
            with self._lock:
                if self._closed:
                    handle.close()
                    return None
                self._handles.append(handle)
            self._mine.handle = handle
        return handle

    def _may_be_straight(self, handle: Handle) -> bool:
        """Whether the file's own pixels are those of the map: in its metres, square, and all of them data."""
        bands, grid = self.facts.bands, self.grid
        plain = bands.colours == (1, 2, 3) and bands.alpha is None and not bands.stretched and not handle.has_bare
        square = math.isclose(grid.pixel_x_m, grid.pixel_y_m, rel_tol=1e-9)
        return plain and square and not self._warp_to and not self.facts.opens

    def _first_handle(self, projection: Projection) -> Handle:
        from rasterio.errors import RasterioError

        try:
            handle = self._handle()
            assert handle is not None
            reaches = handle.reaches
        except (RasterioError, ValueError) as why:
            raise out_of_reach(called(self.facts.path), projection.name) from why
        if not reaches:
            self.close()
            raise out_of_reach(called(self.facts.path), projection.name)
        return handle

    def _sampled(self, handle: Handle) -> Stretch:
        from rasterio.errors import RasterioError

        share = min(1.0, _SAMPLE_PX / max(handle.columns, handle.rows))
        size = max(1, round(handle.columns * share)), max(1, round(handle.rows * share))
        try:
            piece = handle.read((0, 0, handle.columns, handle.rows), size, smooth=False)
        except (RasterioError, OSError):
            self._say_unread()
            return Stretch(0.0, 255.0)
        return stretch_of(piece.values, piece.alpha)

    def _say_unread(self) -> None:
        why = self._watch.look(at_once=True)
        if why is not None:
            self._say(why)
        elif self._host:
            self._rests_until = monotonic() + AGAIN_S
            self._say(silent(called(self.facts.path), self._host))
        elif not (self._watch.gone or self._watch.changed):
            self._say(torn(called(self.facts.path)))

    def _say(self, why: RasterError) -> None:
        said = Text("{what} {remedy}", {"what": why.message, "remedy": why.remedy})
        with self._lock:
            if said in self._troubles:
                return
            self._troubles += (said,)
        if self.told is not None:
            self.told(why)
