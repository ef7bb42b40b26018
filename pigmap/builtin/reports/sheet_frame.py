"""The frame of a printed map: its scale, ticks and coordinates, crosses, scale bar and north."""

from __future__ import annotations

import math
from collections.abc import Iterator
from typing import NamedTuple

import numpy as np
import shapely
from shapely.geometry.base import BaseGeometry

from pigmap.drawing.layer import Marks, Size
from pigmap.drawing.page import Box, Item, Rule, Shape, Words
from pigmap.drawing.view import View
from pigmap.errors import SheetError
from pigmap.units import METRES_PER_FOOT, System

ROUND_SCALES = (200, 250, 500, 1000, 1250, 1500, 2000, 2500, 3000, 4000, 5000, 10_000, 20_000, 25_000, 50_000)
ROOM_MM = 3.0
"""Paper kept free on each side of what is shown, where the scale is ours to choose."""
INK = "#121A17"


class Frame(NamedTuple):
    """A rectangle on the page and the ground in it."""

    x_mm: float
    y_mm: float
    view: View
    scale: int

    @property
    def ground(self) -> shapely.Polygon:
        """The ground in the frame [grid m]."""
        return shapely.box(*self.view.bounds)

    @property
    def right_mm(self) -> float:
        """Right edge."""
        return self.x_mm + self.view.width

    @property
    def bottom_mm(self) -> float:
        """Lower edge."""
        return self.y_mm + self.view.height


def least_scale(
    bounds: tuple[float, float, float, float], wide_mm: float, high_mm: float, per_grid: float, room_mm: float = ROOM_MM
) -> int:
    """Return the largest drawing among the round scales at which bounds in grid metres fit a frame."""
    west, south, east, north = bounds
    need = 1000 * per_grid * max((east - west) / (wide_mm - 2 * room_mm), (north - south) / (high_mm - 2 * room_mm))
    rounded = next((scale for scale in ROUND_SCALES if scale >= need), None)
    return rounded if rounded is not None else math.ceil(need / 10_000) * 10_000


def checked_scale(
    wanted: int | None, bounds: tuple[float, float, float, float], wide_mm: float, high_mm: float, per_grid: float
) -> int:
    """Return the scale to draw at: the wanted one if the ground fits, or the best round one if none is wanted.

    Raises
    ------
    SheetError
        If the ground does not fit the frame at the wanted scale.
    """
    best = least_scale(bounds, wide_mm, high_mm, per_grid)
    if wanted is None:
        return best
    west, south, east, north = bounds
    metres_per_mm = wanted / 1000 / per_grid
    if (east - west) > wide_mm * metres_per_mm or (north - south) > high_mm * metres_per_mm:
        fits = least_scale(bounds, wide_mm, high_mm, per_grid, room_mm=0.0)
        raise SheetError(
            "At 1:{wanted} the ground is larger than the map on this paper.",
            remedy="It fits at 1:{fits}, or on larger paper.",
            wanted=wanted,
            fits=fits,
        )
    return wanted


def view_at(shape: BaseGeometry, wide_mm: float, high_mm: float, scale: int, per_grid: float) -> View:
    """Return the view of a frame in millimetres with a shape in its middle; `scale` counts ground metres."""
    west, south, east, north = shape.bounds
    return View((west + east) / 2, (south + north) / 2, scale / 1000 / per_grid, wide_mm, high_mm, paper=True)


def grid_step(scale: int) -> int:
    """Return the distance of coordinate ticks [grid m]: 50, or more where they would stand close."""
    return next((step for step in (10, 20, 50, 100, 200, 500, 1000, 2000) if step * 1000 / scale >= 16), 5000)


def crosses(frame: Frame) -> Marks:
    """Return the small crosses inside the frame."""
    west, south, east, north = frame.view.bounds
    step = grid_step(frame.scale)
    xs, ys = _rounds(west, east, step), _rounds(south, north, step)
    points = np.array([(x, y) for x in xs for y in ys], dtype=np.float64).reshape(-1, 2)
    return Marks(points, "plus", Size(13.0, 2.6), INK, "#FFFFFF", Size(0.8, 0.18))


def _rounds(low: float, high: float, step: int) -> list[float]:
    return [float(at) for at in range(math.ceil(low / step) * step, math.floor(high / step) * step + 1, step)]


def ticks(frame: Frame) -> Iterator[Item]:
    """Yield ticks outside the frame with coordinates in metres, above it and at its left."""
    west, south, east, north = frame.view.bounds
    step, per = grid_step(frame.scale), frame.view.metres_per_unit
    for x in _rounds(west, east, step):
        at = frame.x_mm + (x - west) / per
        yield Rule(at, frame.y_mm - 1.8, at, frame.y_mm, 0.3)
        yield Rule(at, frame.bottom_mm, at, frame.bottom_mm + 1.8, 0.3)
        if frame.x_mm + 6 <= at <= frame.right_mm - 6:
            yield Words(at, frame.y_mm - 2.7, spaced(x), 2.4, 500, align="centre")
    for y in _rounds(south, north, step):
        at = frame.y_mm + (north - y) / per
        yield Rule(frame.x_mm - 1.8, at, frame.x_mm, at, 0.3)
        yield Rule(frame.right_mm, at, frame.right_mm + 1.8, at, 0.3)
        if frame.y_mm + 6 <= at <= frame.bottom_mm - 6:
            yield Words(frame.x_mm - 2.6, at, spaced(y), 2.4, 500, align="centre", turned_deg=90)


def spaced(value: float, digits: int = 0) -> str:
    """Return a coordinate with a space after each three digits: ``512 344.9``."""
    return f"{value:,.{digits}f}".replace(",", " ")


_BAR_HIGH_MM = 12.5
_BAR_PARTS = 4


def scale_bar(frame: Frame, system: System, ground: BaseGeometry) -> Iterator[Item]:
    """Yield the scale bar and the north arrow on white, in the corner where they hide least of the ground."""
    unit_m, name = (METRES_PER_FOOT, "ft") if system == "us" else (1.0, "m")
    mm_per_unit = unit_m * 1000 / frame.scale
    longest = min(58.0, frame.view.width * 0.35)
    length = max(
        step * 10**power for power in range(6) for step in (1, 2, 4, 5) if step * 10**power * mm_per_unit <= longest
    )
    part_mm = length * mm_per_unit / _BAR_PARTS
    wide = length * mm_per_unit + 24
    left, top = _free_corner(frame, ground, wide, _BAR_HIGH_MM)
    yield Box(left, top, wide, _BAR_HIGH_MM, line_mm=0.4, fill="#FFFFFF")
    for part in range(_BAR_PARTS):
        yield Box(left + 5 + part * part_mm, top + 7.6, part_mm, 1.5, line_mm=0.25, fill="#FFFFFF" if part % 2 else INK)
    for part in range(_BAR_PARTS + 1):
        label = f"{length * part / _BAR_PARTS:g}" + (f" {name}" if part == _BAR_PARTS else "")
        yield Words(left + 5 + part * part_mm, top + 5.6, label, 2.4, 500, align="centre")
    yield from north_arrow(left + wide - 5.5, top + 1.6)


def _free_corner(frame: Frame, ground: BaseGeometry, wide: float, high: float) -> tuple[float, float]:
    """Return where a box in a corner of the frame begins; the lower left one, if no other hides less."""
    lefts, tops = (frame.x_mm, frame.right_mm - wide), (frame.bottom_mm - high, frame.y_mm)

    def hidden(corner: tuple[float, float]) -> float:
        x, y = corner[0] - frame.x_mm, corner[1] - frame.y_mm
        (west, north), (east, south) = frame.view.to_ground(x, y), frame.view.to_ground(x + wide, y + high)
        return round(float(shapely.box(west, south, east, north).intersection(ground).area), 3)

    return min([(left, top) for top in tops for left in lefts], key=hidden)


def north_arrow(x_mm: float, y_mm: float) -> Iterator[Item]:
    """Yield an arrow to grid north, its tip at a spot of the page, with its letter."""
    corners = ((x_mm, y_mm), (x_mm + 1.9, y_mm + 5.8), (x_mm, y_mm + 4.7), (x_mm - 1.9, y_mm + 5.8))
    yield Shape(corners)
    yield Words(x_mm, y_mm + 9.4, "N", 2.6, 700, align="centre")
