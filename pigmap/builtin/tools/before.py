"""The history brush: click a field for all of it, drag over a part, or set corners round one."""

from __future__ import annotations

from collections.abc import Callable

import numpy as np
import shapely
from PySide6.QtCore import Qt
from PySide6.QtGui import QKeyEvent

from pigmap.builtin.tools.before_plate import KINDS, BeforePlate
from pigmap.builtin.tools.corners import Corners
from pigmap.builtin.tools.refusal import refusal
from pigmap.document.edits import (
    Before,
    GroundWork,
    tell_before,
    tell_before_of_field,
    tell_work,
    tell_work_of_field,
)
from pigmap.drawing.ghost import walked
from pigmap.drawing.layer import Layer, Outlines
from pigmap.drawing.rings import rings_of
from pigmap.drawing.strokes import WALKED
from pigmap.errors import EditError, PigmapError
from pigmap.geometry.brush import brushed
from pigmap.geometry.outlines import vet_outline
from pigmap.qt.asking import Asker
from pigmap.qt.gestures import CLICK_PX
from pigmap.qt.printing import field_of_picked
from pigmap.qt.stage import Picked
from pigmap.qt.tool import Host, IdleTool, Pointer
from pigmap.records import ChangeSet, Edit, Field
from pigmap.text import Text

FILL = "#FFFFFF66"
STEP_PART = 8
"""A stroke keeps a point for each such part of the brush's breadth."""
Ground = shapely.Polygon | shapely.MultiPolygon
Told = Before | GroundWork
Make = Callable[[Told], Edit]


class BeforeTool(IdleTool):
    """One stroke, one outline or one field is one edit; what is told later lies over what was told earlier."""

    name = "before"
    cursor = Qt.CursorShape.CrossCursor

    def __init__(self) -> None:
        self._corners = Corners("Length and direction: 50 at 90")
        self._stroke: list[tuple[float, float]] = []
        self._pressed: Pointer | None = None
        self._at: Pointer | None = None
        self._kept: tuple[Layer, ...] = ()

    def begin(self, host: Host) -> None:
        """Start; an outline that was left half drawn goes on."""
        super().begin(host)
        stage = host.stage
        self._asker = Asker(stage, host.widget)
        self._plate = BeforePlate(stage, host.widget)
        self._plate.show()
        self._plate.follow_in_tab_order()
        host.widget.setFocus(Qt.FocusReason.OtherFocusReason)  # the card whose deed it was is hidden now
        self._plate.whole_asked.connect(self._tell_picked)
        self._plate.changed.connect(self._show_choice)
        self._corners.begin(host, self._show)
        stage.picked_changed.connect(self._show_choice)
        stage.farm_changed.connect(self._show_choice)
        self._stroke, self._pressed, self._kept = [], None, ()
        self._show_choice()

    def end(self) -> None:
        """Put plate and preview away; corners that are set stay."""
        if self.running:
            self.host.stage.picked_changed.disconnect(self._show_choice)
            self.host.stage.farm_changed.disconnect(self._show_choice)
            self._plate.hide()
            self._plate.deleteLater()
        self._corners.end()
        super().end()

    # Pointer and keys

    def hover(self, pointer: Pointer) -> None:
        """Let the brush, or the next side, follow the pointer."""
        self._at = pointer
        self._corners.follow(pointer)
        self._show()

    def press(self, pointer: Pointer) -> bool:
        """Begin a stroke."""
        if self._by_corners:
            return False
        self._pressed, self._at = pointer, pointer
        self._stroke = [(pointer.x_m, pointer.y_m)]
        return True

    def drag(self, pointer: Pointer) -> None:
        """Brush on."""
        self._at = pointer
        if self._stroke:
            x, y = self._stroke[-1]
            if max(abs(pointer.x_m - x), abs(pointer.y_m - y)) >= self._wide / STEP_PART:
                self._stroke.append((pointer.x_m, pointer.y_m))
            self._show()

    def release(self, pointer: Pointer) -> None:
        """Tell what was brushed; a click is meant for the whole field, and in an outline for a corner."""
        if self._by_corners:
            self._corners.add(pointer.x_m, pointer.y_m)
            self._show()
            return
        stroke, self._stroke = self._stroke, []
        pressed, self._pressed = self._pressed, None
        if pressed is None or not stroke:
            return
        if max(abs(pointer.x - pressed.x), abs(pointer.y - pressed.y)) <= CLICK_PX:
            self._tell_field_at(pointer)
            return
        self._pick_at(stroke[0])
        shape = brushed([*stroke, (pointer.x_m, pointer.y_m)], self._wide)
        self._tell(lambda told: self._of_part(shape, told), shape)

    def double(self, pointer: Pointer) -> None:
        """Close the outline."""
        self._close()

    def key(self, event: QKeyEvent) -> bool:
        """Choose with U, N, K and J; Enter closes the outline, or takes all of the picked field."""
        letters = {"U": 0, "N": 1, "K": 2, "J": 3}
        if event.key() in (Qt.Key.Key_Return, Qt.Key.Key_Enter):
            if self._corners.points:
                self._close()
            else:
                self._tell_picked()
            return True
        if event.text().upper() in letters and not event.modifiers() & ~Qt.KeyboardModifier.ShiftModifier:
            self._plate.choose(KINDS[letters[event.text().upper()]][0])
            return True
        return self._corners.key(event)

    # What is told

    @property
    def _south(self) -> bool:
        return self.host.stage.session.farm.projection.lies_south

    @property
    def _by_corners(self) -> bool:
        return self._plate.outlines or bool(self._corners.points)

    @property
    def _wide(self) -> float:
        """Breadth of the brush [grid m]."""
        return self._plate.wide_m / self.host.stage.session.farm.projection.ground_per_grid

    def _field_at(self, spot: tuple[float, float]) -> Field | None:
        fields = self.host.stage.session.farm.fields.values()
        return next((each for each in fields if each.outline.intersects(shapely.Point(spot))), None)

    def _pick_at(self, spot: tuple[float, float]) -> None:
        """Pick the field that a stroke begins in: Enter is then meant for all of that one."""
        field = self._field_at(spot)
        if field is not None:
            self.host.stage.pick(Picked("fields", field.uid))

    def _tell_field_at(self, pointer: Pointer) -> None:
        field = self._field_at((pointer.x_m, pointer.y_m))
        if field is None:
            self._refuse(
                EditError("There is no field there.", remedy="Click inside a field, or drag over the part you mean.")
            )
            return
        self._tell_field(field)

    def _tell_picked(self) -> None:
        field = self._picked_field()
        if field is None:
            self._refuse(
                EditError("No field is picked.", remedy="Click a field for all of it, or drag over the part you mean.")
            )
            return
        self._tell_field(field)

    def _tell_field(self, field: Field) -> None:
        self.host.stage.pick(Picked("fields", field.uid))
        self._tell(lambda told: self._of_field(field, told), field.outline)

    def _close(self) -> None:
        points = self._corners.points
        if not points:
            return
        self._corners.pointer = None
        line = shapely.Polygon(points) if len(points) >= 3 else shapely.LineString([*points, points[-1]])
        try:
            shape = vet_outline(self.host.stage.words(Text("The part")), line).outline
        except PigmapError as error:
            self._refuse(error)
            return
        self._tell(lambda told: self._of_part(shape, told), shape)

    def _of_part(self, shape: Ground, told: Told) -> Edit:
        if isinstance(told, GroundWork):
            return tell_work(shape, told)
        return tell_before(shape, told, south=self._south)

    def _of_field(self, field: Field, told: Told) -> Edit:
        if isinstance(told, GroundWork):
            return tell_work_of_field(field.uid, told, name=field.name)
        return tell_before_of_field(field.uid, told, name=field.name, south=self._south)

    def _tell(self, make: Make, shape: Ground) -> None:
        """Ask for the edit; what was brushed stays in sight until it is published."""
        stage = self.host.stage
        try:
            edit: Edit = make(self._plate.told())
        except PigmapError as error:
            self._refuse(error)
            self._plate.point_at_year()
            return
        self._kept = _drawn(shape)
        self._show()

        def ended(changes: ChangeSet | None, error: BaseException | None) -> None:
            self._kept = ()
            if error is not None:
                stage.notice(refusal(error), "refused")
            elif changes is not None:
                self._corners.clear()
                stage.notice(edit.label, deed="undo")
            if self.running:
                self._show()

        self._asker.ask(edit, ended)

    def _refuse(self, error: PigmapError) -> None:
        self.host.stage.notice(refusal(error), "refused")
        self._show()

    def _picked_field(self) -> Field | None:
        """Return the field that is picked, or the only one there is."""
        stage = self.host.stage
        fields = stage.session.farm.fields
        uid = field_of_picked(stage) or (next(iter(fields)) if len(fields) == 1 else "")
        return fields.get(uid)

    # What is shown

    def _show_choice(self, *_: object) -> None:
        field = self._picked_field()
        self._plate.offer_field(field.name if field is not None else "")
        self._show()

    def _show(self) -> None:
        if self.running:
            self.host.preview(self._layers())

    def _layers(self) -> tuple[Layer, ...]:
        if self._kept:
            return self._kept
        if self._by_corners:
            return walked(np.array(self._corners.points), self._corners.pointer)
        if self._stroke:
            return _drawn(brushed(self._stroke, self._wide))
        if self._at is None:
            return ()
        spot = brushed([(self._at.x_m, self._at.y_m)], self._wide)
        return (Outlines(*rings_of([spot]), closed=True, strokes=(WALKED,)),)


def _drawn(shape: Ground) -> tuple[Layer, ...]:
    return (Outlines(*rings_of([shape]), closed=True, strokes=(WALKED,), fill=FILL, holes=True),)


class WorkTool(BeforeTool):
    """The same brush, begun with work that was done."""

    name = "work"

    def begin(self, host: Host) -> None:
        """Start."""
        super().begin(host)
        self._plate.choose(None)


tool = BeforeTool
work_tool = WorkTool
