"""A person's own farm: a new file in a folder of theirs, on ground that a place, outlines or an image name."""

from __future__ import annotations

from collections.abc import Sequence
from pathlib import Path
from typing import Any, Literal

import shapely

from pigmap.document.incoming import IncomingLayer
from pigmap.errors import OutlineError, UsageError
from pigmap.geometry.coordinates import LON_LAT
from pigmap.geometry.projection import is_metric, is_utm, moved_bounds, projection_for, to_projection
from pigmap.geometry.typed_place import TypedPlace
from pigmap.plugins import Registry
from pigmap.records import Farm, Projection
from pigmap.records.frozen import dataclass
from pigmap.records.projection import NO_PLACE, PLACE_SETTING
from pigmap.session.brought import is_outline_file, need_walked, read_outlines
from pigmap.session.brought_images import bring_images, images_linked
from pigmap.session.farm_outlines import outlines_for_farm
from pigmap.session.images import FarmImages
from pigmap.session.intake import Taken, bounds_of, fields_added, middle_of
from pigmap.session.session import Session
from pigmap.store.opening import refuse_taken
from pigmap.text import Text

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
    as_of: str = ""
    """Uid of the edit after which it is to be shown as it was then; empty for the farm as it is."""

    @property
    def words(self) -> Text:
        """All that is to be said of it; empty where there is nothing."""
        return together(self.notes)


def together(notes: Sequence[Text]) -> Text:
    """Return sentences as one text, since the message bar shows one at a time."""
    names = [f"note{at}" for at in range(len(notes))]
    return Text(" ".join(f"{{{name}}}" for name in names), dict(zip(names, notes, strict=True)))


def has_place(projection: Projection) -> bool:
    """Whether a farm's metres lie somewhere on earth."""
    return projection.has_place


def place_of(farm: Farm) -> shapely.Point | None:
    """Return the place that a farm was started at [grid m]; None where it was started without."""
    kept = farm.setting(PLACE_SETTING)
    return shapely.Point(kept) if isinstance(kept, list) and len(kept) == 2 else None


def bring(file: Path, farm: Farm, registry: Registry) -> tuple[Taken, ...]:
    """Return what becomes of the outlines of a file that is brought to a farm with a place.

    Raises
    ------
    OutlineError
        In words, as `make_farm` does.
    """
    layer = read_outlines(file, registry)
    need_walked(layer, file, registry)
    return outlines_for_farm(layer, file.name, farm.projection, place_of(farm))


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
    if wanted.file is not None and not is_outline_file(wanted.file, registry):
        return _of_image(path, wanted, wanted.file, registry)
    if wanted.file is not None:
        return _of_outlines(path, wanted, wanted.file, registry)
    place = wanted.place
    projection = projection_for("", (place.lon, place.lat)) if place is not None else NO_PLACE
    _create(path, projection, wanted, registry, _yard(place, projection) if place is not None else None).close()
    return Made(path)


def _yard(place: TypedPlace, projection: Projection) -> shapely.Point:
    (yard,) = to_projection([shapely.Point(place.lon, place.lat)], LON_LAT, projection)
    assert isinstance(yard, shapely.Point)
    return yard


def _create(
    path: Path, projection: Projection, wanted: Wanted, registry: Registry, yard: shapely.Point | None = None
) -> Session:
    settings: dict[str, Any] = {"units": wanted.units}
    if yard is not None:
        settings[PLACE_SETTING] = [round(yard.x, 1), round(yard.y, 1)]
    return Session.create(path, projection, wanted.name.strip(), settings=settings, registry=registry)


def _of_image(path: Path, wanted: Wanted, file: Path, registry: Registry) -> Made:
    brought = bring_images([file])  # a zip may hold several
    facts = brought.taken[0]
    west, south, east, north = moved_bounds(facts.bounds, facts.crs, LON_LAT)
    at = ((west + east) / 2, (south + north) / 2)
    projection = projection_for(facts.crs if is_metric(facts.crs, at) else "", at)
    with _create(path, projection, wanted, registry) as session:
        session.do(images_linked(brought, path)).result()
        images = FarmImages(session)
        for uid in session.farm.images:
            images.overview(uid, make=True)
        images.close()
    notes = [note for each in brought.taken for note in each.notes if note]
    return Made(path, (*notes, brought.words) if brought.left_out else tuple(notes))


def _of_outlines(path: Path, wanted: Wanted, file: Path, registry: Registry) -> Made:
    layer = read_outlines(file, registry)
    need_walked(layer, file, registry)
    at = _middle(layer, wanted.place, file)
    projection = projection_for(layer.crs if is_utm(layer.crs) and is_metric(layer.crs, at) else "", at)
    yard = _yard(wanted.place, projection) if wanted.place is not None else None
    taken = outlines_for_farm(layer, file.name, projection, yard)
    west, south, east, north = bounds_of(taken) or (0.0, 0.0, 0.0, 0.0)
    middle = yard or shapely.Point((west + east) / 2, (south + north) / 2)
    with _create(path, projection, wanted, registry, middle) as session:
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
