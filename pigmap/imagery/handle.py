"""One thread's hold on an image file: pieces of it as bands and alpha, warped into the farm's metres if need be."""

from __future__ import annotations

import math
import threading
from contextlib import ExitStack
from contextvars import copy_context
from typing import Any, NamedTuple

import numpy as np
from numpy.typing import NDArray

from pigmap.geometry.native import own_data
from pigmap.imagery.facts import ImageFacts
from pigmap.imagery.opening import opened
from pigmap.imagery.where import reading, web_address

_FARTHEST_M = 3.0e7
"""No two places on earth lie farther apart, along either axis of a metric system."""

Window = tuple[float, float, float, float]
"""Left, top, right and bottom, in pixels of the image as it lies in the farm's metres."""


_STRIP_ROWS = 256
_PATIENCE_S = 1.0
"""So long closing waits for a read that runs [s]. Own choice."""


class Piece(NamedTuple):
    """A piece of an image as it is in the file."""

    values: NDArray[Any]
    """(bands, rows, columns)."""
    alpha: NDArray[np.uint8]
    """(rows, columns)."""


class Handle:
    """An open image. A lock of its own lets `close` wait for a read; no two threads read with one handle.

    Parameters
    ----------
    facts
        What is known of the image.
    warp_to
        Well-known text to warp into; empty where the image already lies in those metres, north up.
    blended
        Blend neighbouring pixels wherever it is warped: for tiles that are kept, not for a map that moves.
    """

    def __init__(self, facts: ImageFacts, warp_to: str, *, blended: bool = False) -> None:
        own_data()
        self._facts = facts
        self._warp_to = warp_to
        self._blended = blended and not facts.bands.palette
        self._lock = threading.Lock()
        self._open = ExitStack()
        self._closing = False
        self._context = copy_context()
        """The image library keeps in it how a file on the web is read, whichever thread reads or lets go."""
        self._context.run(self._begin)
        self.transform: tuple[float, ...] = tuple(self._dataset.transform)[:6]
        self.columns, self.rows = int(self._dataset.width), int(self._dataset.height)

    def _begin(self) -> None:
        facts = self._facts
        with reading():
            file = self._open.enter_context(opened(facts.path, facts.opens))
            self.palette = file.colormap(1) if facts.bands.palette else None
            self.by_points = bool(file.gcps[0])
            self._overviews = tuple(file.overviews(facts.bands.colours[0]))
            self._dataset = self._open.enter_context(self._warped(file)) if self._warp_to else file

    @property
    def reaches(self) -> bool:
        """Whether it lies where the farm's metres can be."""
        a, *_, e, _ = self.transform
        known = all(map(math.isfinite, self.transform))
        return known and self.columns * a < _FARTHEST_M and self.rows * -e < _FARTHEST_M

    @property
    def has_bare(self) -> bool:
        """Whether some of its pixels may be no data: by alpha, a mask, or a value that says so."""
        return bool(self._facts.bands.alpha or self._warp_to) or not self._all_valid(self._dataset)

    def _all_valid(self, dataset: Any) -> bool:
        flags = ({flag.name for flag in dataset.mask_flag_enums[band - 1]} for band in self._facts.bands.colours)
        return all("all_valid" in each for each in flags)

    def read(self, window: Window, size: tuple[int, int], *, smooth: bool) -> Piece:
        """Return a piece that lies inside the image, in the size (columns, rows) that is wanted.

        `smooth` blends neighbouring pixels: for pages, not for a map that moves.

        Raises
        ------
        RasterioError
            If the file cannot be read there.
        """
        smooth = smooth and self.palette is None
        with self._lock, reading():
            try:
                if self._warp_to and smooth and not self.by_points:  # points only place all of it, not a piece
                    return self._context.run(self._warped_onto, window, size)
                return self._context.run(self._read, self._dataset, _window(window), size, smooth=smooth)
            finally:
                if self._closing:
                    self._context.run(self._open.close)

    def _read(self, dataset: Any, window: Any, size: tuple[int, int], *, smooth: bool) -> Piece:
        from rasterio.enums import Resampling

        bands = list(self._facts.bands.colours)
        how = {"window": window, "resampling": Resampling.bilinear if smooth else Resampling.nearest}
        many, one = (len(bands), size[1], size[0]), (size[1], size[0])
        values = dataset.read(bands, out_shape=many, **how)
        alpha = self._facts.bands.alpha or (dataset.count if self._warp_to else None)
        if alpha:
            read = dataset.read(alpha, out_shape=one, **how)
            return Piece(values, read if read.dtype == np.uint8 else np.where(read > 0, 255, 0).astype(np.uint8))
        if self._all_valid(dataset):
            return Piece(values, np.full(one, 255, dtype=np.uint8))
        masks = dataset.read_masks(bands, out_shape=many, **how)
        return Piece(values, np.asarray(masks.max(axis=0), dtype=np.uint8))

    def _warped(self, file: Any, **onto: Any) -> Any:
        """Return a view of the file in the farm's metres; without further words the library lays out its pixels."""
        from rasterio.enums import Resampling
        from rasterio.vrt import WarpedVRT

        usual = Resampling.bilinear if self._blended else Resampling.nearest
        options: dict[str, Any] = {"resampling": usual, **onto}
        if not self._facts.bands.alpha:
            options["add_alpha"] = True
        return WarpedVRT(file, src_crs=self._facts.crs, crs=self._warp_to, **options)

    def _warped_onto(self, window: Window, size: tuple[int, int]) -> Piece:
        """Warp straight onto the pixels that are wanted: resizing what was warped would warp much of it many times."""
        from affine import Affine
        from rasterio.enums import Resampling

        a, _, c, _, e, f = self.transform
        left, top, right, bottom = window
        across, down = (right - left) / size[0], (bottom - top) / size[1]
        onto = Affine(a * across, 0.0, c + left * a, 0.0, e * down, f + top * e)
        with ExitStack() as stack:
            file = stack.enter_context(_opened(self._facts, self._overviews, min(across, down)))
            view = stack.enter_context(
                self._warped(file, transform=onto, width=size[0], height=size[1], resampling=Resampling.bilinear)
            )
            strips = [
                self._read(view, _window((0, row, size[0], end)), (size[0], end - row), smooth=False)
                for row, end in _strips(size[1])
            ]
        values, alphas = zip(*strips, strict=True)
        return Piece(np.concatenate(values, axis=1), np.concatenate(alphas, axis=0))

    def close(self) -> None:
        """Let the file go, once a read that runs has ended.

        A read that waits for a server is not waited for, nor long for one whose disk does not answer: it lets the file
        go itself when it ends.
        """
        self._closing = True
        if not self._lock.acquire(timeout=0 if web_address(self._facts.path) else _PATIENCE_S):
            return
        try:
            self._context.run(self._open.close)
        finally:
            self._lock.release()


def _opened(facts: ImageFacts, overviews: tuple[int, ...], shrunk: float) -> Any:
    """Return the file, or the smaller copy in it that still has all the detail a shrunk picture can show."""
    fits = [level for level, factor in enumerate(overviews) if factor <= shrunk * 1.01]
    return opened(facts.path, facts.opens, **({"overview_level": fits[-1]} if fits else {}))


def _strips(rows: int) -> list[tuple[int, int]]:
    """Return first and last rows of strips so low that what was warped for one band is there for the next."""
    return [(row, min(row + _STRIP_ROWS, rows)) for row in range(0, rows, _STRIP_ROWS)]


def _window(window: Window) -> Any:
    from rasterio.windows import Window as RasterWindow

    left, top, right, bottom = window
    return RasterWindow(left, top, right - left, bottom - top)
