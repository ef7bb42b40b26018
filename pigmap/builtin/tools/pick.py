"""Pick what is under the pointer; Delete removes it."""

from __future__ import annotations

from PySide6.QtCore import Qt
from PySide6.QtGui import QKeyEvent

from pigmap.builtin.tools.refusal import refusal
from pigmap.builtin.tools.story_line import StoryLine
from pigmap.builtin.tools.under_pointer import things_under
from pigmap.qt.asking import Asker
from pigmap.qt.ground_spot import GroundSpot, ground_spot
from pigmap.qt.ground_story import Story
from pigmap.qt.photo_looked_at import look_at_photo
from pigmap.qt.stage import Picked
from pigmap.qt.tool import Host, IdleTool, Pointer
from pigmap.records import ChangeSet, Photo

REACH_PX = 12.0
"""Signs and lines are hit within so many pixels."""


class Pick(IdleTool):
    """A click picks the thing that is meant; another at the same spot picks what lies under it."""

    name = "pick"
    cursor = Qt.CursorShape.ArrowCursor

    def __init__(self) -> None:
        self._last: tuple[float, float] | None = None
        self._over: GroundSpot | None = None
        self._at: tuple[float, float] | None = None

    def begin(self, host: Host) -> None:
        """Start."""
        super().begin(host)
        self._asker = Asker(host.stage, host.widget)
        self._story, self._line = Story(host.stage), StoryLine(host.stage, host.widget)
        self._at = None
        for signal in (host.stage.day_changed, host.stage.ground_changed):
            signal.connect(self._look_again)

    def end(self) -> None:
        """Let the key mark nothing any more."""
        if self.running:
            for signal in (self.host.stage.day_changed, self.host.stage.ground_changed):
                signal.disconnect(self._look_again)
            self._point_at(None)
            self._line.hide()
            self._line.deleteLater()
        super().end()

    def hover(self, pointer: Pointer) -> None:
        """Tell of the ground under the pointer, and have the key mark what it is shown as."""
        self._at = pointer.x_m, pointer.y_m
        self._look()

    def _look(self) -> None:
        if self._at is not None:
            self._point_at(ground_spot(self.host.stage, *self._at))
            self._line.tell(self._story.words(*self._at))

    def _look_again(self, *_: object) -> None:
        """Tell of the same ground on another day, where the line is there."""
        if self._line.words:
            self._look()

    def _point_at(self, spot: GroundSpot | None) -> None:
        if spot != self._over:
            self._over = spot
            self.host.stage.pointed_at.emit(spot)

    def release(self, pointer: Pointer) -> None:
        """Pick what lies under a click, or nothing."""
        stage = self.host.stage
        reach = REACH_PX * pointer.metres_per_pixel
        found = things_under(stage.session.farm, stage.day, pointer.x_m, pointer.y_m, reach, stage.today)
        spot = (pointer.x, pointer.y)
        again = self._last is not None and max(abs(spot[0] - self._last[0]), abs(spot[1] - self._last[1])) <= 4
        self._last = spot
        if found and found[0].table == Photo.TABLE:
            look_at_photo(stage, found[0].uid)
            return
        if again and stage.picked in found:
            stage.pick(found[(found.index(stage.picked) + 1) % len(found)])
        else:
            stage.pick(found[0] if found else None)

    def key(self, event: QKeyEvent) -> bool:
        """Remove what is picked."""
        picked = self.host.stage.picked
        if event.key() not in (Qt.Key.Key_Delete, Qt.Key.Key_Backspace) or picked is None:
            return False
        self._remove(picked)
        return True

    def _remove(self, picked: Picked) -> None:
        from pigmap.document.edits import remove  # on use: the first frame needs no edits

        stage = self.host.stage
        row = stage.session.farm.rows(picked.table).get(picked.uid)
        edit = remove(picked.table, picked.uid, name=getattr(row, "name", "") or "")

        def ended(changes: ChangeSet | None, error: BaseException | None) -> None:
            if error is not None:
                stage.notice(refusal(error), "refused")
                return
            if stage.picked == picked:
                stage.pick(None)
            stage.notice(edit.label, deed="undo")

        self._asker.ask(edit, ended)


tool = Pick
