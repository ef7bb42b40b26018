from __future__ import annotations

import sqlite3
from contextlib import closing
from datetime import date
from pathlib import Path

import pytest
import shapely

from pigmap.document.edits import add_field, give_place, link_image, lying_by_themselves
from pigmap.document.edits.pinned_images import pin_image
from pigmap.errors import EditError
from pigmap.geometry.coordinates import LON_LAT
from pigmap.geometry.pinned import Pin
from pigmap.geometry.projection import from_projection, own_geodesic
from pigmap.geometry.typed_place import TypedPlace, typed_place
from pigmap.imagery.pinned import pins_text
from pigmap.plugins import Registry
from pigmap.records import Farm
from pigmap.records.projection import NO_PLACE
from pigmap.session import Session
from pigmap.session.farm_place import middle_of_farm, place_now, spot_of, way_moved
from pigmap.session.images import FarmImages
from pigmap.session.new_farm import Wanted, make_farm, place_of
from pigmap.store.health import findings
from tests.imagery.camera_photo import photo

PARTS = Registry()
PLACE = TypedPlace(-99.18, 47.03)
FIELD = shapely.box(0, 0, 200, 100)


@pytest.fixture
def farm_path(tmp_path: Path) -> Path:
    path = make_farm(Wanted("Ridge Farm", tmp_path), PARTS).path
    with Session.open(path, registry=PARTS) as session:
        session.do(add_field("Hill", FIELD)).result()
    return path


def _lon_lat(farm: Farm, east: float, north: float) -> tuple[float, float]:
    (at,) = from_projection([shapely.Point(east, north)], farm.projection, LON_LAT)
    lon, lat = shapely.get_coordinates(at)[0].tolist()
    return lon, lat


def test_the_spot_lies_at_the_place_and_no_shape_changes(farm_path: Path) -> None:
    with Session.open(farm_path, registry=PARTS) as session:
        before = session.farm.fields
        changes = session.do(give_place(PLACE, 100.0, 50.0)).result()
        assert {row.table for row in changes.rows} == {"settings"}
        farm = session.farm
        assert farm.fields == before
        assert farm.projection.has_place
        assert farm.projection.ground_per_grid == 1.0
        assert _lon_lat(farm, 100.0, 50.0) == pytest.approx((-99.18, 47.03), abs=1e-9)
        lon, lat = _lon_lat(farm, 100.0, 150.0)
        assert lon == pytest.approx(-99.18, abs=1e-9)  # north is up
        assert lat == pytest.approx(47.03 + 0.0009, abs=2e-6)  # 100 m, by the nautical mile of 1852 m
        assert place_of(farm) == shapely.Point(100.0, 50.0)
        assert place_now(farm) == pytest.approx((-99.18, 47.03, False, False), abs=1e-9)


def test_the_file_tells_the_same_as_the_farm(farm_path: Path) -> None:
    with Session.open(farm_path, registry=PARTS) as session:
        session.do(give_place(PLACE, 100.0, 50.0)).result()
        published = session.farm
    with Session.open(farm_path, registry=PARTS) as session:
        assert session.farm.projection == published.projection
        assert session.farm.fields == published.fields
    assert findings(farm_path) == []


def test_other_software_finds_the_fields_on_earth(farm_path: Path) -> None:
    pyogrio = pytest.importorskip("pyogrio")
    with Session.open(farm_path, registry=PARTS) as session:
        session.do(give_place(PLACE, 100.0, 50.0)).result()
    fields = pyogrio.read_dataframe(farm_path, layer="fields").to_crs("EPSG:4326")
    middle = fields.geometry[0].centroid
    assert (middle.x, middle.y) == pytest.approx((-99.18, 47.03), abs=1e-6)


def test_undo_takes_the_place_away_and_redo_gives_it_back(farm_path: Path) -> None:
    with Session.open(farm_path, registry=PARTS) as session:
        session.do(give_place(PLACE, 100.0, 50.0)).result()
        given = session.farm.projection
        session.undo().result()
        assert session.farm.projection == NO_PLACE
        assert place_of(session.farm) is None
        session.redo().result()
        assert session.farm.projection == given
        session.undo().result()
    with Session.open(farm_path, registry=PARTS) as session:
        assert session.farm.projection == NO_PLACE
    with closing(sqlite3.connect(farm_path)) as db:
        (told,) = db.execute("SELECT definition FROM gpkg_spatial_ref_sys WHERE srs_id = 100000").fetchone()
    assert told == NO_PLACE.definition


def test_a_place_that_was_given_is_put_right_the_same_way(farm_path: Path) -> None:
    with Session.open(farm_path, registry=PARTS) as session:
        session.do(give_place(PLACE, 100.0, 50.0)).result()
        session.do(give_place(typed_place("47.13 -99.18"), 0.0, 0.0)).result()
        assert _lon_lat(session.farm, 0.0, 0.0) == pytest.approx((-99.18, 47.13), abs=1e-9)
        session.undo().result()
        assert _lon_lat(session.farm, 100.0, 50.0) == pytest.approx((-99.18, 47.03), abs=1e-9)


def test_another_program_hears_of_the_place(farm_path: Path) -> None:
    with Session.open(farm_path, registry=PARTS) as one, Session.open(farm_path, registry=PARTS) as other:
        one.do(give_place(PLACE, 100.0, 50.0)).result()
        assert not other.farm.projection.has_place
        other.poll()
        assert other.farm.projection == one.farm.projection


@pytest.fixture
def begun(tmp_path: Path) -> Path:
    """Return a farm that was begun at a place, with a field of whole nets there."""
    path = make_farm(Wanted("Ridge Farm", tmp_path, typed_place("50.0 N 9.0 E")), PARTS).path
    with Session.open(path, registry=PARTS) as session:
        yard = place_of(session.farm)
        assert yard is not None
        session.do(add_field("Hill", shapely.box(yard.x, yard.y, yard.x + 200, yard.y + 100))).result()
    return path


def test_a_farm_that_was_begun_at_a_wrong_place_is_moved_as_one_piece(begun: Path) -> None:
    with Session.open(begun, registry=PARTS) as session:
        before, fields = session.farm.projection, session.farm.fields
        spot = middle_of_farm(session.farm)
        changes = session.do(give_place(PLACE, spot.x, spot.y)).result()
        assert {row.table for row in changes.rows} == {"settings"}
        assert session.farm.fields == fields
        assert _lon_lat(session.farm, spot.x, spot.y) == pytest.approx((-99.18, 47.03), abs=1e-9)
        assert session.farm.projection.ground_per_grid == before.ground_per_grid  # no net gets longer
        east, north = _lon_lat(session.farm, spot.x + 100, spot.y), _lon_lat(session.farm, spot.x, spot.y + 100)
        ground = 100 * before.ground_per_grid
        assert own_geodesic(-99.18, 47.03, *east) == pytest.approx((90.0, ground), abs=1e-2)
        assert own_geodesic(-99.18, 47.03, *north) == pytest.approx((0.0, ground), abs=1e-2)
    assert findings(begun) == []


def test_undo_brings_a_farm_back_to_where_it_was_begun_however_often_it_was_moved(begun: Path) -> None:
    with Session.open(begun, registry=PARTS) as session:
        before = session.farm.projection
        session.do(give_place(PLACE, 0.0, 0.0)).result()
        session.do(give_place(TypedPlace(10.0, 51.0), 0.0, 0.0)).result()
        moved = session.farm.projection
        session.undo().result()
        session.undo().result()
        assert session.farm.projection == before
        session.redo().result()
        session.redo().result()
        assert session.farm.projection == moved
        session.undo().result()
        session.undo().result()
    with Session.open(begun, registry=PARTS) as session:
        assert session.farm.projection == before
    assert findings(begun) == []


def test_a_farm_is_not_moved_off_an_image_that_tells_where_it_lies_unless_told_so(begun: Path) -> None:
    with Session.open(begun, registry=PARTS) as session:
        session.do(link_image("Aerial image", "aerial.tif")).result()
        assert lying_by_themselves(session.farm) == ("Aerial image",)
        before = session.farm.projection
        with pytest.raises(EditError) as caught:
            session.do(give_place(PLACE, 0.0, 0.0)).result()
        assert "Aerial image tells where it lies and would stay there" in str(caught.value.message)
        assert "Say that it may move off the image" in str(caught.value.remedy)
        assert session.farm.projection == before
        session.do(give_place(PLACE, 0.0, 0.0, off_images=True)).result()
        assert session.farm.projection != before


def test_how_far_and_where_to_a_farm_moves_is_told_before(begun: Path, farm_path: Path) -> None:
    with Session.open(begun, registry=PARTS) as session:
        spot = place_of(session.farm)
        assert spot is not None
        way = way_moved(session.farm, spot, TypedPlace(9.0, 50.01))
        assert way is not None
        assert way[0] == pytest.approx(1112.4, abs=0.5)  # a hundredth of a degree there, by the ellipsoid
        assert str(way[1]) == "north"
    with Session.open(farm_path, registry=PARTS) as session:
        assert way_moved(session.farm, shapely.Point(0, 0), PLACE) is None


def test_south_of_the_equator_the_seasons_turn_with_the_place(farm_path: Path) -> None:
    with Session.open(farm_path, registry=PARTS) as session:
        told: list[str] = []
        for uid in session.farm.fields:
            session.ground.state(uid, date(2026, 5, 1))
        session.ground.listen(told.append)
        session.do(give_place(TypedPlace(145.0, -37.5), 100.0, 50.0)).result()
        assert session.farm.projection.lies_south
        assert told == list(session.farm.fields)
        session.do(give_place(TypedPlace(145.0, 37.5), 100.0, 50.0)).result()
        assert not session.farm.projection.lies_south


def test_a_spoilt_setting_leaves_the_farm_where_it_is(farm_path: Path) -> None:
    with closing(sqlite3.connect(farm_path)) as db:
        db.execute("INSERT INTO settings (key, value_json) VALUES ('projection', '[1]')")
        db.commit()
    with Session.open(farm_path, registry=PARTS) as session:
        assert session.farm.projection == NO_PLACE
        session.do(give_place(PLACE, 100.0, 50.0)).result()
        assert session.farm.projection.has_place


def test_the_middle_is_that_of_the_fields_and_of_the_grid_where_nothing_is_drawn(farm_path: Path) -> None:
    with Session.open(farm_path, registry=PARTS) as session:
        assert middle_of_farm(session.farm) == shapely.Point(100.0, 50.0)
        field = next(iter(session.farm.fields.values()))
        assert spot_of(field) == shapely.Point(100.0, 50.0)
    assert middle_of_farm(Farm(document_uid="", projection=NO_PLACE)) == shapely.Point(0.0, 0.0)
    assert spot_of(None) is None


def test_a_pinned_picture_lies_where_it_lay(farm_path: Path) -> None:
    picture = photo(farm_path.with_name("map.jpg"))
    pins = pins_text([Pin(0, 0, 0, 100), Pin(400, 0, 200, 100), Pin(0, 200, 0, 0)])
    with Session.open(farm_path, registry=PARTS) as session:
        session.do(pin_image("map", picture.name, pins, count=3)).result()
        images = FarmImages(session)
        (uid,) = session.farm.images
        before = images.read(uid, (-20, -20, 220, 120), (240, 140))
        session.do(give_place(PLACE, 100.0, 50.0)).result()
        after = images.read(uid, (-20, -20, 220, 120), (240, 140))
        images.close()
    assert before is not None
    assert after is not None
    assert before.any()
    assert (before == after).all()
