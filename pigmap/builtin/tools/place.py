"""Place paddocks: a ghost follows the pointer, rests beside what stands, and says what it takes; a click sets it."""

from __future__ import annotations

from collections.abc import Sequence
from math import ceil
from time import perf_counter

from PySide6.QtCore import Qt, QTimer
from PySide6.QtGui import QKeyEvent

from pigmap.builtin.tools.ghost import Ghost
from pigmap.builtin.tools.judging import Judging
from pigmap.builtin.tools.place_again import again
from pigmap.builtin.tools.place_edit import placing_edit, say_done
from pigmap.builtin.tools.place_keys import take_key
from pigmap.builtin.tools.place_plate import PlacePlate
from pigmap.builtin.tools.place_shown import Shown
from pigmap.builtin.tools.row_drag import RowDrag
from pigmap.builtin.tools.typed_line import TypedLine
from pigmap.geometry.rectangle import Rectangle
from pigmap.qt.asking import Asker
from pigmap.qt.placing_choice import PlacingChoice
from pigmap.qt.tool import Host, IdleTool, Pointer
from pigmap.records import ChangeSet, Edit, Farm
from pigmap.session.placing import Judgement
from pigmap.text import Text

REACH_PX = 24.0
"""The ghost is drawn to a side within so many pixels."""
AWAY_PX = 8.0
"""After a click has set a paddock, the next ghost comes once the pointer is so far from where it clicked."""
FIGURES_APART_MS = 8.0
"""Figures keep so far apart: between them a fast hand has the outline alone."""


class Place(IdleTool):
    """Hover moves the ghost, a click sets it, dragging on lays a row; keys turn, nudge and set it too.

    The outline follows the pointer at once; its figures come a moment later. A place that is
    refused holds the ghost still when it is clicked, so that the plate can be reached.
    """

    name = "place"
    cursor = Qt.CursorShape.CrossCursor

    def __init__(self) -> None:
        self.row: tuple[Rectangle, ...] = ()
        """Where the ghost is; several while a row is dragged."""
        self._laying: RowDrag | None = None
        self._held = False
        self._held_to_tell = False
        self._set_at: Pointer | None = None
        self._ghost: Ghost | None = None
        self._waiting: list[tuple[Rectangle, ...]] = []
        self._judged_at, self._side = 0.0, 0

    def begin(self, host: Host) -> None:
        """Start."""
        super().begin(host)
        stage = host.stage
        self._asker = Asker(stage, host.widget)
        self._judging = Judging(stage)
        self._shown = Shown(host, self.set, self.ask_why)
        self._shown.plate.still = lambda: self._held
        self._shown.plate.grown.connect(self._told)
        self._typed = TypedLine(stage, host.widget, stage.say("Move by: 10 at 90, or E and N"), self._take_typed)
        self._figures = QTimer(host.widget, singleShot=True, interval=0)
        self._figures.timeout.connect(self.judge_now)
        stage.placing.fit(stage.session.farm)
        for signal in (stage.placing.changed, stage.farm_changed, stage.day_changed, stage.ground_changed):
            signal.connect(self._renew)
        self._renew()

    def end(self) -> None:
        """Put ghost and plate away."""
        if self.running:
            stage = self.host.stage
            for signal in (stage.placing.changed, stage.farm_changed, stage.day_changed, stage.ground_changed):
                signal.disconnect(self._renew)
            self._figures.stop()
            self._typed.deleteLater()
            self._shown.close()
        self.row, self._laying, self._set_at, self._side = (), None, None, 0
        self._held = self._held_to_tell = False
        super().end()

    # The ghost

    def _renew(self, *_: object) -> None:
        """Take in what changed: another choice, another farm, another day."""
        if not self.running:
            return
        before = self._ghost
        self._ghost = self._judging.ghost()
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
        if self.running:
            self._shown.show(self._ghost, self.row, (), self._waiting)
        self._figures_soon()

    def _figures_soon(self) -> None:
        """Have the figures found after the outline is painted, and not with every move of a fast hand."""
        self._figures.start(max(0, ceil(FIGURES_APART_MS - (perf_counter() - self._judged_at) * 1000)))

    @property
    def figures_due(self) -> bool:
        """Whether figures of where the ghost is now are still to come."""
        return self._figures.isActive()

    def _at(self, pointer: Pointer) -> Rectangle | None:
        if self._ghost is None:
            return None
        free = bool(pointer.modifiers & Qt.KeyboardModifier.AltModifier)
        reach = 0.0 if free else REACH_PX * pointer.metres_per_pixel
        return self._ghost.at(pointer.x_m, pointer.y_m, reach)

    def hover(self, pointer: Pointer) -> None:
        """Let the ghost follow the pointer."""
        if self._held or self._shown.plate.asking or self._near_the_click(pointer):
            return
        self._set_at = None
        self._follow(pointer)

    def _near_the_click(self, pointer: Pointer) -> bool:
        at = self._set_at
        return at is not None and max(abs(pointer.x - at.x), abs(pointer.y - at.y)) < AWAY_PX

    def _follow(self, pointer: Pointer) -> None:
        if (at := self._at(pointer)) is not None:
            self._shown.slip.follow(at.centre, pointer)
            self._move_to((at,))

    def press(self, pointer: Pointer) -> bool:
        """Take hold of the ghost; it comes to the pointer if it was held elsewhere."""
        self._held = False
        self.plate.drop_reason()
        self.plate.put_away()
        self._follow(pointer)
        self._laying = RowDrag(self.row[0], self._ghost) if self.row and self._ghost is not None else None
        return True

    def drag(self, pointer: Pointer) -> None:
        """Lay a row towards the pointer; at the end of the field it turns into the next strip."""
        if self._laying is not None:
            self._move_to(self._laying.towards(pointer.x_m, pointer.y_m))

    def release(self, pointer: Pointer) -> None:
        """Set the paddock, or the row."""
        if self._laying is not None:
            self._laying = None
            if self.set():
                self._set_at = pointer
                self._move_to(())

    # Keys

    def key(self, event: QKeyEvent) -> bool:
        """Turn, nudge, change nets, set; a figure opens the line to type into."""
        if self._ghost is None:
            return False
        return take_key(self, event)

    @property
    def choice(self) -> PlacingChoice:
        """What is to be placed."""
        return self.host.stage.placing

    @property
    def farm(self) -> Farm:
        """The farm as it is."""
        return self.host.stage.session.farm

    @property
    def plate(self) -> PlacePlate:
        """The plate beside the ghost."""
        return self._shown.plate

    def ask_reason(self) -> None:
        """Open the line for a reason, where one helps."""
        self._held, self._held_to_tell = True, False
        self.judge_now()
        self._shown.plate.ask_reason()

    def ask_why(self, *_: object) -> None:
        """Hold the ghost still and show what its figures rest on, or put that away."""
        plate = self._shown.plate
        if plate.telling or self._ghost is None:
            plate.put_away()
            return
        self.start_in_the_middle()
        self._held_to_tell, self._held = self._held_to_tell or not self._held, True
        self.judge_now()
        plate.tell()

    def _told(self) -> None:
        """Let a ghost follow the pointer again that was only held while its plate told what it rests on."""
        if self._held_to_tell and not self._shown.plate.telling:
            self._held = self._held_to_tell = False
        self._show()

    @property
    def ghost(self) -> Ghost | None:
        """The placing that is under way; None while the farm has no kind of net."""
        return self._ghost

    def start_in_the_middle(self) -> None:
        """Have a ghost in the middle of the view where the pointer brought none yet."""
        if not self.row and self._ghost is not None:
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
        if (old := again(self.host.stage, self.row[0] if self.row else None)) is not None:
            self.hold_at(old)

    def let_go(self) -> bool:
        """Let a held ghost follow the pointer again; return whether one was held."""
        held, self._held = self._held, False
        self.plate.put_away()
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

    # Judging and setting

    def judge_now(self) -> None:
        """Find the figures of where the ghost is, and show them."""
        if self._ghost is not None and self.row and self.running:
            self._figures.stop()
            self._judging.judge(self._ghost, self.row)
            self._show()
            self._judged_at = perf_counter()

    def set(self, why: str = "") -> bool:
        """Place what the ghost shows, unless something is against it that no reason was given for; whether it was."""
        if self._ghost is None or not self.row:
            return False
        judged = self._judging.judge(self._ghost, self.row)
        self._show()
        against = [warning for one in judged for warning in one.warnings if not warning.care]
        if any(warning.hard for warning in against) or (against and not why):
            self._held = True  # the plate says why; it can be reached now
            return False
        self._held = False
        self._ask(placing_edit(self._ghost, self.row, why), self.row, judged)
        return True

    def _ask(self, edit: Edit, row: tuple[Rectangle, ...], judged: tuple[Judgement, ...]) -> None:
        """Ask for the edit; what was set stays in sight until it is published."""
        self._waiting.append(row)

        def ended(changes: ChangeSet | None, error: BaseException | None) -> None:
            self._waiting.remove(row)
            if self.running:
                self._show()
            say_done(self.host.stage, edit, judged, changes, error)

        self._asker.ask(edit, ended)

    def _show(self) -> None:
        if self.running:
            self._shown.show(self._ghost, self.row, self._judging.known(self.row), self._waiting)


tool = Place
