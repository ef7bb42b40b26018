"""The tiles of an image: squares of square pixels, halved in number from level to level."""

from __future__ import annotations

import math
from collections.abc import Iterator
from typing import NamedTuple

from pigmap.records.frozen import dataclass

Bounds = tuple[float, float, float, float]
"""West, south, east, north in grid metres."""

TILE_PX = 512


class Spot(NamedTuple):
    """One tile of a pyramid."""

    level: int
    """0 has the image's own pixels; each further one has pixels of twice the side."""
    column: int
    row: int
    """Counted from the north-west corner of the image."""


@dataclass(frozen=True, slots=True)
class Pyramid:
    """A grid of square pixels over an image in the farm's metres, north up."""

    west: float
    north: float
    pixel_m: float
    columns: int
    rows: int

    @property
    def levels(self) -> int:
        """How many levels there are; the last one is a single tile."""
        return 1 + max(0, math.ceil(math.log2(max(self.columns, self.rows) / TILE_PX)))

    def level_for(self, metres_per_px: float) -> int:
        """Return the coarsest level whose pixels are no larger than those of the screen, or the finest there is."""
        finer = math.floor(math.log2(max(metres_per_px / self.pixel_m, 1.0)) + 1e-9)
        return min(finer, self.levels - 1)

    def tile_bounds(self, spot: Spot) -> Bounds:
        """Return where a tile lies, its part beyond the image's edge included [m]."""
        side = TILE_PX * self.pixel_m * 2**spot.level
        west, north = self.west + spot.column * side, self.north - spot.row * side
        return west, north - side, west + side, north

    def tiles(self, bounds: Bounds, level: int) -> Iterator[Spot]:
        """Yield the tiles of a level that touch these bounds, row by row from the north."""
        side = TILE_PX * self.pixel_m * 2**level
        west, south, east, north = bounds
        first, last = math.floor((west - self.west) / side), math.ceil((east - self.west) / side)
        top, bottom = math.floor((self.north - north) / side), math.ceil((self.north - south) / side)
        across = math.ceil(self.columns / (TILE_PX * 2**level))
        down = math.ceil(self.rows / (TILE_PX * 2**level))
        for row in range(max(top, 0), min(bottom, down)):
            for column in range(max(first, 0), min(last, across)):
                yield Spot(level, column, row)


@dataclass(frozen=True, slots=True)
class PixelGrid:
    """The pixels of an image as its reader has them, north up; they need not be square."""

    west: float
    north: float
    pixel_x_m: float
    pixel_y_m: float
    columns: int
    rows: int

    @property
    def bounds(self) -> Bounds:
        """Where the image lies [m]."""
        east, south = self.west + self.columns * self.pixel_x_m, self.north - self.rows * self.pixel_y_m
        return self.west, south, east, self.north

    def pyramid(self) -> Pyramid:
        """Return the tiles over these pixels, with the shorter of their sides."""
        pixel_m = min(self.pixel_x_m, self.pixel_y_m)
        columns = math.ceil(self.columns * self.pixel_x_m / pixel_m - 1e-6)
        rows = math.ceil(self.rows * self.pixel_y_m / pixel_m - 1e-6)
        return Pyramid(self.west, self.north, pixel_m, columns, rows)

    def window(self, bounds: Bounds) -> tuple[float, float, float, float]:
        """Return bounds as left, top, right and bottom in these pixels; whole where they fall on whole ones."""
        west, south, east, north = bounds
        return (
            _whole((west - self.west) / self.pixel_x_m),
            _whole((self.north - north) / self.pixel_y_m),
            _whole((east - self.west) / self.pixel_x_m),
            _whole((self.north - south) / self.pixel_y_m),
        )


def _whole(pixels: float) -> float:
    nearest = round(pixels)
    return float(nearest) if abs(pixels - nearest) < 1e-5 else pixels
