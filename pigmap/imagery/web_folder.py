"""What the image library sees of a folder on the web: one image, and the files that stand beside it for it."""

from __future__ import annotations

import io
import threading
from collections.abc import Callable, Mapping
from concurrent.futures import ThreadPoolExecutor
from pathlib import Path
from typing import Any

from pigmap.imagery.web_file import Reader, WebFile, web_file
from pigmap.imagery.where import called, web_address

_TIFF_HEADS = (b"II", b"MM")
_ASKED_AT_ONCE = 3


class WebFolder:
    """The image library asks it for files by name; it hands out an image, what lies beside it, and nothing else.

    Parameters
    ----------
    path
        The image: a path that stands for its address.
    more
        Other files, as if they stood there too.
    """

    def __init__(self, path: Path, more: Mapping[str, bytes] | None = None) -> None:
        self._name, self._more = called(path), dict(more or {})
        self._image = web_file(web_address(path))
        self._there: dict[str, WebFile] = {self._name: self._image, **beside(path)}

    def open(self, path: str, mode: str = "rb", **_: object) -> io.RawIOBase | io.BytesIO:
        """Return a hold on a file.

        Raises
        ------
        FileNotFoundError
            For any other name, and where its server does not answer.
        """
        name = _last(path)
        if name in self._more:
            return io.BytesIO(self._more[name])
        file = self._there.get(name)
        if file is None or not file.known():
            raise FileNotFoundError(path)
        return Reader(file)

    def isfile(self, path: str) -> bool:
        """Whether there is a file of this name."""
        return _last(path) in self._more or _last(path) in self._there

    def isdir(self, path: str) -> bool:
        """Whether a name is that of a folder: none is."""
        return False

    def ls(self, path: str) -> list[str]:
        """Return the names of the files."""
        return [*self._there, *self._more]

    def mtime(self, path: str) -> int:
        """Return when a file was changed: nobody knows."""
        return 0

    def size(self, path: str) -> int:
        """Return the length of a file.

        Raises
        ------
        FileNotFoundError
            If it is not known.
        """
        name = _last(path)
        if name in self._more:
            return len(self._more[name])
        file = self._there.get(name)
        if file is None or not file.known():
            raise FileNotFoundError(path)
        return file.size

    def rm(self, path: str) -> None:
        """Take a file away: nobody may.

        Raises
        ------
        PermissionError
            Always.
        """
        raise PermissionError(path)


def in_folder(path: Path, name: str = "") -> str:
    """Return the address of an image without what it asks for, or of another file in its folder."""
    address = web_address(path).partition("?")[0]
    return f"{address.rpartition('/')[0]}/{name}" if name else address


def for_the_library(folder: WebFolder) -> Any:
    """Return a folder as the image library takes it; it is told of this class on first use, not at import."""
    from rasterio.abc import FileContainer

    FileContainer.register(WebFolder)
    return folder


_ASKING = threading.Lock()


def beside(path: Path) -> dict[str, WebFile]:
    """Return the files by name that stand beside an image on the web and belong to it; asked for once.

    They are its mask, smaller copies of it, and what was found out of it later. World files are not among them: the
    library does not read lines over the web.
    """
    image = web_file(web_address(path))
    with _ASKING:
        if image.beside is None:
            image.beside = _asked(path)
        return image.beside


def _asked(path: Path) -> dict[str, WebFile]:
    address, mark, query = web_address(path).partition("?")
    name = called(path)
    wanted: dict[str, Callable[[bytes], bool]] = {
        f"{name}.msk": _is_tiff,
        f"{name}.ovr": _is_tiff,
        f"{name}.aux.xml": lambda head: b"<PAMDataset" in head,
    }
    above = address.rpartition("/")[0]
    files = {each: web_file(f"{above}/{each}{mark}{query}") for each in wanted}
    with ThreadPoolExecutor(_ASKED_AT_ONCE) as asking:
        heads = dict(zip(files, asking.map(WebFile.head, files.values()), strict=True))
    return {each: files[each] for each, head in heads.items() if head and wanted[each](head)}


def _is_tiff(head: bytes) -> bool:
    return head.startswith(_TIFF_HEADS)


def _last(path: str) -> str:
    return path.rpartition("/")[2]
