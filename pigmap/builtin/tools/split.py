"""Split a planned paddock in two: a line follows the pointer across it, and a click parts it."""

from __future__ import annotations

from collections.abc import Mapping
from datetime import date

import numpy as np
import shapely
from numpy.typing import NDArray
from PySide6.QtCore import Qt
from PySide6.QtGui import QKeyEvent

from pigmap.builtin.tools.refusal import refusal
from pigmap.builtin.tools.split_line import SplitLine
from pigmap.document.edits import halves_of, split_paddock, turn_of
from pigmap.drawing.layer import Label, Labels, Layer, Outlines, Side, Stroke
from pigmap.drawing.rings import rings_of
from pigmap.drawing.strokes import BAND, GHOST_FITS, GHOST_REFUSED
from pigmap.drawing.tokens import PLAN_BAND
from pigmap.drawing.words import day_words
from pigmap.errors import EditError, PigmapError
from pigmap.qt.asking import Asker
from pigmap.qt.stage import Picked
from pigmap.qt.tool import Host, IdleTool, Pointer
from pigmap.records import ChangeSet, Paddock, Stay, StayState
from pigmap.text import Quantity, Text

TURN_DEG, FINE_TURN_DEG = 5.0, 1.0
Key = Qt.Key
_STEPS = {Key.Key_Left: -1, Key.Key_Down: -1, Key.Key_Right: 1, Key.Key_Up: 1}


class Split(IdleTool):
    """The line keeps to posts along the longest side; arrows step it, Q and E turn it, a click or Enter splits."""

    name = "split"
    cursor = Qt.CursorShape.CrossCursor

    def __init__(self) -> None:
        self._paddock_uid = ""
        self._line: SplitLine | None = None
        self._waiting = False

    def begin(self, host: Host) -> None:
        """Start with the paddock that is picked."""
        super().begin(host)
        stage = host.stage
        self._asker = Asker(stage, host.widget)
        self._choose(_picked_paddock(stage.session.farm.paddocks, stage.session.farm.stays, stage.picked))
        stage.farm_changed.connect(self._farm_changed)
        host.widget.setFocus(Qt.FocusReason.OtherFocusReason)  # the card whose deed it was is hidden now
        if self._line is None:
            stage.notice(Text("Pick a planned paddock first, then split it from its card."), "care")
        else:
            words = "Click where {name} is to be split. Arrows step the line by a post, Q and E turn it, Enter splits."
            stage.notice(Text(words, {"name": self._name}))

    def end(self) -> None:
        """Drop the line."""
        if self.running:
            self.host.stage.farm_changed.disconnect(self._farm_changed)
        self._line = None
        super().end()

    def _choose(self, paddock: Paddock | None) -> None:
        farm = self.host.stage.session.farm
        self._paddock_uid = paddock.uid if paddock is not None else ""
        self._line = None
        if paddock is not None:
            kind = farm.net_kinds.get(paddock.net_kind_uid or "")
            bays = kind.bays_mm if kind is not None else ()
            self._line = SplitLine(paddock.outline, bays, farm.projection.ground_per_grid)
        self._show()

    def _farm_changed(self, *_: object) -> None:
        if not self._waiting:
            self._choose(self.host.stage.session.farm.paddocks.get(self._paddock_uid))

    @property
    def _name(self) -> str:
        paddock = self.host.stage.session.farm.paddocks.get(self._paddock_uid)
        return paddock.name if paddock is not None else ""

    # Gestures

    def hover(self, pointer: Pointer) -> None:
        """Let the line follow the pointer; Alt leaves the posts."""
        if self._line is not None and not self._waiting:
            free = bool(pointer.modifiers & Qt.KeyboardModifier.AltModifier)
            self._line.follow(pointer.x_m, pointer.y_m, free=free)
            self._show()

    def release(self, pointer: Pointer) -> None:
        """Split it there."""
        self.hover(pointer)
        self._split()

    def key(self, event: QKeyEvent) -> bool:
        """Step or turn the line, or split."""
        line, key = self._line, Key(event.key())
        if line is None or self._waiting or event.modifiers() & Qt.KeyboardModifier.ControlModifier:
            return False
        if key in (Key.Key_Return, Key.Key_Enter):
            self._split()
        elif key in _STEPS:
            line.step(_STEPS[key])
        elif key in (Key.Key_Q, Key.Key_E):
            by = FINE_TURN_DEG if event.modifiers() & Qt.KeyboardModifier.ShiftModifier else TURN_DEG
            line.turn(by if key == Key.Key_Q else -by)
        else:
            return False
        self._show()
        return True

    def _split(self) -> None:
        stage = self.host.stage
        if self._line is None or self._waiting:
            return
        edit = split_paddock(self._paddock_uid, self._line.line)
        try:
            edit(stage.session.farm)
        except PigmapError as error:
            stage.notice(refusal(error), "refused")
            return
        uid, self._waiting = self._paddock_uid, True

        def ended(changes: ChangeSet | None, error: BaseException | None) -> None:
            self._waiting = False
            if error is not None:
                stage.notice(refusal(error), "refused")
            elif changes is not None:
                names = [str(getattr(row.after, "name", "")) for row in changes.of("paddocks") if row.before is None]
                first = stage.session.farm.paddocks.get(uid)
                values = {"first": first.name if first is not None else "", "second": "".join(names[:1])}
                stage.notice(Text("Split in two: first {first}, then {second}.", dict(values)), deed="undo")
                if self.running:
                    stage.pick(Picked("paddocks", uid))
                    stage.take_up("pick")

        self._asker.ask(edit, ended)

    # What is shown

    def _show(self) -> None:
        if self.running:
            self.host.preview(self._layers() if self._line is not None else ())

    def _layers(self) -> tuple[Layer, ...]:
        assert self._line is not None
        line, stage = self._line.line, self.host.stage
        points = shapely.get_coordinates(line)
        try:
            halves = halves_of(stage.session.farm, self._paddock_uid, line)
        except EditError:
            return (_stroke(points, GHOST_REFUSED),)
        bands = tuple(
            Outlines(*rings_of([half]), closed=True, strokes=(Stroke(PLAN_BAND, BAND),), inside=True) for half in halves
        )
        middle = shapely.Point(points.mean(axis=0))
        length = stage.say("{length}", length=Quantity(self._line.net_m, "m", 0))
        labels = [Label(middle.x, middle.y, length, look="length"), *self._half_labels(halves)]
        return (*bands, _stroke(points, GHOST_FITS), Labels(tuple(labels)))

    def _half_labels(self, halves: tuple[shapely.Polygon, shapely.Polygon]) -> list[Label]:
        stage = self.host.stage
        scale = stage.session.farm.projection.ground_per_grid
        days = self._days()
        labels = []
        orders: tuple[tuple[str, Side], ...] = (("First: {area}", "above"), ("Then: {area}", "below"))
        for half, (order, side), when in zip(halves, orders, days, strict=True):
            at = half.representative_point()
            words = stage.say(order, area=Quantity(half.area * scale**2, "m²"))
            labels.append(Label(at.x, at.y, words, second=when, look="plan plate", priority=9, side=side))
        return labels

    def _days(self) -> tuple[str, str]:
        """Return the days of each half, as far as they are planned."""
        stage = self.host.stage
        stays = [
            stay
            for stay in stage.session.farm.stays.values()
            if stay.paddock_uid == self._paddock_uid and stay.state is StayState.PLANNED
        ]
        stay = min(stays, key=lambda each: each.in_on, default=None)
        if stay is None:
            return "", ""
        try:
            turn = turn_of(stage.session.farm, stay)
        except EditError:
            return "", ""
        return self._from(stay.in_on), self._from(turn)

    def _from(self, day: date) -> str:
        return self.host.stage.say("from {day}", day=day_words(day, "short", language=self.host.stage.language))


def _picked_paddock(
    paddocks: Mapping[str, Paddock], stays: Mapping[str, Stay], picked: Picked | None
) -> Paddock | None:
    if picked is None:
        return None
    stay = stays.get(picked.uid) if picked.table == "stays" else None
    return paddocks.get(stay.paddock_uid if stay is not None else picked.uid)


def _stroke(points: NDArray[np.float64], stroke: Stroke) -> Outlines:
    return Outlines(points, np.array([0, len(points)]), closed=False, strokes=(stroke,))


tool = Split
