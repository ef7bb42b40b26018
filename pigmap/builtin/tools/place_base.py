"""What is placed, judged and set, whatever gestures lead to it."""

from __future__ import annotations

from math import ceil
from time import perf_counter

from PySide6.QtCore import Qt, QTimer

from pigmap.builtin.tools.ghost import Ghost
from pigmap.builtin.tools.judging import Judging
from pigmap.builtin.tools.place_edit import placing_edit, say_done
from pigmap.builtin.tools.place_free import FreeCorners
from pigmap.builtin.tools.place_plate import PlacePlate
from pigmap.builtin.tools.place_shown import Shown
from pigmap.geometry.free_outline import Placed
from pigmap.geometry.rectangle import Rectangle
from pigmap.qt.asking import Asker
from pigmap.qt.placing_choice import PlacingChoice
from pigmap.qt.tool import Host, IdleTool
from pigmap.records import ChangeSet, Edit, Farm
from pigmap.session.placing import Judgement

FIGURES_APART_MS = 8.0
"""Figures keep so far apart: between them a fast hand has the outline alone."""


class PlaceBase(IdleTool):
    """Shows what is placed with its figures, and sets it; where it is, gestures say."""

    cursor = Qt.CursorShape.CrossCursor

    def __init__(self) -> None:
        self.row: tuple[Rectangle, ...] = ()
        """Where the ghost is; several while a row is dragged."""
        self.free = FreeCorners()
        """Corners that are set one by one instead."""
        self._held = False
        self._held_to_tell = False
        self._ghost: Ghost | None = None
        self._waiting: list[tuple[Placed, ...]] = []
        self._judged_at = 0.0

    def begin(self, host: Host) -> None:
        """Start."""
        super().begin(host)
        self._asker = Asker(host.stage, host.widget)
        self._judging = Judging(host.stage)
        self._shown = Shown(host, self.set, self.ask_why)
        self._shown.plate.still = lambda: self._held
        self._shown.plate.grown.connect(self._told)
        self._shown.plate.offer(self.do)
        self._figures = QTimer(host.widget, singleShot=True, interval=0)
        self._figures.timeout.connect(self.judge_now)

    def end(self) -> None:
        """Put ghost and plate away."""
        if self.running:
            self._figures.stop()
            self._shown.close()
        self.row = ()
        self._held = self._held_to_tell = False
        super().end()

    @property
    def is_free(self) -> bool:
        """Whether corners are set one by one."""
        return self.running and self.choice.choice.by_corners

    @property
    def placed(self) -> tuple[Placed, ...]:
        """What is to be placed, as it is now; nothing while there is none yet."""
        if not self.is_free:
            return self.row
        outline = self.free.outline
        return (outline,) if outline is not None else ()

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

    @property
    def ghost(self) -> Ghost | None:
        """The placing that is under way; None while the farm has no kind of net."""
        return self._ghost

    # Judging

    def _figures_soon(self) -> None:
        """Have the figures found after the outline is painted, and not with every move of a fast hand."""
        self._figures.start(max(0, ceil(FIGURES_APART_MS - (perf_counter() - self._judged_at) * 1000)))

    @property
    def figures_due(self) -> bool:
        """Whether figures of where the ghost is now are still to come."""
        return self._figures.isActive()

    def judge_now(self) -> None:
        """Find the figures of where the ghost is, and show them."""
        placed = self.placed if self.running else ()
        if self._ghost is not None and placed:
            self._figures.stop()
            self._judging.judge(self._ghost, placed)
            self._show()
            self._judged_at = perf_counter()
        elif self.running and self.is_free:
            self._figures.stop()
            self._show()

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
        if self.placed:
            self._held_to_tell, self._held = self._held_to_tell or not self._held, True
            self.judge_now()
            plate.tell()

    def _told(self) -> None:
        """Let a ghost follow the pointer again that was only held while its plate told what it rests on."""
        if self._held_to_tell and not self._shown.plate.telling:
            self._held = self._held_to_tell = False
        self._show()

    def start_in_the_middle(self) -> None:
        """Have a ghost in the middle of the view where the pointer brought none yet."""

    def do(self, name: str) -> None:
        """Do what a word of the plate says."""

    # Setting

    def set(self, why: str = "") -> bool:
        """Place what is shown, unless something is against it that no reason was given for; whether it was."""
        placed = self.placed
        if self._ghost is None or not placed:
            return False
        judged = self._judging.judge(self._ghost, placed)
        self._show()
        against = [warning for one in judged for warning in one.warnings if not warning.care]
        if any(warning.hard for warning in against) or (against and not why):
            self._held = True  # the plate says why; it can be reached now
            self._show()
            return False
        self._held = False
        edit = placing_edit(self._ghost, placed, why)
        if self.is_free:
            self.free.clear()
        self._ask(edit, placed, judged)
        return True

    def _ask(self, edit: Edit, placed: tuple[Placed, ...], judged: tuple[Judgement, ...]) -> None:
        """Ask for the edit; what was set stays in sight until it is published."""
        self._waiting.append(placed)

        def ended(changes: ChangeSet | None, error: BaseException | None) -> None:
            self._waiting.remove(placed)
            if error is not None and not self.free.corners.points and not isinstance(placed[0], Rectangle):
                self.free.take(placed[0].points)  # what was clicked is not lost
            if self.running:
                self._show()
            say_done(self.host.stage, edit, judged, changes, error)
            if error is None and self.running and self.choice.choice.reshape_uid:
                self.host.stage.take_up("pick")

        self._asker.ask(edit, ended)

    def _show(self, *, quick: bool = False) -> None:
        """Show it; `quick` while the pointer moves: its plate follows with the figures."""
        if not self.running:
            return
        if self.is_free and self._ghost is not None and self.free.walking is not None:
            look = self.free.look
            known = self._judging.known((look.outline,)) if look.outline is not None else ()
            self._shown.show_free(self._ghost, self.free.walking, look, known, self._waiting, quick=quick)
        else:
            self._shown.show(self._ghost, self.row, self._judging.known(self.row), self._waiting)
