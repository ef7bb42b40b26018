"""The moves of the day that is shown, in order, in the groups' place; and their cards on paper."""

from __future__ import annotations

from itertools import pairwise

from PySide6.QtCore import QSize, Qt
from PySide6.QtGui import QResizeEvent, QShowEvent
from PySide6.QtWidgets import QHBoxLayout, QScrollArea, QVBoxLayout, QWidget

from pigmap.builtin.panels.form_parts import Words
from pigmap.builtin.panels.move_row import MoveRow
from pigmap.builtin.panels.moves_words import against_the_order, day_of_moves
from pigmap.document.edits import change_setting, order_moves
from pigmap.drawing.words import day_words
from pigmap.fence.walking import MOST_A_TRIP, SETTING, nets_a_trip
from pigmap.qt.asking import Asker
from pigmap.qt.buttons import WordButton
from pigmap.qt.following import tell
from pigmap.qt.paintwork import line_height
from pigmap.qt.printing import Printing
from pigmap.qt.stage import Stage
from pigmap.qt.stepper import Stepper
from pigmap.qt.theme import font
from pigmap.records import ChangeSet, Edit
from pigmap.text import Text

PAD = 12
TARGET = 44
"""Height of a button that a thumb hits [px]."""


class Moves(QWidget):
    """Follows the date handle and the farm."""

    def __init__(self, stage: Stage, parent: QWidget) -> None:
        super().__init__(parent)
        self.stage = stage
        self.setObjectName("column")
        self.setAccessibleName(stage.say("Moves"))
        self.printing = Printing(stage, self)
        self._asker = Asker(stage, self)
        self._rows: list[MoveRow] = []
        self._make(self._scrolling())
        for signal in (stage.verb_changed, stage.farm_changed, stage.day_changed):
            signal.connect(self._renew)
        stage.picked_changed.connect(self._mark)
        stage.theme_changed.connect(self._renew)
        self._renew()

    def _scrolling(self) -> QWidget:
        """Return what scrolls where the window is low, with the column that all stands in."""
        self._scroll = QScrollArea(self)
        self._scroll.setFocusPolicy(Qt.FocusPolicy.NoFocus)
        self._scroll.setHorizontalScrollBarPolicy(Qt.ScrollBarPolicy.ScrollBarAlwaysOff)
        self._scroll.setWidgetResizable(True)
        inside = QWidget()
        inside.setMinimumSize(1, 1)  # else words over several lines ask for the height of their narrowest
        self._scroll.setWidget(inside)
        self._column = QVBoxLayout(inside)
        self._column.setContentsMargins(PAD, PAD, PAD, PAD)
        self._column.setSpacing(10)
        self._foot = QVBoxLayout()
        self._foot.setContentsMargins(PAD, 6, PAD, 8)
        whole = QVBoxLayout(self)
        whole.setContentsMargins(0, 0, 0, 0)
        whole.setSpacing(0)
        whole.addWidget(self._scroll, 1)
        whole.addLayout(self._foot)
        return inside

    def _make(self, inside: QWidget) -> None:
        stage = self.stage
        head = Words(stage, "heading", inside, stage.say("Moves"))
        self._day = Words(stage, "second", inside, "", "ink2")
        self._none = Words(stage, "body", inside)
        self._load = Words(stage, "body", inside)
        self._short = Words(stage, "body", inside, "", "warn")
        self._lasts = Words(stage, "second", inside, "", "ink2")
        self._walk = Words(stage, "second", inside, "", "ink2")
        self.a_trip = Stepper(stage, stage.say("Nets a person carries at a time"), inside)
        self.a_trip.setFixedHeight(round(line_height(font("second", stage)) + 4 + TARGET * stage.text_scale))
        self.a_trip.stepped.connect(self._carry)
        self._go = self._button("")
        self._look = self._button(stage.say("Look at the cards"))
        self._cards = self._button(stage.say("Print the cards"))
        self._sheet = self._button(stage.say("Print the field map"))
        self._put = self._shifting(inside)
        above = (head, self._day, self._none, self._go, self._put)
        for widget in (*above, self._load, self._short, self._lasts, self._walk, self.a_trip, self._look, self._sheet):
            self._column.addWidget(widget)
        self._column.addStretch(1)
        self._foot.addWidget(self._cards)  # in sight however many moves there are
        self._go.clicked.connect(self._go_on)
        self._look.clicked.connect(lambda: stage.plate_asked.emit("move-card"))
        self._cards.clicked.connect(self.printing.print_cards)
        self._sheet.clicked.connect(self._print_maps)

    def _shifting(self, inside: QWidget) -> QWidget:
        """Return the two buttons that put the picked move earlier or later."""
        pair = QWidget(inside)
        row = QHBoxLayout(pair)
        row.setContentsMargins(0, 0, 0, 0)
        row.setSpacing(8)
        self.earlier, self.later = self._button(self.stage.say("Earlier")), self._button(self.stage.say("Later"))
        for button, by in ((self.earlier, -1), (self.later, 1)):
            button.clicked.connect(lambda _=False, by=by: self._shift(by))
            row.addWidget(button, 1)
        return pair

    def _button(self, words: str) -> WordButton:
        button = WordButton(self.stage, words, "plain", self)
        button.setFixedHeight(round(TARGET * self.stage.text_scale))
        return button

    def _carry(self, by: int) -> None:
        """Say how many nets a person carries at a time on this farm."""
        now = nets_a_trip(self.stage.session.farm)
        after = min(max(now + by, 1), MOST_A_TRIP)
        if after != now:
            words = Text(
                "A person carries {count} net at a time.",
                plural="A person carries {count} nets at a time.",
                count=after,
            )
            tell(self.stage, self.stage.session.do(Edit(words, change_setting(SETTING, after).changes)), words)

    def _renew(self, *_: object) -> None:
        if self.stage.verb != "moves":
            return
        found = day_of_moves(self.stage)
        self._next_day = found.next_day
        self._day.say(found.day)
        self._none.say(found.none)
        self._load.say(found.load)
        self._short.say(found.short)
        self._lasts.say(found.lasts)
        self._walk.say(found.walk)
        self.a_trip.setVisible(bool(found.walk) and not self.stage.session.read_only)
        self.a_trip.show_words(str(nets_a_trip(self.stage.session.farm)))
        self._go.setVisible(found.next_day is not None)
        if found.next_day is not None:
            day = day_words(found.next_day, "short", language=self.stage.language)
            self._go.setText(self.stage.say("Go to {day}", day=day))
            self._go.setAccessibleName(self._go.text())
        for button in (self._look, self._cards, self._sheet):
            button.setVisible(bool(found.moves))
        had_keys = next((at for at, each in enumerate([self._go, *self._rows]) if each.hasFocus()), None)
        for row in self._rows:
            row.hide()
            row.deleteLater()
        self._rows = [MoveRow(self.stage, words, self) for words in found.moves]
        for at, row in enumerate(self._rows):
            self._column.insertWidget(2 + at, row)
            row.show()
        for one, other in pairwise(
            [
                *(self._go, *self._rows, self.earlier, self.later),
                *(*self.a_trip.stops, self._look, self._sheet, self._cards),
            ]
        ):
            QWidget.setTabOrder(one, other)
        if had_keys is not None:  # else they go on to whatever comes next in the window
            kept = self._rows[min(max(had_keys - 1, 0), len(self._rows) - 1)] if self._rows else self._go
            kept.setFocus(Qt.FocusReason.OtherFocusReason)
        self._mark()
        self._fit()
        self.updateGeometry()

    def _print_maps(self) -> None:
        """Print the map of each field to which a group moves."""
        paddocks = (self.stage.session.farm.paddocks.get(row.words.uid) for row in self._rows)
        for field_uid in dict.fromkeys((paddock.field_uid or "") for paddock in paddocks if paddock is not None):
            self.printing.print_field(field_uid)

    def _go_on(self) -> None:
        if self._next_day is not None:
            self.stage.show_day(self._next_day)
            if self._rows:
                self._rows[0].setFocus(Qt.FocusReason.OtherFocusReason)  # the button that was pressed is gone

    def _mark(self, *_: object) -> None:
        picked = self.stage.picked
        for row in self._rows:
            row.setChecked(picked is not None and picked.table == "paddocks" and picked.uid == row.words.uid)

        at = self._picked_at()
        ordered = len(self._rows) > 1 and not self.stage.session.read_only
        self._put.setVisible(ordered)
        self.earlier.setEnabled(at is not None and at > 0)
        self.later.setEnabled(at is not None and at + 1 < len(self._rows))
        name = self._rows[at].words.group if at is not None else self.stage.say("pick a move first")
        self.earlier.setAccessibleName(self.stage.say("Earlier: {group}", group=name))
        self.later.setAccessibleName(self.stage.say("Later: {group}", group=name))

    def _picked_at(self) -> int | None:
        return next((at for at, row in enumerate(self._rows) if row.isChecked()), None)

    def _shift(self, by: int) -> None:
        """Have the picked move done before, or after, the one beside it; say what is against it."""
        at = self._picked_at()
        if at is None or not 0 <= at + by < len(self._rows):
            return
        groups = [row.words.group_uid for row in self._rows]
        groups[at], groups[at + by] = groups[at + by], groups[at]
        stage, edit = self.stage, order_moves(self.stage.day, groups)

        def ended(changes: ChangeSet | None, error: BaseException | None) -> None:
            if error is None:
                found = against_the_order(stage)
                stage.notice(found or edit.label, "care" if found else "done", deed="undo")

        self._asker.ask(edit, ended)

    def _fit(self) -> None:
        beside = self._scroll.verticalScrollBar().sizeHint().width()
        for row in self._rows:
            row.setFixedHeight(row.high_at(self.width() - 2 * PAD - beside))

    def sizeHint(self) -> QSize:
        """Return the height in a narrow window; in a column the window gives what it has."""
        rows = sum(row.height() + 10 for row in self._rows)
        return QSize(self.stage.room.column_px, min(rows + 220, 340))

    def resizeEvent(self, event: QResizeEvent) -> None:
        """Give each row the height of what it says at the new breadth."""
        self._fit()

    def showEvent(self, event: QShowEvent) -> None:
        """Begin with the first move, or with the way to it."""
        super().showEvent(event)
        first = self._rows[0] if self._rows else self._go
        first.setFocus(Qt.FocusReason.OtherFocusReason)

    def close_down(self) -> None:
        """Wait for what is being printed."""
        self.printing.close()


class _Panel:
    name = "moves"
    place = "column"
    verb = "moves"

    def make(self, stage: Stage, parent: QWidget) -> QWidget:
        """Return the list."""
        return Moves(stage, parent)


panel = _Panel()
