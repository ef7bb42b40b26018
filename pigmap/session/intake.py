"""Take outlines in: from the rows of a file to fields of a farm, with a sentence for whatever was done to them."""

from __future__ import annotations

from collections.abc import Sequence

import numpy as np
import shapely
from shapely.geometry.base import BaseGeometry

from pigmap.document.edits import add_field, together
from pigmap.document.incoming import Incoming, IncomingLayer
from pigmap.errors import OutlineError, PigmapError
from pigmap.geometry.coordinates import LON_LAT
from pigmap.geometry.outlines import VettedOutline, vet_outline
from pigmap.geometry.projection import LENGTHS_MAY_BE_OFF, Bounds, moved, scale_off, to_projection
from pigmap.records import Edit, Projection
from pigmap.records.frozen import dataclass
from pigmap.text import Quantity, Text

LARGEST_M2 = 1e8
"""More ground than this is no field: 100 square kilometres. Own choice."""

WIDEST_FARM_M = 30_000.0
"""Fields farther apart than this are hardly walked to from one yard. Own choice."""

_ONLY_TOLD = "{name} has "
"""How notes begin that tell of parts or holes, which stay as they are."""
_FINEST_CELL_M = 2.0
_CELLS_AIMED_AT = 1_500_000


@dataclass(frozen=True, slots=True, eq=False)
class Taken:
    """What became of one row of a file."""

    row: int
    """Counted from 1."""
    name: str
    vetted: VettedOutline | None
    """None where it was refused."""
    refused: PigmapError | None = None

    @property
    def result(self) -> str:
        """``taken``, ``mended`` where something was done to it, or ``refused``."""
        if self.vetted is None:
            return "refused"
        mended = any(not note.id.startswith(_ONLY_TOLD) for note in self.vetted.notes)
        return "mended" if mended else "taken"

    @property
    def words(self) -> tuple[Text, ...]:
        """What to say of it; nothing where it came in as it was."""
        if self.refused is not None:
            return self.refused.message, self.refused.remedy
        return self.vetted.notes if self.vetted is not None else ()


def middle_of(layer: IncomingLayer, crs: str) -> tuple[float, float] | None:
    """Return longitude and latitude in the middle of a layer's shapes; None where it has none on the globe.

    The median, so that a shape far away from all others does not draw it.
    """
    shapes = [row.shape for row in layer.rows if row.shape is not None and not row.shape.is_empty]
    middles = []
    for shape in shapes:
        try:
            middles += moved([shapely.Point(_middle(shape.bounds))], crs, LON_LAT)
        except OutlineError:
            continue
    points = shapely.get_coordinates(middles)
    points = points[(np.abs(points[:, 1]) < 90.0) & (np.abs(points[:, 0]) <= 180.0)]
    return (float(np.median(points[:, 0])), float(np.median(points[:, 1]))) if len(points) else None


def take_outlines(layer: IncomingLayer, crs: str, projection: Projection) -> tuple[Taken, ...]:
    """Return what becomes of each row of a layer.

    Parameters
    ----------
    layer
        As it was read.
    crs
        Coordinate system of its shapes.
    projection
        The farm's.
    """
    there = in_metres([row.shape for row in layer.rows], crs, projection)
    return tuple(taken_there(number, row, there[number - 1]) for number, row in enumerate(layer.rows, start=1))


def fields_added(taken: Sequence[Taken], source: str) -> Edit:
    """Return the edit that adds the fields that came in; undone at once."""
    edits = [
        add_field(each.name, each.vetted.outline, cell_m=cell_m_of(each.vetted.outline.area))
        for each in taken
        if each.vetted is not None
    ]
    label = Text(
        "{count} field taken from {file}.",
        {"file": source},
        plural="{count} fields taken from {file}.",
        count=len(edits),
    )
    return together(label, edits)


def far_apart(taken: Sequence[Taken], projection: Projection) -> tuple[Text, ...]:
    """Return what to say of fields that lie too far from each other for one farm; nothing if they do not."""
    return apart_in_words([each.vetted.outline for each in taken if each.vetted is not None], projection)


def apart_in_words(kept: Sequence[BaseGeometry], projection: Projection) -> tuple[Text, ...]:
    """Return what to say of outlines that lie too far from each other for one farm; nothing if they do not."""
    if not kept:
        return ()
    said = []
    west, south, east, north = shapely.total_bounds(kept)
    apart_m = float(np.hypot(east - west, north - south)) * projection.ground_per_grid
    if apart_m > WIDEST_FARM_M:
        said.append(
            Text(
                "The fields lie up to {km} km apart, so a map of them all shows little. Make a farm for each place.",
                {"km": f"{apart_m / 1000:.0f}"},
            )
        )
    off = np.abs(scale_off(projection, shapely.get_coordinates(shapely.centroid(kept))))
    far = int((off > LENGTHS_MAY_BE_OFF).sum())
    if far:
        said.append(
            Text(
                "Lengths in {count} field far from the others are off by {off} %.",
                {"off": f"{off.max() * 100:.2f}"},
                plural="Lengths in {count} fields far from the others are off by up to {off} %.",
                count=far,
            )
        )
    return tuple(said)


def bounds_of(taken: Sequence[Taken]) -> Bounds | None:
    """Return west, south, east and north of the fields that came in [grid m]."""
    kept = [each.vetted.outline for each in taken if each.vetted is not None]
    if not kept:
        return None
    west, south, east, north = shapely.total_bounds(kept)
    return float(west), float(south), float(east), float(north)


There = BaseGeometry | PigmapError | None
"""A shape in the farm's metres, why it can have no place there, or none."""


def taken_there(number: int, row: Incoming, there: There) -> Taken:
    """Return what becomes of a row whose shape lies there."""
    try:
        vetted = vet_outline(row.name, shape_of(there))
        _need_field_size(row.name, vetted.outline.area)
    except PigmapError as why:
        return Taken(number, row.name, None, why)
    if row.shape is not None and shapely.has_z(row.shape):
        without = Text("The heights in {name} were left out.", {"name": row.name})
        vetted = VettedOutline(vetted.outline, (without, *vetted.notes))
    return Taken(number, row.name, vetted)


def shape_of(there: There) -> BaseGeometry | None:
    """Return a shape, or raise why it can have no place in the farm's metres."""
    if isinstance(there, PigmapError):
        raise there
    return there


def in_metres(shapes: Sequence[BaseGeometry | None], crs: str, projection: Projection) -> list[There]:
    """Return shapes in the farm's metres, without heights, all at once where that can be."""
    found: list[There] = [None if shape is None else shapely.force_2d(shape) for shape in shapes]
    full = [at for at, shape in enumerate(shapes) if shape is not None and not shape.is_empty]
    if crs == projection.definition or not full:
        return found
    flat = [shape for shape in (shapes[at] for at in full) if shape is not None]
    try:
        moved_all: Sequence[There] = to_projection(flat, crs, projection)
    except OutlineError:  # of one of them, which is not told
        moved_all = [_moved(shape, crs, projection) for shape in flat]
    for at, there in zip(full, moved_all, strict=True):
        found[at] = there
    return found


def _moved(shape: BaseGeometry, crs: str, projection: Projection) -> There:
    try:
        return to_projection([shape], crs, projection)[0]
    except OutlineError as why:
        return why


def _need_field_size(name: str, area_m2: float) -> None:
    if area_m2 > LARGEST_M2:
        raise OutlineError(
            "{name} has {area} ha; a field has at most {most} ha.",
            remedy="Look whether the file names the right coordinate system, or cut the outline into fields.",
            name=name,
            area=f"{area_m2 / 10_000:,.0f}".replace(",", " "),
            most=f"{LARGEST_M2 / 10_000:,.0f}".replace(",", " "),
        )


def cell_m_of(area_m2: float) -> float:
    """Return the side of the squares whose ground is kept: wider on very large fields, so that they stay quick."""
    cell_m = _FINEST_CELL_M
    while area_m2 / cell_m**2 > _CELLS_AIMED_AT:
        cell_m *= 2
    return cell_m


def _middle(bounds: tuple[float, float, float, float]) -> tuple[float, float]:
    return (bounds[0] + bounds[2]) / 2, (bounds[1] + bounds[3]) / 2


def area_of(taken: Taken, projection: Projection) -> Quantity | None:
    """Return the ground of a field that came in [m²]."""
    if taken.vetted is None:
        return None
    return Quantity(taken.vetted.outline.area * projection.ground_per_grid**2, "m²")
