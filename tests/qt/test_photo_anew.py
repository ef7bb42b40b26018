"""An image that is shown otherwise while it is still being opened is opened as it is wanted now."""

from __future__ import annotations

from pigmap.qt.photo import OPENING, Photo, PhotoSheet
from pigmap.qt.tiles import TileCache, TileKey
from tests.qt.test_canvas import Colours


def test_what_was_opened_of_another_picture_is_not_taken_for_this_one() -> None:
    sheet = PhotoSheet(TileCache(10_000_000))
    key = TileKey("air", OPENING, 0, 0)
    later = Photo(Colours)

    def slow() -> Colours:
        sheet.photos = {"air": later}  # meanwhile other colours were chosen
        return Colours()

    sheet.photos = {"air": Photo(slow)}
    sheet.take(key, sheet.read(key))
    assert later.source is None
    assert sheet.again_in_s is not None  # it is asked for again
    sheet.take(key, sheet.read(key))
    assert later.source is not None
    assert sheet.again_in_s is None
