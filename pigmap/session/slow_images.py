"""Tiles of the farm's images for the map: the kept ones where there are any, and those of slow images are made."""

from __future__ import annotations

import threading
from collections.abc import Callable
from pathlib import Path
from typing import NamedTuple

import numpy as np
from numpy.typing import NDArray

from pigmap.errors import PigmapError
from pigmap.imagery.look import picture_of
from pigmap.imagery.overview import Overview, keep_overview
from pigmap.imagery.sidecar import Growing, begin, grow, kept_tiles, slow_form
from pigmap.imagery.sidecar_build import Stop
from pigmap.imagery.sidecar_first import first_picture
from pigmap.imagery.sidecar_place import MB, Place
from pigmap.imagery.sidecar_source import SidecarSource
from pigmap.imagery.source import ImageSource
from pigmap.paths import cache_folder
from pigmap.session.images import FarmImages, Opened, overviews_folder
from pigmap.session.personal import Personal, load_personal

OVERVIEW_PX = 2048
"""Longer side of the small picture that is made from kept tiles."""


class Made(NamedTuple):
    """What was made of a slow image."""

    tiles: SidecarSource
    overview: Overview | None
    """Its small picture; None where that cannot be kept."""


def is_slow(images: FarmImages, image_uid: str) -> bool:
    """Whether an image is to have kept tiles; its small picture is then made from them."""
    try:
        return slow_form(images.source(image_uid)) is not None
    except (PigmapError, KeyError):
        return False


def usual_folder() -> Path:
    """Return the folder of kept tiles unless another one was chosen."""
    return cache_folder() / "kept"


def place_of(personal: Personal) -> Place:
    """Return where a person keeps tiles, and how much."""
    folder = Path(personal.kept_folder) if personal.kept_folder else usual_folder()
    return Place(folder, personal.kept_mb * MB)


class SlowImages:
    """Gives the tiles of each image, and makes those of the slow ones.

    Parameters
    ----------
    session
        The open farm.
    images
        Its images.
    refused
        Is told why an image's tiles cannot be kept; it is shown all the same. Called by workers.
    """

    def __init__(self, session: Opened, images: FarmImages, refused: Callable[[PigmapError], None]) -> None:
        self._session = session
        self._images = images
        self._refused = refused
        self._lock = threading.Lock()
        self._kept: list[SidecarSource] = []
        self._growing: dict[str, Growing] = {}

    def tiles(self, image_uid: str) -> ImageSource | SidecarSource:
        """Return what gives the tiles of an image; `grows` tells whether they are still to be made.

        Where they are kept no image reader is loaded.

        Raises
        ------
        RasterError
            If the image has moved, or cannot lie under the map.
        """
        projection, also = self._session.farm.projection, picture_of(self._session.farm.images[image_uid])
        place = place_of(load_personal())
        kept = kept_tiles(self._images.path(image_uid), projection, place, also)
        if kept is not None:
            return self._noted(kept)
        source = self._images.source(image_uid)
        grows = self._growing.get(image_uid)
        if grows is not None and grows.source is source:
            return grows.tiles
        form = slow_form(source)
        if form is None:
            return source
        try:
            growing = begin(source, projection, place, form)
        except PigmapError as why:
            self._refused(why)
            return source
        if growing is None:
            return source
        with self._lock:
            self._growing[image_uid] = growing
        return self._noted(growing.tiles)

    def grows(self, image_uid: str) -> bool:
        """Whether the tiles of an image are still to be made."""
        return image_uid in self._growing

    def first(self, image_uid: str) -> NDArray[np.uint8]:
        """Return a coarse picture of an image whose tiles are still to be made, (rows, columns, 4), in a moment."""
        growing = self._growing[image_uid]
        return first_picture(growing.source, growing.source.bounds, growing.form)

    def give_up(self, image_uid: str) -> ImageSource | None:
        """Return the image itself, whose tiles could not be made; None where they were not to be."""
        growing = self._growing.pop(image_uid, None)
        return growing.source if growing is not None else None

    def in_work(self, image_uid: str) -> object:
        """Return what stands for the tiles that are to be made of an image: another thing once its file is another."""
        return self._growing.get(image_uid)

    def renew(self, image_uid: str) -> None:
        """Forget what is known of an image: its file is another one. What is being made of the old one is no use."""
        self._growing.pop(image_uid, None)
        self._images.renew(image_uid)

    def grow(self, image_uid: str, *, stop: Stop, told: Callable[[float], None]) -> Made | None:
        """Make the tiles of an image; return what there is once there are all of them, None once it was stopped.

        Raises
        ------
        RasterError
            If they take more than may be kept.
        StoreError
            If the disk takes no more, or takes nothing.
        """
        growing = self._growing.get(image_uid)
        if growing is None or not grow(growing, stop=stop, told=lambda _, share: told(share)):
            return None
        facts, small = growing.source.facts, growing.tiles.small(OVERVIEW_PX)
        bounds = growing.source.bounds
        try:
            overview = keep_overview(facts.path, growing.projection, facts.also, (bounds, small), overviews_folder())
        except OSError:
            overview = None
        return Made(growing.tiles, overview)

    def close(self) -> None:
        """Let all files go."""
        with self._lock:
            kept, self._kept = self._kept, []
            self._growing.clear()
        for each in kept:
            each.close()

    def _noted(self, source: SidecarSource) -> SidecarSource:
        with self._lock:
            self._kept.append(source)
        return source
