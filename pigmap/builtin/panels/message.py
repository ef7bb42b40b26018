"""The message bar: one sentence and one deed, docked over the season strip; away from today it says what is shown."""

from __future__ import annotations

from PySide6.QtCore import QEvent, QRectF, QSize, QTimer
from PySide6.QtGui import QAccessible, QAccessibleEvent, QEnterEvent, QPainter, QPaintEvent, QResizeEvent
from PySide6.QtWidgets import QWidget

from pigmap.builtin.panels.close_button import CloseButton
from pigmap.drawing.words import day_words
from pigmap.qt import moved_images, opened_file
from pigmap.qt.buttons import WordButton
from pigmap.qt.coming import fade_out
from pigmap.qt.day_weather import weather_of, weather_words
from pigmap.qt.following import redo, undo
from pigmap.qt.keys import VERB_KEYS
from pigmap.qt.map_plate import MapPlate
from pigmap.qt.motion import MESSAGE_OUT_MS
from pigmap.qt.paintwork import Left, breadth, plate, wrapped_height, write, write_wrapped
from pigmap.qt.stage import Notice, Stage
from pigmap.qt.theme import font, tokens
from pigmap.qt.whereabouts import book_of
from pigmap.session.session import Past
from pigmap.text import Text

STAYS_MS = 6000
STAYS_WITH_FILE_MS = 20_000
"""What opens a file is nowhere else to be pressed: it stays until a person has seen it [ms]."""
KEPT = 50
"""Messages that are remembered."""
HIGH = 44
PAD = 16
MOST_WIDE = 760.0

FARM_FILE = "farm-file"
"""Name of the plate that a message about a damaged file opens, and of its deed."""
NOW = "now"
"""Name of the deed that ends a look at the past."""
LEFT_HALF_DONE = ("draw", "stand", "here", "place")
"""Verbs that say so when something of theirs is left half done; the deed is to go on with it."""

DEEDS = {
    "undo": (Text("Undo"), "Ctrl Z"),
    "redo": (Text("Redo"), "Ctrl Shift Z"),
    "today": (Text("Back to today"), "Home"),
    moved_images.DEED: (Text("Show where it is"), ""),
    opened_file.DEED: (Text("Open it"), ""),
    FARM_FILE: (Text("What can be done"), ""),
    NOW: (Text("Back to the farm as it is now"), ""),
    **{verb: (Text("Go on"), VERB_KEYS[verb][0]) for verb in LEFT_HALF_DONE},
}
_NO_DEED = (Text(""), "")


class MessageBar(MapPlate):
    """Shows the newest notice; one that refuses stays until it is put away."""

    def __init__(self, stage: Stage, parent: QWidget) -> None:
        super().__init__(stage, parent)
        self.past: list[Notice] = []
        self._notice: Notice | None = None
        self._standing: Notice | None = None
        self._offered: object = None
        self._deed = WordButton(stage, "", "link", self)
        self._deed.clicked.connect(self._do)
        self._close = CloseButton(stage, self)
        self._close.clicked.connect(self._leave)
        self._timer = QTimer(self, singleShot=True, interval=STAYS_MS)
        self._timer.timeout.connect(self._leave)
        stage.noticed.connect(self.take)
        stage.day_changed.connect(self._show_standing)
        stage.farm_changed.connect(self._show_changed)
        self._said_now = False
        """Whether the notice was said in this turn of the window: what takes a verb up may refuse by that."""
        stage.verb_changed.connect(self._leave_refusal)
        self._show_standing()

    def take(self, notice: Notice) -> None:
        """Say something."""
        self.past = [*self.past, notice][-KEPT:]
        self._notice = notice
        self._said_now = True
        QTimer.singleShot(0, self, self._said)
        self._offered = self._step()
        self._timer.stop()
        if notice.kind != "refused":
            self._timer.start(STAYS_MS if notice.file is None else STAYS_WITH_FILE_MS)
        self._show()
        if QAccessible.isActive():
            QAccessible.updateAccessibility(QAccessibleEvent(self, QAccessible.Event.Alert))

    def _said(self) -> None:
        self._said_now = False

    def _leave_refusal(self) -> None:
        """Put away what an earlier verb refused."""
        if self._notice is not None and self._notice.kind == "refused" and not self._said_now:
            self._leave()

    def _leave(self) -> None:
        self._timer.stop()
        if self._standing is None:
            fade_out(self, MESSAGE_OUT_MS)
        self._notice = None
        self._show()

    def _step(self) -> object:
        """Return the step of undo or redo that the button would take, None where it takes none."""
        reach = self.stage.session.reach
        deed = self._notice.deed if self._notice is not None else ""
        return {"undo": reach.undo, "redo": reach.redo}.get(deed)

    def _show_changed(self) -> None:
        if self._notice is not None and self._step() != self._offered:
            self._notice = self._notice._replace(deed="")  # it would take another step than the sentence is about
            self._offered = None
            self._show()
        self._show_standing()

    def _show_standing(self) -> None:
        past, away = self.stage.session.past, self.stage.day != self.stage.today
        if self._notice is None and past is None and not away:
            fade_out(self, MESSAGE_OUT_MS)
        self._standing = Notice(_day_words(self.stage), deed="today") if away else None
        if past is not None:
            self._standing = Notice(_past_words(self.stage, past), kind="care", deed=NOW)
        if self._notice is None:
            self._show()

    @property
    def shown(self) -> Notice | None:
        """What it says now, if anything: the newest notice, else what the map shows away from today."""
        return self._notice or self._standing

    def _show(self) -> None:
        shown = self.shown
        if shown is not None:
            words, _ = DEEDS.get(shown.deed, _NO_DEED)
            self._deed.setText(self.stage.words(words))
            self._deed.setAccessibleName(self._deed.text())
            self._deed.setVisible(bool(words))
            self._close.setVisible(shown.kind == "refused")
            self.setAccessibleName(self.stage.words(shown.text))
        self.setVisible(shown is not None)
        self.updateGeometry()
        self._lay_out()
        self.update()

    def _do(self) -> None:
        shown = self.shown
        if shown is None:
            return
        self._leave()
        if shown.deed == "today":
            self.stage.show_day(self.stage.today)
        elif shown.deed == "undo":
            undo(self.stage)
        elif shown.deed == "redo":
            redo(self.stage)
        elif shown.deed == moved_images.DEED:
            moved_images.ask_where(self.stage, self.window())
        elif shown.deed == opened_file.DEED and shown.file is not None:
            opened_file.open_file(self.stage, shown.file)
        elif shown.deed == NOW:
            from pigmap.session.new_farm import Made  # not before the first frame

            self.stage.farm_asked.emit(Made(self.stage.session.path))
        elif shown.deed == FARM_FILE:
            self.stage.plate_asked.emit(FARM_FILE)
        elif shown.deed in LEFT_HALF_DONE:
            self.stage.take_up(shown.deed)

    # Its room

    def _hint(self) -> str:
        """Return the key of the deed."""
        return DEEDS.get(self.shown.deed, _NO_DEED)[1] if self.shown is not None else ""

    def _words(self) -> str:
        return self.stage.words(self.shown.text) if self.shown is not None else ""

    def _tail_wide(self) -> float:
        shown = self.shown
        if shown is None:
            return 0.0
        wide = 0.0
        if shown.deed in DEEDS:
            hint = breadth(self._hint(), font("tick", self.stage))
            wide += 25 + self._deed.sizeHint().width() + hint + 8
        return wide + (36 if shown.kind == "refused" else 0)

    def sizeHint(self) -> QSize:
        """Return the room for the sentence on one line, or on several where it is long."""
        words = min(breadth(self._words(), font("body", self.stage, weight=500)) + 2, MOST_WIDE)
        return QSize(round(words + self._tail_wide()) + 2 * PAD, HIGH)

    def heightForWidth(self, width: int) -> int:
        """Return the height that the sentence takes in a breadth."""
        room = max(width - 2 * PAD - self._tail_wide(), 80)
        face = font("body", self.stage, weight=500)
        return max(round(HIGH * self.stage.text_scale), round(wrapped_height(self._words(), face, room)) + 18)

    def resizeEvent(self, event: QResizeEvent) -> None:
        """Lay the deed out."""
        self._lay_out()

    def _lay_out(self) -> None:
        right = self.width() - PAD
        if not self._close.isHidden():
            self._close.setGeometry(right - 24, (self.height() - 28) // 2, 28, 28)
            right -= 36
        if not self._deed.isHidden():
            hint = breadth(self._hint(), font("tick", self.stage))
            size = self._deed.sizeHint()
            x = round(right - hint - 8 - size.width())
            self._deed.setGeometry(x, (self.height() - size.height()) // 2, size.width(), size.height())

    def paintEvent(self, event: QPaintEvent) -> None:
        """Draw the plate, the sentence, a rule and the deed's key."""
        shown = self.shown
        if shown is None:
            return
        theme = tokens(self.stage)
        with QPainter(self) as painter:
            edge = theme.no if shown.kind == "refused" else theme.ink
            plate(painter, QRectF(self.rect()), theme.plate, edge, width=2, radius=0)
            face = font("body", self.stage, weight=500)
            room = self.width() - 2 * PAD - self._tail_wide() + 2
            high = wrapped_height(self._words(), face, room)
            colour = theme.no if shown.kind == "refused" else theme.ink
            write_wrapped(painter, QRectF(PAD, (self.height() - high) / 2, room, high + 2), self._words(), face, colour)
            if not self._deed.isHidden():
                x = self._deed.x() - 12
                painter.fillRect(QRectF(x, 10, 1, self.height() - 20), theme.line)
                hint, key = font("tick", self.stage), self._hint()
                box = QRectF(self._deed.geometry().right() + 6, 0, breadth(key, hint) + 4, self.height())
                write(painter, box, key, hint, theme.ink2, Left)

    def enterEvent(self, event: QEnterEvent) -> None:
        """Stay while the pointer is on it."""
        self._timer.stop()
        super().enterEvent(event)

    def leaveEvent(self, event: QEvent) -> None:
        """Go on counting."""
        if self._notice is not None and self._notice.kind != "refused":
            self._timer.start()
        super().leaveEvent(event)


def _past_words(stage: Stage, past: Past) -> Text:
    at = past.at.astimezone()
    return Text(
        "This is the past: the farm as it was on {day} at {time}, after “{label}”.",
        {
            "day": day_words(at.date(), "short year", language=stage.language),
            "time": f"{at:%H:%M}",
            "label": past.label,
        },
    )


def _day_words(stage: Stage) -> Text:
    """Return what the map shows of another day: its moves, and its weather where that was written down."""
    weather = weather_words(weather_of(stage.session.farm, stage.day))
    said = _moves_words(stage)
    return Text("{moves} Weather: {weather}.", {"moves": said, "weather": weather}) if weather else said


def _moves_words(stage: Stage) -> Text:
    book = book_of(stage.session.farm, stage.today)
    day = day_words(stage.day, "short", language=stage.language)
    names = [group.name for group in book.groups(stage.day) if book.moves_on(group.uid, stage.day)]
    planned = stage.day > stage.today
    if not names:
        text = "The plan on {day}. No move that day." if planned else "As recorded on {day}. No move that day."
        return Text(text, {"day": day})
    text = "The plan on {day}. To move: {groups}." if planned else "As recorded on {day}. Moved: {groups}."
    return Text(text, {"day": day, "groups": ", ".join(names)})


class _Panel:
    name = "message"
    place = "message"
    verb = ""

    def make(self, stage: Stage, parent: QWidget) -> QWidget:
        """Return the bar."""
        return MessageBar(stage, parent)


panel = _Panel()
