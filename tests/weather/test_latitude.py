from __future__ import annotations

import pytest
import shapely

from pigmap.geometry.projection import projection_for, projection_round, to_projection
from pigmap.records import Farm, Field, Projection
from pigmap.records.projection import NO_PLACE
from pigmap.weather.latitude import NO_PLACE_DEG, latitude_of


def there(projection: Projection, lon: float, lat: float) -> tuple[Farm, Field]:
    (point,) = to_projection([shapely.Point(lon, lat)], "EPSG:4326", projection)
    return _made(projection, float(shapely.get_coordinates(point)[0][1]))


def _made(projection: Projection, north_m: float) -> tuple[Farm, Field]:
    outline = shapely.MultiPolygon([shapely.box(0, 0, 10, 10)])
    field = Field(uid="f", name="Top", outline=outline, origin_x_m=0, origin_y_m=north_m, turned_deg=0)
    return Farm(document_uid="d", projection=projection), field


@pytest.mark.parametrize(
    ("crs", "lon", "lat"),
    [
        ("", 7.0, 50.5),
        ("", 146.0, -38.2),
        ("", 25.0, 64.0),
        ("EPSG:27700", -2.5, 54.2),
        ("EPSG:2154", 4.0, 45.7),
        ("EPSG:3035", 11.0, 50.0),
        ("EPSG:26918", -76.0, 38.8),
    ],
)
def test_usual_projections_say_how_far_north_a_field_lies(crs: str, lon: float, lat: float) -> None:
    assert latitude_of(*there(projection_for(crs, (lon, lat)), lon, lat)) == pytest.approx(lat, abs=0.25)


def test_a_farm_of_its_own_grid_lies_where_that_begins() -> None:
    assert latitude_of(*there(projection_round(7.0, 50.5, 0.0, 0.0), 7.0, 50.5)) == pytest.approx(50.5, abs=0.05)


def test_a_farm_that_lies_nowhere_is_taken_to_be_temperate() -> None:
    assert latitude_of(*_made(NO_PLACE, 0.0)) == NO_PLACE_DEG


def test_beyond_the_days_without_a_sunset_no_farm_lies() -> None:
    assert latitude_of(*there(projection_for("", (19.0, 69.6)), 19.0, 69.6)) == 65.0
