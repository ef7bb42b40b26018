"""Longitude and latitude, and any other coordinates, to the farm's metres and back."""

from __future__ import annotations

import math
from collections.abc import Sequence
from typing import TYPE_CHECKING, Any, cast

import numpy as np
import shapely
from numpy.typing import NDArray
from shapely.geometry.base import BaseGeometry

from pigmap.errors import OutlineError, RecordError
from pigmap.geometry.coordinates import (
    LON_LAT,
    definition,
    degrees_of,
    ground_along,
    need_metres,
    parsed,
    short,
    without_heights,
)
from pigmap.geometry.native import own_data
from pigmap.records import Projection

if TYPE_CHECKING:
    from pyproj import CRS

Bounds = tuple[float, float, float, float]
"""West, south, east, north."""

LENGTHS_MAY_BE_OFF = 5e-4
"""Share by which a length on the map may be off: that of the printed scale."""

_OWN_CODE = 100_001
"""Number of a coordinate system that has none of its own, out of the way of those that do."""


OWN_GRID = "grid of the farm"
"""What the metres of a farm are called that was given its place later."""


def projection_for(crs: str, where: Sequence[float]) -> Projection:
    """Return the flat coordinates a farm is kept in.

    Parameters
    ----------
    crs
        ``EPSG:N`` or well-known text; empty for the UTM zone of the place.
    where
        Longitude and latitude of the farm [degrees], or its west, south, east and north in the coordinates of
        `crs` (in degrees where none is given).

    Raises
    ------
    RecordError
        If lengths cannot be measured in `crs` there: degrees, feet, another planet, stretched one way.

    Examples
    --------
    >>> projection_for("", (9.0, 50.0)).code
    32632
    """
    system = without_heights(parsed(crs)) if crs else _utm(*_middle(where))
    need_metres(system, crs or system.name)
    in_degrees = len(where) == 2 or not crs
    ground_per_grid = _ground_per_grid(system, crs or system.name, _middle(where), in_degrees=in_degrees)
    epsg = system.to_epsg(min_confidence=70)
    return Projection(
        name=system.name,
        authority="EPSG" if epsg else "NONE",
        code=epsg or _OWN_CODE,
        definition=definition(system),
        ground_per_grid=ground_per_grid,
    )


def projection_round(
    lon: float, lat: float, east_m: float, north_m: float, *, ground_per_grid: float = 1.0
) -> Projection:
    """Return flat coordinates in which a spot of a grid lies at a place, true to scale there, with north up.

    Lengths a kilometre away are right to one part in eighty million (transverse Mercator about the place).

    Parameters
    ----------
    lon, lat
        The place [degrees, east and north].
    east_m, north_m
        The spot [grid m].
    ground_per_grid
        Ground metres in one grid metre: a farm that moves keeps its lengths.

    Examples
    --------
    >>> projection_round(9.0, 50.0, 0.0, 0.0).ground_per_grid
    1.0
    """
    system = parsed(
        f"+proj=tmerc +lat_0={lat!r} +lon_0={lon!r} +k={1 / ground_per_grid!r} +x_0={east_m!r} +y_0={north_m!r} "
        "+datum=WGS84 +units=m +no_defs +type=crs"
    )
    told = definition(system).replace('"unknown"', f'"{OWN_GRID}"', 1)
    return Projection(name=OWN_GRID, authority="NONE", code=_OWN_CODE, definition=told, ground_per_grid=ground_per_grid)


def is_metric(crs: str, where: Sequence[float]) -> bool:
    """Whether a farm at that place can be kept in these coordinates."""
    try:
        projection_for(crs, where)
    except RecordError:
        return False
    return True


def is_utm(crs: str) -> bool:
    """Whether these are the coordinates of a UTM zone, on any datum."""
    try:
        return without_heights(parsed(crs)).utm_zone is not None
    except RecordError:
        return False


def to_projection(shapes: Sequence[BaseGeometry], crs: str, projection: Projection) -> list[BaseGeometry]:
    """Return shapes in the farm's metres, without heights.

    Parameters
    ----------
    shapes
        Shapes in the coordinates of `crs`: east before north, longitude before latitude.
    crs
        ``EPSG:N`` or well-known text.
    projection
        Where they go.

    Raises
    ------
    OutlineError
        If a corner has no place in the farm's coordinates.
    """
    return moved(shapes, crs, projection.definition, projection.name)


def from_projection(shapes: Sequence[BaseGeometry], projection: Projection, crs: str = LON_LAT) -> list[BaseGeometry]:
    """Return shapes in other coordinates than the farm's, longitude and latitude if none are named."""
    return moved(shapes, projection.definition, crs, crs)


def moved_bounds(bounds: Bounds, crs: str, to: str) -> Bounds:
    """Return bounds in other coordinates: those of the bent rectangle, not of its four corners alone."""
    own_data()
    from pyproj import Transformer

    mover = Transformer.from_crs(without_heights(parsed(crs)), without_heights(parsed(to)), always_xy=True)
    west, south, east, north = mover.transform_bounds(*bounds)
    return float(west), float(south), float(east), float(north)


def scale_off(projection: Projection, points: NDArray[np.float64]) -> NDArray[np.float64]:
    """Return by which share lengths at these points differ from those at the middle of the farm.

    Parameters
    ----------
    projection
        The farm's.
    points
        In grid metres, (n, 2).

    Returns
    -------
    NDArray
        Positive where a metre of the map is longer on the ground than the farm's figure says, (n,).
    """
    along = ground_along(parsed(projection.definition), np.asarray(points, dtype=np.float64))
    share: NDArray[np.float64] = np.sqrt(along[0] * along[1]) / projection.ground_per_grid - 1
    return share


def own_geodesic(lon: float, lat: float, to_lon: float, to_lat: float) -> tuple[float, float]:
    """Return the way from one place to another: clockwise from north [degrees], and how far [m] (WGS 84)."""
    own_data()
    from pyproj import Geod

    azimuth, _, metres = Geod(ellps="WGS84").inv(lon, lat, to_lon, to_lat)
    return float(azimuth), float(metres)


def _middle(where: Sequence[float]) -> tuple[float, float]:
    if len(where) == 2:
        return where[0], where[1]
    return (where[0] + where[2]) / 2, (where[1] + where[3]) / 2


def _utm(lon: float, lat: float) -> CRS:
    zone = min(int((lon + 180) % 360 // 6) + 1, 60)
    return parsed(f"EPSG:{(32600 if lat >= 0 else 32700) + zone}")


def _ground_per_grid(system: CRS, called: str, middle: tuple[float, float], *, in_degrees: bool) -> float:
    from pyproj import Transformer

    if in_degrees:
        middle = Transformer.from_crs(degrees_of(system), system, always_xy=True).transform(*middle)
    along = ground_along(system, np.array([middle]))[:, 0]
    if not np.isfinite(along).all():
        raise RecordError(
            "{crs} does not reach the place of the farm.",
            remedy="Name the one of the farm's country, or leave it out: one that suits is picked.",
            crs=short(called),
        )
    off = float(along.max() / along.min()) - 1
    if off > LENGTHS_MAY_BE_OFF:
        raise RecordError(
            "{crs} stretches lengths there by {off} % more one way than the other; at most {most} % are right "
            "for nets and a printed scale.",
            remedy="Name a local one, such as the UTM zone, or leave it out: one that suits is picked.",
            crs=short(called),
            off=f"{off * 100:.2f}",
            most=f"{LENGTHS_MAY_BE_OFF * 100:.2f}",
        )
    return float(math.sqrt(along[0] * along[1]))


def moved(shapes: Sequence[BaseGeometry], crs: str, to: str, called: str = "") -> list[BaseGeometry]:
    """Return shapes in other coordinates, without heights; `called` is what a refusal calls those.

    Raises
    ------
    OutlineError
        If a corner has no place there.
    """
    own_data()
    from pyproj import Transformer
    from pyproj.exceptions import ProjError

    if not shapes:
        return []
    try:
        mover = Transformer.from_crs(without_heights(parsed(crs)), without_heights(parsed(to)), always_xy=True)
    except ProjError as why:
        raise OutlineError(
            "Nothing leads from {crs} to {other}: they do not measure the same earth.",
            remedy="Look whether the file names the right coordinate system.",
            crs=short(crs),
            other=short(called or to),
        ) from why
    flat = shapely.force_2d(np.asarray(shapes, dtype=object))
    before = shapely.get_coordinates(flat)
    after = np.column_stack(mover.transform(before[:, 0], before[:, 1]))
    lost = ~np.isfinite(after).all(axis=1)
    if lost.any():
        east, north = before[int(np.argmax(lost))]
        raise OutlineError(
            "The corner at {east}, {north} lies nowhere in {crs}.",
            remedy="Look whether its numbers are swapped, or whether the file names the wrong coordinate system.",
            east=f"{east:.10g}",
            north=f"{north:.10g}",
            crs=short(called or to),
        )
    return list(cast("Sequence[Any]", shapely.set_coordinates(flat.copy(), after)))
