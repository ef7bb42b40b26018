"""A file with the outlines of a whole county: those near a place, from which a farm's own are picked."""

from __future__ import annotations

from pathlib import Path

import numpy as np
import shapely

from pigmap.document.incoming import Incoming, IncomingLayer
from pigmap.errors import OutlineError
from pigmap.geometry.projection import moved, to_projection
from pigmap.plugins import Registry
from pigmap.records import Farm
from pigmap.records.frozen import dataclass
from pigmap.session.brought import need_walked, read_outlines
from pigmap.session.farm_outlines import outlines_for_farm
from pigmap.session.intake import Taken, take_outlines

FEW = 12
"""A file with no more outlines than this comes in as it is, where all of them lie near the place. Own choice."""
LISTED_M = 3000.0
"""How far from the place outlines are offered [m of ground]. Own choice."""
MOST_LISTED = 500
"""The nearest so many are offered. Own choice."""


@dataclass(frozen=True, slots=True, eq=False)
class Parcels:
    """The outlines that are offered, the nearest first."""

    file: Path
    offered: tuple[Taken, ...]
    areas_m2: tuple[float, ...]
    """Ground of each [m² of ground]."""
    all_there: int
    """Outlines in the whole file."""
    near: int
    """Outlines that lie near the place; no more than some are offered."""

    def area_m2(self, taken: set[int]) -> float:
        """Return the ground of some of them, by their numbers from 0 [m² of ground]."""
        return sum(self.areas_m2[number] for number in taken)


def farms_or_offered(file: Path, farm: Farm, registry: Registry, yard: shapely.Point) -> tuple[Taken, ...] | Parcels:
    """Return the outlines of a file that is that of one farm, or those that are offered out of a larger one.

    Parameters
    ----------
    file
        Of outlines.
    farm
        With a place.
    registry
        Knows the formats.
    yard
        The farm's place, or the middle of what is in view [grid m].

    Raises
    ------
    OutlineError
        In words: the file, or its place.
    """
    layer = read_outlines(file, registry)
    need_walked(layer, file, registry)
    rows, near = _near(layer, farm, yard)
    if len(layer.rows) <= FEW and near == len(rows):
        return outlines_for_farm(layer, file.name, farm.projection, yard)
    return _offered(file, layer, rows, farm, near)


def parcels_near(file: Path, farm: Farm, registry: Registry, yard: shapely.Point) -> Parcels:
    """Return what a file offers, however few outlines it has."""
    layer = read_outlines(file, registry)
    rows, near = _near(layer, farm, yard)
    return _offered(file, layer, rows, farm, near)


def _near(layer: IncomingLayer, farm: Farm, yard: shapely.Point) -> tuple[list[Incoming], int]:
    """Return the nearest rows, and how many lie near at all."""
    rows = [row for row in layer.rows if row.shape is not None and not row.shape.is_empty]
    shapes = np.array([row.shape for row in rows], dtype=np.object_)
    if not rows:
        return [], 0
    reach = yard.buffer(LISTED_M / farm.projection.ground_per_grid)
    (around,) = moved([reach], farm.projection.definition, layer.crs, farm.projection.name)
    shapely.prepare(around)
    inside = np.flatnonzero(shapely.intersects(around, shapes))
    middles = to_projection(shapely.centroid(shapes[inside]).tolist(), layer.crs, farm.projection)
    order = inside[np.argsort(shapely.distance(np.array(middles, dtype=np.object_), yard), kind="stable")]
    return [rows[number] for number in order[:MOST_LISTED].tolist()], len(inside)


def _offered(file: Path, layer: IncomingLayer, rows: list[Incoming], farm: Farm, near: int) -> Parcels:
    if not rows:
        raise OutlineError(
            "{file} holds {count} outlines, and none within {km} km of the farm's place.",
            remedy="Look at the place again, or choose the file of that place.",
            file=file.name,
            count=len(layer.rows),
            km=f"{LISTED_M / 1000:g}",
        )
    taken = take_outlines(IncomingLayer(layer.name, layer.crs, tuple(rows)), layer.crs, farm.projection)
    fit = tuple(each for each in taken if each.vetted is not None)
    if not fit:
        why = next(each.refused for each in taken if each.refused is not None)
        raise why
    per_grid = farm.projection.ground_per_grid**2
    areas = tuple(each.vetted.outline.area * per_grid for each in fit if each.vetted is not None)
    return Parcels(file, fit, areas, len(layer.rows), near)
