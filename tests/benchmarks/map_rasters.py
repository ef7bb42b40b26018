"""Images to measure with, made from a seed and kept outside the repository; made once, then used again."""

from __future__ import annotations

import os
import tempfile
from collections.abc import Iterator
from pathlib import Path
from typing import Any

import numpy as np
from numpy.typing import NDArray

from tests.benchmarks.ground_case import SIDE_M, SOUTH_M, WEST_M

CRS = "EPSG:32615"
PIXEL_M = 0.05
WEST, NORTH = WEST_M - 47.0, SOUTH_M + SIDE_M + 47.0
"""Round the field of the invented ground."""
LARGE, SMALL, TILE = 30_208, 4_096, 512
SEED = 4


def folder() -> Path:
    """Return where the images are kept."""
    return Path(os.environ.get("PIGMAP_BENCHMARKS", Path(tempfile.gettempdir()) / "pigmap-benchmarks"))


def large_jpeg() -> Path:
    """Return 0.91 gigapixels as tiled JPEG with overviews, 1,510 m on a side."""
    return _made("large.tif", _large)


def small_jpeg() -> Path:
    """Return 16.8 megapixels as tiled JPEG with overviews."""
    return _made("small.tif", lambda path: _tiled(path, SMALL))


def untiled(compress: str) -> Path:
    """Return 16.8 megapixels in strips of one row without overviews: ``none``, ``lzw`` or ``deflate``."""
    return _made(f"untiled-{compress}.tif", lambda path: _untiled(path, compress))


def in_degrees() -> Path:
    """Return 16.8 megapixels as tiled JPEG in latitude and longitude."""
    return _made("degrees.tif", _degrees)


def _made(name: str, make: Any) -> Path:
    from pigmap.geometry.native import own_data

    own_data()
    path = folder() / name
    if not path.is_file():
        path.parent.mkdir(parents=True, exist_ok=True)
        part = path.with_name(f"part-{name}")
        make(part)
        part.replace(path)
    return path


def ground(rng: np.random.Generator) -> NDArray[np.uint8]:
    """Return a piece of grass with grain, (3, 2048, 2048); it joins itself at its edges."""
    side = 2048
    coarse = np.zeros((side, side))
    for cells, weight in ((8, 30.0), (32, 22.0), (128, 14.0)):
        noise = rng.normal(0, weight, (cells, cells))
        grown = np.kron(noise, np.ones((side // cells, side // cells)))
        for _ in range(2):
            for axis in (0, 1):
                grown = (grown + np.roll(grown, side // cells // 2, axis)) / 2
        coarse += grown
    grain = rng.normal(0, 9, (side, side))
    base = np.array([96.0, 118.0, 70.0])[:, None, None]
    tinted = base + coarse[None] * np.array([1.0, 0.8, 0.6])[:, None, None] + grain[None]
    return np.asarray(np.clip(tinted, 0, 255), dtype=np.uint8)


def _profile(side: int, **differs: Any) -> dict[str, Any]:
    from rasterio.transform import from_origin

    return {
        "driver": "GTiff",
        "crs": CRS,
        "transform": from_origin(WEST, NORTH, PIXEL_M, PIXEL_M),
        "width": side,
        "height": side,
        "count": 3,
        "dtype": "uint8",
        **differs,
    }


def _rows(side: int) -> Iterator[tuple[int, NDArray[np.uint8]]]:
    """Yield bands of 512 rows, no two alike."""
    rng = np.random.default_rng(SEED)
    piece = ground(rng)
    for top in range(0, side, TILE):
        moved = np.roll(piece, (int(rng.integers(2048)), int(rng.integers(2048))), axis=(1, 2))[:, :TILE]
        wide = np.tile(moved, (1, 1, -(-side // 2048)))[:, : min(TILE, side - top), :side]
        yield top, wide


def _tiled(path: Path, side: int) -> None:
    import rasterio
    from rasterio.enums import Resampling
    from rasterio.windows import Window

    how = _profile(
        side, tiled=True, blockxsize=TILE, blockysize=TILE, compress="jpeg", photometric="ycbcr", jpeg_quality=80
    )
    with rasterio.Env(GDAL_NUM_THREADS="ALL_CPUS"), rasterio.open(path, "w", **how) as out:
        for top, rows in _rows(side):
            out.write(rows, window=Window(0, top, side, rows.shape[1]))
    levels = [2**level for level in range(1, 8) if side / 2**level >= TILE / 2]
    with (
        rasterio.Env(COMPRESS_OVERVIEW="JPEG", PHOTOMETRIC_OVERVIEW="YCBCR", GDAL_TIFF_OVR_BLOCKSIZE=str(TILE)),
        rasterio.open(path, "r+") as image,
    ):
        image.build_overviews(levels, Resampling.average)


def _large(path: Path) -> None:
    _tiled(path, LARGE)


def _untiled(path: Path, compress: str) -> None:
    import rasterio
    from rasterio.windows import Window

    how = _profile(SMALL, tiled=False, blockysize=1, compress=compress)
    with rasterio.open(path, "w", **how) as out:
        for top, rows in _rows(SMALL):
            out.write(rows, window=Window(0, top, SMALL, rows.shape[1]))


def _degrees(path: Path) -> None:
    import rasterio
    from rasterio.enums import Resampling
    from rasterio.vrt import WarpedVRT

    with (
        rasterio.open(small_jpeg()) as image,
        WarpedVRT(image, crs="EPSG:4326", resampling=Resampling.bilinear) as view,
    ):
        how = _profile(
            SMALL, crs="EPSG:4326", transform=view.transform, width=view.width, height=view.height,
            tiled=True, blockxsize=TILE, blockysize=TILE, compress="jpeg", photometric="ycbcr",
        )  # fmt: skip
        with rasterio.open(path, "w", **how) as out:
            out.write(view.read())


if __name__ == "__main__":
    for made in (small_jpeg(), large_jpeg(), untiled("none"), untiled("lzw"), untiled("deflate"), in_degrees()):
        print(made, made.stat().st_size)
