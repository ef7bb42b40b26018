"""Corners of an outline that can be dragged, and the outline and edit that come of it."""

from __future__ import annotations

from typing import NamedTuple

import numpy as np
import shapely
from numpy.typing import NDArray

from pigmap.document.edits import (
    move_gear,
    move_place,
    place_escape,
    reshape_field,
    reshape_flow_line,
    reshape_keep_out,
    reshape_paddock,
    reshape_way,
)
from pigmap.qt.stage import Picked
from pigmap.records import Edit, Farm, Paddock, StayState
from pigmap.records.frozen import dataclass

Area = shapely.Polygon | shapely.MultiPolygon
Shape = Area | shapely.LineString | shapely.Point
"""What has corners that can be dragged: the outline of ground, the line of a way, the point of a place."""


_LINES_AND_POINTS = ("ways", "flow_lines", "places", "gear_places", "escapes")


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


def shape_of(farm: Farm, picked: Picked | None) -> Shape | None:
    """Return the shape of what is picked, where its corners can be dragged; a paddock only where it was walked."""
    if picked is None:
        return None
    if picked.table in _LINES_AND_POINTS:
        row = farm.rows(picked.table).get(picked.uid)
        shape = getattr(row, "line", None) or getattr(row, "point", None)
        return shape if isinstance(shape, (shapely.LineString, shapely.Point)) else None
    if picked.table == "fields" and picked.uid in farm.fields:
        return farm.fields[picked.uid].outline
    if picked.table == "keep_outs" and picked.uid in farm.keep_outs:
        shape = farm.keep_outs[picked.uid].shape
        drawn = (shapely.Polygon, shapely.MultiPolygon, shapely.LineString, shapely.Point)
        return shape if isinstance(shape, drawn) else None
    paddock = farm.paddocks.get(picked.uid) if picked.table == "paddocks" else None
    return paddock.outline if paddock is not None and _has_own_corners(farm, paddock) else None


def _has_own_corners(farm: Farm, paddock: Paddock) -> bool:
    """Whether a paddock was walked: without nets, or with corners of its own and no pigs in it yet."""
    if paddock.net_kind_uid is None:
        return True
    on_it = (stay for stay in farm.stays.values() if stay.paddock_uid == paddock.uid)
    of_nets = paddock.nets_long is not None or bool(paddock.side_nets)
    return not of_nets and all(stay.state is StayState.PLANNED for stay in on_it)


def _rings(shape: Area) -> list[list[NDArray[np.float64]]]:
    parts = list(shape.geoms) if isinstance(shape, shapely.MultiPolygon) else [shape]
    return [[shapely.get_coordinates(ring)[:-1] for ring in (part.exterior, *part.interiors)] for part in parts]


def handles(shape: Shape) -> Handles:
    """Return the corners of an outline or a line and the middles of its sides; of a point the point."""
    if isinstance(shape, (shapely.LineString, shapely.Point)):
        return _open_handles(shapely.get_coordinates(shape))
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


def _open_handles(points: NDArray[np.float64]) -> Handles:
    middles = (points[:-1] + points[1:]) / 2
    owners = [
        *(Handle(0, 0, at, True) for at in range(len(points))),
        *(Handle(0, 0, at, False) for at in range(len(middles))),
    ]
    is_corner = np.arange(len(owners)) < len(points)
    return Handles(np.concatenate([points, middles]), is_corner, tuple(owners))


def reshaped(shape: Shape, handle: Handle, to: tuple[float, float]) -> Shape:
    """Return the shape with a corner moved, or a new one pulled out of the middle of a side."""
    if isinstance(shape, shapely.Point):
        return shapely.Point(to)
    if isinstance(shape, shapely.LineString):
        return shapely.LineString(_moved(shapely.get_coordinates(shape), handle, to))
    rings = _rings(shape)
    rings[handle.part][handle.ring] = _moved(rings[handle.part][handle.ring], handle, to)
    parts = [shapely.Polygon(outer, holes) for outer, *holes in rings]
    return shapely.MultiPolygon(parts) if isinstance(shape, shapely.MultiPolygon) else parts[0]


def _moved(corners: NDArray[np.float64], handle: Handle, to: tuple[float, float]) -> NDArray[np.float64]:
    if not handle.is_corner:
        return np.insert(corners, handle.corner + 1, to, axis=0)
    moved = corners.copy()
    moved[handle.corner] = to
    return moved


def reshaping_edit(picked: Picked, shape: Shape) -> Edit:
    """Return the edit that gives what is picked another shape."""
    if picked.table == "keep_outs":
        return reshape_keep_out(picked.uid, shape)
    if isinstance(shape, shapely.Point):
        return _moving_edit(picked, shape)
    if isinstance(shape, shapely.LineString):
        return (reshape_flow_line if picked.table == "flow_lines" else reshape_way)(picked.uid, shape)
    if picked.table == "fields":
        return reshape_field(picked.uid, shape)
    assert isinstance(shape, shapely.Polygon)
    return reshape_paddock(picked.uid, shape)


def _moving_edit(picked: Picked, point: shapely.Point) -> Edit:
    if picked.table == "gear_places":
        return move_gear(picked.uid, point)
    if picked.table == "escapes":
        return place_escape(picked.uid, point)
    return move_place(picked.uid, point)
