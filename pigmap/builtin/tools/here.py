"""Put a paddock with pigs in it where it really stands; the planned row that hangs on it follows."""

from __future__ import annotations

import shapely
from PySide6.QtCore import Qt, QTimer
from PySide6.QtGui import QKeyEvent

from pigmap.builtin.tools.here_look import here_layers
from pigmap.builtin.tools.here_plate import HerePlate
from pigmap.builtin.tools.here_which import followers, odd_about, paddock_at, picked_paddock, running_stay
from pigmap.builtin.tools.here_words import done_words, follows_words, moved_words, with_notes
from pigmap.builtin.tools.moved_ground import MovedGround
from pigmap.builtin.tools.refusal import refusal
from pigmap.builtin.tools.reshape import Handle
from pigmap.builtin.tools.typed_line import TypedLine, starts_typing
from pigmap.builtin.tools.typed_shift import typed_shift
from pigmap.document.edits import stands_here, what_follows
from pigmap.errors import PigmapError, UsageError
from pigmap.qt.asking import Asker
from pigmap.qt.following import sentence
from pigmap.qt.stage import Picked
from pigmap.qt.tool import Host, IdleTool, Pointer
from pigmap.records import ChangeSet, Edit, Paddock
from pigmap.text import Text

HANDLE_PX = 10.0
"""Corners are hit within so many pixels."""
LEAST_SIDE_PX = 90.0
"""A side that is shorter has no middle to pull a corner out of: a drag there moves the whole."""
QUIET_MS = 150
"""What comes of it is worked out once it has stood still so long: holding an arrow down stays smooth."""
FINE_M = 1.0
TURN_DEG, FINE_TURN_DEG = 5.0, 1.0
Key = Qt.Key
_ARROWS = {Key.Key_Left: (-1, 0), Key.Key_Right: (1, 0), Key.Key_Up: (0, 1), Key.Key_Down: (0, -1)}


class Here(IdleTool):
    """A drag moves the paddock or one of its corners, keys step it; Enter says that it stands here, Esc drops it.

    What was moved and not set yet stays so until it is set or dropped, whatever runs meanwhile.
    """

    name = "here"
    cursor = Qt.CursorShape.ArrowCursor

    def __init__(self) -> None:
        self._paddock_uid = ""
        self._ground: MovedGround | None = None
        self._held: Handle | None = None
        self._from: tuple[float, float] | None = None
        self._waiting = False

    def begin(self, host: Host) -> None:
        """Start with the paddock that is picked, or that of the picked group."""
        super().begin(host)
        stage = host.stage
        self._asker = Asker(stage, host.widget)
        self._plate = HerePlate(stage, host.widget, self._set, self._drop)
        self._quiet = QTimer(self._plate, singleShot=True, interval=QUIET_MS)
        self._quiet.timeout.connect(self._show_notes)
        self._line = TypedLine(stage, host.widget, stage.say("How far: 3 east, or 2 at 90"), self._take)
        stage.farm_changed.connect(self._farm_changed)
        self._choose(picked_paddock(stage.session.farm, stage.picked))
        self._plate.show()
        host.widget.setFocus(Qt.FocusReason.OtherFocusReason)  # the card whose deed it was is hidden now

    def end(self) -> None:
        """Put plate and preview away; what was moved is kept, and that it is not set yet is said."""
        if self.running:
            stage = self.host.stage
            stage.farm_changed.disconnect(self._farm_changed)
            self._quiet.stop()
            for part in (self._plate, self._line):
                part.hide()
                part.deleteLater()
            if self._ground is not None and self._ground.changed and stage.verb != self.name:
                stage.notice(Text("{name} is not set yet where you put it.", {"name": self._name}), "care", self.name)
        super().end()

    # Which

    def _choose(self, uid: str) -> None:
        """Take a paddock; one that was moved and not set goes on as it was left."""
        farm = self.host.stage.session.farm
        stay = running_stay(farm, uid)
        waits = self._ground is not None and self._ground.changed
        if not waits or (uid != self._paddock_uid and stay is not None):
            self._paddock_uid = uid if stay is not None else ""
            self._ground = MovedGround(stay.ground) if stay is not None else None
        self._settled()

    def _farm_changed(self, changes: ChangeSet) -> None:
        stay = running_stay(self.host.stage.session.farm, self._paddock_uid)
        if stay is None or self._ground is None or not stay.ground.equals(self._ground.before):
            self._paddock_uid = self._paddock_uid if stay is not None else ""
            self._ground = MovedGround(stay.ground) if stay is not None else None
        self._settled()

    @property
    def _paddock(self) -> Paddock | None:
        return self.host.stage.session.farm.paddocks.get(self._paddock_uid)

    @property
    def _name(self) -> str:
        paddock = self._paddock
        return paddock.name if paddock is not None else ""

    # Gestures

    def press(self, pointer: Pointer) -> bool:
        """Take hold of a corner, or of the whole."""
        if self._ground is None or self._waiting:
            return False
        self._held = self._handle_at(pointer)
        inside = shapely.contains_xy(self._ground.now, pointer.x_m, pointer.y_m)
        self._from = (pointer.x_m, pointer.y_m) if self._held is not None or inside else None
        return self._from is not None

    def drag(self, pointer: Pointer) -> None:
        """Let it follow the pointer."""
        outline = self._dragged(pointer)
        if outline is not None:
            self._show(outline)

    def release(self, pointer: Pointer) -> None:
        """Let go of it; a click on another paddock takes that one."""
        outline = self._dragged(pointer)
        self._from = self._held = None
        if outline is not None and self._ground is not None:
            self._ground.set(outline)
            self._settled()
        elif self._ground is None or not self._ground.changed:
            found = paddock_at(self.host.stage.session.farm, pointer)
            if found:
                self.host.stage.pick(Picked("paddocks", found))
                self._choose(found)

    def _dragged(self, pointer: Pointer) -> shapely.Polygon | None:
        ground = self._ground
        if ground is None or self._from is None or self._waiting:
            return None
        if self._held is not None:
            return ground.dragged(self._held, (pointer.x_m, pointer.y_m))
        ground.corner = None
        return ground.shifted(pointer.x_m - self._from[0], pointer.y_m - self._from[1])

    def _handle_at(self, pointer: Pointer) -> Handle | None:
        pixel = pointer.metres_per_pixel
        assert self._ground is not None
        return self._ground.handle_at(pointer.x_m, pointer.y_m, HANDLE_PX * pixel, LEAST_SIDE_PX * pixel)

    # Keys

    def key(self, event: QKeyEvent) -> bool:
        """Step, turn, choose a corner, take back, set, drop, or open the line to type into."""
        ground = self._ground
        if ground is None or event.modifiers() & ~(
            Qt.KeyboardModifier.ShiftModifier | Qt.KeyboardModifier.KeypadModifier
        ):
            return False
        fine = bool(event.modifiers() & Qt.KeyboardModifier.ShiftModifier)
        if self._waiting or not self._step(ground, Key(event.key()), fine=fine):
            return self._other_key(ground, event)
        self._settled()
        return True

    def _step(self, ground: MovedGround, key: Qt.Key, *, fine: bool) -> bool:
        if key in _ARROWS:
            step = FINE_M / self._per_grid if fine else self._post_m
            east, north = _ARROWS[key]
            ground.set(ground.shifted(east * step, north * step))
        elif key in (Key.Key_Q, Key.Key_E):
            by = FINE_TURN_DEG if fine else TURN_DEG
            ground.set(ground.turned(by if key == Key.Key_Q else -by))
        elif key == Key.Key_N:
            ground.next_corner(-1 if fine else 1)
        elif key == Key.Key_Backspace:
            return ground.back()
        else:
            return False
        return True

    def _other_key(self, ground: MovedGround, event: QKeyEvent) -> bool:
        if event.key() in (Key.Key_Return, Key.Key_Enter):
            self._set()
        elif event.key() == Key.Key_Escape and (ground.changed or ground.corner is not None):
            self._drop()
        elif starts_typing(event):
            self._line.open(event.text() if event.text().isdigit() else "")
        else:
            return False
        return True

    def _take(self, words: str) -> bool:
        stage = self.host.stage
        try:
            east, north = typed_shift(words, ground_per_grid=self._per_grid, feet=stage.units == "us")
        except UsageError as error:
            stage.notice(sentence(error), "refused")
            return False
        if self._ground is not None:
            self._ground.set(self._ground.shifted(east, north))
            self._settled()
        return True

    @property
    def _per_grid(self) -> float:
        return self.host.stage.session.farm.projection.ground_per_grid

    @property
    def _post_m(self) -> float:
        """Distance from post to post of its nets [grid m]; a metre where nobody knows them."""
        paddock = self._paddock
        kind = self.host.stage.session.farm.net_kinds.get((paddock.net_kind_uid or "") if paddock is not None else "")
        return (kind.bays_mm[0] / 1000 if kind is not None else FINE_M) / self._per_grid

    # What comes of it

    def _set(self) -> None:
        ground, stage = self._ground, self.host.stage
        if ground is None or self._waiting:
            return
        if not ground.changed:
            stage.notice(Text("{name} stands where it is drawn. Drag it, or one of its corners.", {"name": self._name}))
            return
        notes = odd_about(stage, self._paddock_uid, ground.now)
        try:
            follows = what_follows(stage.session.farm, self._paddock_uid, ground.now)
        except PigmapError as error:
            stage.notice(refusal(error), "refused")
            return
        done = done_words(self._name, [paddock.name for paddock, _ in follows])
        self._ask(Edit(done, stands_here(self._paddock_uid, ground.now).changes), notes)

    def _ask(self, edit: Edit, notes: list[Text]) -> None:
        stage = self.host.stage
        uid = self._paddock_uid
        self._waiting = True

        def ended(changes: ChangeSet | None, error: BaseException | None) -> None:
            self._waiting = False
            if error is not None:
                stage.notice(refusal(error), "refused")
                return
            self._ground = None
            stage.notice(with_notes(edit.label, notes), "care" if notes else "done", "undo")
            if self.running:
                stage.pick(Picked("paddocks", uid))
                stage.take_up("pick")

        self._asker.ask(edit, ended)

    def _drop(self) -> None:
        if self._ground is not None:
            self._ground.drop()
            self._settled()
            self.host.widget.setFocus(Qt.FocusReason.OtherFocusReason)  # the button that was pressed rests now

    # What is shown

    def _settled(self) -> None:
        """Show it as it is between two gestures, with what comes of it."""
        if not self.running:
            return
        if self._ground is not None and self._ground.changed:
            self._quiet.start()
        else:
            self._quiet.stop()
            self._plate.show_notes([])
        self._show(self._ground.now if self._ground is not None else None)

    def _show_notes(self) -> None:
        if self.running and self._ground is not None and self._ground.changed:
            self._plate.show_notes(odd_about(self.host.stage, self._paddock_uid, self._ground.now))

    def _show(self, now: shapely.Polygon | None) -> None:
        ground, farm = self._ground, self.host.stage.session.farm
        if ground is None or now is None:
            self.host.preview(())
            self._plate.show_ground("", None, None, None)
            return
        follows = followers(farm, self._paddock_uid, now)
        kind = farm.net_kinds.get(self._paddock.net_kind_uid or "") if self._paddock is not None else None
        outlines = [outline for _, outline in follows]
        least_m = LEAST_SIDE_PX * self.host.view.metres_per_unit
        self.host.preview(here_layers(ground, now, outlines, kind, self._per_grid, least_m))
        moved = moved_words(ground.before, now, self._per_grid)
        names = [paddock.name for paddock, _ in follows]
        self._plate.show_ground(self._name, moved, ground.corner, follows_words(names))


tool = Here
