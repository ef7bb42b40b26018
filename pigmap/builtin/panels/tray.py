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
from pigmap.builtin.panels.tray_nets import NetStock, all_nets_words
from pigmap.builtin.panels.tray_what import WhatToPlace
from pigmap.drawing.words import day_words
from pigmap.qt.buttons import WordButton
from pigmap.qt.group_step import group_of
from pigmap.qt.paintwork import line_height, wrapped_height, write, write_wrapped
from pigmap.qt.stage import Stage
from pigmap.qt.stepper import Stepper
from pigmap.qt.theme import font, tokens
from pigmap.qt.whereabouts import book_of

PAD = 20
GAP = 8
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
        """Return the height in a narrow window."""
        return QSize(self.stage.room.column_px, self._inside.height())

    def resizeEvent(self, event: QResizeEvent) -> None:
        """Lay it out."""
        self._lay_out()

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
        self._groups_open = False
        self._heads: list[tuple[float, str]] = []
        self._long = Stepper(stage, stage.say("Nets long"), self)
        self._wide = Stepper(stage, stage.say("Nets wide"), self)
        self._long.stepped.connect(lambda by: self._choose(nets_long=stage.placing.nets_long + by))
        self._wide.stepped.connect(lambda by: self._choose(nets_wide=stage.placing.nets_wide + by))
        self._day = Stepper(stage, stage.say("In on"), self)
        self._day.stepped.connect(self._step_day)
        self._stock = NetStock(stage, self, lambda: self.lay(self.width()))
        self._own = self._stock.own
        self._snaps = [self._snap(name, stage.say(words)) for name, words in SNAPS]
        self._what = WhatToPlace(stage, self)
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
        self._groups_open = self._folds() and not self._groups_open
        if self._groups_open:
            self.lay(self.width())
        else:
            self._choose_group(uid)

    def _folds(self) -> bool:
        """Whether only the chosen group is shown until the list is opened: where the column is high, not broad."""
        return self.stage.room.name != "narrow" and len(self._groups) > 1

    def _choose_group(self, uid: str) -> None:
        self._choose(group_uid=uid, in_on=day_free(self.stage, uid) if uid else None)
        self.lay(self.width())

    def _step_day(self, by: int) -> None:
        on = self.stage.placing.in_on or self.stage.day
        self._choose(in_on=on + timedelta(days=by))

    def _follow_farm(self) -> None:
        """Go on from the end of what was planned just now."""
        if self.stage.verb == "place" and self.stage.placing.group_uid:
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
        for widget in (self._long, self._wide):
            widget.setVisible(not none)
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
            self._choose(kind_uid=choice.uid)
            return
        self._stock.take_first(choice)

    def _show(self) -> None:
        self._stock.show()
        choice = self.stage.placing.choice
        for button in self._kinds:
            button.setChecked(button.choice.uid == choice.kind_uid)
        for button in self._groups:
            button.setChecked(button.choice.uid == choice.group_uid)
        self._long.show_words(str(choice.nets_long))
        self._wide.show_words(str(choice.nets_wide))
        day = choice.in_on or self.stage.day
        self._day.show_words(day_words(day, "short", language=self.stage.language))
        self._day.setVisible(bool(choice.group_uid))
        for snap, (name, _) in zip(self._snaps, SNAPS, strict=True):
            snap.setChecked(getattr(choice, name))

    # Its room

    def lay(self, width: int) -> None:
        """Lay everything out below one another; in a row where the window is narrow."""
        self._heads = []
        folded = self._folds() and not self._groups_open
        for button in self._groups:
            chosen = button.choice.uid == self.stage.placing.group_uid
            button.setVisible(chosen or not folded)
            button.fold(folded)
        high = self._lay_row(width) if self.stage.room.name == "narrow" else self._lay_column(width)
        self.resize(width, round(high))
        tab_as_read(self, (width - 16) // 3 if self.stage.room.name == "narrow" else width)
        self._tray.updateGeometry()
        self.update()

    def _head(self, y: float, words: str) -> float:
        self._heads.append((y, words))
        return y + line_height(font("second", self.stage)) + 4

    def _lay_column(self, width: int) -> float:
        stage, wide = self.stage, width - 2 * PAD
        y = self._what.lay(PAD, 12, wide) + 10
        label = line_height(font("second", stage)) + 4
        half = (wide - 12) // 2
        none = not stage.session.farm.net_kinds
        y = self._stock.lay_own(PAD, y, wide) if none else y
        y = self._head(y, stage.say("How long are they?") if none else all_nets_words(stage))
        y = self._stack(self._kinds, PAD, y, wide)
        y = self._stock.lay_line(PAD, y, wide) if none else self._stock.lay_folded(PAD, y - 6, wide)
        y -= label + 46 * stage.text_scale + 14 if none else 0
        for at, stepper in enumerate((self._long, self._wide)):
            stepper.setGeometry(PAD + at * (half + 12), round(y), half, round(label + 46 * stage.text_scale))
        y = self._head(y + label + 46 * stage.text_scale + 14, stage.say("For"))
        y = self._stack([button for button in self._groups if not button.isHidden()], PAD, y, wide) + 6
        if not self._day.isHidden():
            self._day.setGeometry(PAD, round(y), wide, round(label + 46 * stage.text_scale))
            y += label + 46 * stage.text_scale + 8
        y = self._head(y + 6, stage.say("Snap to"))
        x, room = PAD, (wide - 2 * 6) / sum(button.sizeHint().width() for button in self._snaps)
        for button in self._snaps:
            each = int(button.sizeHint().width() * room)  # room by the length of its word
            button.setGeometry(x, round(y), each, round(40 * stage.text_scale))
            x += each + 6
        self._hint_y = y + 40 * stage.text_scale + 14
        return self._hint_y + wrapped_height(self._hint(), font("second", stage), wide) + 16

    def _stack(self, buttons: list[ChoiceButton], x: int, y: float, wide: int) -> float:
        for button in buttons:
            high = button.sizeHint().height()
            button.setGeometry(x, round(y), wide, high)
            y += high + GAP
        return y

    def _lay_row(self, width: int) -> float:
        """Lay three columns: nets and snaps, groups, steppers."""
        stage = self.stage
        column = (width - 4 * 16) // 3
        tall = round(line_height(font("second", stage)) + 4 + 44 * stage.text_scale)
        left = self._stack(self._kinds, 16, 10, column)
        each = (column - 2 * 6) // 3
        for at, button in enumerate(self._snaps):
            button.setGeometry(16 + at * (each + 6), round(left), each, round(36 * stage.text_scale))
        middle = self._stack(self._groups, 2 * 16 + column, 10, column)
        x, half = 3 * 16 + 2 * column, (column - 12) // 2
        left += 36 * stage.text_scale + 4
        if stage.session.farm.net_kinds:
            left = self._stock.lay_folded(16, left, column)
        else:
            left = self._stock.lay_line(16, left, column)
            self._stock.lay_own(x, 8, column)
        self._long.setGeometry(x, 8, half, tall)
        self._wide.setGeometry(x + half + 12, 8, half, tall)
        self._day.setGeometry(x, 8 + tall + 8, column, tall)
        left = self._what.lay(16, left + 4, column)
        self._hint_y = -1.0
        return max(left + 4, middle + 4, 2 * tall + 26.0)

    def _hint(self) -> str:
        if not self.stage.session.farm.net_kinds:
            return self.stage.say("Say which nets there are, then a paddock can be placed.")
        return self.stage.say("Click sets it. Drag on lays a row. Q and E turn. Esc ends.")

    def paintEvent(self, event: QPaintEvent) -> None:
        """Write the headings and the hint."""
        theme, stage = tokens(self.stage), self.stage
        painter = QPainter(self)
        second = font("second", stage)
        for y, words in self._heads:
            write(painter, QRectF(PAD, y, self.width() - 2 * PAD, line_height(second)), words, second, theme.ink2)
        if self._hint_y >= 0:
            box = QRectF(PAD, self._hint_y, self.width() - 2 * PAD, 200)
            write_wrapped(painter, box, self._hint(), second, theme.ink2)
        painter.end()


class _Panel:
    name = "tray"
    place = "column"
    verb = "place"

    def make(self, stage: Stage, parent: QWidget) -> QWidget:
        """Return the tray."""
        return Tray(stage, parent)


panel = _Panel()
