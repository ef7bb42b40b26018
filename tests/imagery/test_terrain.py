from __future__ import annotations

import math
from pathlib import Path
from typing import Any

import numpy as np
import pytest
import rasterio
from rasterio.transform import from_origin

from pigmap.errors import RasterError
from pigmap.geometry.frame import CellFrame
from pigmap.geometry.projection import moved_bounds, projection_for
from pigmap.imagery.terrain import slope_over, vet_terrain
from pigmap.records.projection import NO_PLACE

EAST, NORTH = 400_000.0, 5_600_000.0
FARM = projection_for("", (7.6, 50.5))
FRAME = CellFrame(EAST + 60, NORTH - 160, 20.0, 2.0, 30, 40)


def made(
    path: Path, heights: np.ndarray[Any, Any], crs: str | None = "EPSG:32632", step: float = 2.0, **more: Any
) -> Path:
    """Write heights with their upper left corner at the place of the tests."""
    bands = heights if heights.ndim == 3 else heights[None]
    shape = {"count": len(bands), "height": bands.shape[1], "width": bands.shape[2], "dtype": bands.dtype}
    where = more.pop("transform", from_origin(EAST, NORTH, step, step))
    units = more.pop("units", None)
    with rasterio.open(path, "w", driver="GTiff", crs=crs, transform=where, **shape, **more) as file:
        file.write(bands)
        if units:
            file.units = (units,)
    return path


def plane(degrees: float, step: float = 2.0, size: int = 140) -> np.ndarray[Any, Any]:
    columns = np.arange(size) * step
    heights: np.ndarray[Any, Any] = (np.zeros((size, 1)) + columns * math.tan(math.radians(degrees))).astype(np.float32)
    return heights


@pytest.mark.parametrize("degrees", [0.0, 6.0, 13.0])
def test_cells_have_the_slope_of_the_ground_under_them(tmp_path: Path, degrees: float) -> None:
    slopes = slope_over(made(tmp_path / "plane.tif", plane(degrees)), FARM, FRAME)
    assert slopes.shape == (30, 40)
    assert slopes.dtype == np.float32
    assert slopes == pytest.approx(degrees, abs=0.02)


def test_a_bank_lies_where_it_is_on_the_ground(tmp_path: Path) -> None:
    heights = plane(0.0)
    heights[:, 45:] += np.minimum(np.arange(95), 10) * 2.0  # rises 1 in 1 from 90 m to 110 m east
    slopes = slope_over(made(tmp_path / "bank.tif", heights), FARM, CellFrame(EAST + 40, NORTH - 200, 0, 2.0, 20, 60))
    east_m = 40 + 2 * np.arange(60) + 1
    steep = slopes[10] > 12
    assert east_m[steep].min() == pytest.approx(88, abs=6)
    assert east_m[steep].max() == pytest.approx(112, abs=6)


def test_heights_in_degrees_are_measured_in_metres(tmp_path: Path) -> None:
    west, south, east, north = moved_bounds((EAST, NORTH - 400, EAST + 400, NORTH), FARM.definition, "EPSG:4326")
    size = 200
    across = (east - west) / size
    columns = (np.arange(size) + 0.5) * 400 / size
    heights = (np.zeros((size, 1)) + columns * math.tan(math.radians(10))).astype(np.float32)
    path = made(
        tmp_path / "degrees.tif",
        heights,
        "EPSG:4326",
        transform=from_origin(west, north, across, (north - south) / size),
    )
    slopes = slope_over(path, FARM, CellFrame(EAST + 150, NORTH - 250, 0, 2.0, 40, 40))
    assert slopes == pytest.approx(10.0, abs=0.3)


def test_heights_in_feet_are_taken_as_feet(tmp_path: Path) -> None:
    path = made(tmp_path / "feet.tif", plane(10.0) / 0.3048, units="ft")
    assert slope_over(path, FARM, FRAME) == pytest.approx(10.0, abs=0.05)


def test_ground_beyond_the_image_and_in_its_holes_is_not_known(tmp_path: Path) -> None:
    heights = plane(5.0)
    heights[60:80, 60:80] = -9999.0
    path = made(tmp_path / "hole.tif", heights, nodata=-9999.0)
    slopes = slope_over(path, FARM, CellFrame(EAST + 100, NORTH - 400, 0, 2.0, 200, 160))
    assert np.isnan(slopes[:50]).all()  # 60 m and more south of it
    assert np.isnan(slopes[130, 20])  # in the hole
    assert slopes[190, 5] == pytest.approx(5.0, abs=0.1)


@pytest.mark.parametrize(
    ("heights", "crs", "said"),
    [
        (
            np.zeros((5, 5), np.float32),
            None,
            "heights.tif does not say where on earth it lies. "
            "Take the file as it was delivered, with its world file and its .prj beside it.",
        ),
        (
            np.zeros((3, 5, 5), np.uint8),
            "EPSG:32632",
            "heights.tif is a picture of 3 colours, not heights. "
            "Give the terrain image itself, which has one number for each point: its height.",
        ),
        (
            np.zeros((5, 5), np.uint8),
            "EPSG:32632",
            "heights.tif holds brightness from 0 to 255, not heights. "
            "Give the terrain image that this picture was made from.",
        ),
    ],
)
def test_what_holds_no_heights_is_refused(
    tmp_path: Path, heights: np.ndarray[Any, Any], crs: str | None, said: str
) -> None:
    with pytest.raises(RasterError) as refused:
        vet_terrain(made(tmp_path / "heights.tif", heights, crs))
    assert str(refused.value) == said


def test_a_file_that_is_not_there_or_no_image_is_refused(tmp_path: Path) -> None:
    with pytest.raises(RasterError) as refused:
        vet_terrain(tmp_path / "gone.tif")
    assert str(refused.value) == (
        f"The terrain image gone.tif is not in {tmp_path}. Look for the file, and name it where it is."
    )
    (tmp_path / "words.tif").write_text("no heights", encoding="utf-8")
    with pytest.raises(RasterError) as refused:
        vet_terrain(tmp_path / "words.tif")
    assert str(refused.value) == (
        "words.tif cannot be read as a terrain image. "
        "Give a GeoTIFF with the heights of the ground, or another usual raster file."
    )


def test_a_farm_that_lies_nowhere_has_no_terrain(tmp_path: Path) -> None:
    with pytest.raises(RasterError) as refused:
        slope_over(made(tmp_path / "plane.tif", plane(5.0)), NO_PLACE, FRAME)
    assert str(refused.value) == (
        "The farm has no place on earth yet, so plane.tif cannot be laid under it. "
        "Give it one: More, Place of the farm."
    )


@pytest.mark.parametrize(
    ("name", "step_m", "steepest"), [("opengeos_dtm.tif", 2.0, 45.0), ("rmnp-dem.tif", 234.0, 60.0)]
)
def test_real_terrain_is_read(shared_data: Path, name: str, step_m: float, steepest: float) -> None:
    facts = vet_terrain(shared_data / "dem" / name)
    west, south, east, north = moved_bounds(facts.bounds, facts.crs, "EPSG:4326")
    farm = projection_for("", ((west + east) / 2, (south + north) / 2))
    west, south, east, north = moved_bounds(facts.bounds, facts.crs, farm.definition)
    frame = CellFrame((west + east) / 2 - 100, (south + north) / 2 - 100, 0, 2.0, 100, 100)
    slopes = slope_over(facts.path, farm, frame)
    assert facts.step_m == pytest.approx(step_m, rel=0.02)
    assert np.isfinite(slopes).mean() > 0.95
    assert 0.0 <= float(np.nanmin(slopes)) <= float(np.nanmax(slopes)) < steepest


def test_a_real_picture_of_lit_slopes_is_refused(shared_data: Path) -> None:
    with pytest.raises(RasterError, match="brightness from 0 to 255"):
        vet_terrain(shared_data / "dem" / "shade.tif")
