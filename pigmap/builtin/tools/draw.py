"""Draw a field, a keep-out, a line, a place or gear; reshape what is picked by dragging its corners."""

from __future__ import annotations

import numpy as np
import shapely
from PySide6.QtCore import Qt
from PySide6.QtGui import QKeyEvent

from pigmap.builtin.tools.corner_steps import CornerSteps
from pigmap.builtin.tools.corners import Corners, left_half_done
from pigmap.builtin.tools.draw_plate import DrawPlate
from pigmap.builtin.tools.drawn_gear import gear_edit
from pigmap.builtin.tools.drawn_what import Drawn, drawing_edit
from pigmap.builtin.tools.refusal import refusal
from pigmap.builtin.tools.reshape import Handle, Shape, handles, reshaped, reshaping_edit, shape_of
from pigmap.builtin.tools.side_lengths import area_so_far, side_lengths
from pigmap.drawing.ghost import walked
from pigmap.drawing.layer import Label, Labels, Layer, Marks, Outlines, Size
from pigmap.drawing.rings import rings_of
from pigmap.drawing.strokes import WALKED
from pigmap.drawing.tokens import CASING, MAP_INK
from pigmap.errors import PigmapError
from pigmap.qt.asking import Asker
from pigmap.qt.stage import Picked
from pigmap.qt.tool import Host, IdleTool, Pointer
from pigmap.records import ChangeSet, Edit, GearKind

HANDLE_PX = 10.0
"""Corners are hit within so many pixels."""
_CORNER = Size(9.2, 1.7)
_BETWEEN = Size(6.0, 1.1)
_CASING = Size(1.8, 0.3)
_CHOOSES = {
    Qt.Key.Key_F: Drawn.FIELD,
    Qt.Key.Key_K: Drawn.KEEP_OUT,
    Qt.Key.Key_L: Drawn.LINE,
    Qt.Key.Key_A: Drawn.PLACE,
    Qt.Key.Key_G: Drawn.GEAR,
}


class Draw(IdleTool):
    """Click sets a corner, a double click or Enter closes, Backspace takes the last corner back, Esc drops it all.

    What is left half drawn stays until it is dropped; a place and gear are set by one click. Where something is picked,
    its corners can be dragged, and a new one pulled out of the middle of a side.
    """

    name = "draw"
    cursor = Qt.CursorShape.CrossCursor

    def __init__(self) -> None:
        self._corners = Corners("Length and direction: 50 at 90", tell_dropped=True)
        self._dragged: Handle | None = None
        self._shape: Shape | None = None
        self._of: Picked | None = None
        self._waiting = self._moved = False
        self._steps = CornerSteps(self._show, self._reshape)

    def begin(self, host: Host) -> None:
        """Start; an outline that was left half drawn goes on."""
        super().begin(host)
        self._asker = Asker(host.stage, host.widget)
        self._plate = DrawPlate(host.stage, host.widget)
        self._plate.show()
        self._plate.changed.connect(self._other)
        self._corners.begin(host, self._changed)
        self._steps.begin(host)
        host.stage.picked_changed.connect(self._picked)
        host.stage.farm_changed.connect(self._picked)
        self._picked()

    def end(self) -> None:
        """Put plate and preview away; the corners stay."""
        if self.running:
            self.host.stage.picked_changed.disconnect(self._picked)
            self.host.stage.farm_changed.disconnect(self._picked)
            self._steps.end()
            self._plate.hide()
            self._plate.deleteLater()
            left_half_done(self.host.stage, self.name, self._corners)
        self._corners.end()
        super().end()

    def hover(self, pointer: Pointer) -> None:
        """Let the next side follow the pointer."""
        self._corners.follow(pointer)
        if self._corners.points:
            self._show()

    def press(self, pointer: Pointer) -> bool:
        """Take hold of a corner of what is picked."""
        self._dragged = None if self._corners.points else self._handle_at(pointer)
        self._moved = False
        return self._dragged is not None

    def drag(self, pointer: Pointer) -> None:
        """Let the corner follow the pointer."""
        self._moved = True
        if self._dragged is not None and self._shape is not None:
            self._show(reshaped(self._shape, self._dragged, (pointer.x_m, pointer.y_m)))

    def release(self, pointer: Pointer) -> None:
        """Set a corner, or let go of the one that was dragged; a click on one begins what is new there."""
        if self._dragged is not None and self._shape is not None and self._moved:
            shape = reshaped(self._shape, self._dragged, (pointer.x_m, pointer.y_m))
            self._steps.take(shape, same=True)
            self._steps.choose_at(pointer.x_m, pointer.y_m)
            self._reshape(shape)
        elif self._closes(pointer):
            self._close()
        else:
            self._dragged = None
            self._corners.add(pointer.x_m, pointer.y_m)
            self._changed()

    def double(self, pointer: Pointer) -> None:
        """Close the outline."""
        self._close()

    def key(self, event: QKeyEvent) -> bool:
        """Close with Enter; F, K, L, A and G choose what to draw, N goes to the name, and so does D once more.

        While nothing new is drawn E and Q choose a corner of what is picked, which is stepped and typed then.
        """
        if not self._corners.points and not self._waiting and self._steps.key(event):
            return True
        if event.key() in (Qt.Key.Key_Return, Qt.Key.Key_Enter) and self._corners.points:
            self._close()
            return True
        if event.key() in _CHOOSES and not event.modifiers():
            self._plate.choose(_CHOOSES[Qt.Key(event.key())])
            return True
        if event.key() in (Qt.Key.Key_N, Qt.Key.Key_D) and not event.modifiers():
            self._plate.name_it()
            return True
        return self._corners.key(event)

    # What is new

    def _changed(self) -> None:
        """Show the corners; set a place where its one corner is: the next one need not wait for it."""
        self._show()
        if self._plate.drawn.is_point and len(self._corners.points) == 1:
            (point,) = self._corners.points
            self._corners.clear()
            try:
                edit = self._edit([point])
            except PigmapError as error:
                self._show()
                self.host.stage.notice(refusal(error), "refused")
                return
            self._ask(edit, drawn=False)

    def _edit(self, points: list[tuple[float, float]]) -> Edit:
        """Return the edit of what was drawn; raises a `PigmapError` where it cannot be."""
        meant, stage = self._plate.meant, self.host.stage
        if meant.drawn is Drawn.GEAR:
            return gear_edit(stage.session.farm, stage.day, GearKind(meant.what), *points[0], stage.today)
        return drawing_edit(meant, points)

    def _other(self) -> None:
        """Go on with something else: corners that were set are no place."""
        if self._plate.drawn.is_point and self._corners.points:
            self._corners.drop()
        self._show()

    def _closes(self, pointer: Pointer) -> bool:
        points = self._corners.points if self._plate.drawn.is_area else ()
        reach = HANDLE_PX * pointer.metres_per_pixel
        return len(points) >= 3 and max(abs(pointer.x_m - points[0][0]), abs(pointer.y_m - points[0][1])) <= reach

    def _close(self) -> None:
        if self._waiting or not self._corners.points:
            return
        self._corners.pointer = None
        try:
            edit = self._edit(self._corners.points)
        except PigmapError as error:
            self.host.stage.notice(refusal(error), "refused")
            return
        self._ask(edit)

    def _ask(self, edit: Edit, *, drawn: bool = True) -> None:
        """Ask for the edit; what is drawn stays in sight until it is published."""
        stage = self.host.stage
        self._waiting = self._waiting or drawn

        def ended(changes: ChangeSet | None, error: BaseException | None) -> None:
            self._waiting = self._waiting and not drawn
            if error is not None:
                stage.notice(refusal(error), "refused")
            elif changes is not None:
                if drawn:
                    self._corners.clear()
                stage.notice(edit.label, deed="undo")
                for row in list(changes.of("fields", "keep_outs", "ways", "flow_lines", "places", "gear_places"))[:1]:
                    stage.pick(Picked(row.table, row.uid))
            self._dragged = None
            if self.running:
                self._plate.next_name()
                self._picked()

        self._asker.ask(edit, ended)

    # What is picked

    def _picked(self, *_: object) -> None:
        picked = self.host.stage.picked
        self._shape = shape_of(self.host.stage.session.farm, picked)
        self._steps.take(self._shape, same=picked == self._of)
        self._of = picked
        if not self._waiting:
            self._show()

    def _handle_at(self, pointer: Pointer) -> Handle | None:
        if self._shape is None or self._waiting:
            return None
        found = handles(self._shape)
        off = np.hypot(found.points[:, 0] - pointer.x_m, found.points[:, 1] - pointer.y_m)
        if not len(off) or off.min() > HANDLE_PX * pointer.metres_per_pixel:
            return None
        return found.at(int(np.argmin(off)))

    def _reshape(self, shape: Shape) -> None:
        picked = self.host.stage.picked
        self._show(shape)
        if picked is not None:
            self._ask(reshaping_edit(picked, shape))

    # What is shown

    def _show(self, changed: Shape | None = None) -> None:
        if self.running:
            self._plate.begun(bool(self._corners.points))
            self.host.preview(self._layers(changed))

    def _layers(self, changed: Shape | None) -> tuple[Layer, ...]:
        if self._corners.points:
            points, pointer = self._corners.points, self._corners.pointer
            stage = self.host.stage
            area = area_so_far(points, pointer, stage) if self._plate.drawn.is_area else ()
            figures = Labels((*side_lengths(points, pointer, stage), *area))
            drawn = (*walked(np.array(points), pointer), figures)
            if self._corners.pointer is not None or self._waiting:
                return drawn
            again = Label(*self._corners.points[-1], self.host.stage.say("Go on here"), look="plan plate", side="right")
            return (*drawn, Labels((again,)))
        shape = changed if changed is not None else self._steps.shape
        if shape is None:
            return ()
        found = handles(shape)
        corners, between = found.points[found.corner], found.points[~found.corner]
        return (
            *_edges(shape),
            *self._steps.layers(),
            Marks(between, "dot", _BETWEEN, CASING, MAP_INK, _CASING),
            Marks(corners, "dot", _CORNER, MAP_INK, CASING, _CASING),
        )


def _edges(shape: Shape) -> tuple[Layer, ...]:
    if isinstance(shape, shapely.Point):
        return ()
    if isinstance(shape, shapely.LineString):
        points = shapely.get_coordinates(shape)
        return (Outlines(points, np.array([0, len(points)]), closed=False, strokes=(WALKED,)),)
    return (Outlines(*rings_of([shape]), closed=True, strokes=(WALKED,)),)


tool = Draw
