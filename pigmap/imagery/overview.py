"""A small picture of an image in the cache, so that the first frame of the map needs no image reader."""

from __future__ import annotations

import hashlib
import json
import os
from contextlib import suppress
from pathlib import Path
from typing import TYPE_CHECKING, Any

import numpy as np
from numpy.typing import NDArray

from pigmap.imagery.pyramid import Bounds
from pigmap.imagery.web_file import version_of
from pigmap.imagery.where import state_of, web_address
from pigmap.records import Projection
from pigmap.records.frozen import dataclass

if TYPE_CHECKING:
    from pigmap.imagery.source import ImageSource

LONGEST_PX = 2048
"""Longer side of the picture."""

_KEPT = 64
"""Pictures in the folder; the oldest go when there are more."""
_BLEND_UP_TO_PX = 200_000_000
"""Larger images are thinned out instead of blended: that reads less of them."""


@dataclass(frozen=True, slots=True)
class Overview:
    """A small picture of a whole image, and where it lies."""

    picture: Path
    """JPEG, or PNG where parts are transparent."""
    bounds: Bounds
    """West, south, east and north, in the farm's metres."""
    columns: int
    rows: int


def overview(image: Path, projection: Projection, folder: Path, also: str = "") -> Overview | None:
    """Return the picture that was made of an image as it is now; None if there is none.

    It loads no library beside the standard one and numpy: a window calls it before its first frame.

    Parameters
    ----------
    image
        The image itself.
    projection
        The farm's.
    folder
        Where such pictures are kept.
    also
        What else its picture depends on: its pins, its look.
    """
    try:
        told = json.loads(_sheet(image, projection, folder, also).read_text(encoding="utf-8"))
        made = Overview(
            picture=folder / str(told["picture"]),
            bounds=tuple(float(bound) for bound in told["bounds"]),  # type: ignore[arg-type]
            columns=int(told["columns"]),
            rows=int(told["rows"]),
        )
    except (OSError, ValueError, KeyError, TypeError):
        return None
    return made if made.picture.is_file() and len(made.bounds) == 4 else None


def make_overview(source: ImageSource, projection: Projection, folder: Path) -> Overview:
    """Make the picture of an image and return it.

    Raises
    ------
    OSError
        If the folder cannot be written to, or a server did not hand out all of the image.
    """
    image = source.facts.path
    grid = source.pyramid
    share = min(1.0, LONGEST_PX / max(grid.columns, grid.rows))
    size = max(1, round(grid.columns * share)), max(1, round(grid.rows * share))
    picture = source.read(source.bounds, size, smooth=grid.columns * grid.rows <= _BLEND_UP_TO_PX)
    if web_address(image) and source.troubles:
        raise ConnectionError(image.name)
    return keep_overview(image, projection, source.facts.also, (source.bounds, picture), folder)


def keep_overview(
    image: Path, projection: Projection, also: str, made: tuple[Bounds, NDArray[np.uint8]], folder: Path
) -> Overview:
    """Keep a picture of all of an image and return it.

    Parameters
    ----------
    image, projection, also, folder
        As for `overview`.
    made
        Where the image lies, and its picture: red, green, blue and alpha, (rows, columns, 4).

    Raises
    ------
    OSError
        If the folder cannot be written to.
    """
    bounds, picture = made
    size = picture.shape[1], picture.shape[0]
    sheet = _sheet(image, projection, folder, also)
    opaque = bool(picture[..., 3].min() == 255)
    name = sheet.with_suffix(".jpg" if opaque else ".png").name
    folder.mkdir(parents=True, exist_ok=True)
    _write(folder / name, encoded(picture, "JPEG" if opaque else "PNG"))
    told = {"image": str(image), "picture": name, "bounds": bounds, "columns": size[0], "rows": size[1]}
    told |= {"version": _version(image)}
    _write(sheet, json.dumps(told).encode())
    _drop_oldest(folder)
    return Overview(folder / name, bounds, *size)


def drop_outdated(image: Path, projection: Projection, folder: Path, also: str) -> None:
    """Drop the picture of an image on the web that is open, if its server has handed out another image since."""
    sheet = _sheet(image, projection, folder, also)
    with suppress(OSError, ValueError, AttributeError):
        kept = json.loads(sheet.read_text(encoding="utf-8")).get("version")
        if kept is not None and kept != _version(image):
            sheet.unlink()


def _version(image: Path) -> list[object] | None:
    """Return what a server calls the state of an image that is open; None for a file, whose state is in its key."""
    found = version_of(web_address(image)) if web_address(image) else None
    return list(found) if found is not None else None


def encoded(picture: NDArray[np.uint8], kind: str) -> bytes:
    """Return a picture (rows, columns, 4) as the bytes of a JPEG (without its alpha) or a PNG."""
    import rasterio
    from rasterio.io import MemoryFile

    bands = np.moveaxis(picture if kind == "PNG" else picture[..., :3], -1, 0)
    how: dict[str, Any] = {"quality": 88} if kind == "JPEG" else {"zlevel": 3}
    with rasterio.Env(), MemoryFile() as memory:
        with memory.open(
            driver=kind, width=bands.shape[2], height=bands.shape[1], count=bands.shape[0], dtype="uint8", **how
        ) as out:
            out.write(bands)
        return bytes(memory.getbuffer())


def _sheet(image: Path, projection: Projection, folder: Path, also: str) -> Path:
    """Return where the facts of an image's picture are kept; another one once anything of it changes."""
    size, changed_ns = state_of(image)
    name = web_address(image) or image.resolve()
    key = f"{name}\n{size}\n{changed_ns}\n{projection.definition}"
    key += f"\n{also}" if also else ""
    return folder / f"{hashlib.sha256(key.encode()).hexdigest()[:32]}.json"


def _write(path: Path, content: bytes) -> None:
    beside = path.with_name(f"{path.name}.{os.getpid()}.part")
    beside.write_bytes(content)
    beside.replace(path)


def _drop_oldest(folder: Path) -> None:
    sheets = sorted(folder.glob("*.json"), key=lambda sheet: sheet.stat().st_mtime_ns, reverse=True)
    for sheet in sheets[_KEPT:]:
        for path in (sheet, sheet.with_suffix(".jpg"), sheet.with_suffix(".png")):
            with suppress(OSError):
                path.unlink()
