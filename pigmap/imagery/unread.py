"""What of an image cannot be read: the parts of a picture that fail, down to small ones, and when to ask again."""

from __future__ import annotations

import math
from collections.abc import Callable
from typing import NamedTuple

from pigmap.errors import RasterError

LEAST_PX = 64
"""A part of a picture no larger than this is not divided further. Own choice."""
AGAIN_S = 10.0
"""So long a server that did not answer, or a file that changed, is left alone [s]. Own choice."""


class TileLaterError(Exception):
    """A tile is not to be had now and may be later; never shown to a person."""


class Part(NamedTuple):
    """A part of a picture, and the pixels of the image that fill it."""

    left: float
    top: float
    right: float
    bottom: float
    first: int
    """Columns of the picture from here."""
    last: int
    upper: int
    """Rows of it from here."""
    lower: int

    @property
    def window(self) -> tuple[float, float, float, float]:
        """Left, top, right and bottom in pixels of the image."""
        return self[:4]

    @property
    def size(self) -> tuple[int, int]:
        """Columns and rows of the picture."""
        return self.last - self.first, self.lower - self.upper

    def quarters(self) -> list[Part]:
        """Return its four quarters, none if it is small."""
        columns, rows = self.size
        if max(columns, rows) <= LEAST_PX or min(columns, rows) < 2:
            return []
        middle, half = self.first + columns // 2, self.upper + rows // 2
        x = self.left + (self.right - self.left) * (middle - self.first) / columns
        y = self.top + (self.bottom - self.top) * (half - self.upper) / rows
        across = ((self.left, x, self.first, middle), (x, self.right, middle, self.last))
        down = ((self.top, y, self.upper, half), (y, self.bottom, half, self.lower))
        return [
            Part(left, top, right, bottom, first, last, upper, lower)
            for top, bottom, upper, lower in down
            for left, right, first, last in across
        ]


def fill(part: Part, read: Callable[[Part], bool]) -> list[Part]:
    """Read a part, or what can be read of it; return the small parts that cannot.

    Parameters
    ----------
    part
        What is wanted.
    read
        Reads a part into its place; returns whether it could.
    """
    if read(part):
        return []
    quarters = part.quarters()
    return [hole for each in quarters for hole in fill(each, read)] if quarters else [part]


def inside(start: float, end: float, wanted: int, there: int) -> tuple[int, int, float, float] | None:
    """Return which of the wanted pixels lie on the image, and which of its own pixels they span; None for none.

    A wanted pixel belongs to the image if its middle does.
    """
    step = (end - start) / wanted
    first = max(0, math.ceil(-start / step - 0.5))
    last = min(wanted, math.floor((there - start) / step - 0.5) + 1)
    if last <= first:
        return None
    low, high = max(start + first * step, 0.0), min(start + last * step, float(there))
    return first, last, low, high


def torn(name: str) -> RasterError:
    """Return what to say of an image of which a part cannot be read."""
    return RasterError(
        "A part of {name} cannot be read; there the map is hatched or empty.",
        remedy="Fetch or copy the image again.",
        name=name,
    )


def silent(name: str, host: str) -> RasterError:
    """Return what to say of an image whose server does not go on."""
    return RasterError(
        "{host} does not answer: of {name} the map shows what came so far.",
        remedy="It is asked again by itself; or download the image, and choose the file.",
        name=name,
        host=host,
    )


def out_of_reach(name: str, crs: str) -> RasterError:
    """Return what to say of an image that lies where the farm's metres do not reach."""
    return RasterError(
        "{name} lies where the farm's coordinates ({crs}) do not reach.",
        remedy="Use an image of the farm, or make the farm from this image.",
        name=name,
        crs=crs,
    )
