"""The window: one widget that lays out verbs, groups, map and season by hand, for the room it has."""

from __future__ import annotations

from PySide6.QtCore import QEvent, QObject, QSize, Qt, QTimer
from PySide6.QtGui import QColor, QKeyEvent, QPainter, QPaintEvent, QResizeEvent
from PySide6.QtWidgets import QApplication, QWidget

from pigmap.qt.arrangement import Arrangement, Box, Wanted, arrange, room_for
from pigmap.qt.beside import BESIDE, lay_beside
from pigmap.qt.canvas import MapView
from pigmap.qt.coming import Coming
from pigmap.qt.edge import THICK, Edge
from pigmap.qt.focus_ring import FocusRing, first_in
from pigmap.qt.following import redo, undo
from pigmap.qt.group_step import step_group
from pigmap.qt.in_sight import bring_into_sight, go_to_picked
from pigmap.qt.keys import Deeds, take_key
from pigmap.qt.over_map import (
    card_has_room,
    come,
    come_into_column,
    kept_top,
    lay_card,
    lay_foot,
    lay_key,
    lay_message,
    lay_start,
    tool_plates,
)
from pigmap.qt.paintwork import rule
from pigmap.qt.placed_panels import OVER_MAP, PlacedPanels
from pigmap.qt.printing import Printing
from pigmap.qt.stage import Stage
from pigmap.qt.starting import USUAL_SIZE
from pigmap.qt.theme import palette, style_sheet, tokens
from pigmap.text import Text

LEAST_SIZE = QSize(560, 420)
HAND_MS = 200
"""What waits for the first frame waits so long again while something is dragged [ms]."""


class Window(QWidget):
    """Shows one stage: panels and tools come from the registry, the farm from the stage's session."""

    def __init__(self, stage: Stage, parent: QWidget | None = None) -> None:
        super().__init__(parent)
        self.stage = stage
        stage.coming_up = True
        self.setObjectName("window")
        self.setMinimumSize(LEAST_SIZE)
        self.map = MapView(stage, self)
        self.map.setProperty("no_ring", True)
        self.printing = Printing(stage, self)
        self._wanted = Wanted()
        self._map_only = False
        self._coming = Coming()
        self._rest = QTimer(self, singleShot=True, interval=0)
        self._edges = (Edge(Qt.Orientation.Vertical, self), Edge(Qt.Orientation.Horizontal, self))
        self._ring = FocusRing(stage, self)
        self._deeds = Deeds(
            sheet=self.printing.print_sheet,
            sheet_by_letter=self.printing.print_at_second_letter,
            undo=lambda: undo(stage),
            redo=lambda: redo(stage),
            map_only=self.toggle_map_only,
            step_group=lambda by: step_group(stage, by),
            focus=self._focus,
            plate=self._open_plate,
            pane=self._step_pane,
        )
        self._panels = PlacedPanels(stage, self, self.map, self._made)
        self._connect()
        self._dress()

    def _made(self, panel: QWidget) -> None:
        """Let a panel ask for what keys do too: its signals are called after the deeds."""
        for name, deed in self._deeds._asdict().items():
            asked = getattr(panel, f"{name}_asked", None)
            if asked is not None:
                asked.connect(deed)
        room_asked = getattr(panel, "room_asked", None)
        if room_asked is not None:
            room_asked.connect(self._lay_out)

    def _connect(self) -> None:
        self._edges[0].moved.connect(self._drag_column)
        self._edges[1].moved.connect(self._drag_season)
        for edge in self._edges:
            edge.put_back.connect(self._put_back)
        self.map.installEventFilter(self)
        self.map.first_frame.connect(self._show_rest, Qt.ConnectionType.QueuedConnection)
        self._rest.timeout.connect(self._make_next)
        self.stage.verb_changed.connect(self._lay_out)
        self.stage.theme_changed.connect(self._dress)
        self.stage.farm_changed.connect(self._lay_out)
        self.stage.picked_changed.connect(self._lay_over_map)
        self.stage.plate_asked.connect(self._open_plate)
        self.stage.start_asked.connect(lambda _: self._open_plate(""))  # plates make room for the page
        self.stage.sight_asked.connect(self._go_to_picked)
        self.stage.picked_changed.connect(self._bring_into_sight, Qt.ConnectionType.QueuedConnection)

    def _show_rest(self) -> None:
        """Have what may wait for the first frame come, one thing at a time between what the keeper does."""
        self.stage.tell_shown()
        self._make_next()

    def make_rest(self) -> None:
        """Have all that waits for the first frame come at once."""
        self._panels.make_rest()
        self._lay_over_map()

    def _make_next(self) -> None:
        if QApplication.mouseButtons():
            self._rest.start(HAND_MS)
            return
        self._rest.start(0)  # before it is tried: one that cannot be made leaves the others their turn
        foot = self.part("foot")
        if not self._panels.make_next():
            self._rest.stop()
        if self.part("foot") is foot:
            self._lay_over_map()
        else:
            self._lay_out()  # it takes room of the column

    def part(self, place: str) -> QWidget | None:
        """Return the panel that always lies in a place."""
        return self._panels.at(place)

    def panel(self, name: str) -> QWidget | None:
        """Return a panel by the name it was contributed under."""
        return self._panels.named(name)

    def sizeHint(self) -> QSize:
        """Return the size the window opens with."""
        return USUAL_SIZE

    def _dress(self) -> None:
        theme = tokens(self.stage)
        self.setPalette(palette(theme))
        self.setStyleSheet(style_sheet(theme))
        self.setWindowTitle(self.stage.session.farm.name or self.stage.session.path.stem)
        self.update()

    def toggle_map_only(self) -> None:
        """Put everything but map and message away, or bring it back."""
        self._map_only = not self._map_only
        self._lay_out()
        if self._map_only:
            self.stage.notice(Text("The map alone. F11 brings the rest back."))

    def resizeEvent(self, event: QResizeEvent) -> None:
        """Lay everything out for the new size."""
        self._lay_out()

    def _lay_out(self) -> None:
        stage = self.stage
        stage.fit(room_for(self.width(), self.height(), self._wanted, stage.text_scale))
        column = self._column()
        placed = arrange(
            self.width(),
            self.height(),
            stage.room,
            self._wanted,
            verbs_px=_height(self.part("verbs")),
            season_px=_height(self.part("season")),
            column_row_px=_height(column),
            map_only=self._map_only,
        )
        for place in ("verbs", "season"):
            _lay(self.part(place), placed.verbs if place == "verbs" else placed.season)
        self.map.kept_top = kept_top(stage.room, stage.text_scale)
        beside = self.part(BESIDE)
        self.map.setGeometry(*lay_beside(beside, placed.map, self._coming))
        foot = self.part("foot")
        box = lay_foot(foot, placed.column, placed.map, stage.room) if foot is not None else placed.column
        had_keys = self._has_keys(column)
        for widget in self._panels.in_column():
            _lay(widget, box if widget is column else Box(0, 0, 0, 0))
        come_into_column(self._coming, self._panels.of_verbs())
        if had_keys and column is self.part("column"):
            self._focus("groups")  # else they would go to whatever comes next in the window
        self._lay_edges(placed)
        self._lay_over_map()

    def _column(self) -> QWidget | None:
        if self.stage.verb != "pick":
            self._panels.make_rest()
        return self._panels.of_verb(self.stage.verb) or self.part("column")

    def _has_keys(self, but: QWidget | None) -> bool:
        """Whether a panel in the column's place has the keys, other than one."""
        focused = QApplication.focusWidget()
        return focused is not None and any(
            each is not but and each.isVisible() and (each is focused or each.isAncestorOf(focused))
            for each in self._panels.in_column()
        )

    def _lay_edges(self, placed: Arrangement) -> None:
        upright, level = self._edges
        shown = not self._map_only
        upright.setVisible(shown and self.stage.room.name != "narrow")
        level.setVisible(shown)
        upright.setGeometry(placed.map.x - THICK // 2, placed.map.y, THICK, placed.map.high)
        level.setGeometry(0, placed.season.y - THICK // 2, self.width(), THICK)
        upright.raise_()
        level.raise_()

    def _lay_over_map(self) -> None:
        size, room = self.map.size(), self.stage.room
        if self.stage.picked is not None:
            self._panels.named("card")
        card, key, message, start = (self.part(place) for place in OVER_MAP)
        if card is not None:
            card.setVisible(self.stage.picked is not None and not self._map_only and card_has_room(self.stage))
            lay_card(card, size, room, self.stage.text_scale)
        if start is not None and not start.isHidden():
            lay_start(start, size, room)
            for aside in self._panels.asides():  # help and the like are asked for while the start waits
                if not aside.isHidden():
                    aside.raise_()
        tools = tool_plates(self.map)
        if key is not None:
            lay_key(key, size, room, self.stage.text_scale)
            key.setVisible(not self._map_only and not any(_hides(each, key) for each in (start, *tools)))
        if message is not None:
            lay_message(message, size, card, key, room, tools)
        come(self._coming, card, key, message, room)

    def _bring_into_sight(self) -> None:
        """Move the map once the card has its size; not while paddocks are placed, from under the pointer."""
        if self.stage.verb != "place":
            bring_into_sight(self.map, self.part("card"), self.stage)

    def _go_to_picked(self) -> None:
        """Have what is picked in the middle of the map, if it is out of sight."""
        go_to_picked(self.map, self.stage)

    def _drag_column(self, x: int) -> None:
        self._wanted = self._wanted._replace(column_px=max(1, x))
        self._lay_out()

    def _drag_season(self, y: int) -> None:
        self._wanted = self._wanted._replace(season_px=max(1, self.height() - y))
        self._lay_out()

    def _put_back(self) -> None:
        self._wanted = Wanted()
        self._lay_out()

    def _open_plate(self, name: str) -> None:
        """Have a plate come over the map, if it is contributed; the others go."""
        wanted = self.panel(name)
        for each in self._panels.asides():
            if each is not wanted and not each.isHidden():
                each.hide()
        open_plate = getattr(wanted, "open_plate", None)
        if open_plate is not None:
            open_plate()

    def _step_pane(self, by: int) -> None:
        """Bring the keys to the next part of the window, or the last: map, column, card, help, strip, verbs."""
        column = self._column()
        parts = (self.map, column, *(self.part(place) for place in ("card", BESIDE, "season", "verbs")))
        shown = [each for each in parts if each is not None and each.isVisible()]
        focused = QApplication.focusWidget()
        inside = [each for each in shown if focused is not None and (each is focused or each.isAncestorOf(focused))]
        at = (shown.index(inside[-1]) if inside else 0) + by
        target = first_in(shown[at % len(shown)])
        if target is not None:
            target.setFocus(Qt.FocusReason.ShortcutFocusReason)

    def _focus(self, name: str) -> None:
        widget = self.part("column" if name == "groups" else name)
        if widget is not None:
            widget.setFocus(Qt.FocusReason.ShortcutFocusReason)

    def keyPressEvent(self, event: QKeyEvent) -> None:
        """Take a key that no control wanted."""
        if not take_key(event, self.stage, self._deeds, QApplication.focusWidget()):
            super().keyPressEvent(event)

    def event(self, event: QEvent) -> bool:
        """Lay out anew when a panel asks for another size."""
        if event.type() == QEvent.Type.LayoutRequest:
            self._lay_out()
        return super().event(event)

    def eventFilter(self, watched: QObject, event: QEvent) -> bool:
        """Lay the panels over the map out anew when one asks for another size."""
        if watched is self.map and event.type() in (QEvent.Type.LayoutRequest, QEvent.Type.Resize):
            self._lay_over_map()
        return False

    def paintEvent(self, event: QPaintEvent) -> None:
        """Draw the ground that the panels lie on, and the rules between them."""
        with QPainter(self) as painter:
            theme = tokens(self.stage)
            painter.fillRect(self.rect(), QColor(theme.paper))
            rule(painter, 0, self.width(), self.map.y() - 1, theme.line)

    def close_down(self) -> None:
        """Stop what still works in the background and wait for it."""
        self.printing.close()
        self._panels.close_down()
        self.map.close_down()


def _hides(over: QWidget | None, under: QWidget) -> bool:
    return over is not None and not over.isHidden() and over.geometry().intersects(under.geometry())


def _height(widget: QWidget | None) -> int:
    return widget.sizeHint().height() if widget is not None else 0


def _lay(widget: QWidget | None, box: Box) -> None:
    if widget is None:
        return
    widget.setGeometry(*box)
    widget.setVisible(box.wide > 0 and box.high > 0)
