"""The photo that somebody wants to see: a sign on the map and a card ask for it, the plate of photos shows it."""

from __future__ import annotations

from PySide6.QtCore import QObject

from pigmap.qt.stage import Stage

PLATE = "photos"
"""Name of the plate."""


class PhotoLookedAt(QObject):
    """What was asked for last; one for each stage."""

    def __init__(self, stage: Stage) -> None:
        super().__init__(stage)
        self.uid = ""


def look_at_photo(stage: Stage, uid: str) -> None:
    """Have the plate of photos come up with a photo."""
    stage.beside(PhotoLookedAt).uid = uid
    stage.plate_asked.emit(PLATE)
