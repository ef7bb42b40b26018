from __future__ import annotations

import os
import subprocess
import sys

import numpy as np
import pytest
import shapely

from pigmap.errors import OutlineError, RecordError
from pigmap.geometry.projection import (
    from_projection,
    is_metric,
    is_utm,
    moved_bounds,
    projection_for,
    scale_off,
    to_projection,
)

METRES = "Name one that counts in metres, such as EPSG:32632, or leave it out: one that suits is picked."
LOCAL = "Name a local one, such as the UTM zone, or leave it out: one that suits is picked."


@pytest.mark.parametrize(
    ("lon_lat", "code"),
    [
        ((9.0, 50.0), 32632),
        ((-99.2, 47.0), 32614),
        ((151.0, -33.0), 32756),
        ((-180.0, 10.0), 32601),
        ((180.0, 10.0), 32601),
    ],
)
def test_a_place_without_a_system_gets_its_utm_zone(lon_lat: tuple[float, float], code: int) -> None:
    assert projection_for("", lon_lat).code == code


def test_a_metre_of_grid_on_the_axis_of_a_utm_zone_is_longer_on_the_ground() -> None:
    assert projection_for("EPSG:32632", (9.0, 50.0)).ground_per_grid == pytest.approx(1 / 0.9996, abs=1e-9)


def test_off_the_axis_the_scale_follows_the_distance_to_it() -> None:
    """K = k0 (1 + x²/2R²) to second order, for x metres east of the axis: 185 km give 1.00042."""
    east = projection_for("EPSG:32632", (685_000.0, 5_500_000.0, 685_000.0, 5_500_000.0))
    k = 0.9996 * (1 + 185_000**2 / 2 / 6_383_000**2)
    assert east.ground_per_grid == pytest.approx(1 / k, abs=2e-6)


def test_bounds_count_in_the_named_system_and_in_degrees_without_one() -> None:
    inside = projection_for("EPSG:26914", (485_900.0, 5_204_575.0, 489_515.0, 5_209_245.0))
    assert (inside.code, inside.authority) == (26914, "EPSG")
    assert projection_for("", (-99.2, 46.9, -99.1, 47.0)).code == 32614


@pytest.mark.parametrize(
    ("crs", "where", "message", "remedy"),
    [
        ("EPSG:4326", (9, 50), "EPSG:4326 counts in degrees; nets and paddocks are measured in metres.", METRES),
        (
            "EPSG:2263",
            (-74, 40.7),
            "EPSG:2263 counts in US survey foot; nets and paddocks are measured in metres.",
            METRES,
        ),
        (
            "IAU_2015:49910",
            (0, 0),
            "IAU_2015:49910 measures another body than the earth, with a radius of 3396 km.",
            "Name the coordinate system of the farm's country, such as EPSG:32632.",
        ),
        (
            "EPSG:3857",
            (9, 50),
            "EPSG:3857 stretches lengths there by 0.28 % more one way than the other; "
            "at most 0.05 % are right for nets and a printed scale.",
            LOCAL,
        ),
        (
            "EPSG:3031",
            (0, -80),
            "EPSG:3031 does not count east and north on the ground.",
            "Name one that does, such as EPSG:32632, or leave it out: one that suits is picked.",
        ),
        (
            "EPSG:32632",
            (9e9, 9e9, 9e9, 9e9),
            "EPSG:32632 does not reach the place of the farm.",
            "Name the one of the farm's country, or leave it out: one that suits is picked.",
        ),
        (
            "the lower meadow",
            (9, 50),
            "the lower meadow is not a coordinate system that this program knows.",
            "Name one such as EPSG:32632, or leave it out: one that suits the place is picked.",
        ),
    ],
)
def test_systems_in_which_nets_cannot_be_measured_are_refused_in_words(
    crs: str, where: tuple[float, ...], message: str, remedy: str
) -> None:
    with pytest.raises(RecordError) as refused:
        projection_for(crs, where)
    assert (str(refused.value.message), str(refused.value.remedy)) == (message, remedy)
    assert not is_metric(crs, where)


WITHIN = {"EPSG:31287": (15.0, 48.3), "EPSG:3006": (15.0, 60.0), "EPSG:3067": (24.0, 62.0), "EPSG:25832+5783": (9, 50)}


@pytest.mark.parametrize("crs", WITHIN)
def test_national_systems_in_metres_are_taken_without_their_heights(crs: str) -> None:
    kept = projection_for(crs, WITHIN[crs])
    assert kept.authority == "EPSG"
    assert 0.999 < kept.ground_per_grid < 1.001


def test_a_system_without_a_number_keeps_its_definition() -> None:
    from pyproj import CRS

    own = CRS.from_proj4("+proj=tmerc +lat_0=47 +lon_0=11.3 +k=1 +x_0=1000 +y_0=2000 +ellps=GRS80 +units=m").to_wkt()
    kept = projection_for(own, (11.3, 47.2))
    assert kept.authority == "NONE"
    assert CRS.from_wkt(kept.definition).is_projected
    assert kept.ground_per_grid == pytest.approx(1.0, abs=1e-9)


def test_grads_and_another_prime_meridian_are_measured_in_true_metres() -> None:
    assert projection_for("EPSG:27572", (2.5, 46.8)).ground_per_grid == pytest.approx(1.0, abs=2e-4)


def test_shapes_come_back_from_where_they_went_and_lose_their_heights() -> None:
    projection = projection_for("", (9.0, 50.0))
    square = shapely.Polygon([(9, 50, 312), (9.001, 50, 312), (9.001, 50.001, 312), (9, 50.001, 312)])
    line = shapely.LineString([(9.01, 50.01), (9.02, 50.02)])
    there = to_projection([square, line], "EPSG:4326", projection)
    back = from_projection(there, projection)
    assert not shapely.has_z(there[0])
    assert shapely.equals_exact(back[0], shapely.force_2d(square), tolerance=1e-9)
    assert shapely.equals_exact(back[1], line, tolerance=1e-9)


def test_a_length_on_the_ground_is_grid_times_ground_per_grid() -> None:
    from pyproj import Geod

    projection = projection_for("", (9.0, 50.0))
    start, end = shapely.Point(9.0, 50.0), shapely.Point(9.002, 50.001)
    grid = shapely.distance(*to_projection([start, end], "EPSG:4326", projection))
    true = Geod(ellps="WGS84").inv(9.0, 50.0, 9.002, 50.001)[2]
    assert grid * projection.ground_per_grid == pytest.approx(true, rel=1e-7)


def test_an_axis_order_of_north_before_east_does_not_swap_shapes() -> None:
    """EPSG:31287 is defined north before east; files hold east before north all the same."""
    projection = projection_for("", (15.0, 48.3))
    (moved,) = to_projection([shapely.Point(521_000.0, 495_000.0)], "EPSG:31287", projection)
    (lon_lat,) = from_projection([moved], projection)
    assert shapely.get_coordinates(lon_lat)[0].tolist() == [pytest.approx(15.0, abs=0.1), pytest.approx(48.3, abs=0.1)]


def test_a_corner_that_lies_nowhere_is_named() -> None:
    with pytest.raises(OutlineError) as refused:
        to_projection([shapely.Point(50.0, 196.0)], "EPSG:4326", projection_for("", (9.0, 50.0)))
    assert str(refused.value.message) == "The corner at 50, 196 lies nowhere in WGS 84 / UTM zone 32N."
    assert str(refused.value.remedy) == (
        "Look whether its numbers are swapped, or whether the file names the wrong coordinate system."
    )


def test_bounds_are_those_of_the_bent_rectangle() -> None:
    west, south, east, north = moved_bounds((6.0, 50.0, 12.0, 51.0), "EPSG:4326", "EPSG:32632")
    (middle_south,) = to_projection([shapely.Point(9.0, 50.0)], "EPSG:4326", projection_for("EPSG:32632", (9, 50)))
    assert south <= middle_south.bounds[1]  # the southern side bows towards the equator
    assert west < 300_000 < 700_000 < east
    assert north > south


def test_lengths_far_from_the_middle_are_known_to_be_off() -> None:
    projection = projection_for("EPSG:32632", (9.0, 50.0))
    off = scale_off(projection, np.array([[500_000.0, 5_538_630.0], [900_000.0, 5_538_630.0]]))
    assert off[0] == pytest.approx(0.0, abs=1e-7)
    assert off[1] == pytest.approx(-(400_000**2) / 2 / 6_383_000**2, rel=0.01)


def test_utm_is_known_on_any_datum() -> None:
    assert is_utm("EPSG:25832")
    assert is_utm("EPSG:26914")
    assert not is_utm("EPSG:31287")
    assert not is_utm("EPSG:4326")


def test_data_of_another_installation_is_left_aside() -> None:
    """In a child process: the variables must be set before the library is first imported."""
    code = (
        "from pigmap.geometry.projection import projection_for; from pigmap.geometry.native import cleared; import sys;"
        "assert 'pyproj' not in sys.modules; print(projection_for('', (9, 50)).code, sorted(cleared()))"
    )

    env = {**os.environ, "PROJ_LIB": "/nowhere", "PROJ_DATA": "/nowhere", "GDAL_DATA": "/nowhere"}
    done = subprocess.run([sys.executable, "-c", code], env=env, capture_output=True, text=True, check=False)
    assert done.stdout.strip() == "32632 ['GDAL_DATA', 'PROJ_DATA', 'PROJ_LIB']", done.stderr


def test_shapes_of_another_planet_have_no_way_to_the_farm() -> None:
    moon = 'GEOGCS["Moon",DATUM["Moon",SPHEROID["Moon",1737400,0]],PRIMEM["Reference",0],UNIT["degree",0.0174532925]]'
    farm = projection_for("", (9.0, 50.0))
    with pytest.raises(OutlineError, match=r"Nothing leads from Moon to .* same earth\. Look whether the file names"):
        to_projection([shapely.Point(9, 50)], moon, farm)
