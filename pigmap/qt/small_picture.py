"""The small picture of an image, decoded on a thread of its own: Qt lets the interpreter go meanwhile."""

from __future__ import annotations

import threading
from collections.abc import Callable
from pathlib import Path

from PySide6.QtGui import QImage

Small = Callable[[], QImage | None]
"""Gives the small picture of an image, waiting for it where it is not decoded yet; None where there is none."""


def none() -> QImage | None:
    """Return no picture."""
    return None


def decoding(file: Path) -> Small:
    """Begin to decode a picture, and return what waits for it and gives it."""
    found: list[QImage] = []

    def decode() -> None:
        picture = QImage(str(file))
        if not picture.isNull():
            found.append(picture.convertToFormat(QImage.Format.Format_ARGB32_Premultiplied))

    thread = threading.Thread(target=decode, name="small picture", daemon=True)
    thread.start()

    def small() -> QImage | None:
        thread.join()
        return found[0] if found else None

    return small
