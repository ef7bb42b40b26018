"""The picture that is being pinned: its pins so far, kept while other verbs run."""

from __future__ import annotations

from collections.abc import Callable
from pathlib import Path

import numpy as np
from numpy.typing import NDArray
from PySide6.QtCore import QObject, Signal
from PySide6.QtGui import QImage

from pigmap.document.edits.pinned_images import pin_image
from pigmap.errors import PigmapError
from pigmap.geometry.pinned import FEWEST, Fit, Pin, begun, fit_pins
from pigmap.imagery.where import called
from pigmap.qt.jobs import Jobs
from pigmap.qt.stage import Stage
from pigmap.records import Edit, Image
from pigmap.session.images import image_link, image_path
from pigmap.session.pictures import Looked, look_at, unplaced

Spot = tuple[float, float]
Bounds = tuple[float, float, float, float]


class Pinning(QObject):
    """One picture, its pins, and the point of it that waits for its place; read by a tool and its plate."""

    changed = Signal()
    placed = Signal(object)
    """The file (its path) tells its own place: it takes no pins."""

    def __init__(self, stage: Stage) -> None:
        super().__init__(stage)
        self._stage = stage
        self._jobs = Jobs(self)
        self._wanted: Path | None = None
        self._begun: Fit | None = None
        self.forget()

    def forget(self) -> None:
        """Have no picture."""
        self.path: Path | None = None
        self.image_uid = ""
        self.size = (1, 1)
        self.picture = QImage()
        self.pins: list[Pin] = []
        self.spot: Spot | None = None
        """A point of the picture, (column, row), that has no place yet."""
        self.refused: PigmapError | None = None
        """Why the file that was chosen last is none to be pinned."""
        self.doubted: Looked | None = None
        """A photo of a camera: a person is asked first whether it shows a map."""
        self._begun = None
        self.changed.emit()

    @property
    def reading(self) -> bool:
        """Whether a file is being read."""
        return self._wanted is not None

    def open(self, path: Path) -> None:
        """Take a file, off the window's thread; what it is comes as `changed` or `placed`."""
        self.forget()
        self._read(path, lambda: look_at(path))

    def open_again(self, image: Image) -> None:
        """Take up an image that was pinned before."""
        from pigmap.imagery.pinned import pins_of

        self.forget()
        try:
            pins = pins_of(image.pins)
        except PigmapError:  # another program spoilt them: they are set anew
            pins = ()
        self.image_uid, self.pins = image.uid, list(pins)
        path = image_path(self._stage.session.path, image)
        self._read(path, lambda: unplaced(path))

    def _read(self, path: Path, look: Callable[[], Looked]) -> None:
        self._wanted = path
        job = self._jobs.run(lambda progress, stop: look())
        job.done.connect(self._take)
        job.failed.connect(self._refuse)
        self.changed.emit()

    def _take(self, looked: object) -> None:
        if not isinstance(looked, Looked) or looked.path != self._wanted:
            return
        self._wanted = None
        if looked.picture is None:
            self.changed.emit()
            self.placed.emit(looked.path)
            return
        if looked.from_camera:
            self.doubted = looked
            self.changed.emit()
            return
        self._show(looked, looked.picture)

    def go_on(self) -> None:
        """Pin the photo that was asked about: it does show a map."""
        doubted, self.doubted = self.doubted, None
        if doubted is not None and doubted.picture is not None:
            self._show(doubted, doubted.picture)

    def _show(self, looked: Looked, picture: NDArray[np.uint8]) -> None:
        self.path, self.size = looked.path, looked.size
        rows, columns = picture.shape[:2]
        kept = np.ascontiguousarray(picture)
        self.picture = QImage(kept.data, columns, rows, 4 * columns, QImage.Format.Format_RGBA8888).copy()
        self.changed.emit()

    def _refuse(self, why: object) -> None:
        self._wanted = None
        if isinstance(why, PigmapError):
            self.image_uid, self.pins = "", []
            self.refused = why
        self.changed.emit()

    # Where it lies

    def fit(self) -> Fit:
        """Return where the pins put the picture.

        Raises
        ------
        RasterError
            If they do not place it yet.
        """
        return fit_pins(self.pins, ground_per_grid=self._stage.session.farm.projection.ground_per_grid)

    def shown(self, view: Bounds) -> Fit:
        """Return where to show the picture: by its pins, by the first of them, or in the middle of a view."""
        if len(self.pins) >= FEWEST:
            try:
                return self.fit()
            except PigmapError:
                pass  # the plate says why
        if self._begun is None:
            self._begun = begun((), self.size, view)
        if not self.pins:
            return self._begun
        corners = self._begun.to_ground(np.array([(0.0, self.size[1]), (self.size[0], 0.0)]))
        (west, south), (east, north) = corners.tolist()
        wide, high = (east - west) / 8, (north - south) / 8  # as large as it was shown in the view
        return begun(self.pins[:2], self.size, (west - wide, south - high, east + wide, north + high))

    def holds(self, spot: Spot) -> bool:
        """Whether a point, (column, row), lies on the picture."""
        return 0 <= spot[0] <= self.size[0] and 0 <= spot[1] <= self.size[1]

    # Pins

    def take_spot(self, spot: Spot | None) -> None:
        """Take a point of the picture that waits for its place, or none."""
        self.spot = spot
        self.changed.emit()

    def put(self, east_m: float, north_m: float) -> None:
        """Give the point that waits its place."""
        if self.spot is not None:
            self.pins.append(Pin(*self.spot, east_m, north_m))
            self.take_spot(None)

    def set_pin(self, number: int, pin: Pin | None) -> None:
        """Change a pin, counted from 0, take it away, or add one behind the last."""
        self.pins[number : number + 1] = [] if pin is None else [pin]
        self.changed.emit()

    def edit(self) -> Edit:
        """Return the edit that keeps the picture with its pins.

        Raises
        ------
        RasterError
            If they do not place it.
        """
        from pigmap.imagery.pinned import pins_text

        self.fit()
        assert self.path is not None
        link = image_link(self._stage.session.path, self.path)
        return pin_image(
            Path(called(self.path)).stem, link, pins_text(self.pins), count=len(self.pins), uid=self.image_uid
        )

    def close(self) -> None:
        """Wait for a file that is being read."""
        self._jobs.close()


def pinning_of(stage: Stage) -> Pinning:
    """Return the pinning of a stage: a panel begins it, a tool goes on with it."""
    return stage.beside(Pinning)
