"""Where the shapes of a file lie; numbers the wrong way round, or with the zone before them, are put right."""

from __future__ import annotations

from collections.abc import Callable, Iterator, Sequence
from dataclasses import replace

import numpy as np
import shapely
from numpy.typing import NDArray
from shapely.geometry.base import BaseGeometry

from pigmap.document.incoming import Incoming, IncomingLayer
from pigmap.errors import OutlineError, RecordError
from pigmap.geometry.coordinates import LON_LAT, short
from pigmap.geometry.projection import moved
from pigmap.records import Farm
from pigmap.records.frozen import dataclass
from pigmap.records.projection import PLACE_SETTING
from pigmap.session.intake import There, in_metres
from pigmap.text import Text

BY_THE_FARM_M = 50_000.0
"""What is nearer than this belongs to the farm [m]. Own choice."""
ZONES = 60
ZONE_STEP_M = 1_000_000.0
"""A zone before an easting of at most a million metres, as 32 500 000."""

Points = NDArray[np.float64]


@dataclass(frozen=True, slots=True, eq=False)
class Placed:
    """A layer with its coordinate system, and what was done to its numbers."""

    layer: IncomingLayer
    crs: str
    notes: tuple[Text, ...] = ()
    there: Sequence[There] = ()
    """The shapes in the farm's metres, or why they can have no place there."""


@dataclass(frozen=True, slots=True)
class _Try:
    """One way to read the numbers of a file."""

    crs: str
    change: Callable[[Points], Points]
    words: str = ""


def placed(layer: IncomingLayer, file: str, farm: Farm, crs: str = "") -> Placed:
    """Return a layer with its shapes in the farm's metres; as `found_where`."""
    found = found_where(layer, file, farm, crs)
    shapes = [row.shape for row in found.layer.rows]
    return replace(found, there=in_metres(shapes, found.crs, farm.projection) if found.crs else [None] * len(shapes))


def found_where(layer: IncomingLayer, file: str, farm: Farm, crs: str = "") -> Placed:
    """Return a layer where it lies on the farm's side of the world.

    Parameters
    ----------
    layer
        As it was read.
    file
        What the file is called in a sentence.
    farm
        Whose fields, paddocks or place tell which way to read the numbers is right.
    crs
        The coordinate system, where a person says it.

    Raises
    ------
    OutlineError
        If the file does not say where on earth it is and its numbers fit nowhere near the farm; if the farm has no
        place on earth and the file has.
    """
    told = crs or layer.crs
    shapes = [row.shape for row in layer.rows if row.shape is not None and not row.shape.is_empty]
    if not shapes:
        return Placed(layer, told)
    if not farm.projection.has_place:
        return _on_own_grid(layer, told, file, farm)
    middle, yard = _middle(shapes), yard_of(farm)
    if yard is None:
        if not told:
            raise _says_nothing(file)
        return Placed(layer, told)
    ways = list(_ways(told, farm, middle))
    near = next((way for way in ways if _apart_m(way, middle, farm, yard) <= BY_THE_FARM_M), None)
    if near is None and not told:
        raise _says_nothing(file)
    if near is None:
        km = _apart_m(ways[0], middle, farm, yard) / 1000
        if not np.isfinite(km):
            raise _nowhere(file, middle, told)
        words = Text("{file} lies {km} km from the farm. Look whether it is the right one.",
                     {"file": file, "km": f"{km:.0f}"})  # fmt: skip
        return Placed(layer, told, (words,))
    if not near.words:
        return Placed(layer, near.crs)
    said = Text(near.words, {"file": file})
    return Placed(_changed(layer, near.change), near.crs, (said,))


def yard_of(farm: Farm) -> shapely.Point | None:
    """Return the middle of the fields, else of the paddocks, else the place that was told [grid m]."""
    outlines: list[BaseGeometry] = [row.outline for row in farm.fields.values()]
    outlines += [row.outline for row in farm.paddocks.values()]
    if outlines:
        return shapely.Point(_middle(outlines))
    kept = farm.setting(PLACE_SETTING)
    return shapely.Point(kept) if isinstance(kept, list) and len(kept) == 2 else None


def _middle(shapes: Sequence[BaseGeometry]) -> Points:
    """Return the median of the corners, so that one far away does not draw it."""
    points = shapely.get_coordinates(shapes)
    points = points[np.isfinite(points).all(axis=1)]
    middle: Points = np.median(points, axis=0) if len(points) else np.full(2, np.nan)
    return middle


def _ways(told: str, farm: Farm, middle: Points) -> Iterator[_Try]:
    """Yield the ways to read the numbers, the plain one first."""
    if told:
        yield _Try(told, _as_it_is)
        yield _Try(told, _swapped, "East and north (or latitude and longitude) were exchanged in {file}; put right.")
        zoned = "The number of the zone stood before the eastings of {file}; it was taken off."
        yield _Try(told, _unzoned, zoned)
        yield _Try(told, _unzoned_swapped, zoned)
        return
    degrees = bool((np.abs(middle) <= 180.0).all())
    if degrees:
        words = "{file} does not say where on earth it is; it was read as longitude and latitude, which fit the farm."
        yield _Try(LON_LAT, _as_it_is, words)
        words = "{file} does not say where on earth it is; it was read as latitude and longitude, which fit the farm."
        yield _Try(LON_LAT, _swapped, words)
        return
    words = "{file} does not say where on earth it is; its numbers fit the grid of the farm, and were read so."
    own = farm.projection.definition
    for change in (_as_it_is, _swapped, _unzoned, _unzoned_swapped):
        yield _Try(own, change, words)


def _as_it_is(points: Points) -> Points:
    return points


def _swapped(points: Points) -> Points:
    return points[:, ::-1]


def _unzoned(points: Points) -> Points:
    """Return points without the zone before their eastings."""
    zone = np.floor(points[:, 0] / ZONE_STEP_M)
    there = (zone >= 1) & (zone <= ZONES)
    return np.column_stack((points[:, 0] - np.where(there, zone, 0) * ZONE_STEP_M, points[:, 1]))


def _unzoned_swapped(points: Points) -> Points:
    return _unzoned(_swapped(points))


def _apart_m(way: _Try, middle: Points, farm: Farm, yard: shapely.Point) -> float:
    """Return how far from the farm a file would lie; endless where it would lie nowhere."""
    spot = shapely.Point(way.change(middle.reshape(1, 2))[0])
    try:
        (there,) = moved([spot], way.crs, farm.projection.definition)
    except OutlineError:
        return np.inf
    except RecordError as why:
        raise OutlineError(
            Text("{why}", {"why": why.message}), remedy="Name the right one, such as EPSG:32632."
        ) from why
    return float(there.distance(yard)) * farm.projection.ground_per_grid


def _changed(layer: IncomingLayer, change: Callable[[Points], Points]) -> IncomingLayer:
    rows = tuple(
        row if row.shape is None else Incoming(row.name, shapely.transform(row.shape, change), row.columns)
        for row in layer.rows
    )
    return replace(layer, rows=rows)


def _on_own_grid(layer: IncomingLayer, told: str, file: str, farm: Farm) -> Placed:
    """Return a layer that counts the metres of a farm that lies nowhere; refuse one that lies somewhere."""
    if not told or told.startswith(("LOCAL_CS", "ENGCRS")):
        return Placed(layer, farm.projection.definition)
    raise OutlineError(
        "This farm has no place on the map of the world yet, so the places in {file} lie nowhere on its grid.",
        remedy="Give the farm its place, under More, or draw the outlines on its grid.",
        file=file,
    )


def _says_nothing(file: str) -> OutlineError:
    return OutlineError(
        "{file} does not say where on earth it is.",
        remedy="Put its .prj file beside it, or name its coordinate system, such as EPSG:32632.",
        file=file,
    )


def _nowhere(file: str, middle: Points, crs: str) -> OutlineError:
    return OutlineError(
        "{file} lies at {east}, {north}, which is nowhere in {crs}.",
        remedy="Look whether it names the right coordinate system; or name another.",
        file=file,
        east=f"{middle[0]:.10g}",
        north=f"{middle[1]:.10g}",
        crs=short(crs),
    )
