"""A person's own farm: a new file in a folder of theirs, on ground that a place, outlines or an image name."""

from __future__ import annotations

from collections.abc import Sequence
from pathlib import Path
from typing import Literal

import shapely

from pigmap.document.edits import change_setting, link_image
from pigmap.document.incoming import Incoming, IncomingLayer
from pigmap.errors import OutlineError, PigmapError, UsageError
from pigmap.geometry.coordinates import LON_LAT
from pigmap.geometry.projection import is_metric, is_utm, moved, moved_bounds, projection_for, to_projection
from pigmap.geometry.typed_place import TypedPlace
from pigmap.plugins import Registry
from pigmap.records import Projection
from pigmap.records.frozen import dataclass
from pigmap.session.brought import is_outline_file, need_walked, read_outlines
from pigmap.session.images import FarmImages, image_link
from pigmap.session.intake import Taken, fields_added, middle_of, take_outlines
from pigmap.session.session import Session
from pigmap.store.opening import refuse_taken
from pigmap.text import Text


NO_PLACE = Projection(
    name="grid without a place",
    authority="NONE",
    code=100_002,
    definition='LOCAL_CS["grid without a place",UNIT["metre",1],AXIS["East",EAST],AXIS["North",NORTH]]',
)
"""Metres east and north of a corner that lies nowhere on earth."""

MOST_OUTLINES = 100
"""A file with more outlines than this is that of a county, not of a farm. Own choice."""

AROUND_M = 1000.0
"""How far round the place outlines are taken out of such a file [m]. Own choice."""

_LONGEST_NAME = 60
_NOT_FOR_FILES = frozenset(["CON", "PRN", "AUX", "NUL"]) | {
    f"{port}{at}" for port in ("COM", "LPT") for at in range(1, 10)
}
"""Names that Windows keeps for devices (documentation of its file naming)."""


@dataclass(frozen=True, slots=True)
class Wanted:
    """What a person said of their farm."""

    name: str
    folder: Path
    place: TypedPlace | None = None
    file: Path | None = None
    """Of outlines, or an image."""
    units: Literal["metric", "us"] = "metric"


@dataclass(frozen=True, slots=True)
class Made:
    """What became of it."""

    path: Path
    notes: tuple[Text, ...] = ()


def has_place(projection: Projection) -> bool:
    """Whether a farm's metres lie somewhere on earth."""
    return projection.definition != NO_PLACE.definition


def farm_path(folder: Path, name: str) -> Path:
    """Return a name in a folder that no file has yet, fit for any file system.

    Raises
    ------
    UsageError
        If the farm has no name.
    """
    kept = "".join(letter if letter.isalnum() or letter in " -_()" else " " for letter in name)
    stem = " ".join(kept.split())[:_LONGEST_NAME].strip()
    if not name.strip():
        raise UsageError("The farm has no name yet.", remedy="Type what people call it; it can be changed at any time.")
    if not stem or stem.upper() in _NOT_FOR_FILES:
        stem = f"farm {stem}".strip()
    path, number = folder / f"{stem}.gpkg", 2
    while path.exists():
        path, number = folder / f"{stem} {number}.gpkg", number + 1
    return path


def make_farm(wanted: Wanted, registry: Registry) -> Made:
    """Make a farm file and return where it is; nothing is left behind where it cannot be made.

    Raises
    ------
    PigmapError
        In words: the folder, the file that was brought, or its place.
    """
    path = farm_path(wanted.folder, wanted.name)
    refuse_taken(path)
    if wanted.file is not None and not is_outline_file(wanted.file):
        return _of_image(path, wanted, wanted.file, registry)
    if wanted.file is not None:
        return _of_outlines(path, wanted, wanted.file, registry)
    place = wanted.place
    projection = projection_for("", (place.lon, place.lat)) if place is not None else NO_PLACE
    _create(path, projection, wanted, registry).close()
    return Made(path)


def _create(path: Path, projection: Projection, wanted: Wanted, registry: Registry) -> Session:
    session = Session.create(path, projection, wanted.name.strip(), registry=registry)
    try:
        session.do(change_setting("units", wanted.units)).result()
    except BaseException:
        session.close()
        raise
    return session


def _of_image(path: Path, wanted: Wanted, file: Path, registry: Registry) -> Made:
    from pigmap.imagery.vet import vet  # most farms begin without one

    facts = vet(file)
    west, south, east, north = moved_bounds(facts.bounds, facts.crs, LON_LAT)
    at = ((west + east) / 2, (south + north) / 2)
    projection = projection_for(facts.crs if is_metric(facts.crs, at) else "", at)
    with _create(path, projection, wanted, registry) as session:
        session.do(link_image(file.stem, image_link(path, file))).result()
        images = FarmImages(session)
        for uid in session.farm.images:
            images.overview(uid, make=True)
        images.close()
    return Made(path, tuple(note for note in facts.notes if note))


def _of_outlines(path: Path, wanted: Wanted, file: Path, registry: Registry) -> Made:
    layer = read_outlines(file, registry)
    need_walked(layer, file, registry)
    at = _middle(layer, wanted.place, file)
    projection = projection_for(layer.crs if is_utm(layer.crs) and is_metric(layer.crs, at) else "", at)
    taken = outlines_for_farm(layer, file.name, projection, wanted.place)
    with _create(path, projection, wanted, registry) as session:
        session.do(fields_added(taken, file.name)).result()
    return Made(path, notes_of(taken))


def _middle(layer: IncomingLayer, place: TypedPlace | None, file: Path) -> tuple[float, float]:
    middle = (place.lon, place.lat) if place is not None else middle_of(layer, layer.crs)
    if middle is None:
        raise OutlineError(
            "No row of {file} lies anywhere on earth.",
            remedy="Choose the file that holds the outlines.",
            file=file.name,
        )
    return middle


def outlines_for_farm(
    layer: IncomingLayer, file_name: str, projection: Projection, place: TypedPlace | None
) -> tuple[Taken, ...]:
    """Return the outlines of a file that are the farm's: all of them, or those round the place where there are many.

    Raises
    ------
    OutlineError
        If there are too many for one farm and no place is given, or none near it; if none can be a field.
    """
    rows = [row for row in layer.rows if row.shape is not None and not row.shape.is_empty]
    if place is not None:
        rows = _near(rows, layer.crs, projection, place)
        if not rows:
            raise OutlineError(
                "{file} holds {count} outlines, and none within {km} km of {place}.",
                remedy="Look at the place again, or choose the file of that place.",
                file=file_name,
                count=len(layer.rows),
                km=f"{AROUND_M / 1000:g}",
                place=place.words,
            )
    if len(rows) > MOST_OUTLINES:
        raise OutlineError(
            "{file} holds {count} outlines, more than one farm has (at most {most} are taken).",
            remedy="Type the place of the farm too: then only what lies within {km} km of it is taken.",
            file=file_name,
            count=len(rows),
            most=MOST_OUTLINES,
            km=f"{AROUND_M / 1000:g}",
        )
    taken = take_outlines(IncomingLayer(layer.name, layer.crs, tuple(rows)), layer.crs, projection)
    if not any(each.vetted is not None for each in taken):
        refused: PigmapError | None = next((each.refused for each in taken if each.refused is not None), None)
        raise refused or OutlineError(
            "{file} holds no outline.", remedy="Choose the file that holds the outlines.", file=file_name
        )
    return taken


def _near(rows: Sequence[Incoming], crs: str, projection: Projection, place: TypedPlace) -> list[Incoming]:
    (yard,) = to_projection([shapely.Point(place.lon, place.lat)], LON_LAT, projection)
    reach = yard.buffer(AROUND_M / projection.ground_per_grid)
    (around,) = moved([reach], projection.definition, crs, projection.name)
    return [row for row in rows if row.shape is not None and shapely.intersects(row.shape, around)]


def notes_of(taken: Sequence[Taken]) -> tuple[Text, ...]:
    """Return what to say of the outlines that came in, the refused ones as one sentence."""
    kept = sum(each.vetted is not None for each in taken)
    said = [
        Text(
            "{count} outline came in as a field.",
            plural="{count} outlines came in as fields.",
            count=kept,
        )
    ]
    refused = [each for each in taken if each.refused is not None]
    if refused:
        why = refused[0].refused
        assert why is not None
        said.append(
            Text(
                "{count} was left out: {why}",
                {"why": why.message},
                plural="{count} were left out: {why}",
                count=len(refused),
            )
        )
    return tuple(said)
