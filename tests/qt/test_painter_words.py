from __future__ import annotations

import numpy as np
import pytest
from PySide6.QtGui import QImage, QPainter
from pytestqt.qtbot import QtBot

from pigmap.qt.painter_words import write_words

MIXED = "Ley \u05e2\u05d1\u05e8\u05d9\u05ea 3 \u0645\u0631\u062c"


def ink(room: float) -> tuple[int, int]:
    """Return the first and last column with ink of words that begin at 10."""
    image = QImage(400, 40, QImage.Format.Format_Grayscale8)
    image.fill(255)
    with QPainter(image) as painter:
        write_words(painter, 10, 25, MIXED, 16, room=room)
    dark = np.frombuffer(image.constBits(), np.uint8).reshape(40, -1)[:, :400] < 128
    columns = np.flatnonzero(dark.any(axis=0))
    return int(columns[0]), int(columns[-1])


@pytest.mark.parametrize("room", [40.0, 60.0])
def test_words_that_are_broader_than_reckoned_keep_to_their_room(qtbot: QtBot, room: float) -> None:
    first, last = ink(room)
    assert first >= 9
    assert last <= 10 + room + 1


def test_words_that_fit_are_written_as_they_are(qtbot: QtBot) -> None:
    assert ink(300.0) == ink(0.0)
    assert ink(0.0)[1] > 75
