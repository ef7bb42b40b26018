"""The tray for placing: kind of net, sides in nets, the group, and what the ghost snaps to."""

from __future__ import annotations

from datetime import timedelta

from PySide6.QtCore import QRectF, QSize, Qt
from PySide6.QtGui import QPainter, QPaintEvent, QResizeEvent
from PySide6.QtWidgets import QScrollArea, QWidget

from pigmap.builtin.panels.day_free import day_free
from pigmap.builtin.panels.tab_order import tab_as_read
from pigmap.builtin.panels.tray_choices import (
    Choice,
    ChoiceButton,
    choices_of_groups,
    choices_of_kinds,
    first_kinds,
)
from pigmap.builtin.panels.tray_column import PAD, Column
from pigmap.builtin.panels.tray_nets import NetStock
from pigmap.builtin.panels.tray_parts import Laid, Parts
from pigmap.builtin.panels.tray_row import TALLEST_SHARE, Row
from pigmap.builtin.panels.tray_sides import SidesInNets
from pigmap.builtin.panels.tray_ways import WaysToPlace
from pigmap.builtin.panels.tray_what import WhatToPlace
from pigmap.drawing.words import day_words
from pigmap.qt.buttons import WordButton
from pigmap.qt.group_step import group_of
from pigmap.qt.paintwork import line_height, write, write_wrapped
from pigmap.qt.stage import Stage
from pigmap.qt.stepper import Stepper
from pigmap.qt.theme import font, tokens
from pigmap.qt.whereabouts import book_of

SNAPS = (("snap_side", "Last side"), ("snap_fence", "Fence"), ("snap_edge", "Field edge"))


class Tray(QWidget):
    """Stands in the column's place while paddocks are placed; it edits `Stage.placing`."""

    def __init__(self, stage: Stage, parent: QWidget) -> None:
        super().__init__(parent)
        self.stage = stage
        self.setObjectName("column")
        self.setAccessibleName(stage.say("Place a paddock"))
        self._scroll = QScrollArea(self)
        self._scroll.setFocusPolicy(Qt.FocusPolicy.NoFocus)
        self._scroll.setHorizontalScrollBarPolicy(Qt.ScrollBarPolicy.ScrollBarAlwaysOff)
        self._inside = _Inside(stage, self)
        self._scroll.setWidget(self._inside)
        stage.room_changed.connect(self._lay_out)

    def sizeHint(self) -> QSize:
        """Return the height in a narrow window; opened it leaves most of it to map and season, and scrolls."""
        most = round(self.window().height() * TALLEST_SHARE)
        return QSize(self.stage.room.column_px, min(self._inside.height(), most))

    def resizeEvent(self, event: QResizeEvent) -> None:
        """Lay it out."""
        self._lay_out()

    def close_down(self) -> None:
        """Keep what was stepped just now."""
        self._inside.settle()

    def _lay_out(self) -> None:
        self._scroll.setGeometry(self.rect())
        self._inside.lay(self.width())


class _Inside(QWidget):
    """What scrolls where the window is low."""

    def __init__(self, stage: Stage, tray: QWidget) -> None:
        super().__init__(tray)
        self.stage = stage
        self._tray = tray
        self._kinds: list[ChoiceButton] = []
        self._groups: list[ChoiceButton] = []
        self._open = False
        """Whether all choices are shown, or only the chosen ones."""
        self._low = False
        """Whether the column is too low for all kinds of net above what else each paddock needs."""
        self._laid = Laid(0.0, ())
        self._sides = SidesInNets(stage, self, lambda: self.lay(self.width()))
        self._day = Stepper(stage, stage.say("In on"), self)
        self._day.stepped.connect(self._step_day)
        self._stock = NetStock(stage, self, lambda: self.lay(self.width()))
        self._own = self._stock.own
        self._snaps = [self._snap(name, stage.say(words)) for name, words in SNAPS]
        self._what = WhatToPlace(stage, self)
        self._ways = WaysToPlace(stage, self, self._sides)
        self._more = WordButton(stage, stage.say("More"), "link", self)
        self._more.clicked.connect(self._turn)
        stage.placing.changed.connect(self._show)
        stage.verb_changed.connect(self._begin)
        stage.farm_changed.connect(self._follow_farm)
        stage.day_changed.connect(self._show_day)
        stage.theme_changed.connect(self.update)
        self._renew()
        self._begin(stage.verb)

    def _snap(self, name: str, words: str) -> WordButton:
        button = WordButton(self.stage, words, "toggle", self)
        button.clicked.connect(lambda: self._choose(**{name: button.isChecked()}))
        return button

    def _choose(self, **changes: object) -> None:
        self.stage.placing.choose(**changes)

    def _begin(self, verb: str) -> None:
        """Place for the group that is picked, else for the first that has nowhere to go next."""
        stage, book = self.stage, book_of(self.stage.session.farm, self.stage.today)
        if verb != "place":
            return
        self._open = False
        picked = group_of(stage.session.farm, stage.picked, stage.day, stage.today)
        groups = book.groups(stage.day)
        waiting = [each.uid for each in groups if book.whereabouts(each, stage.today).next_stay is None]
        self._stock.shut()
        self._what.begin()
        self._renew()
        self._choose_group(picked or next(iter(waiting), groups[0].uid if groups else ""))
        self._choose_its_kind()

    def _choose_its_kind(self) -> None:
        """Take the nets that the group stands in now: most keep to one kind."""
        stage = self.stage
        book, group = book_of(stage.session.farm, stage.today), stage.session.farm.groups.get(stage.placing.group_uid)
        paddock = book.paddock_of(book.whereabouts(group, stage.today).stay) if group is not None else None
        if paddock is not None and paddock.net_kind_uid in stage.session.farm.net_kinds:
            self._choose(kind_uid=paddock.net_kind_uid)

    def _take_group(self, uid: str) -> None:
        """Open the list of groups, or take one of it and fold it up again."""
        self._open = len(self._groups) > 1 and not self._open
        if self._open:
            self.lay(self.width())
        else:
            self._choose_group(uid)

    def _turn(self) -> None:
        """Open all there is to choose, or fold it up."""
        self._open = not self._open
        self.lay(self.width())

    @property
    def _narrow(self) -> bool:
        return self.stage.room.name == "narrow"

    def _choose_group(self, uid: str) -> None:
        self._choose(group_uid=uid, in_on=day_free(self.stage, uid) if uid else None)
        self.lay(self.width())

    def _step_day(self, by: int) -> None:
        on = self.stage.placing.in_on or self.stage.day
        self._choose(in_on=on + timedelta(days=by))

    def _follow_farm(self) -> None:
        """Go on from the end of what was planned just now."""
        if self.stage.verb == "place" and self.stage.placing.group_uid and not self.stage.placing.choice.reshape_uid:
            self._choose_group(self.stage.placing.group_uid)
        self._renew()

    def _show_day(self) -> None:
        if self.stage.verb == "place":
            self._renew()

    def _renew(self) -> None:
        stage = self.stage
        stage.placing.fit(stage.session.farm)
        for button in (*self._kinds, *self._groups):
            button.hide()
            button.deleteLater()
        none = not stage.session.farm.net_kinds
        kinds = first_kinds(stage) if none else choices_of_kinds(stage)
        self._kinds = [ChoiceButton(stage, choice, self) for choice in kinds]
        self._groups = [ChoiceButton(stage, choice, self) for choice in choices_of_groups(stage)]
        for button in self._kinds:
            button.clicked.connect(lambda _=False, choice=button.choice: self._take_kind(choice))
        for button in self._groups:
            button.clicked.connect(lambda _=False, uid=button.choice.uid: self._take_group(uid))
        for button in self._kinds:
            button.show()
        self._show()
        self.lay(self.width())

    def _take_kind(self, choice: Choice) -> None:
        """Take a kind of net; the first that a farm has is added to it."""
        stage = self.stage
        if choice.uid in stage.session.farm.net_kinds:
            if self._narrow or self._low:
                self._open = len(self._kinds) > 1 and not self._open
            self._choose(kind_uid=choice.uid)
            self.lay(self.width())
            return
        self._stock.take_first(choice)

    def _show(self) -> None:
        self._show_stock()
        choice = self.stage.placing.choice
        if self._ways.show(folded=self._narrow and not self._open):
            self.lay(self.width())
        for button in self._kinds:
            button.setChecked(button.choice.uid == choice.kind_uid)
        for button in self._groups:
            button.setChecked(button.choice.uid == choice.group_uid)
        self._sides.show()
        day = choice.in_on or self.stage.day
        self._day.show_words(day_words(day, "short", language=self.stage.language))
        self._day.setVisible(bool(choice.group_uid))
        for snap, (name, _) in zip(self._snaps, SNAPS, strict=True):
            snap.setChecked(getattr(choice, name))

    def settle(self) -> None:
        """Tell of nets that were stepped just now."""
        self._stock.settle()

    # Its room

    def lay(self, width: int) -> None:
        """Lay everything out below one another; in lines where the window is narrow."""
        stage, choice, none = self.stage, self.stage.placing.choice, not self.stage.session.farm.net_kinds
        self._fold(self._groups, choice.group_uid, folded=not self._open)
        self._fold(self._kinds, choice.kind_uid, folded=self._narrow and not self._open and not none)
        self._more.setVisible(self._narrow and not none)
        self._more.setText(stage.say("Less") if self._open else stage.say("More"))
        self._more.setAccessibleName(stage.say("Fewer choices") if self._open else stage.say("All choices"))
        self._show_stock()
        self._ways.show(folded=self._narrow and not self._open)
        parts, snaps = self._parts(), (*self._snaps, self._what.next, self._what.stands)
        if self._narrow:
            self._laid = Row(stage, parts, width, opened=self._open or none).lay()
        else:
            for each in snaps:
                each.show()
            self._laid = Column(stage, parts, width).lay(self._hint())
            self._low = self._laid.needed > self._tray.height() and not none and len(self._kinds) > 1
            if self._low and not self._open:
                self._fold(self._kinds, choice.kind_uid, folded=True)
                self._laid = Column(stage, parts, width, close=True).lay(self._hint())
            tab_as_read(self, width)
        self.resize(width, round(self._laid.high))
        self._tray.updateGeometry()
        self.update()

    def _parts(self) -> Parts:
        return Parts(
            self._kinds,
            self._groups,
            self._sides,
            self._day,
            self._snaps,
            self._stock,
            self._what,
            self._ways,
            self._more,
        )

    def _show_stock(self) -> None:
        self._stock.show()
        if self._narrow:
            self._stock.show_with(shown=self._open or not self.stage.session.farm.net_kinds)

    def _fold(self, buttons: list[ChoiceButton], uid: str, *, folded: bool) -> None:
        """Show only the chosen one of several, with a sign that there are others, or all of them."""
        folded = folded and len(buttons) > 1
        for button in buttons:
            button.setVisible(button.choice.uid == uid or not folded)
            button.fold(folded)

    def _hint(self) -> str:
        if not self.stage.session.farm.net_kinds:
            return self.stage.say("Say which nets there are, then a paddock can be placed.")
        return self.stage.words(self._ways.hint)

    def paintEvent(self, event: QPaintEvent) -> None:
        """Write the headings and the hint."""
        theme, stage = tokens(self.stage), self.stage
        with QPainter(self) as painter:
            second = font("second", stage)
            for x, y, words in self._laid.heads:
                write(painter, QRectF(x, y, self.width() - x - PAD, line_height(second)), words, second, theme.ink2)
            if self._laid.hint_y >= 0:
                box = QRectF(PAD, self._laid.hint_y, self.width() - 2 * PAD, 200)
                write_wrapped(painter, box, self._hint(), second, theme.ink2)


class _Panel:
    name = "tray"
    place = "column"
    verb = "place"

    def make(self, stage: Stage, parent: QWidget) -> QWidget:
        """Return the tray."""
        return Tray(stage, parent)


panel = _Panel()
