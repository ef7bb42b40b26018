"""The tray for placing: kind of net, sides in nets, the group, and what the ghost snaps to."""

from __future__ import annotations

from PySide6.QtCore import QRectF, QSize, Qt
from PySide6.QtGui import QPainter, QPaintEvent, QResizeEvent
from PySide6.QtWidgets import QScrollArea, QWidget

from pigmap.builtin.panels.stepper import Stepper
from pigmap.builtin.panels.tray_choices import ChoiceButton, choices_of_groups, choices_of_kinds
from pigmap.qt.buttons import WordButton
from pigmap.qt.paintwork import line_height, wrapped_height, write, write_wrapped
from pigmap.qt.stage import Stage
from pigmap.qt.theme import font, tokens

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
        self._inside = _Inside(stage, self._scroll)
        self._scroll.setWidget(self._inside)
        stage.room_changed.connect(self._lay_out)

    def sizeHint(self) -> QSize:
        """Return the height in a narrow window."""
        return QSize(self.stage.room.column_px, round(150 * self.stage.text_scale))

    def resizeEvent(self, event: QResizeEvent) -> None:
        """Lay it out."""
        self._lay_out()

    def _lay_out(self) -> None:
        self._scroll.setGeometry(self.rect())
        self._inside.lay(self.width())


class _Inside(QWidget):
    """What scrolls where the window is low."""

    def __init__(self, stage: Stage, parent: QWidget) -> None:
        super().__init__(parent)
        self.stage = stage
        self._kinds: list[ChoiceButton] = []
        self._groups: list[ChoiceButton] = []
        self._heads: list[tuple[float, str]] = []
        self._long = Stepper(stage, stage.say("Nets long"), self)
        self._wide = Stepper(stage, stage.say("Nets wide"), self)
        self._long.stepped.connect(lambda by: self._choose(nets_long=stage.placing.nets_long + by))
        self._wide.stepped.connect(lambda by: self._choose(nets_wide=stage.placing.nets_wide + by))
        self._snaps = [self._snap(name, stage.say(words)) for name, words in SNAPS]
        stage.placing.changed.connect(self._show)
        stage.farm_changed.connect(self._renew)
        stage.day_changed.connect(self._renew)
        stage.theme_changed.connect(self.update)
        self._renew()

    def _snap(self, name: str, words: str) -> WordButton:
        button = WordButton(self.stage, words, "switch", self)
        button.clicked.connect(lambda: self._choose(**{name: button.isChecked()}))
        return button

    def _choose(self, **changes: object) -> None:
        self.stage.placing.choose(**changes)

    def _renew(self) -> None:
        stage = self.stage
        stage.placing.fit(stage.session.farm)
        for button in (*self._kinds, *self._groups):
            button.hide()
            button.deleteLater()
        self._kinds = [ChoiceButton(stage, choice, self) for choice in choices_of_kinds(stage)]
        self._groups = [ChoiceButton(stage, choice, self) for choice in choices_of_groups(stage)]
        for button in self._kinds:
            button.clicked.connect(lambda _=False, uid=button.choice.uid: self._choose(kind_uid=uid))
        for button in self._groups:
            button.clicked.connect(lambda _=False, uid=button.choice.uid: self._choose(group_uid=uid))
        for button in (*self._kinds, *self._groups):
            button.show()
        self._show()
        self.lay(self.width())

    def _show(self) -> None:
        choice = self.stage.placing.choice
        for button in self._kinds:
            button.setChecked(button.choice.uid == choice.kind_uid)
        for button in self._groups:
            button.setChecked(button.choice.uid == choice.group_uid)
        self._long.show_count(choice.nets_long)
        self._wide.show_count(choice.nets_wide)
        for snap, (name, _) in zip(self._snaps, SNAPS, strict=True):
            snap.setChecked(getattr(choice, name))

    # Its room

    def lay(self, width: int) -> None:
        """Lay everything out below one another; in a row where the window is narrow."""
        self._heads = []
        high = self._lay_row(width) if self.stage.room.name == "narrow" else self._lay_column(width)
        self.resize(width, round(high))
        self.update()

    def _head(self, y: float, words: str) -> float:
        self._heads.append((y, words))
        return y + line_height(font("second", self.stage)) + 4

    def _lay_column(self, width: int) -> float:
        stage, wide = self.stage, width - 2 * PAD
        y = 12 + line_height(font("heading", stage)) + 12
        y = self._head(y, stage.say("Net kind"))
        y = self._stack(self._kinds, PAD, y, wide) + 8
        label = line_height(font("second", stage)) + 4
        half = (wide - 12) // 2
        for at, stepper in enumerate((self._long, self._wide)):
            stepper.setGeometry(PAD + at * (half + 12), round(y), half, round(label + 46 * stage.text_scale))
        y = self._head(y + label + 46 * stage.text_scale + 14, stage.say("For"))
        y = self._stack(self._groups, PAD, y, wide) + 8
        y = self._head(y, stage.say("Snap to"))
        x = PAD
        each = (wide - 2 * 6) // 3
        for button in self._snaps:
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
        stage = self.stage
        label = line_height(font("second", stage)) + 4
        column = max(150, (width - 4 * 16) // 4)
        self._stack(self._kinds, 16, 10, column)
        tall = round(label + 46 * stage.text_scale)
        self._long.setGeometry(16 + column + 16, 10, column // 2 + 20, tall)
        self._wide.setGeometry(16 + column + 16, 10 + tall + 6, column // 2 + 20, tall)
        x = 16 + column + 16 + column // 2 + 20 + 16
        self._stack(self._groups, x, 10, column)
        x += column + 16
        y = 10.0
        for button in self._snaps:
            button.setGeometry(x, round(y), max(90, width - x - 16), round(36 * stage.text_scale))
            y += 36 * stage.text_scale + 6
        self._hint_y = -1.0
        stacks = max(len(self._kinds), len(self._groups), 1)
        return max(2 * tall + 22.0, y, stacks * (52 * stage.text_scale + GAP) + 14)

    def _hint(self) -> str:
        return self.stage.say("Click sets it. Drag on lays a row. Q and E turn. Esc ends.")

    def paintEvent(self, event: QPaintEvent) -> None:
        """Write the headings and the hint."""
        theme, stage = tokens(self.stage), self.stage
        painter = QPainter(self)
        second = font("second", stage)
        if stage.room.name != "narrow":
            heading = font("heading", stage)
            head = QRectF(PAD, 10, self.width() - 2 * PAD, line_height(heading))
            write(painter, head, stage.say("Place a paddock"), heading, theme.ink)
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
