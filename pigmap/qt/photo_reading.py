"""Reads the tiles that a picture of the map wants, and has it painted anew where they come in."""

from __future__ import annotations

from time import perf_counter

from PySide6.QtCore import QObject, QRect, QTimer, Signal

from pigmap.qt.map_picture import MapPicture
from pigmap.qt.photo import OPENING
from pigmap.qt.pixel_frame import PixelFrame
from pigmap.qt.tiles import TileLoader


class PhotoReading(QObject):
    """Stands between a picture and the threads that read its photo."""

    arrived = Signal()
    """Tiles came in: the picture owes what they fill."""

    def __init__(self, picture: MapPicture, parent: QObject | None = None) -> None:
        super().__init__(parent)
        self._picture = picture
        self._loader = TileLoader(picture.photo.read, self)
        self._loader.ready.connect(self.take)
        self._asked: tuple[PixelFrame, QRect] | None = None
        """For which pixels tiles were asked for last."""
        self._waits = False
        """Whether tiles round the view wait until the view is painted: they would take its time."""
        self._again = QTimer(self, singleShot=True)
        self._again.timeout.connect(self.want)
        self.begun = False
        """Whether tiles may be read: the image readers are loaded after the first frame."""

    @property
    def busy(self) -> bool:
        """Whether tiles are queued, being read, or not taken yet."""
        return self._loader.busy

    def follow(self) -> None:
        """Ask for what is missing once the picture keeps other ground; a small move within it changes nothing."""
        if self._waits or (self._picture.frame, self._picture.areas[1]) != self._asked:
            self.want()

    def want(self, *, at_once: bool = False) -> None:
        """Ask for the tiles that are missing in view, and for those round it once it is painted, or at once."""
        if not self.begun:
            return
        picture = self._picture
        self._asked = picture.frame, QRect(picture.areas[1])
        missing = picture.photo.wanted(picture.frame, picture.areas[:1])
        self._waits = not at_once and (bool(missing) or not picture.is_complete)
        if not self._waits:
            missing = picture.photo.wanted(picture.frame, picture.areas)
        self._loader.want(missing)

    def want_round(self) -> None:
        """Ask for the tiles round the view, if they wait for it: it is painted."""
        if self._waits:
            self.want()

    def take(self) -> None:
        """Keep the tiles that came in."""
        photo = self._picture.photo
        taken = self._loader.take()
        for key, tile in taken:
            photo.take(key, tile)
            rect = photo.pixels_of(key, self._picture.frame)
            if not rect.isEmpty() and (tile is not None or key.level == OPENING):
                self._picture.spoil("photo", rect)
        if any(key.level == OPENING for key, _ in taken):  # its tiles are known only now
            self.want()
        elif not self._loader.busy:
            self.want_round()
        again_s = photo.again_in_s
        if again_s is not None and not self._again.isActive():
            self._again.start(round(again_s * 1000) + 50)
        self.arrived.emit()

    def give_way(self, give_way: bool) -> None:
        """Read one tile at a time while the map moves."""
        self._loader.give_way(give_way)

    @property
    def gives_way(self) -> bool:
        """Whether the map moves; may be asked by any thread."""
        return self._loader.gives_way

    def settle(self, until: float) -> bool:
        """Wait for all tiles until a time of `time.perf_counter`; return whether they came."""
        self.begun = True
        self.give_way(False)
        self.want(at_once=True)
        self.take()
        while self.busy and perf_counter() < until:
            self._loader.wait(until - perf_counter())
            self.take()
        return not self.busy

    def close(self) -> None:
        """Stop reading and wait for the threads; calling it again does nothing."""
        self._again.stop()
        self._loader.close()
