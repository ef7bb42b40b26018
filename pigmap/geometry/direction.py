"""The direction of a field: the one that most of its edge follows."""

from __future__ import annotations

import math

import numpy as np
import shapely
from numpy.typing import NDArray
from shapely.geometry.base import BaseGeometry

SMOOTHED_M = 1.0
"""Bends smaller than this do not break a straight edge in two [m]. Own choice."""

ALIKE_DEG = 3.0
"""Edges that differ by less count as one direction [degrees]. Own choice."""

LEAST_SHARE = 0.3
"""A direction that less of the edge follows does not stand for a field; its least box does. Own choice."""


def field_direction(outline: BaseGeometry) -> float:
    """Return the direction of a field [degrees anticlockwise from east, 0 up to 90].

    Rectangles have two directions at a right angle, so a direction and the one across it count as one. A field
    without straight edges takes the direction of the smallest box round it.

    Examples
    --------
    >>> field_direction(shapely.box(0, 0, 200, 100))
    0.0
    """
    turns, lengths = _edges(outline)
    near = np.abs((turns[:, None] - turns[None, :] + 45.0) % 90.0 - 45.0) <= ALIKE_DEG
    followed = near @ lengths
    best = int(np.argmax(np.round(followed, 3)))
    if followed[best] < LEAST_SHARE * lengths.sum():
        return _box_direction(outline)
    return _mean_turn(turns[near[best]], lengths[near[best]])


def _edges(outline: BaseGeometry) -> tuple[NDArray[np.float64], NDArray[np.float64]]:
    """Return direction [degrees, 0 up to 90] and length of each straight edge, the longest first."""
    ways = []
    for ring in shapely.get_parts(shapely.boundary(shapely.simplify(outline, SMOOTHED_M))):
        points = shapely.get_coordinates(ring)
        ways.append(points[1:] - points[:-1])
    way = np.concatenate(ways)
    lengths = np.hypot(way[:, 0], way[:, 1])
    order = np.argsort(-lengths, kind="stable")
    turns = np.degrees(np.arctan2(way[:, 1], way[:, 0])) % 90.0
    return turns[order], lengths[order]


def _box_direction(outline: BaseGeometry) -> float:
    turns, lengths = _edges(shapely.oriented_envelope(outline))
    return _mean_turn(turns[:1], lengths[:1])


def _mean_turn(turns: NDArray[np.float64], lengths: NDArray[np.float64]) -> float:
    """Return the mean of directions that repeat every quarter turn, weighted by length."""
    around = np.radians(turns) * 4
    mean = math.atan2(float(lengths @ np.sin(around)), float(lengths @ np.cos(around))) / 4
    turned = math.degrees(mean) % 90.0
    return 0.0 if turned >= 90.0 - 1e-9 or turned < 1e-9 else turned


def frame_origin(outline: BaseGeometry, turned_deg: float) -> tuple[float, float]:
    """Return the corner where cells begin: that of the box round a field in a direction [grid m]."""
    turned = math.radians(turned_deg)
    axes = np.array([[math.cos(turned), math.sin(turned)], [-math.sin(turned), math.cos(turned)]])
    points = shapely.get_coordinates(outline)
    middle = points.mean(axis=0)
    least = ((points - middle) @ axes.T).min(axis=0)
    corner = middle + least @ axes
    return float(corner[0]), float(corner[1])
