"""Open an image with the image library, wherever it is."""

from __future__ import annotations

from pathlib import Path
from typing import Any

from pigmap.imagery.web_folder import WebFolder, for_the_library, in_folder
from pigmap.imagery.where import reader_name, web_address

_DESCRIBED = "described.vrt"
"""Name of a description, as if it stood beside its image on the web."""


def opened(path: Path, description: str = "", **how: Any) -> Any:
    """Return an open image; a description of it is opened in its place.

    Raises
    ------
    RasterioError
        If it cannot be opened.
    """
    import rasterio

    if web_address(path):
        more = {_DESCRIBED: description.encode()} if description else {}
        folder = for_the_library(WebFolder(path, more))
        return rasterio.open(in_folder(path, _DESCRIBED if description else ""), opener=folder, **how)
    return rasterio.open(description or reader_name(path), **how)
