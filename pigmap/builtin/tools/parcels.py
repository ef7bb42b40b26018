"""Pick a farm's fields out of the outlines of a county: a click takes one or leaves it, Enter makes them fields."""

from __future__ import annotations

from collections.abc import Callable, Iterable
from pathlib import Path

import shapely
from PySide6.QtCore import Qt
from PySide6.QtGui import QKeyEvent
from PySide6.QtWidgets import QWidget

from pigmap.builtin.tools.parcels_plate import ParcelsPlate
from pigmap.builtin.tools.refusal import refusal
from pigmap.drawing.layer import Label, Labels, Layer, Outlines, Size, Stroke
from pigmap.drawing.rings import rings_of
from pigmap.drawing.strokes import GHOST_FITS
from pigmap.drawing.tokens import CASING, MAP_INK
from pigmap.errors import UsageError
from pigmap.qt.asking import Asker
from pigmap.qt.files import choose_file
from pigmap.qt.following import sentence
from pigmap.qt.parcel_picking import picking_of
from pigmap.qt.tool import Host, IdleTool, Pointer
from pigmap.records import ChangeSet
from pigmap.session.brought import outline_suffixes
from pigmap.session.new_farm import has_place, place_of

OFFERED = Stroke(MAP_INK, Size(1.4, 0.3), CASING, Size(4.0, 0.8))
TAKEN_FILL = "#1650B84D"
AT = Stroke(MAP_INK, Size(4.0, 0.7), CASING, Size(8.0, 1.5))
SEEN_AT_ONCE = 40
"""The map goes to the nearest so many where none of them is in view."""


class ParcelsTool(IdleTool):
    """What is taken stays while another verb runs; all of it is one edit."""

    name = "parcels"
    cursor = Qt.CursorShape.PointingHandCursor

    def __init__(self) -> None:
        self.choose_file: Callable[[QWidget, str, str], str] = choose_file
        self._at = -1

    def begin(self, host: Host) -> None:
        """Start; what was taken before is taken still."""
        super().begin(host)
        stage = host.stage
        self.picking = picking_of(stage)
        self._asker = Asker(stage, host.widget)
        self.plate = ParcelsPlate(stage, host.widget, self.picking)
        self.plate.choose_asked.connect(self.choose)
        self.plate.take_asked.connect(self.take)
        self.plate.current_changed.connect(self._point_at)
        self.picking.offered_changed.connect(self._offered)
        self.picking.taken_changed.connect(self._show)
        self._at = -1
        self.plate.show()
        self._offered()

    def end(self) -> None:
        """Put plate and outlines away."""
        if self.running:
            self.picking.offered_changed.disconnect(self._offered)
            self.picking.taken_changed.disconnect(self._show)
            self.plate.hide()
            self.plate.deleteLater()
        super().end()

    def choose(self) -> None:
        """Let a person choose a file."""
        stage = self.host.stage
        if not has_place(stage.session.farm.projection):
            why = UsageError(
                "This farm has no place on the map of the world yet.",
                remedy="Give it its place, under More, then bring the file.",
            )
            stage.notice(sentence(why), "refused")
            return
        kinds = stage.say(
            "Outlines ({ends})", ends=" ".join(f"*{end}" for end in outline_suffixes(stage.session.registry))
        )
        chosen = self.choose_file(self.host.widget, stage.say("A file of outlines"), kinds)
        if chosen:
            view = self.host.view
            middle = shapely.Point(view.centre_x_m, view.centre_y_m)
            self.picking.open(Path(chosen), place_of(stage.session.farm) or middle)

    def take(self) -> None:
        """Make fields of what is taken: one edit."""
        stage, picking = self.host.stage, self.picking
        if not picking.taken:
            why = UsageError("No outline is taken yet.", remedy="Click those that are yours, or press A for all.")
            stage.notice(sentence(why), "refused")
            return
        edit = picking.edit()

        def ended(changes: ChangeSet | None, error: BaseException | None) -> None:
            if error is not None:
                stage.notice(refusal(error), "refused")
                return
            picking.offer(None)
            stage.notice(edit.label, deed="undo")
            if stage.verb == self.name:
                stage.take_up("pick")

        self._asker.ask(edit, ended)

    # Pointer and keys

    def hover(self, pointer: Pointer) -> None:
        """Show which outline is under the pointer."""
        number = self.picking.at(pointer.x_m, pointer.y_m)
        self._point_at(-1 if number is None else number)

    def release(self, pointer: Pointer) -> None:
        """Take the outline that was clicked, or leave it."""
        number = self.picking.at(pointer.x_m, pointer.y_m)
        if number is not None:
            self.picking.turn(number)
            self.plate.point_at(number)

    def key(self, event: QKeyEvent) -> bool:
        """Take all with A and none with N; Enter makes fields of what is taken."""
        if event.modifiers() & ~Qt.KeyboardModifier.KeypadModifier or self.picking.parcels is None:
            return False
        deeds = {
            Qt.Key.Key_A: self.picking.take_all,
            Qt.Key.Key_N: self.picking.take_none,
            Qt.Key.Key_Return: self.take,
            Qt.Key.Key_Enter: self.take,
        }
        deed = deeds.get(Qt.Key(event.key()))
        if deed is None:
            return False
        deed()
        return True

    # Drawing

    def _point_at(self, number: int) -> None:
        if number != self._at:
            self._at = number
            self._show()

    def _offered(self) -> None:
        """Have what is offered in view."""
        bounds = self.picking.bounds(SEEN_AT_ONCE)
        look_at = getattr(self.host.widget, "look_at", None)
        if bounds is not None and look_at is not None and not _in_view(bounds, self.host.view.bounds):
            look_at(bounds)
        self._at = -1
        self._show()

    def _show(self) -> None:
        if self.running:
            self.host.preview(tuple(self._layers()))

    def _layers(self) -> Iterable[Layer]:
        picking = self.picking
        if not picking.outlines:
            return
        taken = [picking.outlines[number] for number in sorted(picking.taken)]
        yield Outlines(*rings_of(picking.outlines), closed=True, strokes=(OFFERED,))
        if taken:
            yield Outlines(*rings_of(taken), closed=True, strokes=(GHOST_FITS,), fill=TAKEN_FILL, holes=True)
        if 0 <= self._at < len(picking.outlines):
            yield Outlines(*rings_of([picking.outlines[self._at]]), closed=True, strokes=(AT,))
            yield Labels((self._label(self._at),))

    def _label(self, number: int) -> Label:
        point = self.picking.outlines[number].representative_point()
        parcels = self.picking.parcels
        name = parcels.offered[number].name if parcels is not None else ""
        return Label(point.x, point.y, name, look="plate", priority=9)


def _in_view(bounds: tuple[float, float, float, float], view: tuple[float, float, float, float]) -> bool:
    """Whether some of the ground is in view, and large enough to be clicked."""
    meets = bounds[0] < view[2] and bounds[2] > view[0] and bounds[1] < view[3] and bounds[3] > view[1]
    return meets and (bounds[2] - bounds[0]) > (view[2] - view[0]) / 6


tool = ParcelsTool
