"""Corners of an outline that can be dragged, and the outline and edit that come of it."""

from __future__ import annotations

from typing import NamedTuple

import numpy as np
import shapely
from numpy.typing import NDArray

from pigmap.document.edits import reshape_field, reshape_keep_out, reshape_paddock
from pigmap.qt.stage import Picked
from pigmap.records import Edit, Farm
from pigmap.records.frozen import dataclass

Area = shapely.Polygon | shapely.MultiPolygon


class Handle(NamedTuple):
    """One corner of an outline, or the middle of one of its sides."""

    part: int
    ring: int
    """0 for the outer edge, then the holes."""
    corner: int
    """The corner, or the one before the middle of the side."""
    is_corner: bool


@dataclass(frozen=True, slots=True, eq=False)
class Handles:
    """All corners of an outline, and the middles of its sides."""

    points: NDArray[np.float64]
    """(n, 2) [grid m]."""
    corner: NDArray[np.bool_]
    """Which of them are corners, (n,)."""
    owners: tuple[Handle, ...]

    def at(self, index: int) -> Handle:
        """Return one of them."""
        return self.owners[index]


def shape_of(farm: Farm, picked: Picked | None) -> Area | None:
    """Return the outline of what is picked, where its corners can be dragged: a field, a keep-out, a walked paddock."""
    if picked is None:
        return None
    if picked.table == "fields" and picked.uid in farm.fields:
        return farm.fields[picked.uid].outline
    if picked.table == "keep_outs" and picked.uid in farm.keep_outs:
        shape = farm.keep_outs[picked.uid].shape
        return shape if isinstance(shape, (shapely.Polygon, shapely.MultiPolygon)) else None
    paddock = farm.paddocks.get(picked.uid) if picked.table == "paddocks" else None
    return paddock.outline if paddock is not None and paddock.net_kind_uid is None else None


def _rings(shape: Area) -> list[list[NDArray[np.float64]]]:
    parts = list(shape.geoms) if isinstance(shape, shapely.MultiPolygon) else [shape]
    return [[shapely.get_coordinates(ring)[:-1] for ring in (part.exterior, *part.interiors)] for part in parts]


def handles(shape: Area) -> Handles:
    """Return the corners of an outline and the middles of its sides."""
    points: list[NDArray[np.float64]] = []
    owners: list[Handle] = []
    for part, rings in enumerate(_rings(shape)):
        for ring, corners in enumerate(rings):
            middles = (corners + np.roll(corners, -1, axis=0)) / 2
            points += [corners, middles]
            owners += [Handle(part, ring, at, True) for at in range(len(corners))]
            owners += [Handle(part, ring, at, False) for at in range(len(corners))]
    is_corner = np.array([owner.is_corner for owner in owners], dtype=np.bool_)
    return Handles(np.concatenate(points) if points else np.empty((0, 2)), is_corner, tuple(owners))


def reshaped(shape: Area, handle: Handle, to: tuple[float, float]) -> Area:
    """Return the outline with a corner moved, or a new one pulled out of the middle of a side."""
    rings = _rings(shape)
    corners = rings[handle.part][handle.ring]
    if handle.is_corner:
        moved = corners.copy()
        moved[handle.corner] = to
    else:
        moved = np.insert(corners, handle.corner + 1, to, axis=0)
    rings[handle.part][handle.ring] = moved
    parts = [shapely.Polygon(outer, holes) for outer, *holes in rings]
    return shapely.MultiPolygon(parts) if isinstance(shape, shapely.MultiPolygon) else parts[0]


def reshaping_edit(picked: Picked, shape: Area) -> Edit:
    """Return the edit that gives what is picked another outline."""
    if picked.table == "fields":
        return reshape_field(picked.uid, shape)
    if picked.table == "keep_outs":
        return reshape_keep_out(picked.uid, shape)
    assert isinstance(shape, shapely.Polygon)
    return reshape_paddock(picked.uid, shape)
