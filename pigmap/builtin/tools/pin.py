"""Pin a picture to the map: a point of it, then its place, three times or more."""

from __future__ import annotations

from collections.abc import Callable
from pathlib import Path
from typing import NamedTuple

import numpy as np
from PySide6.QtCore import Qt
from PySide6.QtGui import QKeyEvent
from PySide6.QtWidgets import QWidget

from pigmap.builtin.tools.pin_over import PinOver
from pigmap.builtin.tools.pin_plate import PinPlate
from pigmap.builtin.tools.refusal import refusal
from pigmap.builtin.tools.typed_line import TypedLine, starts_typing
from pigmap.document.edits import link_image
from pigmap.errors import PigmapError, UsageError
from pigmap.geometry.pinned import Fit
from pigmap.qt.asking import Asker
from pigmap.qt.files import choose_file
from pigmap.qt.following import sentence
from pigmap.qt.gestures import CLICK_PX
from pigmap.qt.pinning import pinning_of
from pigmap.qt.tool import Host, IdleTool, Pointer
from pigmap.records import ChangeSet, Image
from pigmap.session.brought import IMAGE_SUFFIXES
from pigmap.session.brought_images import shown_name
from pigmap.session.images import image_link
from pigmap.session.new_farm import has_place
from pigmap.session.typed_pin import typed_ground, typed_pin
from pigmap.text import Text

REACH_PX = 12.0
"""A press so near to a pin takes hold of it."""


class _Held(NamedTuple):
    """A pin that is dragged."""

    number: int
    by_ring: bool
    """Held by its point of the picture, not by its place."""
    fit: Fit
    """Where the picture was when it was taken hold of: it moves with its pins."""


class PinTool(IdleTool):
    """A click takes a point of the picture, the next click puts it; a drag does both. What is begun stays."""

    name = "pin"
    cursor = Qt.CursorShape.CrossCursor

    def __init__(self) -> None:
        self.choose_file: Callable[[QWidget, str, str], str] = choose_file
        self._held: _Held | None = None
        self._pressed: Pointer | None = None
        self._fresh = False

    def begin(self, host: Host) -> None:
        """Start; a picture that is half pinned goes on."""
        super().begin(host)
        stage = host.stage
        self.pinning = pinning_of(stage)
        self._asker = Asker(stage, host.widget)
        self.over = PinOver(host, self.pinning)
        self.plate = PinPlate(stage, host.widget, self.pinning, self.type_pin)
        self._line = TypedLine(stage, host.widget, stage.say("Its place: 47.03, -99.18, or E and N"), self._type_place)
        self.plate.choose_asked.connect(self.choose)
        self.plate.keep_asked.connect(self.keep)
        self.plate.again_asked.connect(self._again)
        self.pinning.placed.connect(self._has_place)
        self.plate.show()

    def end(self) -> None:
        """Put plate and picture away; the pins stay."""
        if self.running:
            self.pinning.placed.disconnect(self._has_place)
            self.plate.images.close_down()
            for widget in (self.plate, self.over, self._line):
                widget.hide()
                widget.deleteLater()
        super().end()

    # The picture

    def choose(self) -> None:
        """Let a person choose a picture."""
        stage = self.host.stage
        kinds = stage.say("Pictures ({ends})", ends=" ".join(f"*{end}" for end in IMAGE_SUFFIXES))
        chosen = self.choose_file(self.host.widget, stage.say("A scan, or a photo of a map"), kinds)
        if chosen:
            self.pinning.open(Path(chosen))

    def _again(self, image: Image) -> None:
        self.pinning.open_again(image)

    def _has_place(self, path: Path) -> None:
        """Show an image that tells its own place; on a farm without one it begins the farm anew."""
        stage = self.host.stage
        farm = stage.session.farm
        if not has_place(farm.projection):
            if farm.fields or farm.paddocks:  # a farm begun anew would have none of it
                self._refuse(_no_place(path))
                return
            stage.take_up("pick")
            stage.start_asked.emit(path)
            return

        def ended(changes: ChangeSet | None, error: BaseException | None) -> None:
            if error is None:
                stage.notice(
                    Text("{name} tells itself where it lies: it takes no pins.", {"name": shown_name(path)}),
                    "done",
                    "undo",
                )
                stage.take_up("pick")
            else:
                stage.notice(refusal(error), "refused")

        self._asker.ask(link_image(Path(shown_name(path)).stem, image_link(stage.session.path, path)), ended)

    def keep(self) -> None:
        """Keep the picture as it is pinned: one edit."""
        stage, pinning = self.host.stage, self.pinning
        if pinning.path is None:
            return
        try:
            edit = pinning.edit()
        except PigmapError as error:
            self._refuse(error)
            return

        def ended(changes: ChangeSet | None, error: BaseException | None) -> None:
            if error is not None:
                stage.notice(refusal(error), "refused")
                return
            pinning.forget()
            stage.notice(edit.label, deed="undo")
            if stage.verb == self.name:
                stage.take_up("pick" if stage.session.farm.fields else "draw")

        self._asker.ask(edit, ended)

    def _refuse(self, error: PigmapError) -> None:
        self.host.stage.notice(sentence(error), "refused")

    # Pointer

    def hover(self, pointer: Pointer) -> None:
        """Lead the point that waits to its place."""
        self.over.pointer = (pointer.x_m, pointer.y_m) if self.pinning.spot is not None else None
        if self.pinning.spot is not None:
            self.over.update()

    def press(self, pointer: Pointer) -> bool:
        """Take hold of a pin, or of a point of the picture; the rest of the map moves."""
        self._pressed, self._fresh = pointer, False
        self._held = self._pin_at(pointer)
        if self._held is not None or self.pinning.spot is not None:
            return True
        spot = self._spot_at(pointer)
        if self.pinning.path is None or not self.pinning.holds(spot):
            self._pressed = None
            return False
        self._fresh = True
        self.pinning.take_spot(spot)
        return True

    def drag(self, pointer: Pointer) -> None:
        """Lead what is held."""
        if self._held is not None:
            self._move_held(self._held, pointer)
        else:
            self.over.pointer = (pointer.x_m, pointer.y_m)
            self.over.update()

    def release(self, pointer: Pointer) -> None:
        """Put what is held; a click on the picture only takes the point, the next one puts it."""
        pressed, self._pressed = self._pressed, None
        if self._held is not None or pressed is None or self.pinning.spot is None:
            self._held = None
            return
        clicked = max(abs(pointer.x - pressed.x), abs(pointer.y - pressed.y)) <= CLICK_PX
        if not (self._fresh and clicked):
            self.over.pointer = None
            self.pinning.put(pointer.x_m, pointer.y_m)

    def _spot_at(self, pointer: Pointer, fit: Fit | None = None) -> tuple[float, float]:
        column, row = (fit or self.over.fit()).to_picture(np.array([[pointer.x_m, pointer.y_m]]))[0].tolist()
        return column, row

    def _pin_at(self, pointer: Pointer) -> _Held | None:
        """Return the pin under the pointer; Shift holds it by its point of the picture."""
        pins = self.pinning.pins
        if not pins or self.pinning.path is None or self.pinning.spot is not None:
            return None
        here, reach, fit = np.array([pointer.x_m, pointer.y_m]), REACH_PX * pointer.metres_per_pixel, self.over.fit()
        crosses, rings = np.array([pin[2:] for pin in pins]), fit.to_ground(np.array([pin[:2] for pin in pins]))
        for by_ring, points in ((False, crosses), (True, rings)):
            off = np.hypot(*(points - here).T)
            if off.min() <= reach:
                shift = bool(pointer.modifiers & Qt.KeyboardModifier.ShiftModifier)
                return _Held(int(off.argmin()), by_ring or shift, fit)
        return None

    def _move_held(self, held: _Held, pointer: Pointer) -> None:
        pin = self.pinning.pins[held.number]
        if not held.by_ring:
            self.pinning.set_pin(held.number, pin._replace(east_m=pointer.x_m, north_m=pointer.y_m))
            return
        column, row = self._spot_at(pointer, held.fit)
        if self.pinning.holds((column, row)):
            self.pinning.set_pin(held.number, pin._replace(column=column, row=row))

    # Keys

    def key(self, event: QKeyEvent) -> bool:
        """Keep with Enter, take back with Backspace, let a point go with Esc, type with a figure or T."""
        key, pinning = Qt.Key(event.key()), self.pinning
        if key in (Qt.Key.Key_Return, Qt.Key.Key_Enter) and pinning.doubted is not None:
            pinning.go_on()
            return True
        if key in (Qt.Key.Key_Return, Qt.Key.Key_Enter) and pinning.path is not None:
            self.keep()
            return True
        if key in (Qt.Key.Key_Backspace, Qt.Key.Key_Delete) and (pinning.spot or pinning.pins):
            self._take_back()
            return True
        if key == Qt.Key.Key_Escape and pinning.spot is not None:
            self._take_back()
            return True
        if starts_typing(event) and pinning.path is not None:
            self._type(event.text() if event.text().isdigit() else "")
            return True
        return False

    def _take_back(self) -> None:
        if self.pinning.spot is not None:
            self.pinning.take_spot(None)
        else:
            self.pinning.set_pin(len(self.pinning.pins) - 1, None)

    def _type(self, begun: str) -> None:
        if self.pinning.spot is not None:
            self._line.open(begun)
            return
        line = self.plate.lines[-1].line
        line.setText(begun)
        line.setModified(True)
        line.setFocus(Qt.FocusReason.ShortcutFocusReason)

    def _type_place(self, words: str) -> bool:
        try:
            east, north = typed_ground(words, self.host.stage.session.farm.projection)
        except PigmapError as error:
            self._refuse(error)
            return False
        self.pinning.put(east, north)
        return True

    def type_pin(self, number: int, words: str) -> bool:
        """Take a pin as it was typed; an empty line takes it away."""
        if not words:
            if number < len(self.pinning.pins):
                self.pinning.set_pin(number, None)
            return True
        try:
            pin = typed_pin(words, self.host.stage.session.farm.projection)
            if not self.pinning.holds((pin.column, pin.row)):
                raise _beside(pin.column, pin.row, self.pinning.size)
        except PigmapError as error:
            self._refuse(error)
            return False
        self.pinning.set_pin(number, pin)
        return True


def _no_place(path: Path) -> UsageError:
    return UsageError(
        "{name} tells itself where it lies, and this farm has no place on the map of the world yet.",
        remedy="Give the farm its place, under More, and choose the image again.",
        name=shown_name(path),
    )


def _beside(column: float, row: float, size: tuple[int, int]) -> UsageError:
    return UsageError(
        "The point {column} {row} is not on the picture.",
        remedy="It is {wide} pixels wide and {high} high: count from its upper left corner.",
        column=f"{column:.0f}",
        row=f"{row:.0f}",
        wide=size[0],
        high=size[1],
    )


tool = PinTool
