from __future__ import annotations

from dataclasses import replace
from pathlib import Path

import numpy as np
import pytest
import shapely
from shapely import affinity

from pigmap.ground import GroundState, prepare
from pigmap.ground.listed import listed
from pigmap.ground.written import write_list, write_raster
from pigmap.records import Projection
from tests.ground.invented import SOUTH, WEST, farm, field, herd, on, square, stay

OWN = Projection(
    name="Own metres",
    authority="NONE",
    code=100_001,
    definition='PROJCS["Own metres",GEOGCS["WGS 84",DATUM["WGS_1984",SPHEROID["WGS 84",6378137,298.257223563]],'
    'PRIMEM["Greenwich",0],UNIT["degree",0.0174532925199433]],PROJECTION["Transverse_Mercator"],'
    'PARAMETER["latitude_of_origin",0],PARAMETER["central_meridian",9],PARAMETER["scale_factor",1],'
    'PARAMETER["false_easting",500000],PARAMETER["false_northing",0],UNIT["metre",1],AXIS["Easting",EAST],'
    'AXIS["Northing",NORTH]]',
)


def turned(degrees: float) -> GroundState:
    """Return a field of which the rows run in another direction, with a stay in one corner."""

    def about(shape: shapely.Polygon) -> shapely.Polygon:
        found = affinity.rotate(shape, degrees, origin=(WEST, SOUTH))
        assert isinstance(found, shapely.Polygon)
        return found

    row = replace(field(outline=about(square(-20, 10, 90, 60))), turned_deg=degrees)
    return prepare(farm(*herd(), row, stay("s", 0, 5, about(square(0, 20, 40, 20)))), "f").on(on(9))


@pytest.mark.parametrize("degrees", [0.0, 17.0, 64.5])
def test_a_raster_lies_where_the_cells_do(degrees: float, tmp_path: Path) -> None:
    import rasterio

    state = turned(degrees)
    frame = state.ground.frame
    write_raster(tmp_path / "g.tif", state, OWN)
    row, column = np.nonzero(state.ground.region_of >= 0)
    middles = frame.to_metres(np.column_stack((column + 0.5, row + 0.5)))
    with rasterio.open(tmp_path / "g.tif") as raster:
        assert raster.crs.is_projected
        found = np.array(list(raster.sample(middles.tolist(), indexes=[1, 4])))
    rest = state.cells("rest_days")[row, column]
    assert (rest == 4).sum() == 200
    np.testing.assert_array_equal(found[:, 0], np.where(rest < 0, np.nan, rest))
    np.testing.assert_array_equal(found[:, 1], state.cells("load_kg_d_m2")[row, column])


def test_cells_are_squares_round_their_middles() -> None:
    state = turned(17.0)
    rows = listed(farm(field()), [state], "cell")
    middles = shapely.points(rows.columns["x_m"], rows.columns["y_m"])
    assert shapely.distance(shapely.centroid(rows.shapes), middles).max() < 0.01
    assert shapely.area(rows.shapes) == pytest.approx(4.0)
    assert len(rows) == 45 * 30


def test_coordinates_without_a_number_are_written_by_their_definition(tmp_path: Path) -> None:
    import pyogrio

    state = turned(0.0)
    write_list(tmp_path / "g.gpkg", listed(farm(field()), [state], "field"), OWN)
    assert "Own metres" in pyogrio.read_info(tmp_path / "g.gpkg")["crs"]
