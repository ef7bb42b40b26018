"""The row of verbs: which farm, what a person can do with it, the nets, and taking back."""

from __future__ import annotations

from PySide6.QtCore import QPoint, QRectF, QSize, Qt, Signal, SignalInstance
from PySide6.QtGui import QPainter, QPaintEvent, QResizeEvent
from PySide6.QtWidgets import QWidget

from pigmap.builtin.panels.net_figure import NetFigure
from pigmap.builtin.panels.verb_button import VerbButton
from pigmap.drawing.words import DayForm, day_words
from pigmap.qt.day_weather import weather_of, weather_words
from pigmap.qt.keys import LISTING_KEYS, VERB_KEYS
from pigmap.qt.paintwork import breadth, line_height, rule, write
from pigmap.qt.stage import Stage
from pigmap.qt.theme import font, tokens
from pigmap.text import Text

WORDS = {
    "pick": Text("Pick"),
    "draw": Text("Draw"),
    "place": Text("Place"),
    "check": Text("Check"),
    "measure": Text("Measure"),
    "moves": Text("Moves"),
}


WORDS_END_PX = 24
"""Least room between the words on the left and the first button [px]."""
HAND_VERBS = ("pick", "draw", "place", "check", "measure")
"""Verbs of the hand, in the order of the row; those of the head follow."""


class Verbs(QWidget):
    """The row over the map. Verbs are the contributed tools; a verb whose tool is missing is not shown."""

    sheet_asked = Signal()
    undo_asked = Signal()
    redo_asked = Signal()
    map_only_asked = Signal()

    def __init__(self, stage: Stage, parent: QWidget) -> None:
        super().__init__(parent)
        self.stage = stage
        self.setObjectName("verbs")
        self._hands = [self._tool_button(name) for name in _hand_verbs(stage)]
        self._listing = [self._tool_button(name) for name in _listing(stage) if name not in HAND_VERBS]
        self._heads = [*self._listing, self._deed_button("sheet", stage.say("Sheet"), "S", self.sheet_asked)]
        self._takes = [
            self._deed_button("undo", stage.say("Undo"), "", self.undo_asked),
            self._deed_button("redo", stage.say("Redo"), "", self.redo_asked),
        ]
        self._find = VerbButton(stage, "find", stage.say("Find"), "/", self)
        self._find.clicked.connect(lambda: stage.plate_asked.emit("find"))
        self._nets = NetFigure(stage, self)
        self._more = VerbButton(stage, "more", stage.say("More"), "", self)
        self._more.clicked.connect(self._open_more)
        stage.verb_changed.connect(self._show_verb)
        stage.farm_changed.connect(self._show_farm)
        stage.day_changed.connect(self.update)
        stage.theme_changed.connect(self.update)
        stage.room_changed.connect(self._lay_out)
        self._show_verb(stage.verb)
        self._show_farm()

    def _tool_button(self, name: str) -> VerbButton:
        words = self.stage.words(WORDS[name]) if name in WORDS else name.replace("-", " ").capitalize()
        keys = {**VERB_KEYS, **LISTING_KEYS}
        button = VerbButton(self.stage, name, words, keys[name][0] if name in keys else "", self)
        button.setCheckable(True)
        button.clicked.connect(lambda: self._take_up(name))
        return button

    def _deed_button(self, icon: str, words: str, key: str, asked: SignalInstance) -> VerbButton:
        button = VerbButton(self.stage, icon, words, key, self)
        button.clicked.connect(asked)
        return button

    def _open_more(self) -> None:
        from pigmap.builtin.panels.more_menu import MoreMenu  # most starts do not need it

        asked = {"sheet": self.sheet_asked, "redo": self.redo_asked, "map_only": self.map_only_asked}
        menu = MoreMenu(self.stage, self, **{name: each.emit for name, each in asked.items()})
        menu.aboutToHide.connect(menu.deleteLater)
        menu.popup(self._more.mapToGlobal(QPoint(self._more.width() - menu.sizeHint().width(), self._more.height())))

    def _take_up(self, name: str) -> None:
        self.stage.take_up(name)
        self._show_verb(self.stage.verb)

    def _show_verb(self, verb: str) -> None:
        for button in (*self._hands, *self._listing):
            button.setChecked(button.icon_name == verb)

    def _show_farm(self) -> None:
        session = self.stage.session
        for button, label, key in zip(
            self._takes, (session.undo_label, session.redo_label), ("Ctrl Z", "Ctrl Shift Z"), strict=True
        ):
            button.setEnabled(label is not None)
            words = f"{button.text()}: {self.stage.words(label)}" if label is not None else button.text()
            button.setToolTip(f"{words} ({key})")
            button.setAccessibleDescription(words)
        self.setToolTip(self._title())
        self._lay_out()
        self.update()

    def sizeHint(self) -> QSize:
        """Return the row's height at the window's text size."""
        small = self.stage.room.name in ("narrow", "small")
        words = line_height(font("strong", self.stage))
        return QSize(400, round(words + 24 + (18 if small else 26)))

    def resizeEvent(self, event: QResizeEvent) -> None:
        """Lay the buttons out."""
        self._lay_out()

    def _lay_out(self) -> None:
        pad = 6
        high = self.height() - 2 * pad
        x = self._buttons_from()
        self._fit(self.width() - x - 8 - 15)
        for button in self._hands:
            x = _lay(button, x, pad, high)
        self._rule_x = x + 7
        x += 15
        for button in self._heads:
            x = _lay(button, x, pad, high) if not button.isHidden() else x
        nets_x = x + 20
        right = self.width() - 8
        for button in reversed((*self._takes, self._find, self._more)):
            if button.isHidden():
                continue
            right -= button.sizeHint().width()
            _lay(button, right, pad, high)
        self._nets.lay(nets_x, right - 12, self.height())
        self.update()

    def _fit(self, room: int) -> None:
        """Have the buttons stand close where they would not fit, then leave those out that More has too."""
        buttons = [*self._hands, *self._heads, *self._takes, self._find, self._more]
        measure = [button for button in self._hands if button.icon_name == "measure"]
        optional = [self._takes[1], *self._heads[len(self._listing) :], self._find, *measure]
        for button in buttons:
            button.is_close = False
            button.setVisible(True)
        for change in (None, *optional):
            if change is not None:
                change.hide()
            if sum(button.sizeHint().width() + 2 for button in buttons if not button.isHidden()) <= room:
                return
            for button in buttons:
                button.is_close = True

    def _buttons_from(self) -> int:
        room = self.stage.room
        if room.name != "narrow":
            return room.column_px + 12
        return min(max(round(breadth(self._title(), font("title", self.stage))) + 36, 150), max(150, self.width() // 4))

    def _title(self) -> str:
        return self.stage.session.farm.name or self.stage.session.path.stem

    def paintEvent(self, event: QPaintEvent) -> None:
        """Write the farm, the day and the nets."""
        stage, theme = self.stage, tokens(self.stage)
        with QPainter(self) as painter:
            narrow = stage.room.name == "narrow"
            left = 16 if narrow else 20
            title, second = font("title", stage), font("second", stage)
            block = line_height(title) + line_height(second) + 2
            top = (self.height() - block) / 2
            wide = self._buttons_from() - left - WORDS_END_PX
            write(painter, QRectF(left, top, wide, line_height(title)), self._title(), title, theme.ink)
            below = QRectF(left, top + line_height(title) + 2, wide, line_height(second))
            write(painter, below, self._day_line(wide), second, theme.ink2)
            painter.fillRect(QRectF(self._rule_x, 14, 1, self.height() - 28), theme.line)
            rule(painter, 0, self.width(), self.height() - 1, theme.line)

    def _day_line(self, wide: float) -> str:
        """Return the day, and its weather where that is written down and there is room; in a few words if need be."""
        stage, face = self.stage, font("second", self.stage)
        forms: tuple[DayForm, ...] = ("full", "short year", "short")
        days = [day_words(stage.today, form, language=stage.language) for form in forms]
        days = days[1:] if stage.room.name == "narrow" else days
        words = next((each for each in days if breadth(each, face) <= wide), days[-1])
        if stage.session.read_only:
            only = [stage.say("{day}, for reading only", day=day) for day in days]
            return next((each for each in only if breadth(each, face) <= wide), only[-1])
        weather = stage.words(weather_words(weather_of(stage.session.farm, stage.today)))
        said = (f"{day}, {weather}" for day in days if weather)
        return next((each for each in said if breadth(each, face) <= wide), words)


def _lay(button: VerbButton, x: int, y: int, high: int) -> int:
    wide = button.sizeHint().width()
    button.setGeometry(x, y, wide, high)
    return x + wide + 2


def _hand_verbs(stage: Stage) -> list[str]:
    """Return the hand verbs that work; other tools are brought by a card or a key."""
    names = {part.name for part in stage.session.registry.parts("tools")}
    return [name for name in HAND_VERBS if name in names or name in _listing(stage)]


def _listing(stage: Stage) -> list[str]:
    """Return the verbs that bring a panel."""
    names = {part.name for part in stage.session.registry.parts("panels")}
    return [name for name in LISTING_KEYS if name in names]


class _Panel:
    name = "verbs"
    place = "verbs"
    verb = ""

    def make(self, stage: Stage, parent: QWidget) -> QWidget:
        """Return the row."""
        made = Verbs(stage, parent)
        made.setFocusPolicy(Qt.FocusPolicy.NoFocus)
        return made


panel = _Panel()
