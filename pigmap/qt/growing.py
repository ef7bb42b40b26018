"""Has slow images cut into tiles in the background, one after the other, and shows what has been made."""

from __future__ import annotations

import contextlib
import os
import sys
import threading
import time
from collections.abc import Callable
from typing import TYPE_CHECKING

import numpy as np
from numpy.typing import NDArray
from PySide6.QtCore import QObject, QTimer, Signal, Slot
from PySide6.QtGui import QImage

from pigmap.qt.ground_view import GroundView
from pigmap.qt.jobs import Job, Jobs, Progress, Stop
from pigmap.qt.photo import Photo, TileSource
from pigmap.qt.small_picture import decoding
from pigmap.session.image_states import ImageStates
from pigmap.session.images import FarmImages

if TYPE_CHECKING:
    from pigmap.session.slow_images import Made, SlowImages

SHOW_MS = 300
"""How often what was made is shown while more is being made [ms]."""
LOOK_S = 2.0
"""How often files are looked at [s]: one that changed is shown once two looks found it the same. Own choice."""
_WAIT_S = 0.01
_NICE = 15
"""Behind the threads that read tiles for the view, which come behind the window's own."""


class Growing(QObject):
    """Opens images for the map, and makes the tiles of those that are slow.

    Parameters
    ----------
    canvas
        Shows them.
    images
        Those of the farm.
    """

    refused = Signal(object)
    """The tiles of an image cannot be kept; sent by the thread that found out, with the `PigmapError`."""
    grew = Signal(str, float)
    """How much of an image's tiles are there, 0 to 1."""
    changed = Signal(str, object)
    """Another file rests in the place of an image now: it is opened anew; with the `PigmapError` that says so."""
    _found = Signal(str)
    _more = Signal(str, float)

    def __init__(self, canvas: GroundView, images: FarmImages) -> None:
        super().__init__(canvas)
        self._canvas = canvas
        self._images = images
        self._slow: SlowImages | None = None
        self._lock = threading.Lock()
        self._jobs = Jobs(self)
        self._job: Job | None = None
        self._uid = ""
        self._in_work: object = None
        self._states = ImageStates()
        self._watch = threading.Thread(target=self._look_on, name="image files", daemon=True)
        self._closed = threading.Event()
        self._waiting: list[str] = []
        self._coming: set[str] = set()
        """Images that a worker has found slow, before the window's thread has heard of it."""
        self._shares: dict[str, float] = {}
        self._show = QTimer(self, singleShot=True, interval=SHOW_MS)
        self._show.timeout.connect(self._show_more)
        self._found.connect(self._queue)
        self._more.connect(self._note)
        self.changed.connect(self._renewed)

    @property
    def busy(self) -> bool:
        """Whether tiles are being made, or wait for it."""
        return self._job is not None or bool(self._waiting or self._coming)

    def open(self, image_uid: str) -> TileSource:
        """Open an image; a worker does.

        Raises
        ------
        RasterError
            If the image has moved, or cannot lie under the map.
        """
        slow = self._slow_images()
        self._states.note(image_uid, self._images.path(image_uid))
        self._begin_to_look()
        source = slow.tiles(image_uid)
        if slow.grows(image_uid):
            photo = self._photo(image_uid)
            if photo is not None and photo.overview() is None:
                picture = _picture(slow.first(image_uid))
                photo.overview, photo.overview_bounds = (lambda: picture), source.bounds
            self._coming.add(image_uid)
            self._found.emit(image_uid)
        return source

    @Slot(str, object)
    def _renewed(self, image_uid: str, _: object) -> None:
        """Make no more tiles of a file that is no longer there."""
        if self._uid == image_uid and self._job is not None:
            self._job.stop()
        self._shares.pop(image_uid, None)

    def close(self) -> None:
        """Stop, wait for what runs, and let the files go."""
        self._closed.set()
        self._waiting.clear()
        self._coming.clear()
        self._show.stop()
        self._jobs.close()
        if self._slow is not None:
            self._slow.close()

    def _begin_to_look(self) -> None:
        with self._lock:
            if self._watch.ident is None and not self._closed.is_set():
                self._watch.start()

    def _look_on(self) -> None:
        """Look now and then whether files have changed; nobody waits for a disk that does not answer."""
        while not self._closed.wait(LOOK_S):
            for image_uid, why in self._states.changed().items():
                if not self._closed.is_set():
                    self._slow_images().renew(image_uid)
                    self.changed.emit(image_uid, why)

    def _photo(self, image_uid: str) -> Photo | None:
        return self._canvas.picture.photo.photos.get(image_uid)

    def _slow_images(self) -> SlowImages:
        with self._lock:
            if self._slow is None:
                from pigmap.session.slow_images import SlowImages  # not before the first frame

                self._slow = SlowImages(self._canvas.stage.session, self._images, self.refused.emit)
            return self._slow

    @Slot(str)
    def _queue(self, image_uid: str) -> None:
        self._coming.discard(image_uid)
        runs = image_uid == self._uid and self._slow_images().in_work(image_uid) is self._in_work
        if image_uid not in self._waiting and not runs:
            self._waiting.append(image_uid)
        self._begin()

    def _begin(self) -> None:
        if self._job is not None or not self._waiting:
            return
        self._uid = self._waiting.pop(0)
        self._in_work = self._slow_images().in_work(self._uid)
        self._job = self._jobs.run(self._work(self._uid, self._slow_images()))
        self._job.done.connect(self._made)
        self._job.failed.connect(self._failed)
        self._job.ended.connect(self._go_on)

    def _work(self, image_uid: str, slow: SlowImages) -> Callable[[Progress, Stop], object]:
        def work(_: Progress, stop: Stop) -> object:
            _come_last()
            return slow.grow(
                image_uid, stop=giving_way(stop, self._canvas), told=lambda share: self._more.emit(image_uid, share)
            )

        return work

    @Slot(str, float)
    def _note(self, image_uid: str, share: float) -> None:
        self._shares[image_uid] = share
        if not self._show.isActive():
            self._show.start()

    def _show_more(self) -> None:
        for image_uid, share in self._shares.items():
            self._canvas.show_more_of(image_uid)
            self.grew.emit(image_uid, share)
        self._shares.clear()

    @Slot(object)
    def _made(self, made: Made | None) -> None:
        if made is None:
            return
        photo = self._photo(self._uid)
        self._shares.pop(self._uid, None)
        if photo is not None and photo.source is made.tiles:
            if made.overview is not None:
                photo.overview, photo.overview_bounds = decoding(made.overview.picture), made.overview.bounds
            self._canvas.show_anew(self._uid)
        self.grew.emit(self._uid, 1.0)

    @Slot(object)
    def _failed(self, why: object) -> None:
        """Show the image itself again, slow as it is."""
        if self._slow_images().in_work(self._uid) is not self._in_work:
            return  # its file is another one by now
        photo, source = self._photo(self._uid), self._slow_images().give_up(self._uid)
        if photo is not None and source is not None:
            photo.source = source
            self._canvas.show_anew(self._uid)
        self.refused.emit(why)

    @Slot()
    def _go_on(self) -> None:
        self._job, self._uid, self._in_work = None, "", None
        self._begin()


def _picture(pixels: NDArray[np.uint8]) -> QImage:
    rows, columns = pixels.shape[:2]
    picture = QImage(pixels.tobytes(), columns, rows, columns * 4, QImage.Format.Format_RGBA8888)
    return picture.convertToFormat(QImage.Format.Format_ARGB32_Premultiplied)


def giving_way(stop: Stop, canvas: GroundView) -> Stop:
    """Return what says stop as before, and waits while the map moves."""

    def asked() -> bool:
        while canvas.moves and not stop():
            time.sleep(_WAIT_S)
        return stop()

    return asked


def _come_last() -> None:
    if sys.platform == "linux":
        with contextlib.suppress(OSError):
            os.setpriority(os.PRIO_PROCESS, threading.get_native_id(), _NICE)
