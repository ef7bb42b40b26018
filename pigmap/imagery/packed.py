"""Images in a zip: which there are, and the one that a zip stands for."""

from __future__ import annotations

import zipfile
from pathlib import Path, PurePosixPath

from pigmap.errors import RasterError
from pigmap.imagery.where import zip_parts

_PICTURES = (".tif", ".tiff", ".jp2", ".jpg", ".jpeg", ".png", ".vrt", ".img")
_LEFT_BY_MACS = "__MACOSX"
_MOST_TOLD = 6


def images_in_zip(path: Path) -> tuple[Path, ...]:
    """Return the images in a zip, as paths that lead into it.

    Raises
    ------
    RasterError
        If it cannot be read as a zip.
    """
    try:
        with zipfile.ZipFile(path) as packed:
            names = packed.namelist()
    except (zipfile.BadZipFile, OSError, NotImplementedError) as why:
        raise _torn(path) from why
    inside = [name for name in names if name.lower().endswith(_PICTURES) and _LEFT_BY_MACS not in name]
    return tuple(path / PurePosixPath(name) for name in sorted(inside) if ".." not in PurePosixPath(name).parts)


def only_image(path: Path) -> Path:
    """Return the one image of a zip.

    Raises
    ------
    RasterError
        If it holds none, or several.
    """
    inside = images_in_zip(path)
    if not inside:
        raise RasterError(
            "{name} is a zip file with no image in it.",
            remedy="Choose the zip that holds the image: a .tif, .jp2, .jpg or .png file.",
            name=path.name,
        )
    if len(inside) > 1:
        names = [each.relative_to(path).as_posix() for each in inside]
        more = len(names) - _MOST_TOLD
        raise RasterError(
            "{name} is a zip file with {number} images: {inside}.",
            remedy="Name one of them: {name}/{first}.",
            name=path.name,
            number=len(names),
            inside=", ".join(names[:_MOST_TOLD]) + (f" and {more} more" if more > 0 else ""),
            first=names[0],
        )
    return inside[0]


def need_packed(path: Path) -> None:
    """Refuse a path into a zip that holds no such file, or one that is locked or empty.

    Raises
    ------
    RasterError
        In words.
    """
    parts = zip_parts(path)
    assert parts is not None
    archive, name = parts
    try:
        with zipfile.ZipFile(archive) as packed:
            kept = packed.getinfo(name)
    except KeyError as why:
        raise RasterError(
            "The image {name} is not in {archive}.",
            remedy="Look into the zip, and name the image as it is called there.",
            name=name,
            archive=archive.name,
        ) from why
    except (zipfile.BadZipFile, OSError, NotImplementedError) as why:
        raise _torn(archive) from why
    if kept.flag_bits & 1:
        raise RasterError(
            "{archive} is locked with a password.", remedy="Unpack it, and choose the image.", archive=archive.name
        )
    if kept.file_size == 0:
        raise RasterError(
            "{name} is empty (0 bytes).", remedy="Fetch or copy it again; it was cut off.", name=path.name
        )


def beside_in_zip(path: Path, names: tuple[str, ...]) -> str:
    """Return the text of the first of some files beside an image in its zip; empty where there is none."""
    parts = zip_parts(path)
    assert parts is not None
    folder = PurePosixPath(parts[1]).parent
    with zipfile.ZipFile(parts[0]) as packed:
        there = set(packed.namelist())
        found = next((str(folder / name) for name in names if str(folder / name) in there), "")
        return packed.read(found).decode("utf-8", errors="replace").strip() if found else ""


def _torn(path: Path) -> RasterError:
    return RasterError(
        "{name} cannot be unpacked: it is damaged or was packed in an unusual way.",
        remedy="Fetch or copy it again, or unpack it with another program and choose the image.",
        name=path.name,
    )
