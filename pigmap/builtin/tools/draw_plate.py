"""The plate of the drawing tool: field, keep-out, line, place or gear, its name, and what it is."""

from __future__ import annotations

from enum import StrEnum

from PySide6.QtCore import QRectF, Qt, Signal
from PySide6.QtGui import QPainter, QPaintEvent, QWheelEvent
from PySide6.QtWidgets import QGridLayout, QLabel, QVBoxLayout, QWidget

from pigmap.builtin.tools.drawn_what import OFFERS, Drawn, Meant
from pigmap.qt.buttons import WordButton
from pigmap.qt.choice_box import ChoiceBox
from pigmap.qt.fed_by import NOT_ELECTRIC, fence_choices
from pigmap.qt.kept_keys import KeptKeysLine
from pigmap.qt.over_map import TOOL_PLATE
from pigmap.qt.paintwork import plate, shadow
from pigmap.qt.stage import Stage
from pigmap.qt.theme import font, tokens
from pigmap.records import WayKind
from pigmap.text import Text

WIDE_PX = 264
MARGIN_PX = 12
SHADOW_PX = 6
_SWITCHES = {
    Drawn.FIELD: "Field (F)",
    Drawn.KEEP_OUT: "Keep-out (K)",
    Drawn.LINE: "Line (L)",
    Drawn.PLACE: "Place (A)",
    Drawn.GEAR: "Gear (G)",
}
_HOW = {
    Drawn.FIELD: "Click the corners; Enter closes it.",
    Drawn.KEEP_OUT: "Click the corners; Enter closes it.",
    Drawn.LINE: "Click along it; Enter ends it.",
    Drawn.PLACE: "Click where it is.",
    Drawn.GEAR: "Click where it stands on the day that is shown. T types the place.",
}


class DrawPlate(QWidget):
    """Lies over the map's upper left corner while the drawing tool has the pointer."""

    changed = Signal()
    """Something else is to be drawn."""

    def __init__(self, stage: Stage, parent: QWidget) -> None:
        super().__init__(parent)
        self.stage = stage
        self._over = parent
        self.drawn = Drawn.FIELD
        self._switches = {
            each: WordButton(stage, stage.say(words), "switch", self) for each, words in _SWITCHES.items()
        }
        self._links = [self._link(*each) for each in _LINKS]
        self._called = QLabel(stage.say("Name (N)"), self)
        self._called.setFont(font("second", stage))
        self._how = QLabel(self)
        self._name = KeptKeysLine(self)
        self._what = ChoiceBox(stage, self)
        self._volts = KeptKeysLine(self)
        self._volts.setPlaceholderText(stage.say("kV, if you know it"))
        self._volts.setAccessibleName(stage.say("Voltage in kV, if you know it"))
        self._fed_by = ChoiceBox(stage, self)
        self._fed_by.setAccessibleName(stage.say("What feeds the fence"))
        self._lay_out()
        for each, switch in self._switches.items():
            switch.clicked.connect(lambda *_, each=each: self.choose(each))
        self._what.currentIndexChanged.connect(self._look_again)
        self.choose(Drawn.FIELD)
        self.setAccessibleName(stage.say("What to draw"))

    def _link(self, words: str, verb: str) -> WordButton:
        link = WordButton(self.stage, self.stage.say(words), "link", self)
        link.clicked.connect(lambda: self.stage.take_up(verb))
        return link

    def _lay_out(self) -> None:
        switches = QGridLayout()
        switches.setSpacing(8)
        for at, switch in enumerate(self._switches.values()):
            switches.addWidget(switch, at // 2, at % 2)
        rows = QVBoxLayout(self)
        rows.setContentsMargins(*(SHADOW_PX + 12,) * 4)
        rows.setSpacing(8)
        rows.addLayout(switches)
        rows.addWidget(self._called)
        for widget in (self._name, self._what, self._volts, self._fed_by):
            widget.setFont(font("body", self.stage))
            rows.addWidget(widget)
        for link in self._links:
            rows.addWidget(link, alignment=Qt.AlignmentFlag.AlignLeft)
        self._how.setFont(font("second", self.stage))
        self._how.setWordWrap(True)
        rows.addWidget(self._how)  # last: nothing moves when it goes
        for line in (self._name, self._volts):
            line.returnPressed.connect(self._leave)
        self.setProperty(TOOL_PLATE, True)
        self.setFixedWidth(round(WIDE_PX * self.stage.text_scale))
        self.move(MARGIN_PX - SHADOW_PX, MARGIN_PX - SHADOW_PX)

    def _leave(self) -> None:
        self._over.setFocus(Qt.FocusReason.OtherFocusReason)

    def choose(self, drawn: Drawn) -> None:
        """Choose what to draw."""
        self.drawn = drawn
        for each, switch in self._switches.items():
            switch.setChecked(each is drawn)
        offer = OFFERS[drawn]
        self._what.clear()
        for choice in offer.what:
            self._what.addItem(self.stage.words(Text(str(choice))), choice)
        self._what.setAccessibleName(self.stage.say(offer.says))
        self.next_name()
        self._look_again()
        self.changed.emit()

    def _look_again(self, *_: object) -> None:
        """Ask for what only some lines have."""
        what = self._what.currentData()
        self._volts.setVisible(self.drawn is Drawn.LINE and what == WayKind.OVERHEAD_LINE)
        self._fed_by.setVisible(self.drawn is Drawn.LINE and what == WayKind.PERMANENT_FENCE)
        if not self._fed_by.isHidden():
            self._offer_energizers()
        for link in self._links:
            link.setVisible(self.drawn.is_area)
        for each in (self._called, self._name):
            each.setVisible(self.drawn is not Drawn.GEAR)
        self._how.setText(self.stage.say(_HOW[self.drawn]))
        self._fit()

    def begun(self, begun: bool) -> None:
        """Say how it is drawn, as long as nothing is."""
        if self._how.isHidden() != begun:
            self._how.setVisible(not begun)
            self._fit()

    def _fit(self) -> None:
        rows = self.layout()
        assert rows is not None
        rows.invalidate()
        rows.activate()
        wide = self.width()
        high = rows.totalHeightForWidth(wide) if rows.hasHeightForWidth() else rows.totalSizeHint().height()
        self.resize(wide, high)
        rows.activate()
        self.updateGeometry()  # key and message keep off it

    def _offer_energizers(self) -> None:
        chosen = self._fed_by.currentData()
        self._fed_by.clear()
        for words, uid in fence_choices(self.stage):
            self._fed_by.addItem(words, uid)
        self._fed_by.setCurrentIndex(max(self._fed_by.findData(chosen), 0))

    def name_it(self) -> None:
        """Go to the name with the keys; gear has none, so to what it is."""
        (self._what if self.drawn is Drawn.GEAR else self._name).setFocus(Qt.FocusReason.ShortcutFocusReason)

    def next_name(self) -> None:
        """Offer a name that is free."""
        is_field = self.drawn is Drawn.FIELD
        self._name.clear()
        self._name.setPlaceholderText(self._free_name() if is_field else self.stage.say("Name, if it has one"))
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
        """What to call what is drawn: the name that was typed, or one that is free, or what it is."""
        if self.own_name:
            return self.own_name
        what = str(self._what.currentData())
        return self._free_name() if self.drawn is Drawn.FIELD else self.stage.words(Text(what.capitalize()))

    @property
    def meant(self) -> Meant:
        """All that it says of what is drawn."""
        what = next(each for each in OFFERS[self.drawn].what if str(each) == str(self._what.currentData()))
        fed_by = str(self._fed_by.currentData()) if self._fed_by.count() else NOT_ELECTRIC
        return Meant(self.drawn, what, self.own_name, self.name, self._volts.text(), fed_by)

    def choose_what(self, what: StrEnum) -> None:
        """Choose what grows there, why to keep off, what the line or the place is."""
        self._what.setCurrentIndex(self._what.findData(what))

    def wheelEvent(self, event: QWheelEvent) -> None:
        """Move a plate that is higher than the map up and down."""
        most = MARGIN_PX - SHADOW_PX
        over = self.parentWidget()
        least = min((over.height() if over is not None else 0) - self.height() - most, most)
        self.move(self.x(), min(max(self.y() + event.angleDelta().y() // 2, least), most))
        event.accept()

    def paintEvent(self, event: QPaintEvent) -> None:
        """Draw the plate."""
        with QPainter(self) as painter:
            box = QRectF(self.rect()).adjusted(SHADOW_PX, SHADOW_PX, -SHADOW_PX, -SHADOW_PX)
            shadow(painter, box)
            plate(painter, box, tokens(self.stage).plate)


_LINKS = (
    ("What was before (H)", "before"),
    ("A picture to trace over (I)", "pin"),
    ("Fields out of a parcel file", "parcels"),
)
"""What leads to other verbs, and the verb."""
