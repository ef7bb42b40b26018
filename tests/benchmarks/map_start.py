"""The sample farm with 0.9 gigapixels under it, for the start of the program."""

from __future__ import annotations

import shutil
import tempfile
from collections.abc import Iterator
from contextlib import contextmanager
from pathlib import Path

from tests.benchmarks.loop_start import measure_start
from tests.benchmarks.map_rasters import LARGE, PIXEL_M, large_jpeg
from tests.benchmarks.sticks import Measured, child_environment, run


def measure_large_start(*, repeats: int) -> dict[str, Measured]:
    """Start a bare window and the program in turn, to the whole large image with fields, paddocks and tint."""
    with large_farm() as (farm, environment):
        found = measure_start(farm, environment, repeats=repeats)
    return {"start": found["first-frame"]}


@contextmanager
def large_farm() -> Iterator[tuple[Path, dict[str, str]]]:
    """Make the sample farm and lay the large image in place of its own."""
    with child_environment() as environment, tempfile.TemporaryDirectory() as folder:
        run(["-m", "pigmap", "sample", f"{folder}/sample"], environment)
        (farm,) = Path(folder, "sample").glob("*.gpkg")
        _lay(Path(folder, "sample", "aerial.tif"))
        run(["-m", "tests.benchmarks.loop_start", str(farm)], environment)
        yield farm, environment


def _lay(image: Path) -> None:
    """Put the large image where the sample's own was, round the same middle."""
    large = large_jpeg()
    import rasterio
    from rasterio.transform import from_origin

    with rasterio.open(image) as own:
        crs, bounds = own.crs, own.bounds
    shutil.copyfile(large, image)
    half = LARGE * PIXEL_M / 2
    west, north = (bounds.left + bounds.right) / 2 - half, (bounds.bottom + bounds.top) / 2 + half
    with rasterio.open(image, "r+") as laid:
        laid.crs, laid.transform = crs, from_origin(west, north, PIXEL_M, PIXEL_M)
