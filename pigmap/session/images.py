"""The aerial images of an open farm: found from their links, opened when first asked for."""

from __future__ import annotations

import os
import threading
from collections.abc import Callable
from functools import partial
from pathlib import Path, PurePosixPath
from typing import TYPE_CHECKING, Protocol
from weakref import WeakKeyDictionary, proxy

import numpy as np
from numpy.typing import NDArray

from pigmap.errors import PigmapError, RasterError
from pigmap.imagery.look import look_of, picture_of
from pigmap.imagery.overview import Overview, drop_outdated, make_overview, overview
from pigmap.imagery.where import is_address, is_there, web_address, web_path
from pigmap.paths import cache_folder
from pigmap.records import Farm, Image, Projection
from pigmap.text import Text

if TYPE_CHECKING:
    from pigmap.imagery.source import ImageSource

Read = Callable[[str, tuple[float, float, float, float], tuple[int, int]], "NDArray[np.uint8] | None"]
"""Reads a piece of an image: its uid, west, south, east, north [m], and columns and rows wanted."""


class Opened(Protocol):
    """What the images need to know of a session."""

    @property
    def farm(self) -> Farm:
        """The farm as it is now."""
        ...

    @property
    def path(self) -> Path:
        """Where its file is."""
        ...


def image_path(session_path: Path, image: Image) -> Path:
    """Return where the file of an image is, from the farm file's path and the image's link."""
    if is_address(image.link):
        return web_path(image.link)
    link = Path(image.link)
    return link if link.is_absolute() else session_path.resolve().parent.joinpath(*PurePosixPath(image.link).parts)


def image_link(session_path: Path, image: Path) -> str:
    """Return the link to an image: from the farm's folder if it lies near it, else its whole path, or its address."""
    if web_address(image):
        return web_address(image)
    home, there = session_path.resolve().parent, image.resolve()
    if there.is_relative_to(home):
        return there.relative_to(home).as_posix()
    if there.is_relative_to(home.parent) and home.parent != Path(home.anchor):
        return PurePosixPath(os.path.relpath(there, home).replace(os.sep, "/")).as_posix()
    return str(there)


def overviews_folder() -> Path:
    """Return the folder of the small pictures; it may not exist yet."""
    return cache_folder() / "overviews"


class FarmImages:
    """The images of one session, each opened once and read from any thread.

    Parameters
    ----------
    session
        The open farm; its images may change while this lives.
    """

    def __init__(self, session: Opened) -> None:
        self._session = session
        self._lock = threading.Lock()
        self._sources: dict[tuple[str, Path, str, str], ImageSource] = {}
        self._refused: dict[tuple[str, Path, str, str], PigmapError] = {}
        self.told: Callable[[str, RasterError], None] | None = None
        """Is told the uid of an image and what went wrong with it, by the thread that met it."""

    def path(self, image_uid: str) -> Path:
        """Return where the file of an image is, or was."""
        return image_path(self._session.path, self._session.farm.images[image_uid])

    def source(self, image_uid: str) -> ImageSource:
        """Return the reader of an image, opened on first use.

        Raises
        ------
        RasterError
            If the image has moved, or cannot lie under the map.
        """
        projection = self._session.farm.projection  # another one once the farm is given its place
        path, image = self.path(image_uid), self._session.farm.images[image_uid]
        key = image_uid, path, picture_of(image), projection.definition
        with self._lock:
            if key in self._sources and not self._sources[key].stale:
                return self._sources[key]
            if not is_there(path):
                raise moved(image, path)
            if key in self._refused:
                raise self._refused[key]
            try:
                source = _opened(path, image, projection)
            except PigmapError as why:
                if not web_address(path):  # a server may answer the next time
                    self._refused[key] = why
                raise
            if key in self._sources:  # another file stands in its place now
                self._sources[key].close()
            self._sources[key] = source
            if web_address(path):
                drop_outdated(path, projection, overviews_folder(), picture_of(image))
            if self.told is not None:
                source.told = partial(self.told, image_uid)
            return source

    def renew(self, image_uid: str) -> None:
        """Open an image anew when it is asked for next, also one that was refused before: its file is another one."""
        with self._lock:
            old = [key for key in self._sources if key[0] == image_uid]
            closed = [self._sources.pop(key) for key in old]
            for key in [key for key in self._refused if key[0] == image_uid]:
                del self._refused[key]
        for source in closed:
            source.close()

    def is_stale(self, image_uid: str) -> bool:
        """Whether another file stands in the place of an open image now."""
        with self._lock:
            return any(key[0] == image_uid and source.stale for key, source in self._sources.items())

    def overview(self, image_uid: str, *, make: bool = False) -> Overview | None:
        """Return the small picture of an image; with `make`, make it where it is missing. Never raises.

        Without `make` it imports no image reader.
        """
        try:
            path = self.path(image_uid)
            also = picture_of(self._session.farm.images[image_uid])
            found = overview(path, self._session.farm.projection, overviews_folder(), also)
            if found is None and make:
                found = make_overview(self.source(image_uid), self._session.farm.projection, overviews_folder())
        except (PigmapError, OSError, KeyError):
            return None
        return found

    def read(
        self, image_uid: str, bounds: tuple[float, float, float, float], size: tuple[int, int]
    ) -> NDArray[np.uint8] | None:
        """Return a piece of an image for a page, (rows, columns, 4); None where it cannot be opened.

        A reader for outputs; `troubles` says what went wrong.
        """
        try:
            return self.source(image_uid).read(bounds, size)
        except (PigmapError, KeyError):
            return None

    def gone(self) -> tuple[Text, ...]:
        """Return a sentence for each image whose file is not where the farm looks for it; opens none of them."""
        images = sorted(self._session.farm.images.values(), key=lambda image: image.position)
        away = [(image, image_path(self._session.path, image)) for image in images]
        return tuple(_sentence(moved(image, path)) for image, path in away if not is_there(path))

    def troubles(self) -> tuple[Text, ...]:
        """Return a sentence for each image that has moved or cannot be shown, and for parts that cannot be read."""
        said: list[Text] = []
        for uid in sorted(self._session.farm.images, key=lambda uid: self._session.farm.images[uid].position):
            try:
                said += self.source(uid).troubles
            except RasterError as why:
                said.append(_sentence(why))
        return tuple(said)

    def close(self) -> None:
        """Let all files go."""
        with self._lock:
            sources, self._sources = list(self._sources.values()), {}
        for source in sources:
            source.close()


_OF_SESSION: WeakKeyDictionary[Opened, FarmImages] = WeakKeyDictionary()


def images_of(session: Opened) -> FarmImages:
    """Return the images of a session: one reader for the map, the picture and the pages alike."""
    return _OF_SESSION.setdefault(session, FarmImages(proxy(session)))


def tile_reader(session: Opened) -> Read:
    """Return the reader of a session's images for a page."""
    return images_of(session).read


def _opened(path: Path, image: Image, projection: Projection) -> ImageSource:
    # Read on use: the first frame shows the small picture, which no reader made.
    from pigmap.imagery.pinned import open_pinned
    from pigmap.imagery.source import open_source

    look = look_of(image)
    return open_pinned(path, image.pins, projection, look) if image.pins else open_source(path, projection, look)


def _sentence(why: PigmapError) -> Text:
    return Text("{what} {remedy}", {"what": why.message, "remedy": why.remedy})


def moved(image: Image, path: Path) -> RasterError:
    """Return what to say of an image whose file is no longer where the farm looks for it."""
    return RasterError(
        "{name} has moved: no image is at {path}.",
        remedy="Put it back, or show where it is.",
        name=image.name,
        path=str(path),
    )
