"""A look at the move cards of the day that is shown, one by one, as they will print."""

from __future__ import annotations

from datetime import datetime
from typing import TYPE_CHECKING, Any

from PySide6.QtCore import QRectF, QSize, Qt
from PySide6.QtGui import QColor, QPainter, QPaintEvent, QPen
from PySide6.QtWidgets import QHBoxLayout, QSizePolicy, QWidget

from pigmap.builtin.panels.aside import AsidePlate
from pigmap.builtin.panels.form_parts import Words
from pigmap.qt.buttons import WordButton
from pigmap.qt.stage import Stage
from pigmap.qt.theme import tokens
from pigmap.text import Text

if TYPE_CHECKING:
    from pigmap.drawing.page import Page, SheetRequest

CARDS = "move-cards"
LEAST_HIGH = 260
WIDE_TO_HIGH = 105 / 148
"""Of a card of paper A6 (ISO 216)."""


class CardPicture(QWidget):
    """A page on white paper, as large as there is room."""

    def __init__(self, stage: Stage, parent: QWidget) -> None:
        super().__init__(parent)
        self.stage = stage
        self.page: Page | None = None
        self.setSizePolicy(QSizePolicy.Policy.Expanding, QSizePolicy.Policy.Expanding)
        self.setMinimumHeight(LEAST_HIGH)

    def show_page(self, page: Page) -> None:
        """Show a page."""
        self.page = page
        self.update()

    def sizeHint(self) -> QSize:
        """Return the room it takes at the breadth it has."""
        wide = max(self.width(), 360)
        return QSize(wide, round(wide / WIDE_TO_HIGH))

    def paintEvent(self, event: QPaintEvent) -> None:
        """Draw the page."""
        page = self.page
        if page is None:
            return
        from pigmap.qt.painter_page import paint_page  # pages are loaded once one is looked at

        scale = min(self.width() / page.width_mm, self.height() / page.height_mm)
        with QPainter(self) as painter:
            painter.translate((self.width() - page.width_mm * scale) / 2, 0)
            painter.scale(scale, scale)
            paper = QRectF(0, 0, page.width_mm, page.height_mm)
            painter.fillRect(paper, Qt.GlobalColor.white)
            painter.setClipRect(paper)
            paint_page(page, painter)
            painter.setBrush(Qt.BrushStyle.NoBrush)
            painter.setPen(QPen(QColor(tokens(self.stage).line), 2 / scale))
            painter.drawRect(paper)


class CardLook(AsidePlate):
    """Begins with the move that is picked."""

    def __init__(self, stage: Stage, parent: QWidget) -> None:
        super().__init__(stage, parent, stage.say("The card as it prints"))
        self._at = 0
        self._count = 0
        self._which = Words(stage, "second", self, "", "ink2")
        self.picture = CardPicture(stage, self)
        self.back = WordButton(stage, stage.say("Card before"), "plain", self)
        self.on = WordButton(stage, stage.say("Next card"), "plain", self)
        self.back.clicked.connect(lambda: self._go(self._at - 1))
        self.on.clicked.connect(lambda: self._go(self._at + 1))
        buttons = QHBoxLayout()
        buttons.addWidget(self.back)
        buttons.addWidget(self.on)
        self.column.addWidget(self._which)
        self.column.addWidget(self.picture, 1)
        self.column.addLayout(buttons)
        for signal in (stage.day_changed, stage.farm_changed, stage.picked_changed):
            signal.connect(self._follow)
        stage.verb_changed.connect(self._leave)

    def first(self) -> QWidget:
        """Return the button to the next card, where there is one."""
        return self.on if self.on.isEnabled() else self.close_button

    def renew(self) -> None:
        """Show the card of the move that is picked, else the first."""
        self._go(self._picked())

    def _follow(self, *_changed: object) -> None:
        if not self.isHidden():
            self.renew()

    def _leave(self, verb: str) -> None:
        if verb != "moves" and not self.isHidden():
            self.put_away()

    def _picked(self) -> int:
        """Return the number of the picked move among those of the day, from 0."""
        from pigmap.planning.moves_of_day import moves_of_day

        stage, picked = self.stage, self.stage.picked
        moves = moves_of_day(stage.session.farm, stage.day, stage.today)
        uid = picked.uid if picked is not None else ""
        return next((at for at, move in enumerate(moves) if uid in (move.new.uid, move.group.uid)), 0)

    def _go(self, number: int) -> None:
        report: Any = self.stage.session.registry.load("reports", CARDS)
        farm, request = self.stage.session.farm, self._request()
        self._count = report.cards(farm, request)
        if not self._count:
            self.hide()
            return
        self._at = min(max(number, 0), self._count - 1)
        page = report.card(farm, request, self._at)
        self._which.say(self._which_words())
        self.picture.show_page(page)
        self.picture.setAccessibleName(self.stage.words(Text("{card}, as it prints", {"card": page.title})))
        self.back.setEnabled(self._at > 0)
        self.on.setEnabled(self._at + 1 < self._count)

    def _which_words(self) -> str:
        """Return which move the card is of; after those of the moves comes the list of all."""
        from pigmap.planning.moves_of_day import moves_of_day

        moves = len(moves_of_day(self.stage.session.farm, self.stage.day, self.stage.today))
        if self._at >= moves:
            return self.stage.say("The list of all moves")
        return self.stage.say("Move {number} of {count}", number=self._at + 1, count=moves)

    def _request(self) -> SheetRequest:
        from pigmap.drawing.page import SheetRequest
        from pigmap.session.known_slopes import known_slopes

        stage = self.stage
        return SheetRequest(
            day=stage.day,
            printed_at=datetime.now(),  # the farm's local time, as a person reads it
            today=stage.today,
            system=stage.units,
            language=stage.language,
            slopes=known_slopes(stage.session),
        )


class _Panel:
    name = "move-card"
    place = "aside"
    verb = ""

    def make(self, stage: Stage, parent: QWidget) -> QWidget:
        """Return the plate."""
        return CardLook(stage, parent)


panel = _Panel()
