"""A view that is painted in slices of time: the first frame at a stretch, then piece by piece between events."""

from __future__ import annotations

from PySide6.QtCore import QPoint, QRect, QSize, QTimer, Signal
from PySide6.QtGui import QPainter, QPaintEvent, QRegion
from PySide6.QtWidgets import QWidget

from pigmap.qt.fading import Fading
from pigmap.qt.map_picture import MapPicture
from pigmap.qt.photo import PhotoSheet
from pigmap.qt.photo_reading import PhotoReading
from pigmap.qt.pixel_frame import rects
from pigmap.qt.previewing import Previewing
from pigmap.qt.tiles import TileCache

SLICE_S = 0.0025
"""A stretch of painting between two turns of the event loop [s]; the last piece of it may take a little longer."""
SOON_MS = 1
RETRY_MS = 10
FEW_RECTS = 3
"""More rectangles than these are copied as one."""


class SlicedView(Previewing):
    """Copies the kept picture to the screen, and has it painted while nothing else is to do."""

    first_frame = Signal()
    """The first complete frame was painted: what takes time to load waits for it."""
    settled = Signal()
    """Everything in view and round it is painted."""

    def __init__(self, parent: QWidget | None = None) -> None:
        super().__init__(parent)
        self.picture = MapPicture(PhotoSheet(TileCache()))
        self._reading = PhotoReading(self.picture, self)
        self._reading.arrived.connect(self._go_on)
        self._aimed = False
        """Whether it looks at any ground yet."""
        self._begun = False
        """Whether a frame was painted."""
        self._passing = False
        """Whether the view is at no place where it stays."""
        self.fading = Fading(self)
        self._work = QTimer(self, singleShot=True)
        self._work.timeout.connect(self._paint_slice)
        self._first = QTimer(self, singleShot=True)
        self._first.timeout.connect(self._after_first_frame)

    @property
    def complete(self) -> bool:
        """Whether a frame was painted and nothing in view is owed."""
        return self._begun and self.picture.is_complete

    def _ensure(self) -> None:
        """Have a view: of the ground that was asked for, or of all there is."""
        raise NotImplementedError

    def _want_tiles(self) -> None:
        if self._aimed:
            self._reading.want()

    def paintEvent(self, event: QPaintEvent) -> None:
        """Copy the kept picture, and paint what lies over it."""
        self._ensure()
        with QPainter(self) as painter:
            self._paint_all(painter, event.region())
        if not self._begun:
            self._begun = True
            self._first.start(0)
        if self.picture.has_blank:
            self._go_on()

    @property
    def may_load(self) -> bool:
        """Whether what takes time to load may begin: nothing in view is owed."""
        return self.picture.is_complete

    def _after_first_frame(self) -> None:
        if not self.may_load:
            self._first.start(RETRY_MS)
            return
        self.first_frame.emit()
        self._reading.begun = True
        self._want_tiles()
        self._go_on()

    def _paint_all(self, painter: QPainter, region: QRegion) -> None:
        density = self.picture.density
        painter.save()
        painter.scale(1 / density, 1 / density)
        few = region if region.rectCount() <= FEW_RECTS else QRegion(region.boundingRect())
        for rect in rects(few):
            corner = QPoint(int(rect.x() * density), int(rect.y() * density))
            size = QSize(int(rect.width() * density) + 2, int(rect.height() * density) + 2)
            self.picture.paint(painter, QRect(corner, size))
        painter.restore()
        self.fading.draw(painter, region)
        self.over.draw(painter, region, self.picture.view)

    @property
    def _paints_soon(self) -> bool:
        """Whether a slice of painting comes with the next turns of the event loop, not only at rest."""
        return self._work.isActive() and self._work.interval() == SOON_MS

    def _go_on(self) -> None:
        if self._aimed and not (self._paints_soon or self._passing or self._margin_waits):
            self._work.start(SOON_MS)

    @property
    def _margin_waits(self) -> bool:
        """Whether only ground beyond the edges is owed, and the first complete frame comes before it."""
        return self.picture.is_complete and not self._reading.begun

    def _paint_slice(self) -> None:
        if self._margin_waits or self._passing:
            return
        more = self.picture.work(SLICE_S) if self._reading.begun else self._paint_first()
        changed = self.picture.take_changed()
        if not changed.isEmpty():
            self.update(self.picture.on_widget(changed))
        if self.picture.is_complete:
            self._reading.want_round()
        if more:
            self._go_on()
            return
        self._reading.give_way(False)
        if not self._reading.busy:
            self.settled.emit()

    def _paint_first(self) -> bool:
        """Paint the first frame at a stretch; no more is to do then.

        Each piece would cost a look at every layer and a turn of all that lies over the map.
        """
        if not self.picture.is_complete:
            self.picture.complete()
        return False
