"""Layers for nets: lines, posts and corners of paddocks that run, are planned or are past."""

from __future__ import annotations

from collections.abc import Iterable, Sequence
from itertools import chain

import numpy as np
import shapely
from numpy.typing import NDArray
from shapely.geometry.base import BaseGeometry

from pigmap.drawing.along import spots_along
from pigmap.drawing.layer import Layer, Marks, Outlines, Size, Stroke
from pigmap.drawing.on_day import Shown
from pigmap.drawing.rings import Rings, joined, lines_of, rings_of
from pigmap.drawing.strokes import BAND, NET, NET_PLANNED, SIDE_BOTH_USE, STAY_PAST
from pigmap.drawing.tokens import CASING, GROUP_SIGNS, MAP_INK, MAP_PLAN
from pigmap.geometry.four_sides import first_of_told
from pigmap.geometry.posts import posts
from pigmap.geometry.runs import shared_runs
from pigmap.records import Farm, Paddock
from pigmap.records.side_nets import read

CORNER = Size(9.2, 1.7)
POST = Size(4.4, 0.75)
NICK = Size(5.6, 1.0)
LINK = Size(21.0, 3.9)
POSTS_FROM_M = 0.7
"""Posts show where a pixel is at most so many metres."""
CORNERS_FROM_M = 1.3
NETS_FROM_M = 2.0
SAME_SIDE_M = 0.02
"""Sides of planned paddocks that lie nearer to each other are drawn as one [grid m]. Own choice."""
_POSTS_APART_PX = 6.0
USUAL_BAYS_MM = (3_572,) * 13 + (3_564,)
"""Where the nets are not known: a 50 m net of 15 posts. Common practice."""


def outlines(shapes: Iterable[BaseGeometry], *strokes: Stroke, smallest_scale: float = float("inf")) -> Outlines:
    """Return areas as a layer of rings."""
    rings = rings_of(shapes)
    return Outlines(rings.points, rings.starts, closed=True, strokes=strokes, smallest_scale=smallest_scale)


def lines(shapes: Iterable[BaseGeometry], *strokes: Stroke) -> Outlines:
    """Return lines as a layer."""
    found = lines_of(shapes)
    return Outlines(found.points, found.starts, closed=False, strokes=strokes)


def bays_of(farm: Farm, shown: Shown) -> tuple[int, ...]:
    """Return the bays of the nets around a paddock, from its first corner on [mm of ground]."""
    kind = farm.net_kinds.get(shown.paddock.net_kind_uid or "") if shown.paddock else None
    told = _told_bays(farm, shown.paddock, shown.outline) if shown.paddock and shown.paddock.side_nets else ()
    return told or (kind.bays_mm if kind else USUAL_BAYS_MM)


def _told_bays(farm: Farm, paddock: Paddock, outline: shapely.Polygon) -> tuple[int, ...]:
    """Return the bays of nets that were told for each side; nothing where they do not close it."""
    sides = read(paddock.side_nets)
    if any(uid not in farm.net_kinds for side in sides for uid, _ in side):
        return ()
    bays = [tuple(bay for uid, nets in side for bay in farm.net_kinds[uid].bays_mm * nets) for side in sides]
    first = first_of_told(outline, [sum(each) for each in bays], farm.projection.ground_per_grid)
    return tuple(chain.from_iterable((*bays[first:], *bays[:first]))) if first is not None else ()


def posts_of(farm: Farm, shown: Sequence[Shown]) -> Marks:
    """Return the posts around paddocks."""
    per_grid = farm.projection.ground_per_grid
    found = [
        posts(shapely.get_coordinates(each.outline.exterior), bays_of(farm, each), per_grid)[:-1] for each in shown
    ]
    bay_m = min((max(bays_of(farm, each)) for each in shown), default=USUAL_BAYS_MM[0]) / 1000
    return Marks(
        np.concatenate(found) if found else np.empty((0, 2)),
        "dot",
        POST,
        smallest_scale=min(POSTS_FROM_M, bay_m / _POSTS_APART_PX),
    )


def corners_of(shapes: Iterable[BaseGeometry], colour: str, smallest_scale: float = CORNERS_FROM_M) -> Marks:
    """Return a dot at each corner of areas."""
    return Marks(rings_of(shapes).points, "dot", CORNER, colour, CASING, Size(1.8, 0.32), smallest_scale=smallest_scale)


def past_layers(shown: Sequence[Shown]) -> tuple[Layer, ...]:
    """Return the outlines of paddocks that are past: grey hairlines."""
    return (outlines((each.outline for each in shown), STAY_PAST, smallest_scale=NETS_FROM_M),)


def planned_layers(shown: Sequence[Shown]) -> tuple[Layer, ...]:
    """Return planned nets: blue dashes with blue corners, no posts."""
    if not shown:
        return ()
    shapes = [each.outline for each in shown]
    # Each side once: the dashes of two paddocks would fill each other's spaces.
    sides = shapely.line_merge(shapely.union_all(shapely.boundary(shapes), grid_size=SAME_SIDE_M))
    return lines([sides], NET_PLANNED), corners_of(shapes, MAP_PLAN, POSTS_FROM_M)


def running_layers(farm: Farm, shown: Sequence[Shown]) -> tuple[Layer, ...]:
    """Return standing nets: the band in the group's colour, ink lines, posts and corners."""
    if not shown:
        return ()
    made: list[Layer] = []
    for each in shown:
        if each.group is not None:
            colour = GROUP_SIGNS[each.group.colour_index].colour
            rings = rings_of([each.outline])
            made.append(Outlines(*rings, closed=True, strokes=(Stroke(colour, BAND),), inside=True))
    shapes = [each.outline for each in shown]
    return (*made, outlines(shapes, NET), posts_of(farm, shown), corners_of(shapes, MAP_INK))


def both_use_layers(farm: Farm, standing: Sequence[Shown], coming: Sequence[Shown]) -> tuple[Layer, ...]:
    """Return the sides that a standing and a coming paddock both use."""
    found: list[tuple[NDArray[np.float64], tuple[int, ...]]] = []
    for each in coming:
        others = [old for old in standing if old.outline.distance(each.outline) < 1.0]
        for old in others:
            found += [(run.line, bays_of(farm, old)) for run in shared_runs(each.outline, [old.outline])]
    return both_use(
        [line for line, _ in found], [bays for _, bays in found], ground_per_grid=farm.projection.ground_per_grid
    )


def both_use(
    sides: Sequence[NDArray[np.float64]], bays: Sequence[Sequence[int]], *, ground_per_grid: float = 1.0
) -> tuple[Layer, ...]:
    """Return sides, each (n, 2), as one thick side each, its posts as nicks and a link in its middle."""
    if not sides:
        return ()
    rings = joined(sides)
    nicks, turned = _nicks(sides, bays, ground_per_grid)
    half = [float(np.hypot(*np.diff(side, axis=0).T).sum()) / 2 for side in sides]
    middles = [
        spots_along(side, np.array([0, len(side)]), every=max(at, 0.01), first=1.0)
        for side, at in zip(sides, half, strict=True)
    ]
    points = np.array([middle.points[0] for middle in middles])
    along = np.array([middle.turned_deg[0] for middle in middles])
    ends = np.concatenate([side[[0, -1]] for side in sides])
    return (
        Outlines(*rings, closed=False, strokes=(SIDE_BOTH_USE,)),
        Marks(nicks, "nick", NICK, MAP_INK, CASING, turned_deg=turned, smallest_scale=POSTS_FROM_M),
        corners_at(ends),
        Marks(points, "link", LINK, MAP_INK, CASING, Size(2.0, 0.35), turned_deg=along, smallest_scale=NETS_FROM_M),
    )


def corners_at(points: NDArray[np.float64]) -> Marks:
    """Return an ink dot at each point."""
    return Marks(points, "dot", CORNER, MAP_INK, CASING, casing_width=Size(1.8, 0.32), smallest_scale=NETS_FROM_M)


def _nicks(
    sides: Sequence[NDArray[np.float64]], bays: Sequence[Sequence[int]], ground_per_grid: float
) -> tuple[NDArray[np.float64], NDArray[np.float64]]:
    """Return the posts between the ends of sides, and the direction of the side at each [degrees]."""
    points, turned = [], []
    for side, bay in zip(sides, bays, strict=True):
        inner = posts(side, bay, ground_per_grid)[1:-1]
        points.append(inner)
        way = side[-1] - side[0]
        turned.append(np.full(len(inner), np.degrees(np.arctan2(way[1], way[0]))))
    return np.concatenate(points), np.concatenate(turned)


def frame_rings(shapes: Iterable[BaseGeometry]) -> Rings:
    """Return the smallest turned rectangle around each shape."""
    return rings_of(shapely.minimum_rotated_rectangle(shape) for shape in shapes)
