"""The groups: a card each, down the edge of the window or in a row under the verbs."""

from __future__ import annotations

from typing import TYPE_CHECKING

from PySide6.QtCore import QRectF, QSize, Qt
from PySide6.QtGui import QPainter, QPaintEvent, QResizeEvent
from PySide6.QtWidgets import QScrollArea, QWidget

from pigmap.builtin.panels.group_card import GroupCard
from pigmap.builtin.panels.group_deeds import TARGET, GroupDeeds
from pigmap.builtin.panels.group_words import group_words
from pigmap.qt.buttons import WordButton
from pigmap.qt.group_step import group_of
from pigmap.qt.paintwork import Right, line_height, wrapped_height, write, write_wrapped
from pigmap.qt.stage import Stage
from pigmap.qt.theme import font, tokens
from pigmap.qt.whereabouts import book_of

if TYPE_CHECKING:
    from pigmap.builtin.panels.group_form import GroupForm

PAD = 12
FORM_MOST_WIDE = 520
LEAST_IN_ROW = 220
"""Breadth of a card in the row of a narrow window, at least [px]."""


class Groups(QWidget):
    """The column of groups; cards follow the day that is shown."""

    def __init__(self, stage: Stage, parent: QWidget) -> None:
        super().__init__(parent)
        self.stage = stage
        self.setObjectName("column")
        self.setAccessibleName(stage.say("Groups"))
        self.setFocusPolicy(Qt.FocusPolicy.TabFocus)
        self._book = book_of(stage.session.farm, stage.today)
        self._cards: list[GroupCard] = []
        self._scroll = QScrollArea(self)
        self._scroll.setFocusPolicy(Qt.FocusPolicy.NoFocus)
        self._inside = QWidget()
        self._scroll.setWidget(self._inside)
        self._deeds = GroupDeeds(stage, self._inside)
        self._add = WordButton(stage, "", "plain", self._inside)
        self._add.clicked.connect(self._open_form)
        self._form: GroupForm | None = None
        stage.farm_changed.connect(self._renew)
        stage.day_changed.connect(self._refill)
        stage.playback.changed.connect(self._refill)
        stage.came_up.connect(self._refill)
        stage.picked_changed.connect(self._mark)
        stage.theme_changed.connect(self._lay_out)
        stage.room_changed.connect(self._lay_out)
        self._refill()

    def _renew(self) -> None:
        self._book = book_of(self.stage.session.farm, self.stage.today)
        self._refill()

    def _refill(self) -> None:
        words = [group_words(self.stage, self._book, group) for group in self._book.groups(self.stage.day)]
        while len(self._cards) > len(words):
            gone = self._cards.pop()
            gone.hide()
            gone.deleteLater()
        for at, each in enumerate(words):
            if at < len(self._cards):
                self._cards[at].show_words(each)
            else:
                self._cards.append(GroupCard(self.stage, each, self._inside))
        self._add.setText(self.stage.say("Another group") if words else self.stage.say("Add the first group"))
        self._add.setAccessibleName(self._add.text())
        self._show_cards()

    def _show_cards(self) -> None:
        for card in self._cards:
            card.setVisible(self._form is None)
        self._add.setVisible(self._form is None and not self.stage.session.read_only)
        last = self._cards[-1] if self._cards else self
        QWidget.setTabOrder(last, self._add)
        self._mark()

    def _open_form(self) -> None:
        """Put the questions about a new group in the cards' place."""
        from pigmap.builtin.panels.group_form import GroupForm  # its fields are not needed before the first frame

        self.stage.pick(None)  # the card of another group would seem to be that of the new one
        self._form = form = GroupForm(self.stage, self._inside)
        form.ended.connect(self._shut_form)
        form.grown.connect(self._grow)
        form.shows.connect(lambda part: self._scroll.ensureWidgetVisible(part, 0, PAD))
        form.show()
        self._show_cards()
        form.begin()
        self.updateGeometry()

    def _shut_form(self) -> None:
        form, self._form = self._form, None
        if form is not None:
            form.hide()
            form.deleteLater()
        self._show_cards()
        self._add.setFocus(Qt.FocusReason.OtherFocusReason)
        self._scroll.ensureWidgetVisible(self._add, 0, PAD)
        self.updateGeometry()

    def _grow(self) -> None:
        self._lay_out()
        self.updateGeometry()

    def _mark(self) -> None:
        chosen = group_of(self.stage.session.farm, self.stage.picked, self.stage.day, self.stage.today)
        for card in self._cards:
            card.setChecked(card.words.uid == chosen)
        self._lay_out()
        chosen_card = self._chosen()
        if chosen_card is not None:
            self._scroll.ensureWidgetVisible(chosen_card, PAD, PAD)
        if self._add.hasFocus():  # the next group is added with one more press
            self._scroll.ensureWidgetVisible(self._add, PAD, PAD)

    def _chosen(self) -> GroupCard | None:
        return next((card for card in self._cards if card.isChecked()), None)

    def sizeHint(self) -> QSize:
        """Return the height of the row in a narrow window; in a column the window gives what it has."""
        high = max((card.sizeHint().height() for card in self._cards), default=44)
        if self._form is not None:
            high = self._form.high_at(min(self.width() - 2 * PAD, FORM_MOST_WIDE)) + PAD
        return QSize(self.stage.room.column_px, high + PAD)

    def resizeEvent(self, event: QResizeEvent) -> None:
        """Lay the cards out."""
        self._lay_out()

    def _head_high(self) -> int:
        if self.stage.room.name in ("narrow", "small"):
            return 0
        return round(line_height(font("heading", self.stage))) + 20

    def _lay_out(self) -> None:
        narrow = self.stage.room.name == "narrow"
        off, needed = Qt.ScrollBarPolicy.ScrollBarAlwaysOff, Qt.ScrollBarPolicy.ScrollBarAsNeeded
        self._scroll.setHorizontalScrollBarPolicy(off)
        self._scroll.setVerticalScrollBarPolicy(off if narrow else needed)
        self._scroll.setGeometry(0, self._head_high(), self.width(), self.height() - self._head_high())
        if self._form is not None:
            self._scroll.setVerticalScrollBarPolicy(needed)
            self._lay_form(self._form)
        else:
            self._lay_row() if narrow else self._lay_column()
        self._lay_deeds(narrow or self._form is not None)
        self.update()

    def _lay_column(self) -> None:
        y = 0 if self._head_high() else 10
        wide = self.width() - 2 * PAD
        for card in self._cards:
            card.foot = self._deeds.foot(card)
        heights = [card.sizeHint().height() for card in self._cards]
        if not self._cards:
            y += round(self._empty_high())
        foot = 0 if self._add.isHidden() else self._add_high() + 10
        total = y + sum(heights) + 10 * len(heights) + foot
        if total > self._scroll.height():
            wide -= 4  # the scroll bar stands in the margin
        for card, high in zip(self._cards, heights, strict=True):
            card.setGeometry(PAD, y, wide, high)
            y += high + 10
        self._add.setGeometry(PAD, y, wide, self._add_high())
        self._inside.resize(self.width() - (10 if total > self._scroll.height() else 0), max(y + foot, 1))

    def _add_high(self) -> int:
        return round(TARGET * self.stage.text_scale)

    def _empty_words(self) -> str:
        return self.stage.say("No group yet. A paddock can be placed without one.")

    def _empty_high(self) -> float:
        return wrapped_height(self._empty_words(), font("body", self.stage), self.width() - 40) + 20

    def _lay_form(self, form: GroupForm) -> None:
        y = 0 if self._head_high() else 10
        wide = min(self.width() - 2 * PAD, FORM_MOST_WIDE)
        high = form.high_at(wide)
        bar = 10 if y + high + PAD > self._scroll.height() else 0
        wide -= min(4, bar)
        form.setGeometry(PAD, y, wide, high)
        self._inside.resize(self.width() - bar, y + high + PAD)

    def _lay_deeds(self, narrow: bool) -> None:
        """Lay the deeds of the day on the card of the picked group; a row of low cards has no room for them."""
        card = self._chosen()
        self._deeds.stand_on(None if narrow else card)

    def _lay_row(self) -> None:
        count = max(len(self._cards), 1)
        foot = 0 if self._add.isHidden() else self._add.sizeHint().width() + 8
        wide = max(LEAST_IN_ROW, (self.width() - 2 * 10 - foot - (count - 1) * 8) // count)
        for at, card in enumerate(self._cards):
            card.setGeometry(10 + at * (wide + 8), 6, wide, self.height() - 12)
        x = 10 + len(self._cards) * (wide + 8) if self._cards else self.width() - foot - 2
        self._add.setGeometry(x, 6, max(foot - 8, 0), self.height() - 12)
        self._inside.resize(20 + count * (wide + 8) + foot, self.height())

    def paintEvent(self, event: QPaintEvent) -> None:
        """Write the heading, and what to do where there is no group."""
        theme, stage = tokens(self.stage), self.stage
        with QPainter(self) as painter:
            if self._head_high():
                head = QRectF(20, 10, self.width() - 36, line_height(font("heading", stage)))
                write(painter, head, stage.say("Groups"), font("heading", stage), theme.ink)
                write(painter, head, "G", font("tick", stage), theme.ink2, Right)
            if not self._cards and self._form is None:
                box = QRectF(20, self._head_high() + 10, self.width() - 40, self.height())
                write_wrapped(painter, box, self._empty_words(), font("body", stage), theme.ink2)


class _Panel:
    name = "groups"
    place = "column"
    verb = ""

    def make(self, stage: Stage, parent: QWidget) -> QWidget:
        """Return the column."""
        return Groups(stage, parent)


panel = _Panel()
