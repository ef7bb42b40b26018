"""Terrain images: heights of the ground, looked over before they are linked, and read over a field."""

from __future__ import annotations

import math
from pathlib import Path
from typing import Any, NamedTuple

import numpy as np
from numpy.typing import NDArray

from pigmap.errors import RasterError
from pigmap.geometry.frame import CellFrame
from pigmap.geometry.projection import Bounds
from pigmap.geometry.slope import slope_deg
from pigmap.records import Projection

LEAST_STEP_M = 5.0
"""Heights that lie closer are averaged over so much [m], so that a ditch or a molehill is no slope. Own choice."""
MOST_STEP_M = 100.0
"""Heights that lie farther apart show hillsides, and no bank in a field [m]; they are read all the same. Own choice."""
_MARGIN = 2
_METRES_PER = {"m": 1.0, "metre": 1.0, "meter": 1.0, "ft": 0.3048, "foot": 0.3048, "feet": 0.3048}
TERRAIN_SUFFIXES = (".tif", ".tiff", ".asc", ".img", ".vrt", ".dem", ".hgt", ".jp2")
"""Ends of the names of usual terrain images; others can be chosen too."""


class TerrainFacts(NamedTuple):
    """What is known of a terrain image."""

    path: Path
    crs: str
    """Its coordinate system as well-known text."""
    bounds: Bounds
    """West, south, east and north in it."""
    step_m: float
    """About how far apart heights lie on the ground [m]."""


def vet_terrain(path: Path) -> TerrainFacts:
    """Return what is known of a terrain image.

    Raises
    ------
    RasterError
        If it is not there, cannot be read, does not say where on earth it lies, or holds no heights.
    """
    import rasterio

    if not path.is_file():
        raise RasterError(
            "The terrain image {name} is not in {folder}.",
            remedy="Look for the file, and name it where it is.",
            name=path.name,
            folder=str(path.resolve().parent),
        )
    try:
        with rasterio.open(path) as file:
            return _facts(path, file)
    except rasterio.errors.RasterioError as why:
        raise RasterError(
            "{name} cannot be read as a terrain image.",
            remedy="Give a GeoTIFF with the heights of the ground, or another usual raster file.",
            name=path.name,
        ) from why


def slope_over(path: Path, projection: Projection, frame: CellFrame) -> NDArray[np.float32]:
    """Return the slope of every cell of a field [degrees], (rows, columns); not a number where no height is known.

    Heights are taken into the farm's metres, then Horn's formula is used with metres of the ground; a cell has the
    slope of the height nearest to its middle. For workers: it reads a file.

    Raises
    ------
    RasterError
        As `vet_terrain`, and where the farm lies nowhere on earth yet.
    """
    facts = vet_terrain(path)
    if not projection.has_place:
        raise RasterError(
            "The farm has no place on earth yet, so {name} cannot be laid under it.",
            remedy="Give it one: More, Place of the farm.",
            name=path.name,
        )
    step = max(facts.step_m, LEAST_STEP_M) / projection.ground_per_grid
    centres = _centres(frame)
    west, south = centres.min(axis=0) - _MARGIN * step
    east, north = centres.max(axis=0) + _MARGIN * step
    heights = _heights(path, projection, (west, south, east, north), step)
    slope = slope_deg(heights, step * projection.ground_per_grid)
    column = ((centres[:, 0] - west) / step).astype(np.int64)
    row = ((north - centres[:, 1]) / step).astype(np.int64)
    found = slope[np.clip(row, 0, slope.shape[0] - 1), np.clip(column, 0, slope.shape[1] - 1)]
    made: NDArray[np.float32] = found.astype(np.float32).reshape(frame.rows, frame.columns)
    return made


def _centres(frame: CellFrame) -> NDArray[np.float64]:
    rows, columns = np.mgrid[0 : frame.rows, 0 : frame.columns]
    return frame.to_metres(np.column_stack((columns.ravel() + 0.5, rows.ravel() + 0.5)))


def _heights(path: Path, projection: Projection, bounds: Bounds, step: float) -> NDArray[np.float64]:
    """Return heights on a grid of the farm from its upper left corner on [m]."""
    import rasterio
    from rasterio.transform import Affine
    from rasterio.vrt import WarpedVRT
    from rasterio.warp import Resampling

    west, south, east, north = bounds
    columns, rows = (max(3, math.ceil(length / step)) for length in (east - west, north - south))
    try:
        with rasterio.open(path) as file:
            coarse = _step_m(file) < LEAST_STEP_M
            options: dict[str, Any] = {
                "crs": projection.definition,
                "transform": Affine(step, 0.0, west, 0.0, -step, north),
                "width": columns,
                "height": rows,
                "resampling": Resampling.average if coarse else Resampling.bilinear,
                "nodata": -32768.0 if file.nodata is None else file.nodata,
                "dtype": "float32",
            }
            if file.nodata is None:
                options["add_alpha"] = False
            with WarpedVRT(file, **options) as warped:
                read = warped.read(1, masked=True).astype(np.float64)
            return read.filled(np.nan) * _metres_per(file)  # type: ignore[no-any-return]
    except (rasterio.errors.RasterioError, ValueError) as why:  # coordinates that nobody knows are a ValueError
        raise RasterError(
            "{name} cannot be read where the farm lies.",
            remedy="Look whether the file is whole; copy it again from where it came.",
            name=path.name,
        ) from why


def _facts(path: Path, file: Any) -> TerrainFacts:
    if file.crs is None:
        raise RasterError(
            "{name} does not say where on earth it lies.",
            remedy="Take the file as it was delivered, with its world file and its .prj beside it.",
            name=path.name,
        )
    if file.count != 1 or file.colorinterp[0].name in ("palette", "red"):
        raise RasterError(
            "{name} is a picture of {bands} colours, not heights.",
            remedy="Give the terrain image itself, which has one number for each point: its height.",
            name=path.name,
            bands=file.count,
        )
    if file.dtypes[0] == "uint8":
        raise RasterError(
            "{name} holds brightness from 0 to 255, not heights.",
            remedy="Give the terrain image that this picture was made from.",
            name=path.name,
        )
    return TerrainFacts(path, file.crs.to_wkt(), tuple(file.bounds), _step_m(file))


def _step_m(file: Any) -> float:
    """Return about how far apart heights lie [m]."""
    step = math.sqrt(abs(file.transform.a * file.transform.e - file.transform.b * file.transform.d))
    if not file.crs.is_geographic:
        return step * float(file.crs.linear_units_factor[1])
    middle = math.radians((file.bounds.top + file.bounds.bottom) / 2)
    return step * 111_195.0 * math.sqrt(max(math.cos(middle), 0.05))


def _metres_per(file: Any) -> float:
    """Return metres in one unit of height: of what its band says, else a metre."""
    told = (file.units[0] or "m").casefold()
    return 0.3048006096 if "survey" in told else _METRES_PER.get(told, 1.0)
