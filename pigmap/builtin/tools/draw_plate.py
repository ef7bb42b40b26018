"""The plate of the drawing tool: field or keep-out, its name, what grows there or why to keep off."""

from __future__ import annotations

from PySide6.QtCore import QRectF, Qt
from PySide6.QtGui import QPainter, QPaintEvent
from PySide6.QtWidgets import QHBoxLayout, QLabel, QVBoxLayout, QWidget

from pigmap.qt.buttons import WordButton
from pigmap.qt.choice_box import ChoiceBox
from pigmap.qt.kept_keys import KeptKeysLine
from pigmap.qt.paintwork import plate, shadow
from pigmap.qt.stage import Stage
from pigmap.qt.theme import font, tokens
from pigmap.records import GroundCover, Reason
from pigmap.text import Text

WIDE_PX = 264
MARGIN_PX = 12
SHADOW_PX = 6


class DrawPlate(QWidget):
    """Lies over the map's upper left corner while the drawing tool has the pointer."""

    def __init__(self, stage: Stage, parent: QWidget) -> None:
        super().__init__(parent)
        self.stage = stage
        self._over = parent
        self._field = WordButton(stage, stage.say("Field (F)"), "switch", self)
        self._keep_out = WordButton(stage, stage.say("Keep-out (K)"), "switch", self)
        self._before = WordButton(stage, stage.say("What was before (H)"), "link", self)
        self._before.clicked.connect(lambda: stage.take_up("before"))
        self._pin = WordButton(stage, stage.say("A picture to trace over (I)"), "link", self)
        self._pin.clicked.connect(lambda: stage.take_up("pin"))
        self._parcels = WordButton(stage, stage.say("Fields out of a parcel file"), "link", self)
        self._parcels.clicked.connect(lambda: stage.take_up("parcels"))
        self._called = QLabel(stage.say("Name (N)"), self)
        self._called.setFont(font("second", stage))
        self._name = KeptKeysLine(self)
        self._what = ChoiceBox(stage, self)
        self._lay_out()
        self._field.clicked.connect(lambda: self.choose_field(True))
        self._keep_out.clicked.connect(lambda: self.choose_field(False))
        self.choose_field(True)
        self.setAccessibleName(stage.say("What to draw"))

    def _lay_out(self) -> None:
        switches = QHBoxLayout()
        switches.setSpacing(8)
        switches.addWidget(self._field)
        switches.addWidget(self._keep_out)
        rows = QVBoxLayout(self)
        rows.setContentsMargins(*(SHADOW_PX + 12,) * 4)
        rows.setSpacing(8)
        rows.addLayout(switches)
        rows.addWidget(self._called)
        for widget in (self._name, self._what):
            widget.setFont(font("body", self.stage))
            rows.addWidget(widget)
        for link in (self._before, self._pin, self._parcels):
            rows.addWidget(link, alignment=Qt.AlignmentFlag.AlignLeft)
        self._name.returnPressed.connect(self._leave)
        self.setFixedWidth(round(WIDE_PX * self.stage.text_scale))
        self.move(MARGIN_PX - SHADOW_PX, MARGIN_PX - SHADOW_PX)
        self.adjustSize()

    def _leave(self) -> None:
        self._over.setFocus(Qt.FocusReason.OtherFocusReason)

    def choose_field(self, is_field: bool) -> None:
        """Choose between field and keep-out."""
        self.is_field = is_field
        self._field.setChecked(is_field)
        self._keep_out.setChecked(not is_field)
        self._what.clear()
        for each in GroundCover if is_field else Reason:
            self._what.addItem(self.stage.words(Text(str(each))), each)
        self._what.setAccessibleName(self.stage.say("What grows there" if is_field else "Why to keep off"))
        self.next_name()

    def name_it(self) -> None:
        """Go to the name with the keys."""
        self._name.setFocus(Qt.FocusReason.ShortcutFocusReason)

    def next_name(self) -> None:
        """Offer a name that is free."""
        self._name.clear()
        self._name.setPlaceholderText(self._free_name() if self.is_field else self.stage.say("Name, if it has one"))
        self._name.setAccessibleName(self.stage.say("Name"))

    def _free_name(self) -> str:
        taken = {field.name for field in self.stage.session.farm.fields.values()}
        number = len(taken) + 1
        while (name := self.stage.say("Field {number}", number=number)) in taken:
            number += 1
        return name

    @property
    def own_name(self) -> str:
        """The name that was typed; empty if none was."""
        return self._name.text().strip()

    @property
    def name(self) -> str:
        """What to call what is drawn: the name that was typed, or one that is free, or the reason."""
        if self.own_name:
            return self.own_name
        return self._free_name() if self.is_field else self.stage.words(Text(str(self.reason).capitalize()))

    @property
    def ground_cover(self) -> GroundCover:
        """What grows on the field."""
        return GroundCover(self._what.currentData())

    @property
    def reason(self) -> Reason:
        """Why to keep off."""
        return Reason(self._what.currentData())

    def choose_what(self, what: GroundCover | Reason) -> None:
        """Choose a cover or a reason."""
        self._what.setCurrentIndex(self._what.findData(what))

    def paintEvent(self, event: QPaintEvent) -> None:
        """Draw the plate."""
        painter = QPainter(self)
        box = QRectF(self.rect()).adjusted(SHADOW_PX, SHADOW_PX, -SHADOW_PX, -SHADOW_PX)
        shadow(painter, box)
        plate(painter, box, tokens(self.stage).plate)
        painter.end()
