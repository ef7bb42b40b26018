from __future__ import annotations

import struct

import numpy as np
import pytest
import shapely
from shapely.geometry.base import BaseGeometry

from pigmap.errors import EditError, RecordError
from pigmap.store.shapes import box_of, from_blob, from_blobs, is_empty, to_blob

SQUARE = shapely.box(1, 2, 3, 5)


def test_an_area_has_a_box_and_a_point_has_none() -> None:
    area, point = to_blob(SQUARE, 25832), to_blob(shapely.Point(7, 8), 25832)
    assert (area[:4], point[:4]) == (b"GP\0\x03", b"GP\0\x01")
    assert struct.unpack_from("<i4d", area, 4) == (25832, 1, 3, 2, 5)
    assert len(point) == 8 + 21


@pytest.mark.parametrize(
    "shape",
    [
        SQUARE,
        shapely.MultiPolygon([SQUARE]),
        shapely.Point(0.1, 0.2),
        shapely.LineString([(0, 0), (1, 3)]),
        shapely.MultiPoint([(0, 0), (1, 3)]),
        shapely.GeometryCollection([SQUARE, shapely.Point(0, 0)]),
        shapely.Polygon(),
    ],
    ids=lambda shape: shape.wkt[:20],
)
def test_a_shape_comes_back_equal_and_says_its_box(shape: BaseGeometry) -> None:
    blob = to_blob(shape, 0)
    assert from_blob(blob, BaseGeometry) == shape
    box = box_of(blob)
    if shape.is_empty:
        assert (box, is_empty(blob)) == (None, 1)
    else:
        assert box is not None
        assert (box[0], box[2], box[1], box[3]) == shape.bounds
        assert is_empty(blob) == 0


def test_heights_are_dropped() -> None:
    solid = shapely.Polygon([(0, 0, 9), (1, 0, 9), (1, 1, 9)])
    assert from_blob(to_blob(solid, 0), shapely.Polygon) == shapely.force_2d(solid)
    high = b"GP\0\x01" + struct.pack("<i", 0) + shapely.to_wkb(solid, flavor="iso", byte_order=1)
    assert not shapely.has_z(from_blob(high, shapely.Polygon))


def test_outer_rings_run_anticlockwise_in_the_file() -> None:
    clockwise = shapely.box(0, 0, 1, 1, ccw=False)
    read = from_blob(to_blob(clockwise, 0), shapely.Polygon)
    assert read.equals(clockwise)
    assert shapely.is_ccw(shapely.get_exterior_ring(read))
    assert to_blob(read, 0) == to_blob(clockwise, 0)


@pytest.mark.parametrize("wrong", [float("nan"), float("inf"), float("-inf")])
def test_a_corner_that_lies_nowhere_is_refused(wrong: float) -> None:
    with np.errstate(invalid="ignore"), pytest.raises(EditError, match=r"lies nowhere.*Draw it again"):
        to_blob(shapely.LineString([(0, 0), (wrong, 1), (2, 2)]), 0)


def test_a_part_alone_and_parts_of_one_fit_each_other() -> None:
    assert from_blob(to_blob(SQUARE, 0), shapely.MultiPolygon) == shapely.MultiPolygon([SQUARE])
    assert from_blob(to_blob(shapely.MultiPolygon([SQUARE]), 0), shapely.Polygon) == SQUARE
    line = shapely.LineString([(0, 0), (1, 1)])
    assert from_blob(to_blob(shapely.MultiLineString([line]), 0), shapely.LineString) == line


def test_another_kind_of_shape_is_refused_by_name() -> None:
    with pytest.raises(RecordError, match=r"is a Point where a Polygon belongs\. Draw it again\."):
        from_blob(to_blob(shapely.Point(0, 0), 0), shapely.Polygon)
    two = shapely.MultiPolygon([SQUARE, shapely.box(10, 10, 11, 11)])
    with pytest.raises(RecordError, match="is a MultiPolygon where a Polygon belongs"):
        from_blob(to_blob(two, 0), shapely.Polygon)


@pytest.mark.parametrize(
    ("blob", "said"),
    [
        (b"", "is no GeoPackage shape"),
        (b"XX\0\x01aaaaaaaaaaaa", "is no GeoPackage shape"),
        (b"GP\0\x0b" + b"\0" * 80, "has box code 5"),
        (b"GP\0\x01" + b"\0" * 4 + b"\1\2", "cannot be read"),
    ],
)
def test_a_damaged_blob_is_refused_in_words_and_the_functions_of_the_index_say_nothing(blob: bytes, said: str) -> None:
    with pytest.raises(RecordError, match=f"{said}.*Draw it again"):
        from_blob(blob, shapely.Polygon)
    assert box_of(blob) is None or said == "has box code 5"
    is_empty(blob)


@pytest.mark.parametrize("value", [None, 3, 1.5, "text", b"GP"])
def test_the_functions_of_the_index_never_raise(value: object) -> None:
    assert box_of(value) is None
    assert is_empty(value) is None


def test_big_endian_boxes_of_other_software_are_read() -> None:
    blob = b"GP\0\x02" + struct.pack(">i4d", 0, 1, 3, 2, 5) + shapely.to_wkb(SQUARE, byte_order=0)
    assert box_of(blob) == (1, 3, 2, 5)
    assert from_blob(blob, shapely.Polygon) == SQUARE


def test_many_are_read_at_once_with_none_where_there_is_none() -> None:
    assert from_blobs([to_blob(SQUARE, 0), None], shapely.Polygon) == [SQUARE, None]
