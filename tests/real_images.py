"""Open every real image at hand, and see whether it lies where it says: ``python -m tests.real_images DATA``.

A table tells of each file under DATA's ``ortho``, ``georef`` and ``dem`` whether it opens or why not, its coordinate
system, and its upper left and lower right corner in WGS 84 twice: by the program's reader, and by rasterio's header
and pyproj alone. The status is 1 where the two lie more than a pixel apart, or pixels read there differ.
"""

from __future__ import annotations

import sys
from collections.abc import Iterator, Sequence
from dataclasses import dataclass
from pathlib import Path
from typing import Any

import numpy as np
from numpy.typing import NDArray

from pigmap.cli.printing import table
from pigmap.errors import PigmapError
from pigmap.geometry.coordinates import LON_LAT, parsed, short
from pigmap.geometry.projection import moved_bounds, projection_for
from pigmap.imagery.facts import ImageFacts
from pigmap.imagery.packed import images_in_zip
from pigmap.imagery.source import ImageSource
from pigmap.imagery.vet import vet
from pigmap.imagery.where import reader_name
from pigmap.records import Projection

FOLDERS = ("ortho", "georef", "dem")
COLUMNS = ("file", "verdict", "system", "by pigmap", "by rasterio and pyproj", "pixel m", "apart m", "same", "words")
_EDGE = 41
_SPOTS = 9

Box = tuple[float, float, float, float]


@dataclass
class Row:
    """What became of one file."""

    file: str
    verdict: str
    words: str = ""
    system: str = ""
    pixel_m: float = 0.0
    ours: Box | None = None
    """West, south, east, north in WGS 84."""
    theirs: Box | None = None
    apart_m: float = 0.0
    same: float = 1.0
    """Share of spots of the image where both readers find the same pixel."""

    @property
    def right(self) -> bool:
        """Whether it lies where it says, to a pixel, or was refused."""
        return self.verdict == "refused" or (self.apart_m <= self.pixel_m and self.same > 0.8)


def files(data: Path) -> list[Path]:
    """Return all images of the folders; those of a zip one by one, where it holds several."""
    found: list[Path] = []
    for folder in FOLDERS:
        for path in sorted((data / folder).iterdir()):
            inside = images_in_zip(path) if path.suffix == ".zip" else ()
            found += [path, *(inside if len(inside) > 1 else ())]
    return found


def named(data: Path, path: Path) -> str:
    """Return what a file is called in the table: its path from the folder."""
    return path.relative_to(data).as_posix()


def looked_at(data: Path, path: Path) -> Row:
    """Return what becomes of a file."""
    name = named(data, path)
    try:
        facts = vet(path)
    except PigmapError as why:
        return Row(name, "refused", f"{why.message} {why.remedy}")
    at = moved_bounds(facts.bounds, facts.crs, LON_LAT)
    projection = projection_for("", ((at[0] + at[2]) / 2, (at[1] + at[3]) / 2))
    with ImageSource(facts, projection) as source:
        ours = source.bounds
        theirs = _by_its_head(facts, projection)
        same = _same_pixels(facts, projection, source)
    apart = float(np.abs(np.subtract(ours, theirs)).max())
    return Row(
        name,
        "opened",
        " ".join(str(note) for note in facts.notes),
        short(parsed(facts.crs).name),
        max(facts.cell_m, source.metres_per_pixel),
        _lon_lat(ours, projection),
        _lon_lat(theirs, projection),
        apart,
        same,
    )


def _by_its_head(facts: ImageFacts, projection: Projection) -> Box:
    """Return the bounds of an image in the farm's metres by its head and pyproj alone, along all of its edge."""
    import rasterio
    from pyproj import CRS, Transformer

    with rasterio.open(reader_name(facts.path)) as file:
        across, down = np.linspace(0, file.width, _EDGE), np.linspace(0, file.height, _EDGE)
        columns = np.concatenate([across, across, np.zeros(_EDGE), np.full(_EDGE, file.width)])
        rows = np.concatenate([np.zeros(_EDGE), np.full(_EDGE, file.height), down, down])
        x, y = file.transform @ np.array([columns, rows])
        to = Transformer.from_crs(CRS(file.crs.to_wkt()).to_2d(), CRS(projection.definition), always_xy=True)
    east, north = to.transform(x, y)
    return float(east.min()), float(north.min()), float(east.max()), float(north.max())


def _same_pixels(facts: ImageFacts, projection: Projection, source: ImageSource) -> float:
    """Return at how many of some spots in the middle both readers find the same bytes; 1 where colours are stretched.

    Spots are the middles of pixels of the file; a warped image may give a neighbour, which counts too.
    """
    if facts.bands.stretched or facts.bands.palette:
        return 1.0
    import rasterio
    from pyproj import CRS, Transformer
    from rasterio.windows import Window

    found = []
    with rasterio.open(reader_name(facts.path)) as file:
        to = Transformer.from_crs(CRS(file.crs.to_wkt()).to_2d(), CRS(projection.definition), always_xy=True)
        for column, row in _spots(file.width, file.height):
            x, y = file.transform @ (column + 0.5, row + 0.5)
            east, north = to.transform(x, y)
            side = source.metres_per_pixel / 4
            ours = source.read((east - side, north - side, east + side, north + side), (1, 1), smooth=False)[0, 0]
            near = file.read(list(facts.bands.colours), window=Window(column - 1, row - 1, 3, 3)).reshape(-1, 9)
            found.append(bool(ours[3] == 0) or _among(ours[:3], near))
    return sum(found) / len(found)


def _among(ours: NDArray[np.uint8], near: NDArray[Any]) -> bool:
    shown = near if len(near) == 3 else np.repeat(near, 3, axis=0)
    return bool((shown == ours[:, None]).all(axis=0).any())


def _spots(wide: int, high: int) -> Iterator[tuple[int, int]]:
    for column in np.linspace(wide * 0.2, wide * 0.8, _SPOTS, dtype=int):
        for row in np.linspace(high * 0.2, high * 0.8, _SPOTS, dtype=int):
            yield int(column), int(row)


def _lon_lat(box: Box, projection: Projection) -> Box:
    from pyproj import Transformer

    to = Transformer.from_crs(projection.definition, LON_LAT, always_xy=True)
    west, north = to.transform(box[0], box[3])
    east, south = to.transform(box[2], box[1])
    return west, south, east, north


def _corners(box: Box | None) -> str:
    return "" if box is None else f"{box[0]:.6f} {box[3]:.6f}, {box[2]:.6f} {box[1]:.6f}"


def main(given: Sequence[str]) -> int:
    """Print the table; return 1 where an image does not lie where it says."""
    if len(given) != 1:
        sys.stderr.write(f"{__doc__}\n")
        return 2
    data = Path(given[0])
    rows = [looked_at(data, path) for path in files(data)]
    told = [dict(zip(COLUMNS, _told(row), strict=True)) for row in rows]
    sys.stdout.write(f"{table(COLUMNS, told)}\n")
    return 0 if all(row.right for row in rows) else 1


def _told(row: Row) -> tuple[str, ...]:
    verdict = row.verdict if row.right else "WRONG"
    if row.ours is None:
        return row.file, verdict, "", "", "", "", "", "", row.words
    lies = f"{row.pixel_m:.3g}", f"{row.apart_m:.3f}", f"{row.same:.0%}"
    return row.file, verdict, row.system, _corners(row.ours), _corners(row.theirs), *lies, row.words


if __name__ == "__main__":
    raise SystemExit(main(sys.argv[1:]))
