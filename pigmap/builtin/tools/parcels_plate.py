"""The plate beside outlines that are offered: a list to take from, all or none, and what is taken in words."""

from __future__ import annotations

from PySide6.QtCore import QEvent, QObject, Qt, Signal
from PySide6.QtGui import QKeyEvent
from PySide6.QtWidgets import QHBoxLayout, QLabel, QListWidget, QListWidgetItem, QVBoxLayout, QWidget

from pigmap.qt.buttons import WordButton
from pigmap.qt.following import sentence
from pigmap.qt.map_plate import MapPlate
from pigmap.qt.paintwork import SHADOW, line_height
from pigmap.qt.parcel_picking import ParcelPicking
from pigmap.qt.stage import Stage
from pigmap.qt.theme import Role, font, tokens
from pigmap.session.county import LISTED_M
from pigmap.text import Quantity, Text, Value

WIDE_PX = 320
MARGIN = 12 - SHADOW
PAD = 12 + SHADOW
ROWS_SHOWN = 9
CHECKED, UNCHECKED = Qt.CheckState.Checked, Qt.CheckState.Unchecked


class ParcelsPlate(MapPlate):
    """Lies over the map's upper left corner while outlines are picked."""

    choose_asked = Signal()
    take_asked = Signal()
    current_changed = Signal(int)
    """Number of the row that the keys are at; -1 for none."""

    def __init__(self, stage: Stage, parent: QWidget, picking: ParcelPicking) -> None:
        super().__init__(stage, parent)
        self._over, self._picking = parent, picking
        self.head, self.file = self._label("heading", "ink"), self._label("second", "ink2")
        self.said, self.hint = self._label("strong", "ink"), self._label("second", "ink2")
        self.choose = WordButton(stage, "", "plain", self)
        self.all = WordButton(stage, stage.say("All (A)"), "plain", self)
        self.none = WordButton(stage, stage.say("None (N)"), "plain", self)
        self.take = WordButton(stage, stage.say("Make them fields (Enter)"), "plain", self)
        self.list = _List(self, self._turn_current, self._leave, self.take_asked.emit)
        self.list.setFont(font("body", stage))
        self.list.setAccessibleName(stage.say("Outlines near the place"))
        self._lay_out()
        self.choose.clicked.connect(self.choose_asked)
        self.all.clicked.connect(picking.take_all)
        self.none.clicked.connect(picking.take_none)
        self.take.clicked.connect(self.take_asked)
        self.list.itemChanged.connect(self._checked)
        self.list.currentRowChanged.connect(self.current_changed)
        picking.offered_changed.connect(self.renew)
        picking.taken_changed.connect(self.show_taken)
        parent.installEventFilter(self)
        self.setAccessibleName(stage.say("Pick your fields"))
        self.renew()

    def _label(self, role: Role, colour: str) -> QLabel:
        label = QLabel(self)
        label.setFont(font(role, self.stage))
        label.setWordWrap(True)
        label.setTextFormat(Qt.TextFormat.PlainText)
        label.setStyleSheet(f"color: {getattr(tokens(self.stage), colour)}; background: transparent;")
        return label

    def _lay_out(self) -> None:
        column = QVBoxLayout(self)
        column.setContentsMargins(PAD, PAD, PAD, PAD)
        column.setSpacing(8)
        self.head.setText(self.stage.say("Pick your fields"))
        both = QHBoxLayout()
        both.setSpacing(8)
        both.addWidget(self.all)
        both.addWidget(self.none)
        for widget in (self.head, self.file, self.choose):
            column.addWidget(widget)
        column.addLayout(both)
        column.addWidget(self.list)
        for widget in (self.said, self.take, self.hint):
            column.addWidget(widget)
        self.list.setFixedHeight(round(ROWS_SHOWN * (line_height(font("body", self.stage)) + 8)))

    def renew(self) -> None:
        """List what is offered."""
        stage, parcels = self.stage, self._picking.parcels
        self.choose.setText(stage.say("Another file") if parcels is not None else stage.say("Choose the file"))
        self.choose.setAccessibleName(self.choose.text())
        self.list.blockSignals(True)
        self.list.clear()
        for number, each in enumerate(parcels.offered if parcels is not None else ()):
            assert parcels is not None
            area = stage.words(Text("{area}", {"area": Quantity(parcels.areas_m2[number], "m²")}))
            item = QListWidgetItem(f"{each.name}, {area}")
            item.setFlags(item.flags() | Qt.ItemFlag.ItemIsUserCheckable)
            item.setCheckState(UNCHECKED)
            self.list.addItem(item)
        self.list.blockSignals(False)
        for widget in (self.all, self.none, self.list, self.take, self.hint):
            widget.setVisible(parcels is not None)
        self.file.setText(self._file_words())
        self.hint.setText(stage.say("Click an outline to take it, again to leave it. In the list: Space. Esc ends."))
        self.show_taken()

    def _file_words(self) -> str:
        stage, picking = self.stage, self._picking
        if picking.reading:
            return stage.say("The file is being read.")
        if picking.refused is not None:
            return stage.words(sentence(picking.refused))
        parcels = picking.parcels
        if parcels is None:
            return stage.say("A file with the outlines of a county or of your farm.")
        values: dict[str, Value] = {
            "file": parcels.file.name,
            "all": f"{parcels.all_there:,}".replace(",", " "),
            "near": f"{parcels.near:,}".replace(",", " "),
            "most": len(parcels.offered),
            "far": Quantity(LISTED_M, "m"),
        }
        if parcels.near > len(parcels.offered):
            return stage.say(
                "{file}: {near} of {all} outlines lie within {far}; the nearest {most} are shown.", **values
            )
        return stage.say("{file}: {near} of {all} outlines lie within {far}.", **values)

    def show_taken(self) -> None:
        """Say what is taken, in number and ground."""
        stage, picking = self.stage, self._picking
        self.list.blockSignals(True)
        for number in range(self.list.count()):
            self.list.item(number).setCheckState(CHECKED if number in picking.taken else UNCHECKED)
        self.list.blockSignals(False)
        count = len(picking.taken)
        area = picking.parcels.area_m2(picking.taken) if picking.parcels is not None else 0.0
        values = {"area": Quantity(area, "m²")}
        words = Text("{count} outline taken, {area}", values, plural="{count} outlines taken, {area}", count=count)
        self.said.setText(stage.words(words) if count else stage.say("No outline taken yet"))
        self.said.setVisible(picking.parcels is not None)
        self.take.setEnabled(count > 0)
        self._fit()

    def point_at(self, number: int) -> None:
        """Show a row of the list."""
        self.list.setCurrentRow(number)

    def _checked(self, item: QListWidgetItem) -> None:
        number = self.list.row(item)
        if (item.checkState() == CHECKED) != (number in self._picking.taken):
            self._picking.turn(number)

    def _turn_current(self) -> None:
        if self.list.currentRow() >= 0:
            self._picking.turn(self.list.currentRow())

    def _leave(self) -> None:
        self._over.setFocus(Qt.FocusReason.OtherFocusReason)

    # Its room

    def eventFilter(self, watched: QObject, event: QEvent) -> bool:
        """Keep within the map."""
        if event.type() == QEvent.Type.Resize:
            self._fit()
        return False

    def _fit(self) -> None:
        wide = min(round(WIDE_PX * self.stage.text_scale) + 2 * SHADOW, max(220, self._over.width() - 2 * MARGIN))
        self.setFixedWidth(wide)
        layout = self.layout()
        if layout is not None:
            layout.invalidate()
            high = layout.heightForWidth(wide)
            self.setGeometry(MARGIN, MARGIN, wide, min(high, self._over.height() - 2 * MARGIN))


class _List(QListWidget):
    """Space takes or leaves a row, Enter ends, Esc goes back to the map; other keys step through the rows."""

    def __init__(self, parent: QWidget, turn: object, leave: object, take: object) -> None:
        super().__init__(parent)
        self._deeds = {
            Qt.Key.Key_Space: turn,
            Qt.Key.Key_Escape: leave,
            Qt.Key.Key_Return: take,
            Qt.Key.Key_Enter: take,
        }
        self.setHorizontalScrollBarPolicy(Qt.ScrollBarPolicy.ScrollBarAlwaysOff)

    def keyPressEvent(self, event: QKeyEvent) -> None:
        """Do what a key asks for."""
        deed = self._deeds.get(Qt.Key(event.key()))
        if callable(deed):
            deed()
        else:
            super().keyPressEvent(event)
        event.accept()
