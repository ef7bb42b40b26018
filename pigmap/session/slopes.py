"""The slope of every field's cells, read from the farm's terrain images by a thread of its own."""

from __future__ import annotations

from collections.abc import Callable, Iterator, Mapping
from concurrent.futures import Future, ThreadPoolExecutor
from pathlib import Path, PurePosixPath
from typing import NamedTuple

import numpy as np
from numpy.typing import NDArray

from pigmap.errors import PigmapError
from pigmap.geometry.frame import CellFrame
from pigmap.records import Farm, Projection, Terrain
from pigmap.session.opened import Opened

Slopes = NDArray[np.float32]


class _Wanted(NamedTuple):
    """What slopes follow from: nothing else is asked for anew."""

    frame: CellFrame
    projection: Projection
    paths: tuple[str, ...]


def terrain_path(session_path: Path, terrain: Terrain) -> Path:
    """Return where the file of a terrain image is, from the farm file's path and its link."""
    link = Path(terrain.link)
    return link if link.is_absolute() else session_path.resolve().parent.joinpath(*PurePosixPath(terrain.link).parts)


class _Read(NamedTuple):
    slopes: Slopes
    refused: Mapping[str, PigmapError]


class SlopeKeeper:
    """Slopes in degrees, cell by cell; not a number where no terrain image reaches.

    In a session that works in line they are read when they are asked for. In one with a window a thread reads them;
    until they are there `of` answers None, and listeners are told with the uid of the field once they are. All but
    the reading is done on the thread on which the farm is shown.
    """

    def __init__(self, session: Opened) -> None:
        self._session = session
        self._made: dict[str, tuple[_Wanted, Slopes]] = {}
        self._reading: dict[str, tuple[_Wanted, Future[_Read]]] = {}
        self._listeners: list[Callable[[str], None]] = []
        self._refused: dict[str, PigmapError] = {}
        self._reader: ThreadPoolExecutor | None = None
        self.told: Callable[[PigmapError], None] | None = None
        """Is told why a terrain image could not be read, once for each."""

    def of(self, field_uid: str, frame: CellFrame) -> Slopes | None:
        """Return the slopes of a field's cells, (rows, columns), read-only; None while they are read."""
        farm, post = self._session.farm, self._session.post
        wanted = _Wanted(frame, farm.projection, tuple(_paths(self._session.path, farm)))
        made = self._made.get(field_uid)
        if made is not None and made[0] == wanted:
            return made[1]
        if post is None or not wanted.paths:
            self._take(field_uid, wanted, _read(wanted))
            return self._made[field_uid][1]
        reading = self._reading.get(field_uid)
        if reading is None or reading[0] != wanted:
            self._want(field_uid, wanted, post)
        return None

    def listen(self, fn: Callable[[str], None]) -> Callable[[], None]:
        """Call a function with the uid of every field whose slopes are there anew; returns what ends that."""
        self._listeners.append(fn)

        def unlisten() -> None:
            if fn in self._listeners:
                self._listeners.remove(fn)

        return unlisten

    def settle(self) -> None:
        """Wait until all slopes that were asked for are read."""
        for field_uid, (wanted, future) in tuple(self._reading.items()):
            future.exception()  # waits
            self._arrived(field_uid, wanted, future)

    def close(self) -> None:
        """Stop, and wait for what is being read."""
        self._reading.clear()
        if self._reader is not None:
            self._reader.shutdown(wait=True, cancel_futures=True)

    def _want(self, field_uid: str, wanted: _Wanted, post: Callable[[Callable[[], None]], None]) -> None:
        if self._reader is None:
            self._reader = ThreadPoolExecutor(1, thread_name_prefix="slope")
        future = self._reader.submit(_read, wanted)
        self._reading[field_uid] = wanted, future
        future.add_done_callback(lambda done: post(lambda: self._arrived(field_uid, wanted, done)))

    def _arrived(self, field_uid: str, wanted: _Wanted, future: Future[_Read]) -> None:
        if self._reading.get(field_uid) != (wanted, future):
            return  # another one is wanted by now, or it was taken already
        del self._reading[field_uid]
        self._take(field_uid, wanted, future.result())
        for fn in tuple(self._listeners):
            fn(field_uid)

    def _take(self, field_uid: str, wanted: _Wanted, read: _Read) -> None:
        self._made[field_uid] = wanted, read.slopes
        for path, why in read.refused.items():
            if path not in self._refused:
                self._refused[path] = why
                if self.told is not None:
                    self.told(why)


def _paths(session_path: Path, farm: Farm) -> Iterator[str]:
    for row in farm.terrains.values():
        yield str(terrain_path(session_path, row))


def _read(wanted: _Wanted) -> _Read:
    """Return the slopes, where several images lie over each other those of the first."""
    from pigmap.imagery.terrain import slope_over  # by the thread that reads

    slopes = np.full((wanted.frame.rows, wanted.frame.columns), np.nan, dtype=np.float32)
    refused: dict[str, PigmapError] = {}
    for path in wanted.paths:
        try:
            found = slope_over(Path(path), wanted.projection, wanted.frame)
        except PigmapError as why:
            refused[path] = why
        else:
            slopes = np.where(np.isnan(slopes), found, slopes)
    slopes.flags.writeable = False
    return _Read(slopes, refused)
