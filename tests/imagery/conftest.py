"""Images made for the tests: small, with colours that tell where a pixel came from."""

from __future__ import annotations

from collections.abc import Callable
from pathlib import Path
from typing import Any

import numpy as np
import pytest
from numpy.typing import NDArray

from pigmap.geometry.projection import projection_for
from pigmap.records import Projection

WEST, NORTH, PIXEL = 500_000.0, 5_540_000.0, 0.5

MakeImage = Callable[..., Path]


def told_colours(rows: int = 200, columns: int = 300) -> NDArray[np.uint8]:
    """Return bands (3, rows, columns) in which red tells the column, green the row and blue is 200."""
    picture = np.full((3, rows, columns), 200, dtype=np.uint8)
    picture[0] = (np.arange(columns) % 250)[None, :]
    picture[1] = (np.arange(rows) % 250)[:, None]
    return picture


@pytest.fixture
def projection() -> Projection:
    return projection_for("EPSG:32632", (9.0, 50.0))


@pytest.fixture
def make_image(tmp_path: Path) -> MakeImage:
    """Return a function that writes a GeoTIFF: bands, and what differs from EPSG:32632 and 0.5 m."""

    def make(bands: NDArray[Any] | None = None, name: str = "aerial.tif", **differs: Any) -> Path:
        from pigmap.geometry.native import own_data

        own_data()
        import rasterio
        from rasterio.transform import from_origin

        bands = told_colours() if bands is None else bands
        how: dict[str, Any] = {
            "driver": "GTiff",
            "crs": "EPSG:32632",
            "transform": from_origin(WEST, NORTH, PIXEL, PIXEL),
            "width": bands.shape[2],
            "height": bands.shape[1],
            "count": bands.shape[0],
            "dtype": bands.dtype.name,
        }
        after = {key: differs.pop(key) for key in ("colorinterp", "colormap", "mask", "gcps") if key in differs}
        how.update(differs)
        how = {key: value for key, value in how.items() if value is not None}
        with rasterio.Env(GDAL_TIFF_INTERNAL_MASK=True), rasterio.open(tmp_path / name, "w", **how) as out:
            if "gcps" in after:
                out.gcps = after["gcps"]
            if "colorinterp" in after:
                out.colorinterp = after["colorinterp"]
            if "colormap" in after:
                out.write_colormap(1, after["colormap"])
            out.write(bands)
            if "mask" in after:
                out.write_mask(after["mask"])
        return tmp_path / name

    return make
