"""Lists of the ground as files: each is complete or not there."""

from __future__ import annotations

import csv
import os
from collections.abc import Callable
from datetime import date
from pathlib import Path
from typing import Any

import numpy as np
import shapely
from numpy.typing import NDArray

from pigmap.errors import StoreError, UsageError
from pigmap.geometry.projection import from_projection
from pigmap.ground.listed import UNITS, Listed
from pigmap.ground.state import GroundState
from pigmap.records import Projection

SUFFIXES = (".csv", ".geojson", ".gpkg", ".tif")

BANDS = ("rest_days", "rooting", "cover", "load_kg_d_m2", "n_kg_ha", "p_kg_ha", "ready_in_days", "unknown")
"""Layers of a raster, one for each column of a list; the ready day is counted from the day that is shown."""


def write_list(path: Path, rows: Listed, projection: Projection, day: date | None = None) -> None:
    """Write a list as CSV, as GeoJSON (longitude and latitude) or as GeoPackage (the farm's coordinates).

    A GeoPackage carries the unit and the meaning of each column, and the day, in its layer's metadata (``day``,
    ``n_kg_ha``, ``unit n_kg_ha``); the other two have no place for them, so that names of columns say them.

    Raises
    ------
    UsageError
        If the name ends in something else.
    StoreError
        If the file cannot be written.
    """
    suffix = path.suffix.lower()
    if suffix == ".csv":
        _whole(path, lambda part: _write_csv(part, rows))
    elif suffix == ".geojson":
        lon_lat = np.array(from_projection(list(rows.shapes), projection), dtype=np.object_)
        _whole(path, lambda part: _write_shapes(part, rows, lon_lat, "EPSG:4326", "GeoJSON", None))
    elif suffix == ".gpkg":
        about = _about(rows, day)
        _whole(path, lambda part: _write_shapes(part, rows, rows.shapes, _crs(projection), "GPKG", about))
    else:
        raise unknown_suffix(path)


def write_raster(path: Path, state: GroundState, projection: Projection) -> None:
    """Write the cells of one field as a GeoTIFF with a layer for each of `BANDS`; nothing is not a number.

    Raises
    ------
    StoreError
        If the file cannot be written.
    """
    _whole(path, lambda part: _write_tif(part, state, projection))


def unknown_suffix(path: Path) -> UsageError:
    """Return the refusal of a file of a kind that is not written."""
    return UsageError(
        "{file} ends in {suffix}, a kind of file that the ground is not written to.",
        remedy="End its name in one of: {kinds}.",
        file=path.name,
        suffix=path.suffix or "nothing",
        kinds=", ".join(SUFFIXES),
    )


def _whole(path: Path, write: Callable[[Path], None]) -> None:
    """Write beside the place first, then put the file there: nobody meets half of it."""
    part = path.with_name(f".{path.stem}.{os.getpid()}{path.suffix.lower()}")
    try:
        write(part)
        part.replace(path)
    except (OSError, RuntimeError, ValueError) as error:  # pyogrio and rasterio raise children of these
        raise StoreError(
            "{file} cannot be written: {why}.",
            remedy="Look whether the folder {folder} is there, may be written to and has room.",
            file=path.name,
            why=_why(error),
            folder=str(path.parent),
        ) from error
    finally:
        part.unlink(missing_ok=True)


def _why(error: Exception) -> str:
    """Return the reason in few words: what the system says, else the first line of what the library says."""
    words = error.strerror if isinstance(error, OSError) and error.strerror else str(error).strip()
    return (words.splitlines() or ["no reason given"])[0].rstrip(".")


def _write_csv(path: Path, rows: Listed) -> None:
    columns = [_printed(values) for values in rows.columns.values()]
    with path.open("w", encoding="utf-8", newline="") as file:
        writer = csv.writer(file)
        writer.writerow(rows.columns)
        writer.writerows(zip(*columns, strict=True))


def _printed(values: NDArray[Any]) -> list[object]:
    if values.dtype.kind == "M":
        return ["" if day is None else day.isoformat() for day in values.tolist()]
    if values.dtype.kind == "f":
        return ["" if value != value else _number(value) for value in values.tolist()]
    return list(values.tolist())


def _number(value: float) -> float | int:
    return int(value) if value.is_integer() else value


def _about(rows: Listed, day: date | None) -> dict[str, str]:
    """Return units and meanings of the columns, and the day, as a layer carries them."""
    told = {name: UNITS[name] for name in rows.columns if name in UNITS}
    about = {f"unit {name}": unit for name, (unit, _) in told.items()} | {
        name: what for name, (_, what) in told.items()
    }
    return about | ({"day": day.isoformat()} if day is not None else {})


def _write_shapes(
    path: Path, rows: Listed, shapes: NDArray[np.object_], crs: str, driver: str, about: dict[str, str] | None
) -> None:
    from pyogrio.raw import write

    write(
        path,
        shapely.to_wkb(shapes),
        list(rows.columns.values()),
        list(rows.columns),
        layer="ground",
        driver=driver,
        geometry_type="MultiPolygon" if (shapely.get_type_id(shapes) == 6).any() else "Polygon",
        crs=crs,
        layer_metadata=about,
    )


def _crs(projection: Projection) -> str:
    return f"EPSG:{projection.code}" if projection.authority.upper() == "EPSG" else projection.definition


def _write_tif(path: Path, state: GroundState, projection: Projection) -> None:
    import rasterio
    from rasterio.transform import Affine

    frame = state.ground.frame
    (ux, uy), (vx, vy) = frame.axes
    west, north = frame.to_metres(np.array([[0.0, frame.rows]]))[0]
    side = frame.cell_m
    with rasterio.open(
        path,
        "w",
        driver="GTiff",
        width=frame.columns,
        height=frame.rows,
        count=len(BANDS),
        dtype="float32",
        crs=_crs(projection),
        transform=Affine(ux * side, -vx * side, west, uy * side, -vy * side, north),
        nodata=np.nan,
        compress="deflate",
    ) as raster:
        for band, name in enumerate(BANDS, start=1):
            values = state.cells(name).astype(np.float32)
            values[(values < 0) | (state.ground.region_of < 0)] = np.nan  # days that are not there, and no field
            raster.write(values[::-1], band)
            unit, what = UNITS[name]
            raster.set_band_description(band, name)
            raster.set_band_unit(band, unit)
            raster.update_tags(band, what=what)
        raster.update_tags(day=state.day.isoformat())
