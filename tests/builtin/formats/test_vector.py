from __future__ import annotations

import json
import os
import zipfile
from collections.abc import Callable, Sequence
from pathlib import Path
from typing import Any

import numpy as np
import pytest
import shapely
from shapely.geometry.base import BaseGeometry

from pigmap.builtin.formats.vector import format as vector
from pigmap.builtin.formats.vector_names import names_of
from pigmap.errors import OutlineError

SQUARE = shapely.box(500_000, 5_540_000, 500_100, 5_540_100)
EAST = shapely.box(500_200, 5_540_000, 500_300, 5_540_100)
LINE = shapely.LineString([(0, 0), (100, 0)])


def as_column(values: Sequence[Any]) -> Any:
    return np.array(values, dtype=object if isinstance(values[0], str) else None)


def write(
    path: Path,
    shapes: Sequence[BaseGeometry | None],
    *,
    layer: str = "fields",
    crs: str | None = "EPSG:32632",
    append: bool = False,
    encoding: str | None = None,
    kind: str | None = None,
    **columns: Sequence[Any],
) -> Path:
    """Write one layer through the vector library."""
    from pigmap.geometry.native import own_data

    own_data()
    import pyogrio.raw

    packed = np.array([None if shape is None else shapely.to_wkb(shape) for shape in shapes], dtype=object)
    told = kind or (next((shape.geom_type for shape in shapes if shape is not None), "Polygon"))
    names = list(columns)
    pyogrio.raw.write(
        path,
        geometry=packed,
        field_data=[as_column(columns[name]) for name in names],
        fields=np.array(names, dtype=object),
        layer=layer,
        crs=crs,
        geometry_type=told,
        append=append,
        encoding=encoding,
    )
    return path


@pytest.mark.parametrize("ending", [".gpkg", ".shp", ".geojson", ".fgb"])
def test_usual_formats_bring_shapes_names_and_coordinates(tmp_path: Path, ending: str) -> None:
    path = write(tmp_path / f"fields{ending}", [SQUARE, EAST], name=["Long Field", "Müllers Höhe"])
    read = vector.read(path)
    assert [row.name for row in sorted(read.rows, key=lambda row: row.name)] == ["Long Field", "Müllers Höhe"]
    assert {row.shape.bounds for row in read.rows if row.shape is not None} == {SQUARE.bounds, EAST.bounds}
    assert "32632" in read.crs
    assert path.name.endswith(vector.suffixes)


def test_a_shapefile_in_a_zip_is_read_from_any_folder_in_it(tmp_path: Path) -> None:
    write(tmp_path / "fields.shp", [SQUARE], name=["Long Field"])
    with zipfile.ZipFile(tmp_path / "fields 2026.zip", "w") as packed:
        for part in tmp_path.glob("fields.*"):
            packed.write(part, f"export/2026/{part.name}")
        packed.writestr("read me.txt", "x")
    read = vector.read(tmp_path / "fields 2026.zip")
    assert [row.name for row in read.rows] == ["Long Field"]
    assert vector.layers(tmp_path / "fields 2026.zip") == ("fields",)


def test_a_walk_recorded_by_a_phone_comes_as_a_line_under_its_name(tmp_path: Path) -> None:
    points = "".join(f'<trkpt lat="{47 + y}" lon="{9 + x}"/>' for x, y in ((0, 0), (0.001, 0), (0.001, 0.001), (0, 0)))
    path = tmp_path / "walk.gpx"
    path.write_text(
        '<gpx version="1.1" creator="x" xmlns="http://www.topografix.com/GPX/1/1"><wpt lat="47" lon="9"/>'
        f"<trk><name>Round the ley</name><trkseg>{points}</trkseg></trk></gpx>"
    )
    read = vector.read(path)
    assert [row.name for row in read.rows] == ["Round the ley"]
    assert read.rows[0].shape is not None
    assert read.rows[0].shape.geom_type == "MultiLineString"
    assert "4326" in read.crs


def test_the_first_layer_with_areas_is_read_unless_another_is_named(tmp_path: Path) -> None:
    path = write(tmp_path / "farm.gpkg", [], layer="empty", kind="Polygon")
    write(path, [LINE], layer="hedges", append=True)
    write(path, [SQUARE], layer="fields", append=True)
    write(path, [EAST], layer="Old Fields", append=True)
    assert vector.layers(path) == ("empty", "hedges", "fields", "Old Fields")
    assert vector.read(path).name == "fields"
    assert vector.read(path, "Old Fields").rows[0].shape == EAST
    assert vector.read(path, "old fields").name == "Old Fields"
    assert vector.read(path, "empty").rows == ()


def test_rows_of_every_kind_are_handed_on_as_they_are(tmp_path: Path) -> None:
    twisted = shapely.Polygon([(0, 0), (10, 10), (10, 0), (0, 10)])
    high = shapely.Polygon([(0, 0, 312), (10, 0, 312), (10, 10, 312)])
    mixed = shapely.GeometryCollection([SQUARE, LINE])
    shapes = [SQUARE, None, twisted, high, mixed, shapely.MultiPolygon([SQUARE, EAST])]
    path = write(tmp_path / "all.gpkg", shapes, kind="Unknown", size=[1.0, 2.5, np.nan, 4.0, 5.0, 6.0])
    rows = vector.read(path).rows
    assert [row.shape is None for row in rows] == [False, True, False, False, False, False]
    assert [row.shape.geom_type for row in rows if row.shape] == [
        "Polygon", "Polygon", "Polygon", "GeometryCollection", "MultiPolygon"
    ]  # fmt: skip
    assert rows[3].shape is not None
    assert shapely.has_z(rows[3].shape)
    assert rows[2].shape is not None
    assert not shapely.is_valid(rows[2].shape)
    assert [row.columns["size"] for row in rows] == [1.0, 2.5, None, 4.0, 5.0, 6.0]
    assert rows[0].name == "Field 1"


def test_a_table_in_other_letters_than_it_says_is_read_all_the_same(tmp_path: Path) -> None:
    path = write(tmp_path / "fields.shp", [SQUARE], encoding="ISO-8859-1", name=["Höhe"])
    path.with_suffix(".cpg").write_text("UTF-8")
    assert "H" in vector.read(path).rows[0].name


def test_coordinates_of_an_unknown_system_stay_unnamed(tmp_path: Path) -> None:
    path = write(tmp_path / "fields.shp", [SQUARE], crs="EPSG:32632", name=["a"])
    path.with_suffix(".prj").unlink()
    assert vector.read(path).crs == ""


def gone(folder: Path) -> Path:
    return folder / "gone.gpkg"


def a_folder(folder: Path) -> Path:
    return folder


def empty(folder: Path) -> Path:
    (folder / "empty.geojson").touch()
    return folder / "empty.geojson"


def not_outlines(folder: Path) -> Path:
    (folder / "letter.kml").write_text("Dear neighbour,\n" * 30)
    return folder / "letter.kml"


def part_of_a_shapefile(folder: Path) -> Path:
    path = write(folder / "fields.shp", [SQUARE], name=["a"])
    path.with_suffix(".shx").unlink()
    return path


def empty_zip(folder: Path) -> Path:
    with zipfile.ZipFile(folder / "all.zip", "w") as packed:
        packed.writestr("letter.txt", "x")
    return folder / "all.zip"


def table_only(folder: Path) -> Path:
    (folder / "pigs.csv").write_text("group,pigs\nsows,8\n")
    return folder / "pigs.csv"


def no_rows(folder: Path) -> Path:
    path = write(folder / "farm.gpkg", [], layer="fields", kind="Polygon")
    return write(path, [], layer="hedges", kind="LineString", append=True)


TABLE: list[tuple[Callable[[Path], Path], str, str]] = [
    (gone, "The file gone.gpkg is not in {folder}.", "Look for the file, and name it where it is."),
    (
        a_folder,
        "{name} is a folder, not a file of outlines.",
        "Name one file in it, such as a .gpkg, .shp or .geojson file.",
    ),
    (empty, "empty.geojson is empty (0 bytes).", "Fetch or copy it again; it was cut off."),
    (
        not_outlines,
        "letter.kml is not a file of outlines that can be read here.",
        "Export it as GeoPackage, GeoJSON or Shapefile, or fetch it again if it was one.",
    ),
    (
        part_of_a_shapefile,
        "fields.shp is one part of a Shapefile; fields.shx is missing.",
        "Put it beside fields.shp, or give the whole Shapefile as a zip.",
    ),
    (
        empty_zip,
        "all.zip holds no outlines that can be read here; in it: letter.txt.",
        "Give a zip with a GeoPackage, Shapefile, GeoJSON, KML or GPX in it.",
    ),
    (table_only, "pigs.csv has a table but no shapes in it.", "Give the file that holds the outlines."),
    (
        no_rows,
        "farm.gpkg has no row with a shape; its layers are: fields, hedges.",
        "Draw the outlines and save them, or give the file that holds them.",
    ),
]


@pytest.mark.parametrize(("made", "message", "remedy"), TABLE, ids=[row[0].__name__ for row in TABLE])
def test_what_holds_no_outlines_is_refused_with_a_remedy(
    made: Callable[[Path], Path], message: str, remedy: str, tmp_path: Path
) -> None:
    with pytest.raises(OutlineError) as refused:
        vector.read(made(tmp_path))
    wanted = message.format(folder=tmp_path, name=tmp_path.name)
    assert (str(refused.value.message), str(refused.value.remedy)) == (wanted, remedy)


def test_a_layer_that_is_not_there_is_answered_with_those_that_are(tmp_path: Path) -> None:
    path = write(tmp_path / "farm.gpkg", [SQUARE], layer="fields")
    write(path, [LINE], layer="hedges", append=True)
    with pytest.raises(OutlineError) as refused:
        vector.read(path, "ponds")
    assert str(refused.value) == "farm.gpkg has no layer ponds. Its layers are: fields, hedges."


@pytest.mark.skipif(os.geteuid() == 0, reason="root may read everything")
def test_a_file_that_may_not_be_read_is_named(tmp_path: Path) -> None:
    path = write(tmp_path / "farm.gpkg", [SQUARE])
    path.chmod(0)
    with pytest.raises(OutlineError, match=r"^farm\.gpkg may not be read by you\. Ask its owner to let you read it"):
        vector.read(path)


def test_a_file_that_breaks_off_is_refused_in_words(tmp_path: Path) -> None:
    path = tmp_path / "cut.geojson"
    told = {"type": "FeatureCollection", "features": [{"type": "Feature", "properties": {}, "geometry": None}] * 40}
    path.write_text(json.dumps(told)[:-800])
    with pytest.raises(OutlineError, match=r"^(cut.geojson is not a file of outlines|The layer \S+ of cut.geojson)"):
        vector.read(path)


def test_names_come_from_a_column_in_which_rows_differ() -> None:
    assert names_of(["kind", "Label"], [["ley", "ley"], ["North", "South"]], 2) == ["North", "South"]
    assert names_of(["name", "label"], [["ley", "ley", "ley"], ["a", "b", "c"]], 3) == ["a", "b", "c"]
    assert names_of(["id"], [[7.0, 8.0]], 2) == ["7", "8"]
    assert names_of([], [], 2) == ["Field 1", "Field 2"]
    assert names_of(["name"], [[float("nan"), " A  1 "]], 2) == ["Field 1", "A 1"]
    assert names_of(["name"], [["Hill", "hill", "Down"]], 3) == ["Hill", "hill 2", "Down"]
    assert len(names_of(["name"], [["x" * 500]], 1)[0]) == 60


ROWS = {
    "at_inspire_schlaege_2025-1_polygon.gpkg.zip": (100, "31287"),
    "bg_bg_arable_land_2024.zip": (100, "32635"),
    "dk_Marker_2026.zip": (100, "25832"),
    "fi_LandUse.ExistingLandUse.GSAAAgriculturalParcel.gpkg": (100, "3067"),
    "india_10k_india_10k.zip": (100, "4326"),
    "se_se2023.zip": (10, "3006"),
    "togeojson_multigeometry.kml": (1, "4326"),
    "togeojson_polygon.kml": (1, "4326"),
}


def test_every_real_file_of_outlines_is_read_whole(shared_data: Path) -> None:
    for name, (rows, code) in ROWS.items():
        read = vector.read(shared_data / "parcels" / name)
        assert (len(read.rows), read.crs.endswith(code)) == (rows, True), name
        assert all(row.shape is not None for row in read.rows), name


def test_a_time_that_is_none_keeps_no_other_row_out(tmp_path: Path) -> None:
    path = tmp_path / "walk.kml"
    times = ("2026-05-01", "2026-13-01")
    marks = "".join(
        f"<Placemark><name>{time}</name><TimeStamp><when>{time}</when></TimeStamp>"
        "<Point><coordinates>9,50</coordinates></Point></Placemark>"
        for time in times
    )
    path.write_text(f'<kml xmlns="http://www.opengis.net/kml/2.2"><Document>{marks}</Document></kml>')
    assert [row.name for row in vector.read(path).rows] == [*times]


def test_a_day_that_is_none_is_refused_in_words(tmp_path: Path) -> None:
    rows = [{"type": "Feature", "geometry": SQUARE.__geo_interface__, "properties": {"d": day}}
            for day in ("2026-05-01", "-001-05-01")]  # fmt: skip
    path = tmp_path / "a.geojson"
    path.write_text(json.dumps({"type": "FeatureCollection", "features": rows}))
    with pytest.raises(OutlineError, match=r"a of a\.geojson holds a day that is none: year .* Put it right in"):
        vector.read(path)


def test_a_zip_of_a_version_that_is_none_is_refused_in_words(tmp_path: Path) -> None:
    write(tmp_path / "a.shp", [SQUARE], name=["Ley"])
    with zipfile.ZipFile(tmp_path / "a.zip", "w") as packed:
        packed.write(tmp_path / "a.shp", "a.shp")
    broken = (tmp_path / "a.zip").read_bytes().replace(b"PK\x01\x02\x14\x03\x14", b"PK\x01\x02\x14\x03\x7f")
    (tmp_path / "a.zip").write_bytes(broken)
    with pytest.raises(OutlineError, match=r"a\.zip holds no outlines that can be read here"):
        vector.read(tmp_path / "a.zip")
