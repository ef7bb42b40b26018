"""One thread's hold on an image file: pieces of it as bands and alpha, warped into the farm's metres if need be."""

from __future__ import annotations

import threading
from contextlib import ExitStack
from typing import Any, NamedTuple

import numpy as np
from numpy.typing import NDArray

from pigmap.geometry.native import own_data
from pigmap.imagery.facts import ImageFacts

Window = tuple[float, float, float, float]
"""Left, top, right and bottom, in pixels of the image as it lies in the farm's metres."""


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
    smooth
        Whether warping blends neighbours; for pages, not for moving maps.
    """

    def __init__(self, facts: ImageFacts, warp_to: str, *, smooth: bool = False) -> None:
        own_data()
        import rasterio
        from rasterio.enums import Resampling
        from rasterio.vrt import WarpedVRT

        self._bands = facts.bands
        self._lock = threading.Lock()
        self._open = ExitStack()
        with rasterio.Env():
            dataset = self._open.enter_context(rasterio.open(facts.path))
            self._alpha = facts.bands.alpha
            self.palette = dataset.colormap(1) if facts.bands.palette else None
            if warp_to:
                blend = Resampling.bilinear if smooth and self.palette is None else Resampling.nearest
                options = {} if self._alpha else {"add_alpha": True}
                dataset = self._open.enter_context(
                    WarpedVRT(dataset, src_crs=facts.crs, crs=warp_to, resampling=blend, **options)
                )
                self._alpha = self._alpha or dataset.count
        self._dataset = dataset
        self.transform: tuple[float, ...] = tuple(dataset.transform)[:6]
        self.columns, self.rows = int(dataset.width), int(dataset.height)

    def read(self, window: Window, size: tuple[int, int], *, smooth: bool) -> Piece:
        """Return a piece that lies inside the image, in the size (columns, rows) that is wanted.

        Raises
        ------
        RasterioError
            If the file cannot be read there.
        """
        import rasterio
        from rasterio.enums import Resampling

        blend = Resampling.bilinear if smooth and self.palette is None else Resampling.nearest
        how = {"window": _window(window), "out_shape": (size[1], size[0]), "resampling": blend}
        with self._lock, rasterio.Env():
            values = self._dataset.read(
                list(self._bands.colours), **{**how, "out_shape": (len(self._bands.colours), size[1], size[0])}
            )
            return Piece(values, self._alpha_of(how))

    def _alpha_of(self, how: dict[str, Any]) -> NDArray[np.uint8]:
        if self._alpha:
            read = self._dataset.read(self._alpha, **how)
            return read if read.dtype == np.uint8 else np.where(read > 0, 255, 0).astype(np.uint8)
        flags = [self._dataset.mask_flag_enums[band - 1] for band in self._bands.colours]
        if all("all_valid" in {flag.name for flag in each} for each in flags):
            return np.full(how["out_shape"], 255, dtype=np.uint8)
        shape = (len(self._bands.colours), *how["out_shape"])
        masks = self._dataset.read_masks(list(self._bands.colours), **{**how, "out_shape": shape})
        return np.asarray(masks.max(axis=0), dtype=np.uint8)

    def close(self) -> None:
        """Let the file go, once a read that runs has ended."""
        with self._lock:
            self._open.close()


def _window(window: Window) -> Any:
    from rasterio.windows import Window as RasterWindow

    left, top, right, bottom = window
    return RasterWindow(left, top, right - left, bottom - top)
