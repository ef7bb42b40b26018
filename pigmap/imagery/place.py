"""What an image says of its place: control points, units that do not fit its numbers, or only where a camera was."""

from __future__ import annotations

from typing import TYPE_CHECKING, Any

from pigmap.errors import RasterError
from pigmap.imagery.camera import tells_of_camera
from pigmap.imagery.facts import Affine6

if TYPE_CHECKING:
    from pyproj import CRS

_IDENTITY = (1.0, 0.0, 0.0, 0.0, 1.0, 0.0)
_FEWEST_POINTS = 3
_SLIGHTLY = 1e-15
"""Keeps a picture that is placed by points from being taken for one that lies straight."""


class NoPlaceError(RasterError):
    """A picture whose file does not say where on earth it lies: it can be pinned."""


def placed_by_points(dataset: Any) -> tuple[Affine6, str] | None:
    """Return about where control points put an image, and the well-known text of their system.

    The reader warps by the points themselves; this is for its size and its system. None where the image lies by
    corners of its own, or has too few points.
    """
    points, system = dataset.gcps
    if tuple(dataset.transform)[:6] != _IDENTITY or len(points) < _FEWEST_POINTS or not system:
        return None
    from rasterio.transform import from_gcps

    a, b, c, d, e, f = tuple(from_gcps(points))[:6]
    return (a, b or _SLIGHTLY, c, d, e, f), str(system.to_wkt())


def need_right_units(name: str, system: CRS, transform: Affine6) -> None:
    """Refuse degrees in a system that counts metres, and metres in one that counts degrees.

    Raises
    ------
    RasterError
        In words, with the corner.
    """
    a, b, x, d, e, y = transform
    step = max(abs(each) for each in (a, b, d, e))
    if system.is_projected and abs(x) <= 360.0 and abs(y) <= 90.0 and step < 0.001:
        raise RasterError(
            "{name} says that it counts in metres ({crs}), but its corner lies at {x}, {y}: those are degrees.",
            remedy="Export it again with the coordinate system in which it was made, often WGS 84 (EPSG:4326).",
            name=name,
            crs=system.name,
            x=f"{x:.5f}",
            y=f"{y:.5f}",
        )
    if system.is_geographic and (abs(x) > 720.0 or abs(y) > 720.0):
        raise RasterError(
            "{name} says that it counts in degrees ({crs}), but its corner lies at {x}, {y}: those are metres.",
            remedy="Export it again with the coordinate system in which it was made, such as EPSG:32632.",
            name=name,
            crs=system.name,
            x=f"{x:.0f}",
            y=f"{y:.0f}",
        )


def is_camera_photo(dataset: Any) -> bool:
    """Whether a picture carries what a camera writes of itself."""
    return tells_of_camera({**dataset.tags(ns="EXIF"), **dataset.tags()})
