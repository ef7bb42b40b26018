"""Photos taken in: kept with the farm, and laid to the paddock and the daily check they belong to."""

from __future__ import annotations

from collections.abc import Iterable, Sequence
from dataclasses import replace
from datetime import date
from pathlib import Path
from typing import NamedTuple

import shapely

from pigmap.document.edits.photos import add_photos
from pigmap.errors import PigmapError
from pigmap.geometry.coordinates import LON_LAT
from pigmap.geometry.projection import to_projection
from pigmap.records import Check, Farm, Paddock, Photo, lasting_on
from pigmap.session.photo_file import PhotoFile, read_photo
from pigmap.session.session import Session
from pigmap.store.pictures import Picture, keep, picture, small_pictures

BESIDE = "photos beside"
"""Key of the setting with which photos lie in a folder beside the farm file instead of in it."""


class TakenIn(NamedTuple):
    """What came of photos."""

    photos: tuple[Photo, ...]
    left_out: tuple[PigmapError, ...]
    """Why others were not taken."""


class Belongs(NamedTuple):
    """What photos belong to, where somebody says it; else the day and the place of each tell."""

    paddock_uid: str | None = None
    check_uid: str | None = None
    on: date | None = None


NOBODY_SAID = Belongs()


def take_photos(session: Session, paths: Iterable[Path], today: date, to: Belongs = NOBODY_SAID) -> TakenIn:
    """Keep photos and add them to the farm as one edit; what is no photo is told and left out.

    Raises
    ------
    StoreError
        If the disk does not take them.
    """
    farm, found, pictures, left_out = session.farm, list[Photo](), list[Picture](), list[PigmapError]()
    for path in paths:
        try:
            read = read_photo(path)
        except PigmapError as why:
            left_out.append(why)
            continue
        pictures.append(read.picture)
        found.append(_photo(farm, read, today, to))
    if found:
        if farm.setting(BESIDE):
            found = [_laid_beside(session.path, photo, each) for photo, each in zip(found, pictures, strict=True)]
        else:
            keep(session.path, pictures)
        session.do(add_photos(found)).result()
    return TakenIn(tuple(found), tuple(left_out))


def folder_beside(path: Path) -> Path:
    """Return the folder in which the photos of a farm file lie where they are not in it."""
    return path.with_name(f"{path.stem} photos")


def _laid_beside(path: Path, photo: Photo, kept: Picture) -> Photo:
    folder = folder_beside(path)
    folder.mkdir(exist_ok=True)
    name = f"{kept.sha256}.jpg"
    part = folder / f"{name}.part"
    part.write_bytes(kept.data)
    part.replace(folder / name)
    keep(path, [kept._replace(data=b"")])  # the small picture is in the farm file all the same
    return replace(photo, file_name=name)


def _photo(farm: Farm, read: PhotoFile, today: date, to: Belongs) -> Photo:
    point = _point(farm, read.place)
    on = to.on or read.taken_on or today
    paddock = farm.paddocks.get(to.paddock_uid or "") or (_paddock_at(farm, point, on) if point is not None else None)
    check = farm.checks.get(to.check_uid or "") or (_check_of(farm, paddock, on) if paddock is not None else None)
    return Photo(
        sha256=read.picture.sha256,
        width_px=read.width_px,
        height_px=read.height_px,
        check_uid=check.uid if check is not None else None,
        paddock_uid=paddock.uid if paddock is not None else None,
        field_uid=paddock.field_uid if paddock is not None else _field_at(farm, point),
        point=point,
        taken_on=on,
    )


def _point(farm: Farm, place: tuple[float, float] | None) -> shapely.Point | None:
    """Return where a photo was taken in the farm's own metres; None where the farm lies nowhere, or it is far off."""
    if place is None or not farm.projection.has_place:
        return None
    (moved,) = to_projection([shapely.Point(place[1], place[0])], LON_LAT, farm.projection)
    return moved if isinstance(moved, shapely.Point) and not moved.is_empty else None


def _paddock_at(farm: Farm, point: shapely.Point, on: date) -> Paddock | None:
    """Return the paddock at a spot: the one in use on that day, else the one that was set there last."""
    there = [each for each in lasting_on(farm).values() if each.stay.ground.covers(point)]
    in_use = [each for each in there if each.covers(on)]
    best = max(in_use or there, key=lambda each: (each.first, each.stay.uid), default=None)
    return farm.paddocks.get(best.stay.paddock_uid) if best is not None else None


def _field_at(farm: Farm, point: shapely.Point | None) -> str | None:
    fields = farm.fields.values() if point is not None else ()
    return next((field.uid for field in fields if field.outline.covers(point)), None)


def _check_of(farm: Farm, paddock: Paddock, on: date) -> Check | None:
    checks = [each for each in farm.checks.values() if each.paddock_uid == paddock.uid and each.checked_on == on]
    return checks[-1] if checks else None


def small_of(session: Session, photos: Sequence[Photo]) -> dict[str, bytes]:
    """Return the small pictures of photos, as JPEG, by the uid of the photo; those that are lost are left out."""
    found = small_pictures(session.path, {photo.sha256 for photo in photos})
    return {photo.uid: found[photo.sha256] for photo in photos if photo.sha256 in found}


def whole_of(session: Session, photo: Photo) -> bytes | None:
    """Return a photo as JPEG; None where its picture is lost."""
    if photo.file_name:
        lies = folder_beside(session.path) / photo.file_name
        return lies.read_bytes() if lies.is_file() else None
    found = picture(session.path, photo.sha256)
    return found.data if found is not None and found.data else None
