"""A photo as a phone or camera wrote it: upright, small enough to keep, with the day and the place it tells."""

from __future__ import annotations

import hashlib
import io
import warnings
from datetime import date, datetime
from pathlib import Path
from typing import TYPE_CHECKING, Any, NamedTuple

from pigmap.errors import RecordError
from pigmap.store.pictures import Picture

if TYPE_CHECKING:
    from PIL.Image import Image

MOST_PX = 2048
"""Longer side of a photo that is kept [px]. Own choice: a post and its clip are seen on it."""
SMALL_PX = 320
"""Longer side of the small picture [px]."""
MOST_MEGAPIXELS = 250
"""A photo of more is refused: no phone makes one. Own choice."""
_QUALITY = 85
_TAKEN, _EXIF, _GPS = 0x9003, 0x8769, 0x8825


class PhotoFile(NamedTuple):
    """One photo, ready to be kept."""

    picture: Picture
    width_px: int
    height_px: int
    taken_on: date | None
    place: tuple[float, float] | None
    """Latitude and longitude, if the camera knew [°]."""


def read_photo(path: Path) -> PhotoFile:
    """Read a photo: JPEG, PNG, WebP or TIFF.

    Raises
    ------
    RecordError
        If there is no such file, or it is no photo.
    """
    from PIL import Image, ImageOps, UnidentifiedImageError

    try:
        with warnings.catch_warnings():
            warnings.simplefilter("ignore")  # of large pictures, which are asked for below, and odd tags
            with Image.open(path) as opened:
                if opened.width * opened.height > MOST_MEGAPIXELS * 1e6:
                    raise _too_large(path, opened.width, opened.height)
                exif = opened.getexif()
                taken, place = _taken_on(exif), _place(exif)
                opened.draft("RGB", (MOST_PX, MOST_PX))  # a JPEG need not be read at its full size
                upright = ImageOps.exif_transpose(opened).convert("RGB")
    except FileNotFoundError as why:
        raise RecordError(
            "There is no file {file}.", remedy="Look where it is, and name it there.", file=path.name
        ) from why
    except (UnidentifiedImageError, Image.DecompressionBombError, OSError, ValueError, SyntaxError) as why:
        raise RecordError(
            "{file} is no photo that can be read.",
            remedy="Give a JPEG, PNG, WebP or TIFF; most phones can save one.",
            file=path.name,
        ) from why
    upright.thumbnail((MOST_PX, MOST_PX))
    data = _jpeg(upright)
    width, height = upright.size
    upright.thumbnail((SMALL_PX, SMALL_PX))
    picture = Picture(hashlib.sha256(data).hexdigest(), "image/jpeg", data, _jpeg(upright))
    return PhotoFile(picture, width, height, taken, place)


def _too_large(path: Path, width: int, height: int) -> RecordError:
    return RecordError(
        "{file} has {width} by {height} pixels.",
        remedy="Give one of at most {most} million pixels. An aerial image is brought in as an image, not as a photo.",
        file=path.name,
        width=str(width),
        height=str(height),
        most=str(MOST_MEGAPIXELS),
    )


def _jpeg(image: Image) -> bytes:
    written = io.BytesIO()
    image.save(written, "JPEG", quality=_QUALITY)
    return written.getvalue()


def _taken_on(exif: Any) -> date | None:
    told = exif.get_ifd(_EXIF).get(_TAKEN)
    try:
        return datetime.strptime(str(told).strip("\0 ")[:10], "%Y:%m:%d").date()
    except ValueError:
        return None


def _place(exif: Any) -> tuple[float, float] | None:
    """Return latitude and longitude from the camera's own words; None where it says none that can be."""
    gps = exif.get_ifd(_GPS)
    try:
        latitude = _degrees(gps[2]) * (-1 if str(gps.get(1, "N")).upper().startswith("S") else 1)
        longitude = _degrees(gps[4]) * (-1 if str(gps.get(3, "E")).upper().startswith("W") else 1)
    except (KeyError, TypeError, ValueError, ZeroDivisionError, IndexError):
        return None
    known = abs(latitude) <= 90 and abs(longitude) <= 180 and (latitude, longitude) != (0.0, 0.0)
    return (latitude, longitude) if known else None


def _degrees(told: Any) -> float:
    degrees, minutes, seconds = (float(each) for each in told)
    return degrees + minutes / 60 + seconds / 3600
