"""What a field is for in each part of the year: a row for each, to add, change and take out."""

from __future__ import annotations

from PySide6.QtCore import Qt, Signal
from PySide6.QtGui import QKeyEvent
from PySide6.QtWidgets import QHBoxLayout, QVBoxLayout, QWidget

from pigmap.builtin.panels.form_parts import Words, high_at
from pigmap.builtin.panels.purpose_row import PurposeRow
from pigmap.builtin.panels.purpose_words import unclear_words, wanted_words
from pigmap.builtin.panels.tab_order import tab_as_read
from pigmap.document.edits import remove, set_purpose
from pigmap.ground.purpose_year import free_part, unclear
from pigmap.ground.purposes import USUAL_USE, purposes_of, strictest
from pigmap.qt.buttons import WordButton
from pigmap.qt.following import tell
from pigmap.qt.stage import Stage
from pigmap.records import Field, new_uid
from pigmap.text import Text

TARGET = 44


class PurposeForm(QWidget):
    """Stands in the card's place while a field's purposes are chosen; every change is on the map at once."""

    ended = Signal()
    grown = Signal()
    """It asks for another height."""
    shows = Signal(QWidget)
    """A part of it is to be seen."""

    def __init__(self, stage: Stage, field: Field, parent: QWidget) -> None:
        super().__init__(parent)
        self.stage, self._field_uid = stage, field.uid
        self.setAccessibleName(stage.say("What {field} is for", field=field.name))
        self.rows: dict[str, PurposeRow] = {}
        self._awaited = ""
        column = QVBoxLayout(self)
        column.setContentsMargins(0, 0, 0, 0)
        column.setSpacing(8)
        self.head = Words(stage, "title", self, stage.say("What {field} is for", field=field.name))
        column.addWidget(self.head)
        self.usual = Words(stage, "body", self)
        column.addWidget(self.usual)
        self._parts = QVBoxLayout()
        self._parts.setSpacing(12)
        column.addLayout(self._parts)
        self.unclear = Words(stage, "second", self, colour="warn")
        column.addWidget(self.unclear)
        self.add = WordButton(stage, stage.say("Add a part"), parent=self)
        self.add.setAccessibleName(stage.say("Add a part of the year"))
        self.done = WordButton(stage, stage.say("Done"), parent=self)
        below = QHBoxLayout()
        below.setSpacing(8)
        for button in (self.add, self.done):
            button.setFixedHeight(round(TARGET * stage.text_scale))
            below.addWidget(button, 1)
        column.addLayout(below)
        column.addStretch(1)
        self.add.clicked.connect(self._add)
        self.done.clicked.connect(self.ended)
        stage.farm_changed.connect(self._renew)
        self._renew()

    @property
    def first(self) -> QWidget:
        """What has the keys first."""
        return next((row.first for row in self.rows.values()), self.add)

    def _field(self) -> Field | None:
        return self.stage.session.farm.fields.get(self._field_uid)

    def _renew(self, *_: object) -> None:
        field, stage = self._field(), self.stage
        if field is None:
            self.ended.emit()
            return
        parts = purposes_of(stage.session.farm, field.uid)
        for uid in self.rows.keys() - {part.uid for part in parts}:
            row = self.rows.pop(uid)
            row.hide()
            row.deleteLater()
        for at, part in enumerate(parts):
            if part.uid not in self.rows:
                row = PurposeRow(stage, part, field.ground_cover, self)
                row.out_asked.connect(self._take_out)
                row.grown.connect(self._grow)
                row.show()
                self.rows[part.uid] = row
            self.rows[part.uid].cover = field.ground_cover
            self.rows[part.uid].show_part(part)
            self._parts.insertWidget(at, self.rows[part.uid])
        usual = stage.words(wanted_words(strictest([], field.ground_cover)))
        start = stage.say("Graze lightly, all year: nothing else is said.")
        self.usual.say("" if parts else f"{start} {usual}")
        self.unclear.say("\n".join(unclear_words(stage, each) for each in unclear(parts)))
        self._grow()
        if self._awaited in self.rows:
            self.rows[self._awaited].first.setFocus(Qt.FocusReason.OtherFocusReason)
            self.rows[self._awaited].first.selectAll()
            self.shows.emit(self.rows[self._awaited])
            self._awaited = ""

    def _grow(self) -> None:
        self.grown.emit()
        tab_as_read(self, max(self.width(), 1) * 2)

    def _add(self) -> None:
        """Add a part over the longest stretch of which nothing is said."""
        field = self._field()
        if field is None:
            return
        first, last = free_part(purposes_of(self.stage.session.farm, field.uid))
        self._awaited = new_uid()
        edit = set_purpose(field.uid, first, last, USUAL_USE, uid=self._awaited)
        tell(self.stage, self.stage.session.do(edit), edit.label)

    def _take_out(self, uid: str) -> None:
        tell(self.stage, self.stage.session.do(remove("purposes", uid)), Text("Part of the year taken out."))

    def keyPressEvent(self, event: QKeyEvent) -> None:
        """End with Esc."""
        if event.key() == Qt.Key.Key_Escape:
            self.ended.emit()
            return
        super().keyPressEvent(event)

    def high_at(self, width: int) -> int:
        """Return the height it takes at a breadth [px]."""
        return high_at(self, width)
