from __future__ import annotations

import zipfile
from dataclasses import replace
from pathlib import Path

import numpy as np
import pytest
import shapely
from shapely import affinity

from pigmap.drawing.words import render
from pigmap.errors import OutlineError, UsageError
from pigmap.records import Farm, GroundCover, Projection, Reason
from pigmap.records.projection import NO_PLACE
from pigmap.session.handing_out import hand_out
from pigmap.session.handing_out.things import fields_of, keep_outs_of
from tests.builtin.formats.test_vector import write
from tests.ground.invented import farm, square
from tests.session.handing_out.test_round_trip import sample
from tests.session.taking_in.at_farm import REGISTRY, after, degrees, file, here, said, taken

AWAY = square(300, 0)
BOW_TIE = shapely.Polygon([(500_300, 5_200_000), (500_400, 5_200_100), (500_400, 5_200_000), (500_300, 5_200_060)])
SUFFIXES = ("geojson", "kml", "gpx", "gpkg", "csv", "zip", "shp")


@pytest.mark.parametrize("suffix", SUFFIXES)
def test_fields_that_were_handed_out_come_into_another_farm_as_they_were(tmp_path: Path, suffix: str) -> None:
    invented = sample()
    path = tmp_path / f"fields.{suffix}"
    hand_out(fields_of(invented), path, invented.projection)
    empty = farm_like(invented.projection)
    told = taken(path, at=empty)
    assert {row.result for row in told.rows} == {"taken"}
    now = after(told, empty)
    new = {field.name: field for field in now.fields.values()}
    for field in invented.fields.values():
        other = new[field.name]
        assert shapely.hausdorff_distance(other.outline, field.outline) < 0.001
        assert (other.ground_cover, other.soil or "", other.note) == (field.ground_cover, field.soil or "", field.note)
    again = taken(path, at=now)
    assert {row.result for row in again.rows} == {"there already"}
    assert not again.changes_anything


@pytest.mark.parametrize("suffix", ["geojson", "kml", "gpx", "gpkg", "csv", "zip"])
def test_keep_outs_come_back_with_their_distances(tmp_path: Path, suffix: str) -> None:
    invented = sample()
    path = tmp_path / f"keepouts.{suffix}"
    hand_out(keep_outs_of(invented), path, invented.projection)
    empty = farm_like(invented.projection)
    now = after(taken(path, at=empty), empty)
    new = {row.name: row for row in now.keep_outs.values()}
    assert len(new) == len(invented.keep_outs)
    for row in invented.keep_outs.values():
        other = new[row.name]
        assert shapely.hausdorff_distance(other.shape, row.shape) < 0.001
        assert shapely.get_dimensions(other.shape) == shapely.get_dimensions(row.shape)
        columns = ("reason", "radius_m", "net_m", "gear_m", "vehicle_m", "from_month_day", "to_month_day", "note")
        assert [getattr(other, each) for each in columns] == [getattr(row, each) for each in columns]
    assert {row.result for row in taken(path, at=now).rows} == {"there already"}


def farm_like(projection: Projection) -> Farm:
    return replace(farm(), projection=projection)


def test_a_crossed_edge_is_mended_and_both_areas_are_told(tmp_path: Path) -> None:
    path = write(tmp_path / "a.gpkg", [BOW_TIE], name=["Ley"])
    told = taken(path, "fields")
    assert [row.result for row in told.rows] == ["mended"]
    assert said(told) == [
        "1: The edge of Ley crossed itself; it was mended.",
        "1: Ley has 2 parts; all belong to it.",
        f"1: Its area was {abs(BOW_TIE.area):.0f} m² as it stood, and is "
        f"{shapely.make_valid(BOW_TIE, method='structure').area:.0f} m².",
    ]


def test_a_crossed_edge_of_less_than_a_hectare_is_told_in_parts_of_one(tmp_path: Path) -> None:
    bow = affinity.scale(BOW_TIE, *(2 * [(6000 / shapely.make_valid(BOW_TIE).area) ** 0.5]))
    (row,) = taken(write(tmp_path / "a.gpkg", [bow], name=["Ley"]), "fields").rows
    assert render(row.words[-1]).endswith("and is 0.60 ha.")


def test_heights_are_left_out_and_told(tmp_path: Path) -> None:
    path = write(tmp_path / "a.gpkg", [shapely.force_3d(AWAY, 312.0)], name=["Ley"], kind="Polygon Z")
    assert said(taken(path, "fields")) == ["1: The heights in Ley were left out."]


@pytest.mark.parametrize("crs", ["EPSG:4326", None])
def test_latitude_before_longitude_is_found_by_where_the_farm_lies(tmp_path: Path, crs: str | None) -> None:
    swapped = shapely.transform(degrees(AWAY), lambda points: points[:, ::-1])
    path = (
        write(tmp_path / "a.gpkg", [swapped], crs=crs, name=["Ley"])
        if crs
        else file(tmp_path, f'name,wkt\nLey,"{swapped.wkt}"\n')
    )
    told = taken(path, "fields")
    assert said(told) == [f"East and north (or latitude and longitude) were exchanged in {path.name}; put right."]
    (new,) = [row for row in after(told).fields.values() if row.name == "Ley"]
    assert shapely.hausdorff_distance(new.outline, AWAY) < 0.001


def test_a_zone_before_the_eastings_is_taken_off(tmp_path: Path) -> None:
    zoned = shapely.transform(AWAY, lambda points: points + np.array([32_000_000, 0]))
    path = write(tmp_path / "a.gpkg", [zoned], crs="EPSG:25832", name=["Ley"])
    told = taken(path, "fields")
    assert said(told) == ["The number of the zone stood before the eastings of a.gpkg; it was taken off."]
    (new,) = [row for row in after(told).fields.values() if row.name == "Ley"]
    assert shapely.hausdorff_distance(new.outline, AWAY) < 0.01


@pytest.mark.filterwarnings("ignore:'crs' was not provided")
def test_without_a_coordinate_system_numbers_that_fit_the_farm_are_taken_and_others_refused(tmp_path: Path) -> None:
    fits = write(tmp_path / "a.shp", [AWAY], crs=None, name=["Ley"])
    assert said(taken(fits, "fields")) == [
        "a.shp does not say where on earth it is; its numbers fit the grid of the farm, and were read so."
    ]
    elsewhere = shapely.transform(AWAY, lambda points: points + np.array([3_000_000.0, 400_000.0]))
    path = write(tmp_path / "b.shp", [elsewhere], crs=None, name=["Ley"])
    with pytest.raises(
        OutlineError, match=r"b\.shp does not say where on earth it is\. Put its \.prj file .* EPSG:32632"
    ):
        taken(path, "fields")
    assert taken(path, "fields", crs="EPSG:31467").rows


def test_a_file_far_away_is_taken_and_told(tmp_path: Path) -> None:
    path = write(tmp_path / "a.gpkg", [shapely.transform(AWAY, lambda points: points + 200_000.0)], name=["Ley"])
    assert said(taken(path, "fields")) == ["a.gpkg lies 283 km from the farm. Look whether it is the right one."]


def test_several_layers_are_named_and_one_is_asked_for(tmp_path: Path) -> None:
    path = write(tmp_path / "a.gpkg", [AWAY], layer="ley", name=["Ley"])
    write(path, [square(400, 0), square(500, 0)], layer="wood", append=True, number=[1, 2])
    write(path, [], layer="nothing", append=True, kind="Polygon")
    with pytest.raises(UsageError, match=r"a\.gpkg has 2 layers with rows: ley \(1\), wood \(2\)\. Name the one"):
        taken(path, "fields")
    assert len(taken(path, "fields", layer="wood").rows) == 2
    with pytest.raises(OutlineError, match=r"no layer grass\. Its layers are: ley, wood, nothing"):
        taken(path, "fields", layer="grass")


def test_the_layer_that_is_called_as_what_is_taken_is_taken(tmp_path: Path) -> None:
    path = write(tmp_path / "a.gpkg", [AWAY], layer="Fields", name=["Ley"])
    write(path, [square(400, 0)], layer="wood", append=True, number=[1])
    assert said(taken(path, "fields")) == ["Out of a.gpkg the layer Fields is taken."]


def test_an_empty_layer_is_refused(tmp_path: Path) -> None:
    path = write(tmp_path / "a.gpkg", [], kind="Polygon")
    with pytest.raises(OutlineError, match=r"a\.gpkg has no rows\. Give the file, or the layer, that holds them"):
        taken(path)


def test_a_row_that_cannot_be_a_field_is_told_with_its_number_and_the_rest_is_taken(tmp_path: Path) -> None:
    line = shapely.LineString([(500_300, 5_200_000), (500_400, 5_200_000)])
    path = write(tmp_path / "a.gpkg", [AWAY, None, line], kind="Unknown", name=["Ley", "Gone", "Hedge"])
    told = taken(path, "fields")
    assert [row.result for row in told.rows] == ["taken", "refused", "refused"]
    assert said(told)[:3] == [
        "2: Gone has no shape.",
        "2: Draw it on the map, or leave it out.",
        "3: Hedge is a line, not an area.",
    ]
    assert len(after(told).fields) == 2


@pytest.mark.parametrize(
    ("encoding", "mark"), [("ISO-8859-1", ""), ("CP1252", "cp1252"), ("UTF-8", "UTF-8"), ("UTF-8", "")]
)
def test_letters_of_a_shapefile_are_read_as_they_were_meant(tmp_path: Path, encoding: str, mark: str) -> None:
    path = write(tmp_path / "a.shp", [AWAY, square(400, 0)], encoding=encoding, name=["Müllers Höhe", "Löss"])
    path.with_suffix(".cpg").unlink(missing_ok=True)
    if mark:
        path.with_suffix(".cpg").write_text(mark)
    with zipfile.ZipFile(tmp_path / "a.zip", "w") as packed:
        for part in tmp_path.glob("a.*"):
            if part.suffix != ".zip":
                packed.write(part, part.name)
    for each in (path, tmp_path / "a.zip"):
        assert [row.name for row in taken(each, "fields").rows] == ["Müllers Höhe", "Löss"]


def test_a_column_that_was_chosen_is_remembered_for_such_files(tmp_path: Path) -> None:
    path = write(tmp_path / "a.gpkg", [AWAY], FLDNAME=["Ley"], kind="Polygon", crop=["ley"])
    told = taken(path, "fields", columns={"name": "FLDNAME", "ground_cover": "crop"})
    now = after(told)
    (new,) = [row for row in now.fields.values() if row.name == "Ley"]
    assert new.ground_cover is GroundCover.LEY
    other = write(tmp_path / "b.gpkg", [square(400, 0)], FLDNAME=["Hill"], crop=["scrub"])
    again = taken(other, "fields", now)
    assert "Columns are taken as they were chosen for such a file before." in said(again)
    assert [row.name for row in again.rows] == ["Hill"]
    assert again.remembers is None


def test_a_column_that_is_not_there_or_not_told_is_refused(tmp_path: Path) -> None:
    path = write(tmp_path / "a.gpkg", [AWAY], name=["Ley"])
    with pytest.raises(UsageError, match=r"There is no column nom in the file\. Its columns are: name"):
        taken(path, "fields", columns={"name": "nom"})
    with pytest.raises(UsageError, match=r"colour is not told of fields\. Choose of: name, ground_cover"):
        taken(path, "fields", columns={"colour": "name"})


def test_columns_that_are_left_aside_are_told(tmp_path: Path) -> None:
    path = write(tmp_path / "a.gpkg", [AWAY], name=["Ley"], crop=["x"])
    assert said(taken(path, "fields")) == ["Columns that are not taken: crop."]


def test_a_point_without_a_distance_is_kept_out_with_a_usual_one_and_told(tmp_path: Path) -> None:
    lon, lat = shapely.get_coordinates(degrees(AWAY.centroid))[0]
    words = f"name,reason,lat,lon\nOak,tree roots,{lat},{lon}\n"
    told = taken(file(tmp_path, words))
    assert said(told) == [
        "It has a column for the reason, so its shapes are taken as keep-outs.",
        "1: It is a line or a point: 2 m round it is kept out.",
    ]
    (new,) = after(told).keep_outs.values()
    assert (new.reason, new.radius_m) == (Reason.ROOTS, 2.0)


def test_a_reason_that_is_not_known_is_another_one_and_told(tmp_path: Path) -> None:
    path = write(tmp_path / "a.gpkg", [AWAY], reason=["bog"])
    assert "1: The reason, 'bog', is not known here: it is another one." in said(taken(path, "keepouts"))


def test_a_file_of_a_county_gives_those_round_the_farm(tmp_path: Path) -> None:
    squares = [square(300 + 200 * (at % 20), 300 + 400 * (at // 20), 30) for at in range(300)]
    path = write(tmp_path / "a.gpkg", squares, number=list(range(1, 301)))
    told = taken(path, "fields")
    assert 0 < len(told.rows) < 40
    assert said(told)[1] == f"a.gpkg has 300 rows; the {len(told.rows)} within 1 km of the farm are looked at."
    assert max(row.row for row in told.rows) > len(told.rows)
    crowded = write(tmp_path / "b.gpkg", [square(3 * at, 0, 2) for at in range(150)], number=list(range(150)))
    with pytest.raises(
        OutlineError, match=r"b\.gpkg has 150 rows, more than one farm has; 150 of them .* Cut out those"
    ):
        taken(crowded, "fields")


def test_a_farm_without_a_place_takes_its_own_metres_and_refuses_places_on_earth(tmp_path: Path) -> None:
    nowhere = farm_like(NO_PLACE)
    own = file(tmp_path, 'name,wkt\nLey,"POLYGON ((0 0, 500 0, 500 300, 0 300, 0 0))"\n')
    with pytest.raises(
        OutlineError, match=r"no place on the map of the world yet, so the places in b\.gpkg lie nowhere"
    ):
        taken(write(tmp_path / "b.gpkg", [AWAY], name=["Ley"]), "fields", nowhere)
    assert [row.result for row in taken(own, "fields", nowhere).rows] == ["taken"]


def test_a_coordinate_system_that_is_not_known_is_refused(tmp_path: Path) -> None:
    path = write(tmp_path / "a.gpkg", [AWAY], name=["Ley"])
    with pytest.raises(OutlineError, match=r"EPSG:99999999 is not a coordinate system .* Name the right one"):
        taken(path, "fields", crs="EPSG:99999999")


def test_the_whole_file_is_one_step(tmp_path: Path) -> None:
    path = write(tmp_path / "a.gpkg", [AWAY, square(400, 0)], name=["Ley", "Hill"])
    told = taken(path, "fields")
    assert str(told.edit.label) == "2 rows of fields taken in from a.gpkg."
    assert str(told.summary) == "Fields out of a.gpkg: 2 taken."
    farm = here()
    assert len(told.edit(farm)) == 2


def test_every_parcel_file_at_hand_is_read_or_refused_in_words(shared_data: Path) -> None:
    files = sorted(path for path in (shared_data / "parcels").rglob("*") if path.is_file())
    assert files
    for path in files:
        told = taken(path, "fields", farm_like(here().projection))
        assert told.rows
        assert all(row.words for row in told.rows if row.result == "refused"), path.name


def test_parts_are_registered() -> None:
    assert {part.name for part in REGISTRY.parts("formats")} >= {"vector", "table", "parquet"}


def test_fields_that_lie_all_over_a_country_are_told(tmp_path: Path) -> None:
    told = taken(write(tmp_path / "a.gpkg", [AWAY, square(0, 90_000)], name=["Ley", "Far"]), "fields")
    assert said(told) == [
        "The fields lie up to 90 km apart, so a map of them all shows little. Make a farm for each place."
    ]
