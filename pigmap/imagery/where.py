"""Where an image is: a file, a file in a zip, or an address on the web. A path names each of the three."""

from __future__ import annotations

from pathlib import Path
from typing import Any

_WEB = ("http", "https")
_ZIP = ".zip"

WAIT_S = 5
"""Longer than this no answer of a server is waited for, nor a transfer that stands still [s]. Own choice."""


def is_address(words: str) -> bool:
    """Whether words are an address on the web."""
    return words.strip().lower().startswith(("http://", "https://"))


def web_path(address: str) -> Path:
    """Return the path that stands for an address; `web_address` turns it back."""
    scheme, rest = address.strip().split("://", 1)
    place, mark, asked = rest.partition("?")
    return Path(f"{scheme.lower()}:/{place.lstrip('/')}{mark}{asked.replace('/', '%2F')}")


def web_address(path: Path) -> str:
    """Return the address that a path stands for; empty for a file."""
    words = path.as_posix()
    scheme, mark, rest = words.partition(":/")
    return f"{scheme}://{rest.lstrip('/')}" if mark and scheme in _WEB else ""


def host_of(path: Path) -> str:
    """Return the server of an address, without who asks; empty for a file."""
    address = web_address(path)
    return address.split("/")[2].rpartition("@")[2] if address else ""


def zip_parts(path: Path) -> tuple[Path, str] | None:
    """Return the zip that a path leads into, and the name of the file in it; None for a path that leads into none."""
    for above in path.parents:
        if above.name.lower().endswith(_ZIP) and above.is_file():
            return above, path.relative_to(above).as_posix()
    return None


def file_of(path: Path) -> Path:
    """Return the file on disk that holds an image: itself, or its zip."""
    packed = zip_parts(path)
    return packed[0] if packed is not None else path


def is_there(path: Path) -> bool:
    """Whether there is a file for an image; an address on the web is taken at its word."""
    return bool(web_address(path)) or file_of(path).is_file()


def state_of(path: Path) -> tuple[int, int]:
    """Return size and time of the file that holds an image; nothing of an address.

    Raises
    ------
    OSError
        If there is none.
    """
    if web_address(path):
        return 0, 0
    state = file_of(path).stat()
    return state.st_size, state.st_mtime_ns


def called(path: Path) -> str:
    """Return the name of an image for people: without what an address asks for, which may be secret."""
    return path.name.partition("?")[0] if web_address(path) else path.name


def reader_name(path: Path) -> str:
    """Return what the image library opens for a file, also in a zip."""
    packed = zip_parts(path)
    if packed is not None:
        return f"/vsizip/{{{packed[0].resolve().as_posix()}}}/{packed[1]}"
    return str(path)


def reading() -> Any:
    """Return the surroundings in which the image library reads images, whichever thread does."""
    import rasterio

    return rasterio.Env()
