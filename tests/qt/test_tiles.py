from __future__ import annotations

import threading
from time import monotonic

import numpy as np
import pytest
from PySide6.QtGui import QImage
from pytestqt.qtbot import QtBot

from pigmap.qt.tiles import TileCache, TileKey, TileLoader, to_picture


def key(column: int) -> TileKey:
    return TileKey("photo", 0, column, 0)


def grey(_: TileKey) -> QImage:
    return to_picture(np.full((4, 4, 4), 255, dtype=np.uint8))


class Gate:
    """A reader that waits for a word, and remembers what it was asked for."""

    def __init__(self) -> None:
        self.open = threading.Event()
        self.entered = threading.Event()
        self.asked: list[int] = []

    def read(self, tile: TileKey) -> QImage:
        self.asked.append(tile.column)
        self.entered.set()
        assert self.open.wait(10)
        return grey(tile)


def test_tiles_come_back_read(qtbot: QtBot) -> None:
    loader = TileLoader(grey, workers=2)
    try:
        with qtbot.waitSignal(loader.ready):
            loader.want([key(1), key(2)])
        taken = dict(loader.take())
        while loader.busy:
            assert loader.wait(10)
            taken |= dict(loader.take())
        assert set(taken) == {key(1), key(2)}
        assert all(tile is not None and tile.width() == 4 for tile in taken.values())
    finally:
        loader.close()


def test_what_left_the_view_is_never_read() -> None:
    gate = Gate()
    loader = TileLoader(gate.read, workers=1)
    try:
        loader.want([key(1), key(2), key(3)])
        assert gate.entered.wait(10)
        loader.want([key(9), key(8)])
        gate.open.set()
        while loader.busy:
            loader.wait(10)
            loader.take()
        assert gate.asked == [1, 9, 8]
    finally:
        loader.close()


def test_a_tile_being_read_is_not_read_twice() -> None:
    gate = Gate()
    loader = TileLoader(gate.read, workers=2)
    try:
        loader.want([key(1)])
        assert gate.entered.wait(10)
        loader.want([key(1)])
        gate.open.set()
        while loader.busy:
            loader.wait(10)
            loader.take()
        assert gate.asked == [1]
    finally:
        loader.close()


def test_one_tile_at_a_time_is_read_while_the_map_moves() -> None:
    gate = Gate()
    loader = TileLoader(gate.read, workers=3)
    try:
        loader.give_way(True)
        loader.want([key(1), key(2), key(3)])
        assert gate.entered.wait(10)
        assert gate.asked == [1]
        loader.give_way(False)
        gate.open.set()
        while loader.busy:
            loader.wait(10)
            loader.take()
        assert sorted(gate.asked) == [1, 2, 3]
    finally:
        loader.close()


def test_all_tiles_come_one_after_the_other_too() -> None:
    loader = TileLoader(grey, workers=3)
    try:
        loader.give_way(True)
        loader.want([key(i) for i in range(10)])
        taken: dict[TileKey, QImage | None] = {}
        while loader.busy:
            assert loader.wait(10)
            taken |= dict(loader.take())
        assert len(taken) == 10
    finally:
        loader.close()


def test_many_tiles_are_told_once_until_they_are_taken(qtbot: QtBot) -> None:
    loader = TileLoader(grey, workers=1)
    told: list[int] = []
    loader.ready.connect(lambda: told.append(1))
    try:
        loader.want([key(i) for i in range(20)])
        qtbot.waitUntil(lambda: loader.read_count == 20)
        qtbot.waitUntil(lambda: bool(told))
        assert told == [1]
        assert len(loader.take()) == 20
    finally:
        loader.close()


def test_closing_does_not_wait_long_for_a_disk_that_does_not_answer(monkeypatch: pytest.MonkeyPatch) -> None:
    monkeypatch.setattr("pigmap.qt.tiles.PATIENCE_S", 0.2)
    gate = Gate()
    loader = TileLoader(gate.read, workers=2)
    told: list[None] = []
    loader.ready.connect(lambda: told.append(None))
    loader.want([key(1)])
    assert gate.entered.wait(5)
    begun = monotonic()
    loader.close()
    assert monotonic() - begun < 2
    gate.open.set()  # what comes late goes to nobody
    for worker in loader._workers:
        worker.join(5)
        assert not worker.is_alive()
    assert not told


def test_closing_waits_for_the_threads() -> None:
    gate = Gate()
    loader = TileLoader(gate.read, workers=1)
    loader.want([key(1), key(2)])
    assert gate.entered.wait(10)
    threading.Timer(0.05, gate.open.set).start()
    loader.close()
    assert gate.asked == [1]
    assert not any(thread.name.startswith("tiles") for thread in threading.enumerate())


def test_a_tile_that_cannot_be_read_is_bare_ground_not_the_end() -> None:
    def torn(tile: TileKey) -> QImage:
        raise OSError("torn file")

    loader = TileLoader(torn, workers=1)
    try:
        loader.want([key(1)])
        assert loader.wait(10)
        assert loader.take() == [(key(1), None)]
    finally:
        loader.close()


def test_the_cache_lets_go_of_what_was_not_used_for_longest() -> None:
    cache = TileCache(most_bytes=2 * 4 * 4 * 4)
    for column in (1, 2):
        cache.put(key(column), QImage(4, 4, QImage.Format.Format_RGB32))
    assert cache.get(key(1)) is not None
    cache.put(key(3), QImage(4, 4, QImage.Format.Format_RGB32))
    assert key(2) not in cache
    assert key(1) in cache
    assert cache.bytes == 2 * 4 * 4 * 4


@pytest.mark.parametrize(
    ("alpha", "wanted"),
    [(255, QImage.Format.Format_RGB32), (0, QImage.Format.Format_ARGB32_Premultiplied)],
    ids=["opaque", "with bare ground"],
)
def test_pixels_keep_their_colours(alpha: int, wanted: QImage.Format) -> None:
    pixels = np.zeros((2, 3, 4), dtype=np.uint8)
    pixels[:] = (200, 100, 50, 255)
    pixels[1, 2, 3] = alpha
    picture = to_picture(pixels)
    assert picture.format() == wanted
    assert picture.pixelColor(0, 0).getRgb() == (200, 100, 50, 255)
    assert picture.pixelColor(2, 1).alpha() == alpha
