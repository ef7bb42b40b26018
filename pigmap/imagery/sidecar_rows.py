"""The pixels of an image in strips, for its kept tiles: straight from its file where they lie there as on the map."""

from __future__ import annotations

from contextlib import ExitStack
from types import TracebackType
from typing import Protocol

import numpy as np
from numpy.typing import NDArray

from pigmap.geometry.native import own_data
from pigmap.imagery.facts import ImageFacts
from pigmap.imagery.pyramid import Bounds, Pyramid
from pigmap.imagery.where import reader_name, reading


class Rows(Protocol):
    """Gives the pixels of the finest level."""

    def fill(self, out: NDArray[np.uint8], top: int, left: int) -> None:
        """Write the pixels from a row and a column on as red, green, blue and alpha into (rows, columns, 4)."""
        ...


class Readable(Protocol):
    """What is needed of an image to have its pixels."""

    @property
    def pyramid(self) -> Pyramid:
        """Its tiles."""
        ...

    def read(self, bounds: Bounds, size: tuple[int, int], *, smooth: bool = True) -> NDArray[np.uint8]:
        """Return a piece as red, green, blue and alpha."""
        ...


class AnyRows:
    """The pixels of any image.

    Parameters
    ----------
    image
        The image.
    smooth
        Blend neighbouring pixels: where they are not square.
    """

    def __init__(self, image: Readable, *, smooth: bool = False) -> None:
        self._image, self._smooth = image, smooth

    def fill(self, out: NDArray[np.uint8], top: int, left: int) -> None:
        """Write the pixels from a row and a column on as red, green, blue and alpha."""
        rows, columns = out.shape[:2]
        out[:] = self._image.read(self._ground(top, left, rows, columns), (columns, rows), smooth=self._smooth)

    def _ground(self, top: int, left: int, rows: int, columns: int) -> Bounds:
        grid = self._image.pyramid
        west, north = grid.west + left * grid.pixel_m, grid.north - top * grid.pixel_m
        return west, north - rows * grid.pixel_m, west + columns * grid.pixel_m, north


class PlainRows:
    """The pixels of an image in three bands of bytes, all of them data, that lie in its file as on the map.

    They are written where they are wanted by the image library itself, in the order in which a tile has them: that
    spares as much time as reading them takes. Used and closed by the thread that made it.

    Parameters
    ----------
    facts
        What is known of the image.
    otherwise
        Gives what cannot be read so, as the map shows it.
    """

    def __init__(self, facts: ImageFacts, otherwise: Rows) -> None:
        own_data()
        import rasterio

        self._facts = facts
        self._otherwise = otherwise
        self._open = ExitStack()
        self._open.enter_context(reading())
        try:
            self._file = self._open.enter_context(rasterio.open(facts.opens or reader_name(facts.path)))
        except BaseException:
            self._open.close()
            raise

    def fill(self, out: NDArray[np.uint8], top: int, left: int) -> None:
        """Write the pixels from a row and a column on as red, green, blue and alpha."""
        from rasterio.errors import RasterioError
        from rasterio.windows import Window

        rows, columns = out.shape[:2]
        out[..., 3] = 255
        try:
            window = Window(left, top, columns, rows)
            self._file.read(list(self._facts.bands.colours), window=window, out=np.moveaxis(out[..., :3], -1, 0))
        except (RasterioError, OSError):
            self._otherwise.fill(out, top, left)

    def __enter__(self) -> PlainRows:
        return self

    def __exit__(
        self, kind: type[BaseException] | None, why: BaseException | None, where: TracebackType | None
    ) -> None:
        self._open.close()
