"""The plate over the map that starts a person's own farm: from the sample farm, or on an empty grid."""

from __future__ import annotations

from dataclasses import replace
from pathlib import Path

from PySide6.QtCore import QEvent, QObject, QSize, Qt
from PySide6.QtGui import QKeyEvent, QResizeEvent
from PySide6.QtWidgets import QApplication, QScrollArea, QVBoxLayout, QWidget

from pigmap.builtin.panels.start_bring import BringPage
from pigmap.builtin.panels.start_form import StartForm
from pigmap.builtin.panels.start_sample import SamplePage
from pigmap.qt.map_plate import MapPlate
from pigmap.qt.paintwork import SHADOW
from pigmap.qt.stage import Stage
from pigmap.records import Farm
from pigmap.session.first_farm import is_sample
from pigmap.session.personal import load_personal, save_personal

PAD = 16
WIDE = 412
FOOT_BELOW = 14
"""Below what starts a farm [px]."""
SCROLL_BAR = 10
"""Breadth of the bar where the page scrolls [px]."""


class StartPlate(MapPlate):
    """Shows one page at a time; hidden where there is nothing to start."""

    def __init__(self, stage: Stage, parent: QWidget) -> None:
        super().__init__(stage, parent)
        self._map = parent
        self._scroll = QScrollArea(self)
        self._scroll.setFocusPolicy(Qt.FocusPolicy.NoFocus)
        self._scroll.setHorizontalScrollBarPolicy(Qt.ScrollBarPolicy.ScrollBarAlwaysOff)
        self._scroll.setVerticalScrollBarPolicy(Qt.ScrollBarPolicy.ScrollBarAlwaysOff)
        self._inside = inside = QWidget()
        self._scroll.setWidget(inside)
        self.sample = SamplePage(stage, inside)
        self.form = StartForm(stage, inside, self)
        self.bring = BringPage(stage, inside)
        self._forming = False
        self._column = QVBoxLayout(inside)
        self._column.setContentsMargins(PAD, PAD, PAD, PAD)
        inside.installEventFilter(self)
        self._column.addWidget(self.sample)
        self._column.addWidget(self.form)
        self._column.addWidget(self.bring)
        self.setAccessibleName(stage.say("Start my farm"))
        self.sample.start_asked.connect(lambda: self.open_form(None))
        self.sample.kept_looking.connect(self._keep_looking)
        self.form.closed.connect(self._close_form)
        self.bring.file_brought.connect(self.open_form)
        self.form.told.connect(lambda: self.reveal(self.form.refused))
        self.form.made.connect(stage.farm_asked)
        stage.start_asked.connect(self.open_form)
        stage.farm_changed.connect(self.show_page)
        stage.verb_changed.connect(self.show_page)
        self.show_page()

    def show_page(self) -> None:
        """Show what is to be started now, if anything."""
        page = self._page()
        for each in (self.sample, self.form, self.bring):
            each.setVisible(each is page)
        self.form.foot.setVisible(page is self.form)
        self.setVisible(page is not None)
        self.updateGeometry()

    def _page(self) -> QWidget | None:
        if self._forming:
            return self.form
        if is_sample(self.stage.session.path) and not load_personal().sample_plate_closed:
            return self.sample
        if self.stage.verb == "pick" and not self.stage.session.read_only and _is_empty(self.stage.session.farm):
            return self.bring
        return None

    def open_form(self, file: Path | None) -> None:
        """Ask what the farm is called and where it is."""
        self._forming = True
        self.show_page()
        begun = "" if file is None or self.form.name.text() else self.stage.session.farm.name
        self.form.begin(begun, file)

    def _close_form(self) -> None:
        self._forming = False
        self.show_page()
        self._map.setFocus(Qt.FocusReason.OtherFocusReason)

    def _keep_looking(self) -> None:
        save_personal(replace(load_personal(), sample_plate_closed=True))
        self.show_page()
        self._map.setFocus(Qt.FocusReason.OtherFocusReason)

    def keyPressEvent(self, event: QKeyEvent) -> None:
        """Put the form away on Esc."""
        if event.key() == Qt.Key.Key_Escape and self._forming:
            self._close_form()
        else:
            super().keyPressEvent(event)

    def reveal(self, part: QWidget) -> None:
        """Scroll to a part of the page."""
        self._scroll.ensureWidgetVisible(part, PAD, PAD)

    def sizeHint(self) -> QSize:
        """Return the room that the page takes."""
        wide = round(WIDE * self.stage.text_scale)
        return QSize(wide, self.heightForWidth(wide))

    def heightForWidth(self, width: int) -> int:
        """Return the height that the page takes in a breadth."""
        return self._column.totalHeightForWidth(width - 2 * SHADOW) + self._foot_high() + 2 * SHADOW

    def _foot_high(self) -> int:
        return 0 if self.form.foot.isHidden() else self.form.foot.sizeHint().height() + FOOT_BELOW

    def resizeEvent(self, event: QResizeEvent) -> None:
        """Lay the page out; it scrolls where the map is too low for it."""
        self._fit()

    def _fit(self) -> None:
        box = self.plate_box().toRect()
        foot = self._foot_high()
        self.form.foot.setGeometry(
            box.adjusted(PAD, box.height() - foot, -PAD, -FOOT_BELOW) if foot else self.form.foot.geometry()
        )
        box.adjust(0, 0, 0, -foot)
        wide = box.width()
        scrolls = self._column.totalHeightForWidth(wide) > box.height() + 1
        off, on = Qt.ScrollBarPolicy.ScrollBarAlwaysOff, Qt.ScrollBarPolicy.ScrollBarAlwaysOn
        self._scroll.setVerticalScrollBarPolicy(on if scrolls else off)
        self._scroll.setGeometry(box)
        wide -= SCROLL_BAR if scrolls else 0
        high = self._column.totalHeightForWidth(wide)
        self._inside.resize(wide, max(high, box.height()))

    def eventFilter(self, watched: QObject, event: QEvent) -> bool:
        """Ask for another size where the page wants one."""
        if event.type() == QEvent.Type.LayoutRequest:
            self.updateGeometry()
            self._fit()
            QApplication.postEvent(self._map, QEvent(QEvent.Type.LayoutRequest))
        return False

    def close_down(self) -> None:
        """Wait for a farm that is being made."""
        self.form.close_down()
        self.bring.close_down()


def _is_empty(farm: Farm) -> bool:
    return not (farm.fields or farm.paddocks or farm.keep_outs or farm.images)


class _Panel:
    name = "start"
    place = "start"
    verb = ""

    def make(self, stage: Stage, parent: QWidget) -> QWidget:
        """Return the plate."""
        return StartPlate(stage, parent)


panel = _Panel()
