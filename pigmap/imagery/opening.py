"""Open an image with the image library, wherever it is."""

from __future__ import annotations

from pathlib import Path
from typing import Any

from pigmap.imagery.web_file import WebOpener
from pigmap.imagery.where import reader_name, web_address


def opened(path: Path, description: str = "", **how: Any) -> Any:
    """Return an open image; a description of it is opened in its place.

    Raises
    ------
    RasterioError
        If it cannot be opened.
    """
    import rasterio

    if description:
        return rasterio.open(description, **how)
    address = web_address(path)
    if address:
        return rasterio.open(address, opener=WebOpener(address), **how)
    return rasterio.open(reader_name(path), **how)
