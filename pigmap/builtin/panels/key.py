"""The key, headed 'Show': a switch between the ways to colour the ground, and what the colours mean."""

from __future__ import annotations

from PySide6.QtCore import QEvent, QRectF, QSize
from PySide6.QtGui import QPainter, QPaintEvent, QPixmap, QResizeEvent
from PySide6.QtWidgets import QWidget

from pigmap.builtin.panels.key_button import KeyButton
from pigmap.builtin.panels.key_parts import loaded_tints, mark_words, rest_mark
from pigmap.builtin.panels.key_table import draw_pointed, draw_table, draw_unknown, table_high, unknown_high
from pigmap.drawing.key import DAYS_OF_REST, Key, key_of
from pigmap.drawing.tokens import BARE, UNKNOWN
from pigmap.qt.buttons import WordButton
from pigmap.qt.ground_spot import GroundSpot
from pigmap.qt.map_plate import MapPlate
from pigmap.qt.paintwork import SHADOW, Right, line_height, wrapped_height, write, write_wrapped
from pigmap.qt.stage import Stage
from pigmap.qt.theme import font, tokens

PAD = 12 + SHADOW
WIDE = 188
IN_FRONT = ("rest", "rooting", "rest-and-rooting", "ready")
BUTTON_HIGH = 28


class KeyPanel(MapPlate):
    """Open in a window with room, else a button that opens it."""

    def __init__(self, stage: Stage, parent: QWidget) -> None:
        super().__init__(stage, parent)
        self.setAccessibleName(stage.say("Show"))
        self._open: bool | None = None
        self._most: int | None = None
        """Height that there is for it [px]; None before it is laid out."""
        self._more = stage.tint not in IN_FRONT
        self._tints = loaded_tints(stage)
        self._switches = {name: self._switch(name) for name in self._tints}
        self._more_button = WordButton(stage, stage.say("More"), "switch", self)
        self._more_button.clicked.connect(self._toggle_more)
        self._fold = KeyButton(stage, self)
        self._fold.clicked.connect(self._toggle)
        self._kept: QPixmap | None = None
        self._marked = rest_mark(self.stage)
        self._pointed: GroundSpot | None = None
        stage.pointed_at.connect(self._point_at)
        stage.tint_changed.connect(self._show_tint)
        for signal in (stage.day_changed, stage.farm_changed, stage.picked_changed):
            signal.connect(self._follow)
        stage.theme_changed.connect(self._redraw)
        stage.room_changed.connect(self._fit)
        self._show()

    def _switch(self, name: str) -> WordButton:
        button = WordButton(self.stage, self.stage.words(self._tints[name].title), "switch", self)
        button.clicked.connect(lambda: self._choose(name))
        return button

    def _choose(self, name: str) -> None:
        self.stage.show_tint(name)
        self._show()

    @property
    def is_open(self) -> bool:
        """Whether the whole key is there; a person's choice stands until the room changes.

        On a farm where no pigs stayed yet there is nothing to read with it, and ground to be drawn on under it.
        """
        if self._open is not None:
            return self._open
        has_room = self.stage.room.name in ("usual", "wide") and bool(self.stage.session.farm.stays)
        return has_room and (self._most is None or self._high(self._every_note()) <= self._most)

    def fit_within(self, most: int) -> None:
        """Be no higher than there is room for [px]: it opens by itself where all of it has room."""
        if most != self._most:
            self._most = most
            if self.is_open != self._shown_open:
                self._show()
            self._redraw()

    def _toggle(self) -> None:
        self._open = not self.is_open
        self._show()

    def _show_tint(self) -> None:
        """Show the switch that is on, also where it is none of those in front."""
        self._more = self._more or self.stage.tint not in IN_FRONT
        self._show()

    def _toggle_more(self) -> None:
        self._more = not self._more
        self._show()

    def _fit(self) -> None:
        self._open = None
        self._show()

    def _follow(self) -> None:
        """Draw anew where another rest is wanted; open where the first pigs came."""
        if self.is_open != self._shown_open:
            self._show()
        mark = rest_mark(self.stage)
        if mark != self._marked:
            self._marked = mark
            self._redraw()
            self.updateGeometry()

    def _redraw(self) -> None:
        self._kept = None
        self.update()

    def _show(self) -> None:
        self._kept = self._pointed = None
        self._shown_open = self.is_open
        for name, button in self._switches.items():
            button.setChecked(name == self.stage.tint)
            button.setVisible(self.is_open and (self._more or name in IN_FRONT))
        rest = [name for name in self._tints if name not in IN_FRONT]
        self._more_button.setVisible(self.is_open and bool(rest))
        self._more_button.setChecked(False)
        self._more_button.setText(self.stage.say("Less") if self._more else self.stage.say("More"))
        key = self._key()
        self._fold.show_state(self._tints.get(self.stage.tint), key, open_=self.is_open)
        self.updateGeometry()
        self._lay_out()
        self.update()

    def _key(self) -> Key | None:
        tint = self._tints.get(self.stage.tint)
        return key_of(tint) if tint is not None else None

    # Its room

    def _inner(self) -> int:
        return round(WIDE * self.stage.text_scale)

    def _head_high(self) -> float:
        return line_height(font("strong", self.stage)) + 8

    def _rows(self) -> list[list[WordButton]]:
        shown = [button for name, button in self._switches.items() if self._more or name in IN_FRONT]
        if not self._more_button.isHidden():
            shown.append(self._more_button)
        rows: list[list[WordButton]] = []
        wide = self._inner()
        for button in shown:
            half = button.sizeHint().width() <= (wide - 6) / 2
            if half and rows and len(rows[-1]) == 1 and rows[-1][0].sizeHint().width() <= (wide - 6) / 2:
                rows[-1].append(button)
            else:
                rows.append([button])
        return rows

    def _notes(self) -> list[tuple[str, bool]]:
        """Return the sentences below the table, on a low map only those that have room."""
        notes = self._every_note()
        while notes and self._most is not None and self._high(notes) > self._most:
            notes.pop()
        return notes

    def _every_note(self) -> list[tuple[str, bool]]:
        key = self._key()
        if key is None:
            return []
        notes = [(self.stage.words(note), key.mark_at_step is not None) for note in key.notes]
        mark = rest_mark(self.stage)
        if mark is not None and key.across == DAYS_OF_REST:
            notes.append((mark_words(self.stage, mark), True))
        return notes

    def sizeHint(self) -> QSize:
        """Return the room of the open key, or of its button."""
        if not self.is_open:
            size = self._fold.sizeHint()
            return QSize(size.width() + 2 * SHADOW, size.height() + 2 * SHADOW)
        return QSize(self._inner() + 2 * PAD, self._high(self._notes()))

    def _high(self, notes: list[tuple[str, bool]]) -> int:
        """Return the height of the open key with some sentences below the table [px]."""
        high = 2 * PAD + self._head_high() + len(self._rows()) * (self._button_high() + 5) + 8
        key = self._key()
        if key is not None and key.columns:
            high += table_high(key, self.stage) + unknown_high(self._tints[self.stage.tint], self.stage)
        face = font("tick", self.stage)
        return round(high + sum(wrapped_height(words, face, self._inner()) + 3 for words, _ in notes))

    def _button_high(self) -> int:
        return round(BUTTON_HIGH * self.stage.text_scale)

    def resizeEvent(self, event: QResizeEvent) -> None:
        """Lay the switches out."""
        self._kept = None
        self._lay_out()

    def event(self, event: QEvent) -> bool:
        """Draw anew for a screen of another density."""
        if event.type() == QEvent.Type.DevicePixelRatioChange:
            self._kept = None
        return super().event(event)

    def _lay_out(self) -> None:
        if not self.is_open:
            self._fold.setGeometry(self.plate_box().toRect())
            return
        fold = self._fold.sizeHint()
        self._fold.setGeometry(self.width() - SHADOW - fold.width() - 4, SHADOW + 4, fold.width(), fold.height())
        y = PAD + self._head_high()
        for row in self._rows():
            each = (self._inner() - (len(row) - 1) * 6) // len(row)
            for at, button in enumerate(row):
                button.setGeometry(PAD + at * (each + 6), round(y), each, self._button_high())
            y += self._button_high() + 5
        self._table_y = y + 8

    def paintEvent(self, event: QPaintEvent) -> None:
        """Draw the plate, and the key once for each state of it."""
        super().paintEvent(event)
        if not self.is_open:
            return
        density = self.devicePixelRatioF()
        if self._kept is None:
            self._kept = QPixmap(round(self.width() * density), round(self.height() * density))
            self._kept.setDevicePixelRatio(density)
            self._kept.fill("transparent")
            with QPainter(self._kept) as inner:
                self._draw(inner)
        with QPainter(self) as painter:
            painter.drawPixmap(0, 0, self._kept)
            pointed = self._pointed
            key = self._key() if pointed is not None else None
            if key is not None and pointed is not None:
                table = self._table(key)
                draw_pointed(painter, table, key, self.stage, pointed.step, pointed.rooted)
                if pointed.step in (BARE, UNKNOWN) and key.columns:
                    tint = self._tints[self.stage.tint]
                    draw_unknown(painter, table.translated(0, table.height()), tint, self.stage, pointed.step)

    def _table(self, key: Key) -> QRectF:
        return QRectF(PAD, self._table_y, self._inner(), table_high(key, self.stage))

    def _point_at(self, spot: GroundSpot | None) -> None:
        self._pointed = spot
        if self.is_open:
            self.update()

    def _draw(self, painter: QPainter) -> None:
        stage, theme = self.stage, tokens(self.stage)
        head = QRectF(PAD, PAD - 2, self._inner(), line_height(font("strong", stage)))
        write(painter, head, stage.say("Show"), font("strong", stage, weight=700), theme.ink)
        hint = stage.say("keys 0 to {last}", last=min(len(self._tints) - 1, 9))
        write(painter, head.adjusted(0, 0, -24, 0), hint, font("tick", stage), theme.ink2, Right)
        key, tint = self._key(), self._tints.get(stage.tint)
        y = self._table_y
        if key is not None and tint is not None and key.columns:
            box = self._table(key)
            draw_table(painter, box, tint, key, stage, rest_mark(self.stage))
            y += box.height()
            draw_unknown(painter, box.translated(0, box.height()), tint, stage)
            y += unknown_high(tint, stage)
        face = font("tick", stage)
        for words, blue in self._notes():
            high = wrapped_height(words, face, self._inner())
            write_wrapped(
                painter, QRectF(PAD, y, self._inner(), high + 2), words, face, theme.plan if blue else theme.ink2
            )
            y += high + 3


class _Panel:
    name = "key"
    place = "key"
    verb = ""

    def make(self, stage: Stage, parent: QWidget) -> QWidget:
        """Return the key."""
        return KeyPanel(stage, parent)


panel = _Panel()
