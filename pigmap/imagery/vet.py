"""Whether a file can lie under the map as an image; if not, why, in words. The cheapest look comes first."""

from __future__ import annotations

from pathlib import Path
from typing import TYPE_CHECKING, Any

import numpy as np

from pigmap.errors import RasterError, RecordError
from pigmap.geometry.coordinates import is_of_earth, parsed, radius_km, without_heights
from pigmap.geometry.native import own_data
from pigmap.imagery.bands import shown_bands
from pigmap.imagery.facts import Affine6, ImageFacts
from pigmap.imagery.file import need_image_file
from pigmap.imagery.opening import opened
from pigmap.imagery.packed import beside_in_zip, only_image
from pigmap.imagery.place import NoPlaceError, is_camera_photo, need_right_units, placed_by_points
from pigmap.imagery.web import broken_off
from pigmap.imagery.where import called, reading, web_address, zip_parts
from pigmap.text import Text

if TYPE_CHECKING:
    from pyproj import CRS

COARSEST_M = 5.0
"""An image with larger pixels is of no use for placing nets. Our own limit, common practice."""

_NEARLY = 1.01
"""A pixel of 5 m of grid is 5.002 m of ground in the middle of a UTM zone."""
_PROBES = 3
"""Along each side: nine places of the image are read."""
_PROBE_PX = 256
_MOST_UNREAD = 3
"""An image of which more of the nine cannot be read is refused; else the rest of it is shown. Own choice."""
_IDENTITY = (1.0, 0.0, 0.0, 0.0, 1.0, 0.0)


def vet(path: Path) -> ImageFacts:
    """Return what is known of an image that can lie under the map.

    Degrees, another coordinate system than the farm's, a turned or sheared picture and one that stands on its head
    are fine: they are warped when they are read. A zip stands for the one image in it.

    Raises
    ------
    RasterError
        In words: which file, what is wrong with which value, what to do.
    """
    path = _one_image(path)
    own_data()
    from rasterio.errors import RasterioError

    try:
        with reading(), opened(path) as dataset:
            return _facts(path, dataset)
    except (RasterioError, OSError) as why:
        raise _unread(path, why) from why


def vet_unplaced(path: Path) -> ImageFacts:
    """Return what is known of a picture whose place is still to be found: a scan, a photo of a map.

    Its coordinates are its own pixels, north up from the lower edge of its first row.

    Raises
    ------
    RasterError
        In words, as `vet` does, but for the place.
    """
    path = _one_image(path)
    own_data()
    from rasterio.errors import RasterioError

    try:
        with reading(), opened(path) as dataset:
            _need_one_picture(path, dataset)
            if dataset.rpcs:
                raise _placed_by(path, Text("a model of its camera"))
            bands = shown_bands(dataset, called(path))
            notes = _need_whole(path, dataset, bands.colours[0])
            columns, rows = int(dataset.width), int(dataset.height)
    except (RasterioError, OSError) as why:
        raise _unread(path, why) from why
    transform = (1.0, 0.0, 0.0, 0.0, -1.0, 0.0)
    return ImageFacts(path, columns, rows, "", transform, (0.0, float(-rows), float(columns), 0.0), 1.0, bands, notes)


def _one_image(path: Path) -> Path:
    """Return the path of an image; a zip stands for the one image in it."""
    need_image_file(path)
    if path.name.lower().endswith(".zip") and not web_address(path):
        path = only_image(path)
        need_image_file(path)
    return path


def _facts(path: Path, dataset: Any) -> ImageFacts:
    _need_one_picture(path, dataset)
    bands = shown_bands(dataset, called(path))
    transform, told = placed_by_points(dataset) or (tuple(dataset.transform)[:6], "")
    system = _need_earth(path, told) if told else _need_place(path, dataset, transform)
    need_right_units(called(path), system, transform)
    cell_m = _cell_m(path, system, transform, dataset.width, dataset.height)
    if cell_m > COARSEST_M * _NEARLY:
        raise RasterError(
            "{name} has pixels of {cell} m; nets cannot be placed by an image coarser than {most} m.",
            remedy="Use a finer image, or work without one.",
            name=called(path),
            cell=f"{cell_m:.3g}",
            most=f"{COARSEST_M:g}",
        )
    notes = _need_whole(path, dataset, bands.colours[0])
    if not bands.named:
        notes += (
            Text(
                "{name} does not say which of its {count} bands is which colour; the first three are shown as red, "
                "green and blue.",
                {"name": called(path)},
                count=int(dataset.count),
            ),
        )
    return ImageFacts(
        path=path,
        columns=dataset.width,
        rows=dataset.height,
        crs=system.to_wkt(),
        transform=transform,
        bounds=_bounds(transform, dataset.width, dataset.height),
        cell_m=cell_m,
        bands=bands,
        notes=notes,
    )


def _unread(path: Path, why: Exception) -> RasterError:
    if web_address(path) and "supported file format" not in str(why):
        return broken_off(path)
    return RasterError(
        "{name} is not an image that can be read here.",
        remedy="Export it as a GeoTIFF, or fetch it again if it was one.",
        name=called(path),
    )


def _need_one_picture(path: Path, dataset: Any) -> None:
    if dataset.count == 0:
        raise RasterError(
            "{name} holds {number} pictures and none of its own.",
            remedy="Export the one you want as a GeoTIFF.",
            name=called(path),
            number=len(dataset.subdatasets),
        )


def _need_place(path: Path, dataset: Any, transform: Affine6) -> CRS:
    """Return the image's coordinate system, or refuse it for not saying where it lies."""
    if transform == _IDENTITY and dataset.rpcs:
        raise _placed_by(path, Text("a model of its camera"))
    if transform == _IDENTITY and dataset.gcps[0]:
        raise _placed_by(path, Text("{count} control points", count=len(dataset.gcps[0])))
    told = dataset.crs.to_wkt() if dataset.crs else _beside(path)
    if (not told or transform == _IDENTITY) and is_camera_photo(dataset):
        raise NoPlaceError(
            "{name} is a single photo as a camera took it, not a map: nothing says where its corners lie.",
            remedy="Use the map that was made of the flight (an orthophoto), or pin the photo at three points.",
            name=called(path),
        )
    if not told or transform == _IDENTITY:
        raise NoPlaceError(
            "{name} does not say where on earth it lies (no {what}).",
            remedy="Download it with its world file, or pin it at three points."
            if web_address(path)
            else "Put its world file and {stem}.prj beside it, or export it with its projection.",
            name=called(path),
            what=Text("coordinate system") if not told else Text("place of its corners"),
            stem=Path(called(path)).stem,
        )
    return _need_earth(path, told)


def _placed_by(path: Path, means: Text) -> RasterError:
    return RasterError(
        "{name} says where it lies only by {means}.",
        remedy="Warp it first, and export it as a GeoTIFF with its projection.",
        name=called(path),
        means=means,
    )


def _beside(path: Path) -> str:
    """Return what a ``.prj`` file beside the image says; the library looks at world files only."""
    names = (f"{path.stem}.prj", f"{path.stem}.PRJ")
    if web_address(path):
        return ""
    if zip_parts(path) is not None:
        return beside_in_zip(path, names)
    for name in names:
        beside = path.with_name(name)
        if beside.is_file():
            return beside.read_text(encoding="utf-8", errors="replace").strip()
    return ""


def _need_earth(path: Path, told: str) -> CRS:
    try:
        system = without_heights(parsed(told))
    except RecordError as why:
        raise RasterError(
            "{name} names a coordinate system that this program does not know.",
            remedy="Export it in one that is common in its country.",
            name=called(path),
        ) from why
    if not is_of_earth(system):
        raise RasterError(
            "{name} shows another body than the earth: {crs}, with a radius of {radius} km.",
            remedy="Use an image of the farm, or work without one.",
            name=called(path),
            crs=system.name,
            radius=f"{radius_km(system):.0f}",
        )
    if not (system.is_projected or system.is_geographic):
        raise RasterError(
            "{name} lies on a plan of its own ({crs}), not on a map of the earth.",
            remedy="Export it in the coordinate system of its country.",
            name=called(path),
            crs=system.name,
        )
    return system


def _cell_m(path: Path, system: CRS, transform: Affine6, columns: int, rows: int) -> float:
    """Return the longer side of the pixel in the middle, on the ground [m]."""
    from pyproj import Geod, Transformer

    back = Transformer.from_crs(system, "EPSG:4326", always_xy=True)
    pixels = np.array([(columns / 2, rows / 2), (columns / 2 + 1, rows / 2), (columns / 2, rows / 2 + 1)])
    lon, lat = back.transform(*_on_ground(transform, pixels).T)
    if not (np.isfinite(lon).all() and (np.abs(lat) <= 90.0).all()):
        raise RasterError(
            "{name} lies where {crs} does not reach.",
            remedy="Look whether its world file belongs to it, or export it again with its projection.",
            name=called(path),
            crs=system.name,
        )
    sides = Geod(ellps="WGS84").inv(lon[[0, 0]], lat[[0, 0]], lon[1:], lat[1:])[2]
    return float(max(sides))


def _on_ground(transform: Affine6, pixels: np.ndarray[Any, np.dtype[np.float64]]) -> Any:
    a, b, c, d, e, f = transform
    return pixels @ np.array([[a, d], [b, e]]) + np.array([c, f])


def _bounds(transform: Affine6, columns: int, rows: int) -> tuple[float, float, float, float]:
    corners = _on_ground(transform, np.array([(0, 0), (columns, 0), (columns, rows), (0, rows)], dtype=np.float64))
    (west, south), (east, north) = corners.min(axis=0), corners.max(axis=0)
    return float(west), float(south), float(east), float(north)


def _need_whole(path: Path, dataset: Any, band: int) -> tuple[Text, ...]:
    """Refuse a file with a sound head and a damaged body, after a look at a few places; say if some are damaged."""
    from rasterio.errors import RasterioError
    from rasterio.windows import Window

    wide, block = min(_PROBE_PX, dataset.width), dataset.block_shapes[band - 1][1]
    few = 250_000 // (-(-wide // block) * block)  # where a file is made of long rows they are unpacked whole
    high = max(1, min(_PROBE_PX, few, dataset.height))
    unread, across = 0, 1 if web_address(path) else _PROBES
    for left in _spread(dataset.width - wide, across):
        for top in _spread(dataset.height - high, across):
            try:
                dataset.read(band, window=Window(left, top, wide, high))
            except (RasterioError, OSError):
                unread += 1
    if unread and web_address(path):
        raise broken_off(path)
    if unread > _MOST_UNREAD:
        raise RasterError(
            "{name} is damaged: {unread} of {tried} places in it cannot be read.",
            remedy="Fetch or copy it again.",
            name=called(path),
            unread=unread,
            tried=across**2,
        )
    if not unread:
        return ()
    said = "Parts of {name} cannot be read and are hatched on the map. Fetch or copy the image again."
    return (Text(said, {"name": called(path)}),)


def _spread(room: int, number: int) -> list[int]:
    """Return places from the first to the last of some room; one lies in the middle."""
    return [room // 2] if number == 1 else [int(at) for at in np.linspace(0, room, number)]
