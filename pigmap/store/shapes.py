"""Shapes to and from GeoPackage blobs: 'GP', flags, coordinate system, box, then ISO well-known binary."""

from __future__ import annotations

import struct
from collections.abc import Sequence
from typing import Any, cast

import numpy as np
import shapely
from shapely.geometry.base import BaseGeometry

from pigmap.errors import EditError, RecordError

# GeoPackage 1.4 (OGC 12-128r19), section 2.1.3: length of the box by its code in the flags.
_BOX_BYTES = (0, 32, 48, 48, 64)
_HEAD = 8
_POINT, _BOXED, _EMPTY = 0x01, 0x03, 0x11


def to_blob(shape: BaseGeometry, srs_id: int) -> bytes:
    """Return a shape as a GeoPackage blob: two dimensions, areas with their outer ring anticlockwise.

    Raises
    ------
    EditError
        If a coordinate is not a finite number.
    """
    flags, box = _POINT, b""
    if shape.is_empty:
        flags = _EMPTY
    elif not np.isfinite(shapely.get_coordinates(shape)).all():
        raise EditError(
            "A shape has a corner that lies nowhere (a coordinate that is not a number).", remedy="Draw it again."
        )
    elif shape.geom_type != "Point":
        min_x, min_y, max_x, max_y = shape.bounds
        flags, box = _BOXED, struct.pack("<4d", min_x, max_x, min_y, max_y)
        shape = shapely.orient_polygons(shape)
    body: bytes = shapely.to_wkb(shape, output_dimension=2, byte_order=1, flavor="iso")
    return struct.pack("<2sBBi", b"GP", 0, flags, srs_id) + box + body


def body_of(blob: bytes) -> bytes:
    """Return the well-known binary inside a GeoPackage blob.

    Raises
    ------
    RecordError
        If it is no such blob.
    """
    if not isinstance(blob, bytes) or len(blob) < _HEAD or blob[:2] != b"GP":
        raise RecordError("A shape in the farm file is no GeoPackage shape.", remedy="Draw it again.")
    code = (blob[3] >> 1) & 7
    if code >= len(_BOX_BYTES):
        raise RecordError(
            "A shape in the farm file has box code {code}, which GeoPackage does not know.",
            remedy="Draw it again.",
            code=code,
        )
    return blob[_HEAD + _BOX_BYTES[code] :]


def from_blob(blob: bytes, wanted: type) -> BaseGeometry:
    """Return the shape in a blob as the kind a record wants.

    Raises
    ------
    RecordError
        If the blob is damaged or holds another kind of shape.
    """
    return cast(BaseGeometry, from_blobs([blob], wanted)[0])


def from_blobs(blobs: Sequence[bytes | None], wanted: type) -> list[Any]:
    """Return the shapes in many blobs at once, None where there is none.

    Raises
    ------
    RecordError
        If a blob is damaged or holds another kind of shape.
    """
    bodies = [None if blob is None else body_of(blob) for blob in blobs]
    try:
        shapes = shapely.from_wkb(np.array(bodies, dtype=object))
    except shapely.errors.ShapelyError as error:
        raise RecordError("A shape in the farm file cannot be read.", remedy="Draw it again.") from error
    if shapely.has_z(shapes).any():
        shapes = shapely.force_2d(shapes)
    return [shape if shape is None or isinstance(shape, wanted) else _fitted(shape, wanted) for shape in shapes]


def _fitted(shape: BaseGeometry, wanted: type) -> BaseGeometry:
    """Return a shape that other software wrote as a part of one, or as one of parts, as the kind that is wanted."""
    if wanted is shapely.MultiPolygon and isinstance(shape, shapely.Polygon):
        return shapely.MultiPolygon([shape])
    parts = list(getattr(shape, "geoms", ()))
    if len(parts) == 1 and isinstance(parts[0], wanted):
        return cast(BaseGeometry, parts[0])
    raise RecordError(
        "A shape in the farm file is a {found} where a {wanted} belongs.",
        remedy="Draw it again.",
        found=shape.geom_type,
        wanted=wanted.__name__,
    )


Box = tuple[float, float, float, float]


def box_of(blob: Any) -> Box | None:
    """Return (min x, max x, min y, max y) of a blob, None where it has none or is no shape; never raises."""
    try:
        if len(blob) < _HEAD or blob[:2] != b"GP" or blob[3] & 0x10:
            return None
        order = "<" if blob[3] & 1 else ">"
        if (blob[3] >> 1) & 7:
            found: Box = struct.unpack_from(order + "4d", blob, _HEAD)
            return found
        shape = shapely.from_wkb(body_of(blob))
        if shape.is_empty:
            return None
        min_x, min_y, max_x, max_y = shape.bounds
    except (TypeError, struct.error, IndexError, RecordError, shapely.errors.ShapelyError):
        return None
    return min_x, max_x, min_y, max_y


def is_empty(blob: Any) -> int | None:
    """Return 1 for an empty shape, 0 for another, None for what is no shape."""
    try:
        if len(blob) < _HEAD or blob[:2] != b"GP":
            return None
    except TypeError:
        return None
    if blob[3] & 0x10:
        return 1
    return 0 if box_of(blob) is not None else None
