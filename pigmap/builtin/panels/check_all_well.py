"""All well with the groups that were not checked, but for those whose sign is marked: one touch each, one edit."""

from __future__ import annotations

from collections.abc import Sequence
from datetime import date

from PySide6.QtCore import QRectF, QSize, Qt
from PySide6.QtGui import QColor, QPainter, QPaintEvent, QPen
from PySide6.QtWidgets import QGridLayout, QSizePolicy, QVBoxLayout, QWidget

from pigmap.builtin.panels.form_parts import Words
from pigmap.document.edits import all_well, together
from pigmap.drawing.on_day import letter_of
from pigmap.qt.buttons import Button, WordButton
from pigmap.qt.following import tell
from pigmap.qt.group_sign import draw_group_sign
from pigmap.qt.paintwork import plate
from pigmap.qt.stage import Picked, Stage
from pigmap.qt.theme import RADIUS_BUTTON, font, tokens
from pigmap.records import Group, Paddock
from pigmap.text import Text

TARGET = 44
"""Height of a button that a thumb hits [px]."""
SIGN = 24
IN_A_ROW = 5


class AllWell(QWidget):
    """The deed, and a sign for each group it is for; hidden where every group was checked."""

    def __init__(self, stage: Stage, parent: QWidget) -> None:
        super().__init__(parent)
        self.stage = stage
        self.marks: list[_Mark] = []
        self._left: Sequence[tuple[Group, Paddock]] = ()
        self._but: set[str] = set()
        self._day: date | None = None
        column = QVBoxLayout(self)
        column.setContentsMargins(0, 0, 0, 0)
        column.setSpacing(6)
        self.button = WordButton(stage, "", "plain", self)
        self.button.setFixedHeight(round(TARGET * stage.text_scale))
        self.button.clicked.connect(self._record)
        self._asked = Words(stage, "second", self, stage.say("but not with"), "ink2")
        self._signs = QGridLayout()
        self._signs.setSpacing(4)
        column.addWidget(self.button)
        column.addWidget(self._asked)
        column.addLayout(self._signs)

    def show_for(self, left: Sequence[tuple[Group, Paddock]], *, possible: bool) -> None:
        """Show it for the groups that were not checked on the shown day; `possible` is whether they can be now."""
        if self.stage.day != self._day:
            self._but.clear()
        self._day, self._left = self.stage.day, left
        self._but &= {group.uid for group, _paddock in left}
        self.setVisible(bool(left) and possible)
        if [mark.whose for mark in self.marks] != [group for group, _paddock in left]:
            self._make_marks()
        self._say()

    def _make_marks(self) -> None:
        for mark in self.marks:
            mark.hide()
            mark.deleteLater()
        several = len(self._left) > 1
        self.marks = [_Mark(self.stage, group, self) for group, _paddock in self._left if several]
        for at, mark in enumerate(self.marks):
            mark.setChecked(mark.whose.uid in self._but)
            mark.clicked.connect(lambda _=False, mark=mark: self._mark(mark))
            self._signs.addWidget(mark, at // IN_A_ROW, at % IN_A_ROW)
            mark.show()
            QWidget.setTabOrder(self.marks[at - 1] if at else self.button, mark)
        self._asked.setVisible(several)

    def _mark(self, mark: _Mark) -> None:
        """Leave a group out, and have its readings taken; or take it in again."""
        if mark.isChecked():
            self._but.add(mark.whose.uid)
            self.stage.pick(Picked("groups", mark.whose.uid))
        else:
            self._but.discard(mark.whose.uid)
        self._say()

    def _for(self) -> list[tuple[Group, Paddock]]:
        return [(group, paddock) for group, paddock in self._left if group.uid not in self._but]

    def _say(self) -> None:
        wanted, stage = self._for(), self.stage
        self.button.setEnabled(bool(wanted))
        if len(wanted) == 1:
            words = stage.say("All well with {group}", group=wanted[0][0].name)
        else:
            words = stage.say("All well with {count} groups", count=len(wanted)) if wanted else stage.say("All well")
        self.button.setText(words)
        self.button.setAccessibleName(words)

    def _record(self) -> None:
        """Record that all is well with every group that was neither checked nor marked, as one edit."""
        stage, wanted = self.stage, self._for()
        if not wanted:
            return
        label = Text(
            "All well with {group}.",
            {"group": wanted[0][0].name},
            plural="All well with {count} groups.",
            count=len(wanted),
        )
        edit = together(label, [all_well(paddock.uid, group.uid, stage.day) for group, paddock in wanted])
        tell(stage, stage.session.do(edit), label)


class _Mark(Button):
    """The sign of a group; struck out while all is not well with it."""

    def __init__(self, stage: Stage, group: Group, parent: QWidget) -> None:
        super().__init__(stage, parent)
        self.whose = group
        self.setCheckable(True)
        self.setSizePolicy(QSizePolicy.Policy.Expanding, QSizePolicy.Policy.Fixed)
        self.setAccessibleName(stage.say("but not with {group}", group=group.name))
        self.setToolTip(self.accessibleName())

    def sizeHint(self) -> QSize:
        """Return the room of a thumb, at most a fifth of the column."""
        return QSize(40, round(40 * self.stage.text_scale))

    def paintEvent(self, event: QPaintEvent) -> None:
        """Draw the sign, struck out where it is marked."""
        theme, on = tokens(self.stage), self.isChecked()
        with QPainter(self) as painter:
            fill = theme.well if on or self.hovered else theme.plate
            edge, wide = (theme.ink, 2.2) if on else (theme.edge, 1.4)
            plate(painter, QRectF(self.rect()), fill, edge, width=wide, radius=RADIUS_BUTTON)
            box = QRectF((self.width() - SIGN) / 2, (self.height() - SIGN) / 2, SIGN, SIGN)
            dark = theme.edge if theme.name == "dark" else ""
            face = font("heading", self.stage)
            if on:
                painter.setOpacity(0.45)
            draw_group_sign(
                painter, box, self.whose.colour_index, letter_of(self.whose, self.stage.session.farm), face, edge=dark
            )
            painter.setOpacity(1.0)
            if on:
                _strike(painter, box.adjusted(-3, -3, 3, 3), theme.ink)


def _strike(painter: QPainter, box: QRectF, colour: str) -> None:
    """Draw one slanting line over a box."""
    painter.setRenderHint(QPainter.RenderHint.Antialiasing)
    painter.setPen(QPen(QColor(colour), 3.0, Qt.PenStyle.SolidLine, Qt.PenCapStyle.RoundCap))
    painter.drawLine(box.bottomLeft(), box.topRight())
