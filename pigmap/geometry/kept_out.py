"""The ground that a keep-out takes, with a distance round it, and on which days."""

from __future__ import annotations

from collections.abc import Iterable
from datetime import date, timedelta

import shapely
from shapely.geometry.base import BaseGeometry

from pigmap.records import KeepOut, Place, PlaceKind, Reason

_YEAR = 366
"""Days after which no other day of the year comes [d]."""


def kept_out(keep_out: KeepOut, distance_m: float = 0.0, ground_per_grid: float = 1.0) -> BaseGeometry:
    """Return the ground that a keep-out takes, widened by a distance [m of ground].

    Lines and points take their radius to each side. The result is in grid metres; it is empty where a line or a
    point has neither radius nor distance.
    """
    wide = ((0.0 if keep_out.shape.area > 0.0 else keep_out.radius_m) + distance_m) / ground_per_grid
    if wide > 0.0:
        return shapely.buffer(keep_out.shape, wide, quad_segs=16)
    return keep_out.shape if keep_out.shape.area > 0.0 else shapely.Polygon()


def round_trees(places: Iterable[Place]) -> tuple[KeepOut, ...]:
    """Return the ground round single trees that nets keep off, as keep-outs: each tree with a radius of its own."""
    return tuple(
        KeepOut(uid=tree.uid, reason=Reason.ROOTS, name=tree.name, shape=tree.point, net_m=tree.radius_m)
        for tree in places
        if tree.kind is PlaceKind.TREE and tree.radius_m > 0.0
    )


def in_force(keep_out: KeepOut, day: date) -> bool:
    """Whether a keep-out counts on a day: always, or in its part of the year, both ends included."""
    first, last = keep_out.from_month_day, keep_out.to_month_day
    if not first or not last:
        return True
    on = f"{day:%m-%d}"
    return first <= on <= last if first <= last else on >= first or on <= last


def in_force_during(keep_out: KeepOut, first: date, out_on: date | None) -> bool:
    """Whether a keep-out counts on any day from a first one up to, not with, a last; without a last on the first."""
    days = 1 if out_on is None else min(max((out_on - first).days, 1), _YEAR)
    return any(in_force(keep_out, first + timedelta(days=number)) for number in range(days))
