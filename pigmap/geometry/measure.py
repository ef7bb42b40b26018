"""Lengths and areas along a measured line, as they are on the ground."""

from __future__ import annotations

import math
from collections.abc import Sequence
from typing import NamedTuple

import numpy as np


class Measured(NamedTuple):
    """What a measured line comes to, on the ground."""

    legs_m: tuple[float, ...]
    """Length of each leg [m]."""
    length_m: float
    """Length of all legs [m]."""
    area_m2: float
    """Ground inside, if the line went back to its begin [m²]; 0 for fewer than three points."""
    bearing_deg: float
    """Direction of the last leg, clockwise from grid north [degrees]."""


def measure(points: Sequence[tuple[float, float]], ground_per_grid: float = 1.0) -> Measured:
    """Return what a line over these points (east, north) [grid m] comes to on the ground.

    Examples
    --------
    >>> measure([(0, 0), (30, 0), (30, 40)])
    Measured(legs_m=(30.0, 40.0), length_m=70.0, area_m2=600.0, bearing_deg=0.0)
    """
    line = np.asarray(points, dtype=np.float64).reshape(-1, 2)
    if len(line) < 2:
        return Measured((), 0.0, 0.0, 0.0)
    ways = np.diff(line, axis=0)
    legs = np.hypot(ways[:, 0], ways[:, 1]) * ground_per_grid
    last = ways[-1]
    bearing = math.degrees(math.atan2(float(last[0]), float(last[1]))) % 360.0
    return Measured(tuple(legs.tolist()), float(legs.sum()), _area(line) * ground_per_grid**2, bearing)


def _area(line: np.ndarray[tuple[int, ...], np.dtype[np.float64]]) -> float:
    """Return the area of the ring over points; relative to the first, so that large coordinates cost no digits."""
    x, y = (line - line[0]).T
    return abs(float(np.dot(x, np.roll(y, -1)) - np.dot(y, np.roll(x, -1)))) / 2
