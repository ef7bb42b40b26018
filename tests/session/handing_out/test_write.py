from __future__ import annotations

import csv
import json
import sys
from contextlib import closing
from pathlib import Path
from sqlite3 import connect
from xml.etree import ElementTree

import numpy as np
import pytest
import shapely

from pigmap.errors import StoreError, UsageError
from pigmap.geometry.projection import projection_for
from pigmap.records.projection import NO_PLACE
from pigmap.session.handing_out import library
from pigmap.session.handing_out.library import SHORT, ten_letters
from pigmap.session.handing_out.lists import groups_of
from pigmap.session.handing_out.table import Handed, column
from pigmap.session.handing_out.write import SUFFIXES, hand_out
from tests.session.handing_out.geopackage_rules import broken_rules
from tests.session.handing_out.test_round_trip import HOLE, NAMES, named, sample, tables

UTM = projection_for("", (9.0, 50.0))
POINT = shapely.Point(500_000, 5_540_000)
LINE = shapely.LineString([(500_000, 5_540_000), (500_100, 5_540_000)])


def mixed() -> Handed:
    names = ("a", "b", "c", "d")
    return Handed("keepouts", (column("name", "text", names),), (POINT, LINE, HOLE, None), names)


def said(path: Path, handed: Handed) -> list[str]:
    return [str(note) for note in hand_out(handed, path, UTM)]


def test_geojson_keeps_the_right_hand_rule_and_names_no_other_coordinates(tmp_path: Path) -> None:
    clockwise = shapely.orient_polygons(HOLE, exterior_cw=True)
    hand_out(Handed("rows", (), (clockwise,), ("a",)), tmp_path / "a.geojson", UTM)
    told = json.loads((tmp_path / "a.geojson").read_text(encoding="utf-8"))
    outer, hole = told["features"][0]["geometry"]["coordinates"]
    assert shapely.LinearRing(outer).is_ccw
    assert not shapely.LinearRing(hole).is_ccw
    assert "crs" not in told
    assert told["type"] == "FeatureCollection"
    assert outer[0] == outer[-1]


def test_a_row_without_a_shape_is_null_in_geojson_and_told_of_in_gpx(tmp_path: Path) -> None:
    assert said(tmp_path / "a.geojson", mixed()) == []
    told = json.loads((tmp_path / "a.geojson").read_text(encoding="utf-8"))
    assert [row["geometry"] and row["geometry"]["type"] for row in told["features"]] == [
        "Point", "LineString", "Polygon", None
    ]  # fmt: skip
    assert said(tmp_path / "a.gpx", mixed()) == [
        "1 row has no place on the map, so GPX leaves it out.",
        "GPX knows no areas: each outline is a track that comes back to where it began.",
    ]


def test_gpx_has_its_elements_in_the_order_of_the_standard(tmp_path: Path) -> None:
    hand_out(mixed(), tmp_path / "a.gpx", UTM)
    root = ElementTree.parse(tmp_path / "a.gpx").getroot()
    assert [each.tag.rpartition("}")[2] for each in root] == ["wpt", "trk", "trk"]
    hand_out(tables()["stays"], tmp_path / "stays.gpx", UTM)
    track = ElementTree.parse(tmp_path / "stays.gpx").getroot()[0]
    assert [each.tag.rpartition("}")[2] for each in track] == ["name", "desc", "extensions", "trkseg"]


def test_kml_tells_from_when_to_when(tmp_path: Path) -> None:
    hand_out(tables()["stays"], tmp_path / "a.kml", UTM)
    words = (tmp_path / "a.kml").read_text(encoding="utf-8")
    ElementTree.fromstring(words)
    assert words.count("<TimeSpan><begin>20") == words.count("<Placemark>")


def test_letters_that_xml_cannot_hold_are_told_of(tmp_path: Path) -> None:
    handed = Handed("rows", (column("name", "text", ["a\x01b"]),), (POINT,), ("a\x01b",))
    for ending, format_name in (("kml", "KML"), ("gpx", "GPX")):
        words = said(tmp_path / f"a.{ending}", handed)
        assert words == [f"{format_name} cannot hold a letter of 2 values; \ufffd stands in their place."]
        ElementTree.parse(tmp_path / f"a.{ending}")


def test_names_of_columns_fit_a_shapefile_keep_their_unit_and_are_told(tmp_path: Path) -> None:
    names = ["clearance_m", "clearance_ml", "roundabouts_x", "roundaboutsandsuch", "NAME", "name", "load_kg_d_m2"]
    assert ten_letters(names) == [
        "clearanc_m", "clearan_ml", "roundabo_x", "roundabout", "NAME", "name2", "load_kgdm2"
    ]  # fmt: skip
    assert ten_letters(["roundabouts", "roundaboutsandsuch"]) == ["roundabout", "roundabou2"]
    assert all(len(short) <= 10 for short in SHORT.values())
    assert len(set(SHORT.values())) == len(SHORT)
    handed = Handed("rows", (column("clearance_m", "number", [1.5]),), (POINT,), ("a",))
    assert said(tmp_path / "a.shp", handed) == [
        "Names of columns have at most ten letters in a Shapefile, so they are cut: clearance_m: clearanc_m."
    ]
    assert (tmp_path / "a.cpg").read_text() == "UTF-8"


def test_a_long_text_is_cut_in_a_shapefile_and_told_of(tmp_path: Path) -> None:
    handed = Handed("rows", (column("note", "text", ["ä" * 200, "short"]),), (POINT, POINT), ("a", "b"))
    assert said(tmp_path / "a.zip", handed) == ["1 text is longer than a Shapefile holds (254 bytes), and is cut."]


def test_shapes_of_several_kinds_go_into_a_zip_with_a_shapefile_of_each(tmp_path: Path) -> None:
    with pytest.raises(UsageError, match=r"holds one kind of shape; there are points, lines, areas\. End .* \.zip"):
        hand_out(mixed(), tmp_path / "a.shp", UTM)
    assert list(tmp_path.iterdir()) == []
    assert said(tmp_path / "a.zip", mixed()) == ["1 row has no shape and is left out."]


def test_points_stand_in_columns_of_a_csv_and_areas_as_words(tmp_path: Path) -> None:
    hand_out(tables()["corners"], tmp_path / "corners.csv", UTM)
    with (tmp_path / "corners.csv").open(encoding="utf-8-sig", newline="") as file:
        rows = list(csv.reader(file))
    assert rows[0] == ["name", "of", "corner", "x_m", "y_m", "lon_deg", "lat_deg"]
    hand_out(named(NAMES), tmp_path / "rows.csv", UTM)
    with (tmp_path / "rows.csv").open(encoding="utf-8-sig", newline="") as file:
        told = list(csv.DictReader(file))
    assert [row["note"] for row in told] == list(NAMES)
    assert shapely.from_wkt(told[0]["WKT"]).geom_type == "Polygon"


@pytest.mark.parametrize("suffix", SUFFIXES)
def test_a_farm_without_a_place_is_refused_or_told_of(tmp_path: Path, suffix: str) -> None:
    path = tmp_path / f"a{suffix}"
    handed = Handed("rows", (column("name", "text", ["a"]),), (shapely.box(0, 0, 50, 50),), ("a",))
    if suffix in (".geojson", ".kml", ".gpx"):
        with pytest.raises(
            UsageError, match=r"no place on the map .* longitude and latitude\. Give the farm its place"
        ):
            hand_out(handed, path, NO_PLACE)
    elif suffix != ".parquet":
        words = [str(note) for note in hand_out(handed, path, NO_PLACE)]
        assert any("no place" in each for each in words) or suffix == ".gpkg"
        assert path.stat().st_size > 0


@pytest.mark.parametrize("what", list(tables()))
def test_a_geopackage_keeps_the_rules_of_its_standard(tmp_path: Path, what: str) -> None:
    hand_out(tables()[what], tmp_path / "a.gpkg", UTM)
    assert broken_rules(tmp_path / "a.gpkg") == []


def test_a_geopackage_of_a_farm_without_a_place_keeps_them_too(tmp_path: Path) -> None:
    hand_out(mixed(), tmp_path / "a.gpkg", NO_PLACE)
    assert broken_rules(tmp_path / "a.gpkg") == []


def test_the_rules_of_a_geopackage_are_looked_at(tmp_path: Path) -> None:
    hand_out(mixed(), tmp_path / "a.gpkg", UTM)
    with closing(connect(tmp_path / "a.gpkg")) as db, db:
        db.execute("UPDATE gpkg_geometry_columns SET geometry_type_name = 'POINT'")
        db.execute("PRAGMA user_version = 7")
    assert [rule.partition(":")[0] for rule in broken_rules(tmp_path / "a.gpkg")] == ["2", "31", "32", "32"]


def test_another_ending_is_refused(tmp_path: Path) -> None:
    with pytest.raises(UsageError, match=r"a\.xyz ends in \.xyz, a kind of file that is not written\. End its name in"):
        hand_out(mixed(), tmp_path / "a.xyz", UTM)


def test_a_file_that_stops_half_way_leaves_the_old_one(tmp_path: Path, monkeypatch: pytest.MonkeyPatch) -> None:
    path = tmp_path / "a.gpkg"
    path.write_text("old")

    def broken(part: Path, *_: object) -> None:
        part.write_text("half")
        raise OSError(28, "No space left on device")

    monkeypatch.setattr(library, "_write", broken)
    with pytest.raises(
        StoreError, match=r"a\.gpkg cannot be written: No space left on device\. Look whether the folder"
    ):
        hand_out(mixed(), path, UTM)
    assert path.read_text() == "old"
    assert [each.name for each in tmp_path.iterdir()] == ["a.gpkg"]


def test_a_folder_that_is_not_there_is_told(tmp_path: Path) -> None:
    with pytest.raises(StoreError, match=r"No such file or directory\. Look whether the folder .* is there"):
        hand_out(mixed(), tmp_path / "gone" / "a.csv", UTM)


def test_parquet_says_what_it_needs_where_it_is_not_installed(tmp_path: Path, monkeypatch: pytest.MonkeyPatch) -> None:
    monkeypatch.setitem(sys.modules, "pyarrow", None)
    with pytest.raises(UsageError, match=r"needs the library pyarrow, .* not installed here\. Install it"):
        hand_out(mixed(), tmp_path / "a.parquet", UTM)


def test_what_is_not_a_number_is_not_there() -> None:
    assert column("v", "number", [np.nan, np.inf, 1.0]).values == (None, None, 1.0)


@pytest.mark.parametrize("what", list(tables()))
def test_the_validator_of_the_vector_library_finds_nothing(tmp_path: Path, what: str) -> None:
    validate = pytest.importorskip("osgeo_utils.samples.validate_gpkg")  # of gdal-utils, which is not asked for
    hand_out(tables()[what], tmp_path / "a.gpkg", UTM)
    assert validate.check(str(tmp_path / "a.gpkg"), abort_at_first_error=False, extra_checks=True) == []


def test_what_has_no_shapes_is_a_table_without_places_and_nothing_else(tmp_path: Path) -> None:
    farm = sample()
    hand_out(groups_of(farm), tmp_path / "groups.csv", farm.projection)
    head, *rows = (tmp_path / "groups.csv").read_text(encoding="utf-8-sig").splitlines()
    assert head.startswith("name,class,breed_type,ringed,")
    assert head.endswith(",note,uid")
    assert len(rows) == len(farm.groups)
    with pytest.raises(
        UsageError, match=r"The list of groups has no shapes, so it is not written to a\.gpx\. End the name in \.csv\."
    ):
        hand_out(groups_of(farm), tmp_path / "a.gpx", farm.projection)
