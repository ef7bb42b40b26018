"""Where trees and bushes stand on the invented aerial image."""

from __future__ import annotations

from collections.abc import Iterator

import numpy as np
import shapely

from pigmap.records import WayKind
from pigmap.session.sample.layout import (
    BARN_CORNER,
    BROOK,
    FIELDS,
    KEEP_OUTS,
    LONG_CORNER,
    ROOFS,
    TRACK,
    WAYS,
    WOOD_CORNER,
)
from pigmap.session.sample.pixels import PIXEL_M, pixel
from pigmap.session.sample.site import NORTH_M, WEST_M
from pigmap.session.sample.trees import Tree


def hedge_bushes(rng: np.random.Generator) -> Iterator[Tree]:
    """Yield the bushes of hedges, and now and then a tree in them."""
    for line in _hedges():
        for far in np.arange(0, line.length, 1.6):
            spot = line.interpolate(float(far) + rng.uniform(-0.5, 0.5))
            radius_m = rng.uniform(2.8, 5.2) if rng.random() < 0.05 else rng.uniform(1.3, 2.2)
            yield _tree(spot.x + rng.normal(0, 0.4), spot.y + rng.normal(0, 0.4), radius_m)


def _hedges() -> Iterator[shapely.LineString]:
    yield from (way.line for way in WAYS if way.kind is WayKind.HEDGE)
    pond_field = FIELDS[3].outline.buffer(3).exterior
    yield from (part for part in shapely.get_parts(pond_field.difference(TRACK.buffer(6))))
    yield shapely.LineString(LONG_CORNER.points([(-5, 296), (-5, -3), (270, -6)]))
    yield shapely.LineString(LONG_CORNER.points([(316, -7), (488, -11)]))
    yield shapely.LineString(BARN_CORNER.points([(170, 256), (386, 252)]))
    yield shapely.LineString(BARN_CORNER.points([(0, -3), (390, -4)]))
    yield shapely.LineString([(46, 0), (46, 140)])
    yield shapely.LineString([(36, 338), (20, 480), (28, 706), (600, 722)])
    yield shapely.LineString([(952, 402), (968, NORTH_M)])
    yield shapely.LineString([(WEST_M, 336), (30, 330)])


def wood_trees(rng: np.random.Generator) -> Iterator[Tree]:
    """Yield the crowns of the wood; its ride and two clearings stay open."""
    wood = next(field.outline for field in FIELDS if field.name == "Bank Wood")
    ride = next(way.line for way in WAYS if way.kind is WayKind.RIDE).buffer(4.5)
    clearings = [shapely.Point(*WOOD_CORNER.at(*at)).buffer(size) for at, size in (((88, 176), 13), ((196, 58), 10))]
    inside = wood.difference(shapely.union_all([ride, *clearings]))
    shapely.prepare(inside)
    west, south, east, north = wood.bounds
    grid = np.stack(np.meshgrid(np.arange(west, east, 6.2), np.arange(south, north, 6.2)), axis=-1).reshape(-1, 2)
    spots = grid + rng.uniform(-2.6, 2.6, grid.shape)
    for x, y in spots[shapely.contains_xy(inside, spots)]:
        yield _tree(x, y, rng.uniform(2.6, 5.2))


def single_trees(rng: np.random.Generator) -> Iterator[Tree]:
    """Yield trees with ground of their own: old ones, those along the brook and round the yard."""
    for plan in KEEP_OUTS:
        if isinstance(plan.shape, shapely.Point):
            yield _tree(plan.shape.x, plan.shape.y, 5.5)
    edge = BROOK.parallel_offset(7, "left")
    for far in np.arange(5, edge.length, 13):
        spot = edge.interpolate(float(far) + rng.uniform(-5, 5))
        yield _tree(spot.x, spot.y + rng.normal(0, 2), rng.uniform(1.6, 4.6))
    for x, y in rng.uniform((60, 140), (180, 320), (14, 2)):
        if (
            not any(roof.buffer(5).contains(shapely.Point(x, y)) for roof in ROOFS)
            and TRACK.distance(shapely.Point(x, y)) > 6
        ):
            yield _tree(x, y, rng.uniform(2.0, 4.0))


def _tree(east: float, north: float, radius_m: float) -> Tree:
    row, column = pixel(east, north)
    return Tree(row, column, radius_m / PIXEL_M)
