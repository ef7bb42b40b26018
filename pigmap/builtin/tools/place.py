"""Place paddocks: a ghost follows the pointer, rests beside what stands, and says what it takes; a click sets it."""

from __future__ import annotations

from collections.abc import Sequence

import shapely
from PySide6.QtCore import Qt
from PySide6.QtGui import QKeyEvent

from pigmap.builtin.tools.place_again import again
from pigmap.builtin.tools.place_base import FIGURES_APART_MS
from pigmap.builtin.tools.place_corners import PlaceByCorners
from pigmap.builtin.tools.place_keys import fill, take_free_key, take_key
from pigmap.builtin.tools.place_next import NextClick
from pigmap.builtin.tools.place_round import round_it
from pigmap.builtin.tools.row_drag import RowDrag
from pigmap.builtin.tools.typed_line import TypedLine
from pigmap.geometry.free_outline import Placed
from pigmap.geometry.rectangle import Rectangle
from pigmap.qt.tool import Host, Pointer
from pigmap.text import Text

__all__ = ["FIGURES_APART_MS", "Place", "tool"]

REACH_PX = 24.0
"""The ghost is drawn to a side within so many pixels."""
AWAY_PX = 8.0
"""After a click has set a paddock, the next ghost comes once the pointer is so far from where it clicked."""


class Place(PlaceByCorners):
    """Hover moves the ghost, a click sets it, dragging on lays a row; keys turn, nudge and set it too.

    The outline follows the pointer at once; its figures come a moment later. A place that is
    refused holds the ghost still when it is clicked, so that the plate can be reached. With free corners a click sets
    a corner instead, and the first one again, Enter or a double click closes.
    """

    name = "place"

    def __init__(self) -> None:
        super().__init__()
        self._laying: RowDrag | None = None
        self._set_at: Pointer | None = None
        self._set_just_now: tuple[shapely.Polygon, ...] = ()
        self._side = 0
        self._next = NextClick()

    def begin(self, host: Host) -> None:
        """Start."""
        super().begin(host)
        stage = host.stage
        self._typed = TypedLine(stage, host.widget, stage.say("Move by: 10 at 90, or E and N"), self._take_typed)
        stage.placing.fit(stage.session.farm)
        for signal in (stage.placing.changed, stage.farm_changed, stage.day_changed, stage.ground_changed):
            signal.connect(self._renew)
        stage.placing.asked.connect(self.ask_next)
        self._renew()

    def end(self) -> None:
        """Put ghost and plate away; corners that were set stay."""
        if self.running:
            stage = self.host.stage
            for signal in (stage.placing.changed, stage.farm_changed, stage.day_changed, stage.ground_changed):
                signal.disconnect(self._renew)
            stage.placing.asked.disconnect(self.ask_next)
            self._typed.deleteLater()
        super().end()
        self._next.drop()
        self._laying, self._set_at, self._set_just_now, self._side = None, None, (), 0

    # The ghost

    def _renew(self, *_: object) -> None:
        """Take in what changed: another choice, another farm, another day."""
        if not self.running:
            return
        before = self._ghost
        self._ghost = self._judging.ghost()
        self.renew_corners()
        if self._ghost is not None and before is not None and len(self.row) == 1:
            centre = self.row[0].centre
            same = before.choice == self._ghost.choice and before.kind is self._ghost.kind
            self._move_to((self.row[0],) if same else (self._ghost.free_at(*centre),))
        self._show()
        self._figures_soon()

    def _move_to(self, row: Sequence[Rectangle]) -> None:
        if tuple(row) == self.row:
            return
        self.row = tuple(row)
        self.show_moved()

    def _at(self, pointer: Pointer) -> Rectangle | None:
        if self._ghost is None:
            return None
        free = bool(pointer.modifiers & Qt.KeyboardModifier.AltModifier)
        reach = 0.0 if free else REACH_PX * pointer.metres_per_pixel
        return self._ghost.at(pointer.x_m, pointer.y_m, reach)

    def hover(self, pointer: Pointer) -> None:
        """Let the ghost, or the next corner, follow the pointer."""
        if self._held or self._shown.plate.asking:
            return
        if self.is_free:
            self.free.follow(pointer)
            self.show_moved()
        elif not self._over_what_was_set(pointer):
            self._set_at, self._set_just_now = None, ()
            self.follow(pointer)

    def _over_what_was_set(self, pointer: Pointer) -> bool:
        """Whether the pointer did not leave yet what it set: a ghost there could only be refused."""
        at = self._set_at
        near = at is not None and max(abs(pointer.x - at.x), abs(pointer.y - at.y)) < AWAY_PX
        return near or any(shapely.contains_xy(each, pointer.x_m, pointer.y_m) for each in self._set_just_now)

    def follow(self, pointer: Pointer) -> None:
        """Have the ghost at the pointer, drawn to what is there."""
        if (at := self._at(pointer)) is not None:
            self._shown.slip.follow(at.centre, pointer)
            self._move_to((at,))

    def press(self, pointer: Pointer) -> bool:
        """Take hold of the ghost, which comes to the pointer if it was held elsewhere, or of a corner that is set."""
        self._held = False
        self.plate.drop_reason()
        self.plate.put_away()
        if self._next.what:
            return True
        if self.is_free:
            return self.free.press(pointer)
        self.follow(pointer)
        self._laying = RowDrag(self.row[0], self._ghost) if self.row and self._ghost is not None else None
        return True

    def drag(self, pointer: Pointer) -> None:
        """Lay a row towards the pointer; at the end of the field it turns into the next strip."""
        if self.is_free:
            self.free.drag(pointer)
            self.show_moved()
        elif self._laying is not None:
            self._move_to(self._laying.towards(pointer.x_m, pointer.y_m))

    def release(self, pointer: Pointer) -> None:
        """Set the paddock, or the row; of free corners the next one, or close them."""
        if self._next.what:
            self._next.take(self, self.host.stage, pointer)
        elif self.is_free:
            if self.free.release(pointer):
                self.close()
            else:
                self.show_moved()
        elif self._laying is not None:
            self._laying = None
            row = self.row
            if self.set():
                self._set_at, self._set_just_now = pointer, tuple(each.outline for each in row)
                self._move_to(())

    def double(self, pointer: Pointer) -> None:
        """Close free corners."""
        if self.is_free:
            self.close()

    # Keys

    def key(self, event: QKeyEvent) -> bool:
        """Turn, nudge, change nets, set; a figure opens the line to type into."""
        if self._ghost is None:
            return False
        return take_free_key(self, event) if self.is_free else take_key(self, event)

    def start_in_the_middle(self) -> None:
        """Have a ghost in the middle of the view where the pointer brought none yet."""
        if not self.is_free and not self.row and self._ghost is not None:
            view = self.host.view
            self._move_to((self._ghost.free_at(view.centre_x_m, view.centre_y_m),))

    def hold_at(self, *row: Rectangle) -> None:
        """Put the ghost somewhere by hand; it stays until the next press."""
        self._held = True
        self._move_to(row)

    def beside(self) -> None:
        """Put the ghost beside where the group stands, at another side each time."""
        beside = self._ghost.beside_group(self._side) if self._ghost is not None else None
        if beside is not None:
            self.hold_at(beside)
            self._side += 1
        elif self._ghost is not None:
            self.host.stage.notice(Text("The group stands nowhere, so nothing can lie beside it."), "care")

    def again(self) -> None:
        """Put the ghost where the old paddock under it was, or the picked one."""
        placed = self.placed
        self.take_old(again(self.host.stage, placed[0] if placed else None))

    def go_round(self) -> None:
        """Have the ghost go round what is in its way, with free corners."""
        self.start_in_the_middle()
        placed = self.placed
        found = round_it(self.host.stage, self._ghost, placed[0]) if self._ghost is not None and placed else None
        if found is not None:
            self.choice.choose(free=True)
            self.take_old(found)

    def take_old(self, old: Placed | None) -> None:
        """Hold the ghost on the outline of an old paddock."""
        if isinstance(old, Rectangle):
            self.hold_at(old)
        elif old is not None:
            self.free.take(old.points)
            self._held = True
            self.show_moved()

    def do(self, name: str) -> None:
        """Do what a word of the plate says, as its key does."""
        self.host.widget.setFocus(Qt.FocusReason.OtherFocusReason)  # its plate may go
        deeds = {
            "set": self.close if self.is_free else self.set,
            "again": self.again,
            "free": self.turn_free,
            "round": self.go_round,
        }
        deeds.get(name, lambda: fill(self, strips=False))()

    def let_go(self) -> bool:
        """Let a held ghost follow the pointer again; return whether one was held."""
        held, self._held = self._next.drop() or self._held, False
        self.plate.put_away()
        self._show()
        return held

    def open_line(self, begun: str) -> None:
        """Open the line to type into."""
        self.start_in_the_middle()
        self._typed.open(begun)

    def _take_typed(self, words: str) -> bool:
        where = self._judging.typed(words, self.row[0].centre if self.row else None)
        if where is None or not self.row:
            return False
        self.hold_at(self.row[0].centred_at(*where))
        return True

    def ask_next(self, what: str) -> None:
        """Let the next click fill a row from there, or take the old paddock there; one that is held begins it now."""
        stage = self.host.stage
        self.host.widget.setFocus(Qt.FocusReason.OtherFocusReason)
        if self._held and self.placed:
            self.do(what)
            return
        self._next.ask(stage, what)


tool = Place
