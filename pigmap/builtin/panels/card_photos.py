"""Photos on a card, small and in one row: those of a daily check, and of the last check of a stay."""

from __future__ import annotations

from collections.abc import Sequence

from PySide6.QtCore import QSize
from PySide6.QtGui import QIcon, QPixmap
from PySide6.QtWidgets import QToolButton, QWidget

from pigmap.builtin.panels.card_facts import CardFacts
from pigmap.builtin.panels.fence_facts import last_check
from pigmap.drawing.words import day_words
from pigmap.qt.photo_looked_at import look_at_photo
from pigmap.qt.stage import Stage
from pigmap.records import Photo
from pigmap.session.photos import small_of

MOST = 4
"""Photos in the row, the newest; the plate of photos has them all."""
GAP = 6


def photos_of(stage: Stage, facts: CardFacts | None) -> tuple[Photo, ...]:
    """Return the photos that belong on a card, the newest first."""
    farm = stage.session.farm
    if facts is None or not farm.photos or facts.table not in ("checks", "paddocks"):
        return ()
    uid = facts.uid
    if facts.table == "paddocks":
        check = last_check(stage, farm.stays.get(facts.stay_uid))
        uid = check.uid if check is not None else ""
    return tuple(reversed([photo for photo in farm.photos.values() if uid and photo.check_uid == uid]))[:MOST]


class CardPhotos(QWidget):
    """A row of buttons, each a photo; one that is pressed shows it large."""

    def __init__(self, stage: Stage, parent: QWidget) -> None:
        super().__init__(parent)
        self.stage = stage
        self.buttons: list[QToolButton] = []
        self._shown: tuple[str, ...] = ()

    def show_photos(self, photos: Sequence[Photo]) -> None:
        """Show these, and no others."""
        wanted = tuple(photo.uid for photo in photos)
        self.setVisible(bool(photos))
        if wanted == self._shown:
            return
        self._shown = wanted
        for button in self.buttons:
            button.hide()
            button.deleteLater()
        small = small_of(self.stage.session, photos)
        self.buttons = [self._button(photo, small.get(photo.uid)) for photo in photos]

    def _button(self, photo: Photo, small: bytes | None) -> QToolButton:
        stage = self.stage
        button = QToolButton(self)
        seen = QPixmap()
        if small is not None and seen.loadFromData(small):
            button.setIcon(QIcon(seen))
        else:
            button.setText(stage.say("Photo"))
        day = day_words(photo.taken_on, "short year", language=stage.language) if photo.taken_on is not None else ""
        called = stage.say("Photo, {day}", day=day) if day else stage.say("Photo")
        button.setAccessibleName(called)
        button.setToolTip(called)
        button.clicked.connect(lambda: look_at_photo(stage, photo.uid))
        button.show()
        return button

    def heightForWidth(self, wide: int) -> int:
        """Return the height of the row in a breadth."""
        return (wide - (MOST - 1) * GAP) // MOST

    def lay(self, x: int, y: int, wide: int) -> None:
        """Lay the row at its place in the card."""
        side = self.heightForWidth(wide)
        self.setGeometry(x, y, wide, side)
        for at, button in enumerate(self.buttons):
            button.setGeometry(at * (side + GAP), 0, side, side)
            button.setIconSize(QSize(side - 8, side - 8))
