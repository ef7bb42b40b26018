from __future__ import annotations

import json
from pathlib import Path

import numpy as np
import pytest
import rasterio
from rasterio.transform import from_origin

from pigmap.errors import OutlineError, StoreError, UsageError
from pigmap.geometry.typed_place import typed_place
from pigmap.paths import data_folder
from pigmap.plugins import Registry
from pigmap.session import Session
from pigmap.session.first_farm import is_sample, sample_folder
from pigmap.session.new_farm import Wanted, farm_path, has_place, make_farm, place_of

PARTS = Registry()


def _boxes(path: Path, count: int, *, step: float = 0.002) -> Path:
    features = []
    for at in range(count):
        x, y = 9.0 + at % 20 * step, 50.0 + at // 20 * step
        ring = [[x, y], [x + 0.001, y], [x + 0.001, y + 0.001], [x, y + 0.001], [x, y]]
        features.append({"type": "Feature", "properties": {}, "geometry": {"type": "Polygon", "coordinates": [ring]}})
    path.write_text(json.dumps({"type": "FeatureCollection", "features": features}), encoding="utf-8")
    return path


def _track(path: Path, places: list[tuple[float, float]], seconds: float) -> Path:
    points = "".join(
        f'<trkpt lat="{lat}" lon="{lon}"><time>2026-05-01T08:{int(at * seconds) // 60:02}:{int(at * seconds) % 60:02}Z'
        "</time></trkpt>"
        for at, (lon, lat) in enumerate(places)
    )
    path.write_text(
        '<gpx version="1.1" creator="test" xmlns="http://www.topografix.com/GPX/1/1"><trk><name>Walk</name><trkseg>'
        f"{points}</trkseg></trk></gpx>",
        encoding="utf-8",
    )
    return path


ROUND = [(9.0, 50.0), (9.002, 50.0), (9.004, 50.0), (9.004, 50.002), (9.002, 50.002), (9.0, 50.002), (9.0, 50.0003)]


def test_a_farm_with_nothing_begins_on_a_grid_without_a_place(tmp_path: Path) -> None:
    made = make_farm(Wanted("Ridge Farm", tmp_path, units="us"), PARTS)
    assert made.path == tmp_path / "Ridge Farm.gpkg"
    with Session.open(made.path, registry=PARTS) as session:
        assert session.farm.name == "Ridge Farm"
        assert session.farm.setting("units") == "us"
        assert not has_place(session.farm.projection)
        assert not session.farm.fields


def test_a_typed_place_gives_its_own_metres(tmp_path: Path) -> None:
    made = make_farm(Wanted("Ridge Farm", tmp_path, typed_place("50.0 N 9.0 E")), PARTS)
    with Session.open(made.path, registry=PARTS) as session:
        assert session.farm.projection.code == 32632
        assert has_place(session.farm.projection)


def test_on_a_new_farm_there_is_nothing_to_take_back(tmp_path: Path) -> None:
    made = make_farm(Wanted("Ridge Farm", tmp_path, typed_place("50.0 N 9.0 E")), PARTS)
    with Session.open(made.path, registry=PARTS) as session:
        assert session.undo_label is None
        place = place_of(session.farm)
        assert place is not None
        assert place.y == pytest.approx(5_538_630, abs=5)


def test_no_file_is_ever_overwritten(tmp_path: Path) -> None:
    first = make_farm(Wanted("Ridge Farm", tmp_path), PARTS).path
    before = first.read_bytes()
    assert make_farm(Wanted("Ridge Farm", tmp_path), PARTS).path.name == "Ridge Farm 2.gpkg"
    assert first.read_bytes() == before


@pytest.mark.parametrize(
    ("name", "file"),
    [
        ("A/B: <hill>?", "A B hill.gpkg"),
        ("con", "farm con.gpkg"),
        ("Höfe am Bach. ", "Höfe am Bach.gpkg"),
        ("???", "farm.gpkg"),
        ("x" * 200, f"{'x' * 60}.gpkg"),
    ],
)
def test_the_name_of_the_file_is_fit_for_any_computer(tmp_path: Path, name: str, file: str) -> None:
    assert farm_path(tmp_path, name).name == file


def test_a_farm_without_a_name_is_asked_for_one(tmp_path: Path) -> None:
    with pytest.raises(UsageError) as caught:
        farm_path(tmp_path, "  ")
    assert str(caught.value.message) == "The farm has no name yet."
    assert "Type what people call it" in str(caught.value.remedy)


def test_a_folder_that_is_not_there_is_told(tmp_path: Path) -> None:
    with pytest.raises(StoreError) as caught:
        make_farm(Wanted("Ridge Farm", tmp_path / "gone"), PARTS)
    assert "There is no folder" in str(caught.value.message)
    assert "Make the folder first" in str(caught.value.remedy)


def test_outlines_become_fields(tmp_path: Path) -> None:
    made = make_farm(Wanted("Ridge Farm", tmp_path, file=_boxes(tmp_path / "parcels.geojson", 3)), PARTS)
    with Session.open(made.path, registry=PARTS) as session:
        assert len(session.farm.fields) == 3
        assert session.farm.projection.code == 32632
    assert str(made.words) == "3 outlines came in as fields."


def test_what_was_left_out_is_said_with_its_reason(tmp_path: Path) -> None:
    parcels = _boxes(tmp_path / "parcels.geojson", 2)
    told = json.loads(parcels.read_text(encoding="utf-8"))
    told["features"][1]["geometry"] = {"type": "Point", "coordinates": [9.0, 50.0]}
    parcels.write_text(json.dumps(told), encoding="utf-8")
    words = str(make_farm(Wanted("Ridge Farm", tmp_path, file=parcels), PARTS).words)
    assert words.startswith("1 outline came in as a field. 1 was left out: ")
    assert "is a point, not an area" in words


def test_a_whole_county_is_counted_and_asks_for_the_place(tmp_path: Path) -> None:
    with pytest.raises(OutlineError) as caught:
        make_farm(Wanted("Ridge Farm", tmp_path, file=_boxes(tmp_path / "county.geojson", 400)), PARTS)
    assert "county.geojson holds 400 outlines, more than one farm has" in str(caught.value.message)
    assert "Type the place of the farm too: then only what lies within 1 km of it" in str(caught.value.remedy)
    assert not list(tmp_path.glob("*.gpkg"))


def test_of_a_county_only_what_lies_near_the_place_is_taken(tmp_path: Path) -> None:
    county = _boxes(tmp_path / "county.geojson", 400, step=0.006)
    made = make_farm(Wanted("Ridge Farm", tmp_path, typed_place("50.06, 9.06"), county), PARTS)
    with Session.open(made.path, registry=PARTS) as session:
        assert 5 < len(session.farm.fields) < 30


def test_outlines_of_a_whole_country_are_no_farm_even_where_they_are_few(tmp_path: Path) -> None:
    with pytest.raises(OutlineError) as caught:
        make_farm(Wanted("Ridge Farm", tmp_path, file=_boxes(tmp_path / "few.geojson", 8, step=0.2)), PARTS)
    assert "few.geojson holds 8 outlines, and they lie too far from each other" in str(caught.value.message)
    assert "Type the place of the farm too" in str(caught.value.remedy)


def test_a_place_far_from_the_file_is_told(tmp_path: Path) -> None:
    parcels = _boxes(tmp_path / "parcels.geojson", 3)
    with pytest.raises(OutlineError) as caught:
        make_farm(Wanted("Ridge Farm", tmp_path, typed_place("51, 9"), parcels), PARTS)
    assert "none within 1 km of the farm's place" in str(caught.value.message)
    assert "Look at the place again" in str(caught.value.remedy)


def test_a_walked_boundary_becomes_a_field(tmp_path: Path) -> None:
    made = make_farm(Wanted("Ridge Farm", tmp_path, file=_track(tmp_path / "walk.gpx", ROUND, 200)), PARTS)
    with Session.open(made.path, registry=PARTS) as session:
        (field,) = session.farm.fields.values()
        assert field.outline.area == pytest.approx(286 * 222, rel=0.03)


@pytest.mark.parametrize(
    ("places", "seconds", "message", "remedy"),
    [
        (ROUND, 10, "goes at about 5", "Choose the track of the walk"),
        (
            [(9 + x * 10, 50 + (y - 50) * 10) for x, y in ((a - 9, b) for a, b in ROUND)] * 3,
            100,
            "km long",
            "cut it out",
        ),
        ([(9.0, 50.0), (9.002, 50.0), (9.004, 50.001)], 200, "does not go round a field", "Walk the boundary back"),
    ],
)
def test_a_drive_is_no_boundary(
    tmp_path: Path, places: list[tuple[float, float]], seconds: float, message: str, remedy: str
) -> None:
    with pytest.raises(OutlineError) as caught:
        make_farm(Wanted("Ridge Farm", tmp_path, file=_track(tmp_path / "drive.gpx", places, seconds)), PARTS)
    assert message in str(caught.value.message)
    assert remedy in str(caught.value.remedy)
    assert not list(tmp_path.glob("*.gpkg"))


def test_outlines_that_do_not_say_where_they_are_are_refused(tmp_path: Path) -> None:
    import geopandas
    import shapely

    path = tmp_path / "bare.shp"
    geopandas.GeoDataFrame(geometry=[shapely.box(0, 0, 100, 100)], crs="EPSG:25832").to_file(path)
    path.with_suffix(".prj").unlink()
    with pytest.raises(OutlineError) as caught:
        make_farm(Wanted("Ridge Farm", tmp_path, file=path), PARTS)
    assert "does not say where on earth its outlines are" in str(caught.value.message)
    assert "Put its .prj file beside it" in str(caught.value.remedy)


def test_an_image_gives_the_place_and_is_linked(tmp_path: Path) -> None:
    path = tmp_path / "aerial.tif"
    shape = {"driver": "GTiff", "width": 64, "height": 64, "count": 3, "dtype": "uint8", "crs": "EPSG:25832"}
    with rasterio.open(path, "w", transform=from_origin(500_000, 5_500_000, 1.0, 1.0), **shape) as file:
        file.write(np.full((3, 64, 64), 120, dtype=np.uint8))
    made = make_farm(Wanted("Ridge Farm", tmp_path, file=path), PARTS)
    with Session.open(made.path, registry=PARTS) as session:
        assert [image.name for image in session.farm.images.values()] == ["aerial"]
        assert session.farm.projection.code == 25832


def test_the_sample_farm_is_known_by_its_folder(tmp_path: Path) -> None:
    assert is_sample(sample_folder() / "farm.gpkg")
    assert not is_sample(tmp_path / "farm.gpkg")
    assert sample_folder().parent == data_folder()
