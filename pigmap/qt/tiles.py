"""Tiles of aerial images: read by worker threads in the order in which they are wanted, kept while there is room."""

from __future__ import annotations

import contextlib
import os
import sys
import threading
from collections import OrderedDict
from collections.abc import Callable, Sequence
from time import monotonic
from typing import NamedTuple

import numpy as np
from numpy.typing import NDArray
from PySide6.QtCore import QObject, Signal
from PySide6.QtGui import QImage

CACHE_BYTES = 256 * 1024 * 1024
PATIENCE_S = 3.0
"""A window that closes waits no longer than this for tiles that are being read [s]. Own choice."""
_NICE = 10
_OPAQUE = 0xFF000000
"""Alpha is the highest byte of a pixel."""


class TileKey(NamedTuple):
    """One tile: level 0 is the image as it is, each further level halves it; rows count from the north."""

    image_uid: str
    level: int
    column: int
    row: int


ReadTile = Callable[[TileKey], QImage | None]
"""Reads a tile; None where there is nothing. Called by workers."""


class TileCache:
    """Tiles used last, up to a number of bytes; belongs to the window's thread."""

    def __init__(self, most_bytes: int = CACHE_BYTES) -> None:
        self.most_bytes = most_bytes
        self.bytes = 0
        self._tiles: OrderedDict[TileKey, QImage] = OrderedDict()

    def get(self, key: TileKey) -> QImage | None:
        """Return a tile if it is there; it then counts as used last."""
        tile = self._tiles.get(key)
        if tile is not None:
            self._tiles.move_to_end(key)
        return tile

    def __contains__(self, key: TileKey) -> bool:
        return key in self._tiles

    def put(self, key: TileKey, tile: QImage) -> None:
        """Keep a tile, and let go of those not used for longest when there is no room."""
        self.drop(key)
        self._tiles[key] = tile
        self.bytes += tile.sizeInBytes()
        self.fit(self.most_bytes)

    def fit(self, most_bytes: int) -> None:
        """Take no more memory than this from now on."""
        self.most_bytes = most_bytes
        while self.bytes > self.most_bytes and len(self._tiles) > 1:
            self.drop(next(iter(self._tiles)))

    def clear(self) -> None:
        """Forget all tiles."""
        self._tiles.clear()
        self.bytes = 0

    def drop_image(self, image_uid: str) -> None:
        """Forget all tiles of an image."""
        for key in [key for key in self._tiles if key.image_uid == image_uid]:
            self.drop(key)

    def drop(self, key: TileKey) -> None:
        """Forget a tile."""
        tile = self._tiles.pop(key, None)
        if tile is not None:
            self.bytes -= tile.sizeInBytes()


def worker_count(cores: int | None = None) -> int:
    """Return how many threads read tiles: two at least, four at most, one core left to the window where it can be.

    Examples
    --------
    >>> [worker_count(cores) for cores in (1, 2, 3, 4, 8)]
    [2, 2, 2, 3, 4]
    """
    cores = cores or os.cpu_count() or 2
    return max(2, min(cores - 1, 4))


def to_picture(pixels: NDArray[np.uint8], *, bgra: bool = False) -> QImage:
    """Return pixels as a picture in the format that is fastest to draw.

    Parameters
    ----------
    pixels
        (rows, columns, 4): red, green, blue, alpha; or, with `bgra`, blue, green, red and an alpha of 255 or, where
        the others are 0 too, 0. The second is what a screen draws: the picture then holds on to these very pixels, and
        nobody may write to them any more.
    """
    pixels = np.ascontiguousarray(pixels)
    rows, columns = pixels.shape[:2]
    opaque = bool(pixels.view("<u4").min(initial=_OPAQUE) >= _OPAQUE)  # a tenth of the time of looking at alpha alone
    wanted = QImage.Format.Format_RGB32 if opaque else QImage.Format.Format_ARGB32_Premultiplied
    if bgra and sys.byteorder == "little":
        return QImage(pixels.data, columns, rows, columns * 4, wanted)
    told = np.ascontiguousarray(pixels[..., [2, 1, 0, 3]]) if bgra else pixels
    return QImage(told.data, columns, rows, columns * 4, QImage.Format.Format_RGBA8888).convertToFormat(wanted)


def _come_after_the_window() -> None:
    """Let the window's thread go first where both want the processor; Linux alone knows this for one thread."""
    if sys.platform == "linux":
        with contextlib.suppress(OSError):
            os.setpriority(os.PRIO_PROCESS, threading.get_native_id(), _NICE)


class TileLoader(QObject):
    """Reads tiles in threads of its own; the queue is replaced as a whole, so what left the view is never read.

    Parameters
    ----------
    read
        Reads one tile; may be slow, is called by several threads at once.
    """

    ready = Signal()
    """Tiles can be taken; sent once, however many they are, until `take` was called."""

    def __init__(self, read: ReadTile, parent: QObject | None = None, *, workers: int | None = None) -> None:
        super().__init__(parent)
        self._read = read
        self._state = threading.Condition()
        self._queue: list[TileKey] = []
        self._running: set[TileKey] = set()
        self._done: list[tuple[TileKey, QImage | None]] = []
        self._told = False
        self._stopping = False
        self._one_at_a_time = False
        self.read_count = 0
        self._workers = [
            threading.Thread(target=self._work, name=f"tiles {i}", daemon=True)
            for i in range(workers or worker_count())
        ]
        self._started = False

    def want(self, keys: Sequence[TileKey]) -> None:
        """Replace the queue: most wanted first; what is being read already is not read twice."""
        with self._state:
            done = {key for key, _ in self._done}
            self._queue = [key for key in reversed(keys) if key not in self._running and key not in done]
            if not self._queue or self._stopping:
                return
            self._state.notify_all()
        if not self._started:
            self._started = True
            for worker in self._workers:
                worker.start()

    def give_way(self, give_way: bool) -> None:
        """Read one tile at a time while the map moves: the window needs the processor then."""
        if give_way != self._one_at_a_time:
            with self._state:
                self._one_at_a_time = give_way
                self._state.notify_all()

    @property
    def gives_way(self) -> bool:
        """Whether the map moves; may be asked by any thread."""
        return self._one_at_a_time

    def take(self) -> list[tuple[TileKey, QImage | None]]:
        """Return what was read since the last call; None for a tile with nothing on it."""
        with self._state:
            done, self._done, self._told = self._done, [], False
        return done

    @property
    def busy(self) -> bool:
        """Whether tiles are queued, being read, or not taken yet."""
        with self._state:
            return bool(self._queue or self._running or self._done)

    def wait(self, timeout_s: float) -> bool:
        """Wait until something can be taken or nothing is left to read; return whether it came to that in time."""
        with self._state:
            return self._state.wait_for(
                lambda: bool(self._done) or not (self._queue or self._running) or self._stopping, timeout_s
            )

    def close(self) -> None:
        """Stop reading and wait for every thread to end, but not long for a disk that does not answer.

        What is read after that goes to nobody. Calling it again does nothing.
        """
        with self._state:
            self._stopping = True
            self._queue.clear()
            self._state.notify_all()
        if self._started:
            until = monotonic() + PATIENCE_S
            for worker in self._workers:
                worker.join(max(until - monotonic(), 0.01))

    def _work(self) -> None:
        _come_after_the_window()
        while (key := self._next()) is not None:
            tile = self._read_one(key)
            with self._state:
                self._running.discard(key)
                self._done.append((key, tile))
                self.read_count += 1
                tell = not self._told and not self._stopping
                self._told = self._told or tell
                self._state.notify_all()
            if tell:
                self.ready.emit()

    @property
    def _may_read(self) -> bool:
        return bool(self._queue) and not (self._one_at_a_time and self._running)

    def _next(self) -> TileKey | None:
        with self._state:
            self._state.wait_for(lambda: self._may_read or self._stopping)
            if self._stopping:
                return None
            key = self._queue.pop()
            self._running.add(key)
            return key

    def _read_one(self, key: TileKey) -> QImage | None:
        try:
            return self._read(key)
        except Exception:  # noqa: BLE001  (a file that is gone or torn leaves the ground bare; `verify` names it)
            return None
