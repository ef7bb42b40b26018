"""What a person brings from elsewhere: a file of outlines, or a boundary that was walked with a phone."""

from __future__ import annotations

from datetime import datetime
from pathlib import Path

import numpy as np
import shapely

from pigmap.document.incoming import Format, Incoming, IncomingLayer
from pigmap.errors import OutlineError, RasterError
from pigmap.geometry.coordinates import LON_LAT
from pigmap.geometry.projection import projection_for, to_projection
from pigmap.imagery.where import web_address
from pigmap.plugins import Registry

LONGEST_WALK_M = 15_000.0
"""Nobody walks round a farm that is longer about than this [m]. Own choice."""
FASTEST_WALK_MS = 4.0
"""Faster than this no one walks, nor runs over rough ground [m/s]. Own choice."""
OPEN_SHARE = 0.2
"""A walk whose ends lie farther apart than this share of its length goes from here to there. Own choice."""

_TRACK, _POINTS = "tracks", "track_points"


IMAGE_SUFFIXES = (".tif", ".tiff", ".jp2", ".jpg", ".jpeg", ".png", ".vrt")
"""Ends of the names of usual images; others can be chosen too."""


def outline_suffixes(registry: Registry) -> tuple[str, ...]:
    """Return how the names of files of outlines end, in all formats that are there."""
    formats: list[Format] = [registry.load("formats", part.name) for part in registry.parts("formats")]
    return tuple(dict.fromkeys(suffix for each in formats for suffix in each.suffixes))


def is_outline_file(path: Path, registry: Registry) -> bool:
    """Whether a file's name ends as those of outlines do; all others count as images.

    So do a zip that holds images and, whatever its name, a file on the web.
    """
    if web_address(path) or (path.name.lower().endswith(".zip") and holds_images(path)):
        return False
    return path.name.lower().endswith(outline_suffixes(registry))


def holds_images(path: Path) -> bool:
    """Whether a zip holds images."""
    from pigmap.imagery.packed import images_in_zip

    try:
        return bool(images_in_zip(path))
    except RasterError:
        return False


def format_for(path: Path, registry: Registry) -> Format:
    """Return the format for a file: the one that knows how its name ends, else the one that knows most kinds."""
    formats: list[Format] = [registry.load("formats", part.name) for part in registry.parts("formats")]
    most = max(formats, key=lambda each: len(each.suffixes))
    return next((each for each in formats if path.name.lower().endswith(each.suffixes)), most)


def read_outlines(path: Path, registry: Registry) -> IncomingLayer:
    """Return the outlines of a file; a walked line is closed.

    Raises
    ------
    OutlineError
        If it cannot be read, or does not say where on earth it is.
    """
    layer = format_for(path, registry).read(path)
    if not layer.crs:
        raise OutlineError(
            "{file} does not say where on earth its outlines are.",
            remedy="Put its .prj file beside it, or export it as GeoPackage or KML.",
            file=path.name,
        )
    if path.suffix.lower() != ".gpx":
        return layer
    rows = tuple(Incoming(row.name or path.stem, closed(row.shape), row.columns) for row in layer.rows)
    return IncomingLayer(layer.name, layer.crs, rows)


def closed(shape: shapely.geometry.base.BaseGeometry | None) -> shapely.geometry.base.BaseGeometry | None:
    """Return a walked line as one ring; anything else as it is."""
    if shape is None or shape.is_empty or shapely.get_dimensions(shape) != 1:
        return shape
    points = shapely.get_coordinates(shape)
    if len(points) < 3:
        return shape
    ring = points if (points[0] == points[-1]).all() else np.vstack([points, points[:1]])
    return shapely.LineString(ring)


def need_walked(layer: IncomingLayer, path: Path, registry: Registry) -> None:
    """Refuse the track of a drive, which is no boundary.

    Raises
    ------
    OutlineError
        In words, with its length, its speed or how far apart it begins and ends.
    """
    if path.suffix.lower() != ".gpx":
        return
    for row in layer.rows:
        if row.shape is not None and not row.shape.is_empty and shapely.get_dimensions(row.shape) == 1:
            _need_walk(row.shape, path)
    if layer.name == _TRACK:
        _need_walking_speed(path, registry)


def _need_walk(shape: shapely.geometry.base.BaseGeometry, path: Path) -> None:
    west, south, east, north = shape.bounds
    flat = projection_for("", ((west + east) / 2, (south + north) / 2))
    (line,) = to_projection([shape], LON_LAT, flat)
    points = shapely.get_coordinates(line)
    steps = np.hypot(*np.diff(points, axis=0).T)
    about = float(steps.sum())
    last = float(steps[-1])  # the step that closes it
    if about - last > LONGEST_WALK_M:
        raise OutlineError(
            "The track in {file} is {km} km long; a farm is walked round in at most {most} km.",
            remedy="Choose the track of the walk along the boundary, or cut it out of this one.",
            file=path.name,
            km=f"{(about - last) / 1000:.1f}",
            most=f"{LONGEST_WALK_M / 1000:g}",
        )
    if last > OPEN_SHARE * about:
        raise OutlineError(
            "The track in {file} ends {apart} m from where it begins, {about} m on: it does not go round a field.",
            remedy="Walk the boundary back to where the track begins, or draw the outline on the map.",
            file=path.name,
            apart=f"{last:.0f}",
            about=f"{about - last:.0f}",
        )


def _need_walking_speed(path: Path, registry: Registry) -> None:
    rows = format_for(path, registry).read(path, _POINTS).rows
    seen = [(at, row.shape) for row in rows if row.shape is not None and (at := _time(row.columns.get("time")))]
    if len(seen) < 3:
        return
    seconds = np.diff([at.timestamp() for at, _ in seen])
    places = shapely.get_coordinates([shape for _, shape in seen])
    flat = projection_for("", (float(places[0, 0]), float(places[0, 1])))
    metres = shapely.get_coordinates(to_projection([shapely.LineString(places)], LON_LAT, flat))
    moving = seconds > 0
    speeds = np.hypot(*np.diff(metres, axis=0).T)[moving] / seconds[moving]
    usual = float(np.median(speeds)) if len(speeds) else 0.0
    if usual > FASTEST_WALK_MS:
        raise OutlineError(
            "The track in {file} goes at about {speed} km/h, so it was driven, not walked.",
            remedy="Choose the track of the walk along the boundary.",
            file=path.name,
            speed=f"{usual * 3.6:.0f}",
        )


def _time(value: object) -> datetime | None:
    try:
        return datetime.fromisoformat(str(value).replace("/", "-"))
    except ValueError:
        return None
