"""Whether a path leads to a file that may be an image, without opening it as one."""

from __future__ import annotations

import os
from pathlib import Path

from pigmap.errors import RasterError
from pigmap.imagery.packed import need_packed
from pigmap.imagery.web import need_answer
from pigmap.imagery.where import web_address, zip_parts

_SIDE_FILES = (".ovr", ".msk", ".aux.xml", ".tfw", ".tifw", ".jgw", ".jpgw", ".pgw", ".wld", ".prj")


def need_image_file(path: Path) -> None:
    """Refuse what cannot be an image: nothing there, a folder, an empty file, a file that belongs to an image.

    A server is asked for the first bytes of an image on the web, and a zip whether it holds the image.

    Raises
    ------
    RasterError
        In words.
    """
    if web_address(path):
        need_answer(path)
        return
    if zip_parts(path) is not None:
        need_packed(path)
        return
    if not path.exists():
        raise RasterError(
            "The image {name} is not in {folder}.",
            remedy="Look for the file, and name it where it is.",
            name=path.name,
            folder=str(path.resolve().parent),
        )
    if path.is_dir():
        raise RasterError(
            "{name} is a folder, not an image.", remedy="Name one image in it, such as a .tif file.", name=path.name
        )
    if path.stat().st_size == 0:
        raise RasterError(
            "{name} is empty (0 bytes).", remedy="Fetch or copy it again; it was cut off.", name=path.name
        )
    if not os.access(path, os.R_OK):
        raise RasterError(
            "{name} may not be read by you.", remedy="Ask its owner to let you read it, or copy it.", name=path.name
        )
    _need_no_side_file(path)


def _need_no_side_file(path: Path) -> None:
    ending = next((each for each in _SIDE_FILES if path.name.lower().endswith(each)), "")
    if ending:
        raise RasterError(
            "{name} belongs to an image and is none itself.",
            remedy="Name the image {image} instead.",
            name=path.name,
            image=path.name[: -len(ending)] or path.name,
        )
