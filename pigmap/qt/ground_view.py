"""A view of the ground: what it shows, where it looks, and that it gives the pointer to a tool."""

from __future__ import annotations

from collections.abc import Callable, Mapping, Sequence
from time import perf_counter

from PySide6.QtCore import QCoreApplication, QPointF, QSize, Qt, Signal
from PySide6.QtGui import QCloseEvent, QColor, QResizeEvent
from PySide6.QtWidgets import QWidget

from pigmap.drawing.layer import Cells, Layer
from pigmap.drawing.tokens import THEMES
from pigmap.drawing.view import View
from pigmap.qt.gestures import Gestures
from pigmap.qt.glide import held_scale
from pigmap.qt.map_picture import split
from pigmap.qt.photo import Photo
from pigmap.qt.sliced_view import SlicedView
from pigmap.qt.stage import Stage

REST_MS = 60
"""Sheets follow so long after colours that were shown at once: not while days are dragged past."""
Bounds = tuple[float, float, float, float]


class GroundView(SlicedView):
    """Shows the layers it is told, moves and zooms over them, and gives the pointer to a tool.

    Parameters
    ----------
    stage
        What the window shows; tools reach it through the map.
    """

    moved = Signal()
    """The view changed."""

    def __init__(self, stage: Stage, parent: QWidget | None = None) -> None:
        super().__init__(parent)
        self.stage = stage
        self.whole: Bounds = (0.0, 0.0, 100.0, 100.0)
        """Ground that is shown when all of it is asked for: west, south, east, north [m]."""
        self.kept_top = 0
        """Kept free at the upper edge where ground is shown whole, for plates that lie there [px]."""
        self._wanted: Bounds | None = None
        """Ground that was asked for, until the map is moved by hand."""
        self._waits: list[Callable[[], None]] = []
        self.gestures = Gestures(self)
        self.setAttribute(Qt.WidgetAttribute.WA_OpaquePaintEvent)
        self.setMouseTracking(True)
        self.setFocusPolicy(Qt.FocusPolicy.StrongFocus)
        self.setAccessibleName(stage.say("Map"))
        self._dress()
        stage.theme_changed.connect(self._dress)

    # What is shown

    def show_layers(self, layers: Sequence[Layer], *, apart: bool = False) -> None:
        """Show these layers, from below to above; sheets on which nothing changed are not painted again.

        With `apart` lines that are the same on all days have a sheet of their own: days that are played take half the
        time, while a map that is moved has one sheet more to paint.
        """
        photos, below, cells, lines, signs = split(layers)
        if not apart:
            lines, signs = [], [*lines, *signs]
        if photos != list(self.picture.photo.layers):
            self.picture.show_photos(photos, self.picture.photo.photos)
        self.picture.show("photo", below)
        self.picture.show("cells", cells)
        self.picture.show("lines", lines)
        self.picture.show("signs", signs)
        self._want_tiles()
        self._go_on()

    def show_cells(self, cells: Sequence[Cells]) -> None:
        """Show other tinted ground at once, under the same lines and words."""
        changed = self.picture.show("cells", cells)
        if self._aimed and not changed.isEmpty():
            if not self._reading.begun:  # nobody looks yet: the first frame is painted once
                self._go_on()
                return
            self.picture.show_cells()
            self.update(self.picture.on_widget(changed))
            if not self._paints_soon:
                self._work.start(REST_MS)

    def show_photos(self, photos: Mapping[str, Photo]) -> None:
        """Show these images, by uid of their records, where the layers name them."""
        self.picture.show_photos(self.picture.photo.layers, dict(photos))
        self._want_tiles()
        self._go_on()

    def show_more_of(self, image_uid: str) -> None:
        """Ask again for tiles of an image that were not there yet."""
        self.picture.photo.ask_again(image_uid)
        self._want_tiles()

    def show_anew(self, image_uid: str) -> None:
        """Read all tiles of an image again: there are better ones."""
        self._reading.take()  # what was read of the ones before goes, too
        self.picture.photo.forget(image_uid)
        self.picture.spoil("photo")
        self._want_tiles()
        self._go_on()

    @property
    def moves(self) -> bool:
        """Whether the map is being moved; may be asked by any thread."""
        return self._reading.gives_way

    def show_at_once(self, ground: Bounds) -> None:
        """Paint the lines and words over some ground now, not in slices: something there changed just now."""
        if self._aimed:
            self.picture.complete_at(ground)
            self.update()

    def show_now(self) -> None:
        """Paint all that is owed in view now, at a stretch: in slices it would not be there before the next day."""
        if self._aimed:
            self.picture.complete()
            self.update()

    def wait_for(self, wait: Callable[[], None]) -> None:
        """Have `settle` wait for something more: arrays that are computed in a worker."""
        self._waits.append(wait)

    # Where the view is

    @property
    def view(self) -> View:
        """Which ground lies where on the widget."""
        self._ensure()
        return self.picture.view

    def look_at(self, bounds: Bounds) -> None:
        """Show some ground as large as it goes: west, south, east, north [m]."""
        self._wanted = bounds
        self._aimed = self._passing = False
        self.update()

    def view_of(self, bounds: Bounds) -> View:
        """Return the view that shows some ground as large as it goes: west, south, east, north [m]."""
        return View.around(bounds, max(self.width(), 2), max(self.height(), 2), top=self.kept_top)

    def show_whole(self) -> None:
        """Show all of the farm."""
        self.look_at(self.whole)

    def pan_by(self, dx: int, dy: int) -> None:
        """Move the view by whole device pixels, to the east and to the south."""
        self._ensure()
        self._wanted = None
        self._reading.give_way(True)
        self.picture.pan(dx, dy)
        self._moved()

    def zoom_by(self, factor: float, at: QPointF | None = None) -> None:
        """Show ground larger by a factor; a spot of the widget, or its middle, stays where it is."""
        view = self.view
        spot = at if at is not None else QPointF(view.width / 2, view.height / 2)
        x, y = view.to_ground(spot.x(), spot.y())
        scale = held_scale(self.picture.frame.metres_per_pixel / factor)
        unit = scale * self.picture.density
        self.aim(x - (spot.x() - view.width / 2) * unit, y + (spot.y() - view.height / 2) * unit, scale)

    def aim(self, x_m: float, y_m: float, metres_per_pixel: float, *, passing: bool = False) -> None:
        """Look at a point at a scale [grid m, grid m of a device pixel]; only in passing nothing is painted for it."""
        self._wanted, self._passing = None, passing
        self._aim(x_m, y_m, metres_per_pixel)

    def rest(self) -> None:
        """Paint what is in view, if the view only passed it."""
        if self._passing:
            self._passing = False
            self._moved()

    def _aim(self, x_m: float, y_m: float, metres_per_pixel: float) -> None:
        self.picture.density = self.devicePixelRatioF()
        size = QSize(round(self.width() * self.picture.density), round(self.height() * self.picture.density))
        self.picture.aim(x_m, y_m, metres_per_pixel, size.expandedTo(QSize(1, 1)))
        self._aimed = True
        self._moved()

    def _ensure(self) -> None:
        """Have a view: of the ground that was asked for, or of all of the farm."""
        if not self._aimed:
            self._wanted = self._wanted or self.whole
            view = self.view_of(self._wanted)
            self._aim(view.centre_x_m, view.centre_y_m, view.metres_per_unit / self.devicePixelRatioF())

    def _moved(self) -> None:
        self.fading.stop()
        if not self._passing:
            self._reading.follow()
            self._go_on()
        self.over.place(self.picture.view)
        self.update()
        self.moved.emit()

    def _dress(self) -> None:
        self.picture.paper = QColor(THEMES[self.stage.theme].paper)
        if self._aimed:
            self.picture.begin()
            self._moved()

    def settle(self, timeout_s: float = 30.0) -> bool:
        """Wait until arrays are computed, tiles read and the view painted; return whether it came to that in time."""
        until = perf_counter() + timeout_s
        self._ensure()
        for wait in self._waits:
            wait()
        QCoreApplication.sendPostedEvents()
        there = self._reading.settle(until)
        self.picture.complete()
        self.update()
        return there

    # Events

    def resizeEvent(self, event: QResizeEvent) -> None:
        """Keep the middle of the view where it is, at the same scale; nobody moved the map yet: show all again."""
        if event.size() == event.oldSize():
            return
        if self._aimed and self._wanted is None:
            frame = self.picture.view
            self._aim(frame.centre_x_m, frame.centre_y_m, self.picture.frame.metres_per_pixel)
        else:
            self._aimed = False

    def closeEvent(self, event: QCloseEvent) -> None:
        """Stop what works in the background."""
        self.close_down()

    def close_down(self) -> None:
        """Stop reading tiles and wait for the threads; calling it again does nothing."""
        self.gestures.glide.stop()
        self.gestures.end()
        self._work.stop()
        self._first.stop()
        self._reading.close()
