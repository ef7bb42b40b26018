"""Coordinate systems: read, without heights, and whether lengths can be measured in them."""

from __future__ import annotations

import math
from typing import TYPE_CHECKING

import numpy as np
from numpy.typing import NDArray

from pigmap.errors import RecordError
from pigmap.geometry.native import own_data

if TYPE_CHECKING:
    from pyproj import CRS

LON_LAT = "EPSG:4326"

_EARTH_RADIUS_KM = (6_300.0, 6_400.0)
_PROBE_M = 100.0


def parsed(crs: str) -> CRS:
    """Return a coordinate system from ``EPSG:N`` or well-known text.

    Raises
    ------
    RecordError
        If it is neither.
    """
    own_data()
    from pyproj import CRS
    from pyproj.exceptions import CRSError

    try:
        return CRS.from_user_input(crs)
    except CRSError as why:
        raise RecordError(
            "{crs} is not a coordinate system that this program knows.",
            remedy="Name one such as EPSG:32632, or leave it out: one that suits the place is picked.",
            crs=short(crs),
        ) from why


def without_heights(system: CRS) -> CRS:
    """Return the coordinates without heights, and without a detour to another datum."""
    if system.is_bound and system.source_crs is not None:
        system = system.source_crs
    if system.is_compound:
        system = system.sub_crs_list[0]
    return system.to_2d() if len(system.axis_info) > 2 else system


def need_metres(system: CRS, called: str) -> None:
    """Refuse a system that does not count metres of the earth, east and north.

    Raises
    ------
    RecordError
        In words, with `called` for the system.
    """
    called = short(called)
    if not is_of_earth(system):
        raise RecordError(
            "{crs} measures another body than the earth, with a radius of {radius} km.",
            remedy="Name the coordinate system of the farm's country, such as EPSG:32632.",
            crs=called,
            radius=f"{radius_km(system):.0f}",
        )
    if system.is_geographic:
        raise RecordError(
            "{crs} counts in degrees; nets and paddocks are measured in metres.",
            remedy="Name one that counts in metres, such as EPSG:32632, or leave it out: one that suits is picked.",
            crs=called,
        )
    axes = system.axis_info
    if not system.is_projected or {axis.direction for axis in axes} != {"east", "north"}:
        raise RecordError(
            "{crs} does not count east and north on the ground.",
            remedy="Name one that does, such as EPSG:32632, or leave it out: one that suits is picked.",
            crs=called,
        )
    if any(abs(axis.unit_conversion_factor - 1) > 1e-9 for axis in axes):
        raise RecordError(
            "{crs} counts in {unit}; nets and paddocks are measured in metres.",
            remedy="Name one that counts in metres, such as EPSG:32632, or leave it out: one that suits is picked.",
            crs=called,
            unit=axes[0].unit_name,
        )


def radius_km(system: CRS) -> float:
    """Return the radius of the body a system measures [km]; 0 where it measures none."""
    body = system.ellipsoid
    return body.semi_major_metre / 1000 if body is not None else 0.0


def is_of_earth(system: CRS) -> bool:
    """Whether a system measures the earth, or a plan that names no body at all."""
    radius = radius_km(system)
    return radius == 0.0 or _EARTH_RADIUS_KM[0] < radius < _EARTH_RADIUS_KM[1]


def same_system(one: str, other: str) -> bool:
    """Whether two definitions count the same east and north, heights aside."""
    first, second = without_heights(parsed(one)), without_heights(parsed(other))
    if first.equals(second, ignore_axis_order=True):
        return True
    number = first.to_epsg(min_confidence=70)
    return number is not None and number == second.to_epsg(min_confidence=70)


def ground_along(system: CRS, points: NDArray[np.float64]) -> NDArray[np.float64]:
    """Return ground metres in a grid metre east, north, north-east and north-west of points (n, 2), as (4, n).

    Measured on the ellipsoid between two spots 100 grid metres apart: formulas of the projection alone would take
    the sphere of a web map at its word.
    """
    from pyproj import Geod, Transformer

    degrees = degrees_of(system)
    back = Transformer.from_crs(system, degrees, always_xy=True)
    body = degrees.ellipsoid
    assert body is not None
    geod = Geod(a=body.semi_major_metre, b=body.semi_minor_metre)
    diagonal = math.sqrt(0.5)
    along = []
    for east, north in ((1.0, 0.0), (0.0, 1.0), (diagonal, diagonal), (-diagonal, diagonal)):
        half = np.array([east, north]) * _PROBE_M / 2
        lon_a, lat_a = back.transform(*(points - half).T)
        lon_b, lat_b = back.transform(*(points + half).T)
        known = np.isfinite([lon_a, lat_a, lon_b, lat_b]).all(axis=0)
        ends = [np.where(known, each, 0.0) for each in (lon_a, lat_a, lon_b, lat_b)]
        lengths = geod.inv(ends[0], ends[1], ends[2], ends[3])[2]
        along.append(np.where(known, np.asarray(lengths) / _PROBE_M, np.inf))
    return np.array(along)


def degrees_of(system: CRS) -> CRS:
    """Return the system's own longitude and latitude; those of the world where its own are not in degrees."""
    own = system.geodetic_crs
    return own if own is not None and own.axis_info[0].unit_name == "degree" else parsed(LON_LAT)


def definition(system: CRS) -> str:
    """Return well-known text, in the old form that most programs read where it can say it."""
    from pyproj.exceptions import CRSError

    try:
        return system.to_wkt("WKT1_GDAL") or system.to_wkt()
    except CRSError:  # newer than the old form can say
        return system.to_wkt()


def short(crs: str) -> str:
    """Return what to call coordinates in a sentence: their code, or the name in their definition."""
    return crs.split('"')[1] if crs.count('"') > 1 else crs
