"""Show where a group stands: the corners of its paddock are clicked as they are, and it goes in as it stands."""

from __future__ import annotations

from collections.abc import Sequence
from pathlib import Path

import numpy as np
from PySide6.QtCore import Qt
from PySide6.QtGui import QKeyEvent

from pigmap.builtin.tools.corners import Corners, left_half_done
from pigmap.builtin.tools.corners_there import CornersThere, lit, within_reach
from pigmap.builtin.tools.here_words import with_notes
from pigmap.builtin.tools.refusal import refusal
from pigmap.builtin.tools.side_lengths import side_lengths
from pigmap.builtin.tools.stand_plate import StandPlate
from pigmap.document.edits import stands_there
from pigmap.drawing.ghost import walked
from pigmap.drawing.layer import Label, Labels, Layer, Marks
from pigmap.drawing.nets import POST
from pigmap.drawing.tokens import MAP_INK
from pigmap.errors import PigmapError
from pigmap.fence.walked import Walked, nets_said, walked_fence
from pigmap.geometry.posts import posts
from pigmap.qt.asking import Asker
from pigmap.qt.files import choose_file
from pigmap.qt.group_step import group_of
from pigmap.qt.jobs import Jobs
from pigmap.qt.stage import Picked
from pigmap.qt.tool import Host, IdleTool, Pointer
from pigmap.qt.whereabouts import book_of
from pigmap.records import ChangeSet, Edit, NetKind, lasting_on, new_uid
from pigmap.session.comes_of import flagged
from pigmap.session.phone_corners import PHONE_FILES, corners_in
from pigmap.text import Text, Value


class Stand(IdleTool):
    """A click sets a corner; Enter, a double click or the first corner again closes. Nothing that stands is refused.

    Corners snap to nothing, but one on a corner of another paddock or of a field is that corner, and it lights up
    before the click. What is half clicked stays until it is dropped.
    """

    name = "stand"
    cursor = Qt.CursorShape.CrossCursor

    def __init__(self) -> None:
        self._corners = Corners("Length and direction: 50 at 90", tell_dropped=True)
        self._waiting = False
        self._group_uid = ""
        self._told: dict[str, int] | None = None
        """Nets of each kind as someone counted them; None while they are guessed."""
        self._caught: tuple[float, float] | None = None
        self._there = CornersThere()
        self.choose_file = choose_file

    def begin(self, host: Host) -> None:
        """Start for the group that is picked, else for the first that stands nowhere."""
        super().begin(host)
        stage = host.stage
        self._asker = Asker(stage, host.widget)
        picked = group_of(stage.session.farm, stage.picked, stage.day, stage.today)
        self._jobs = Jobs(host.widget)
        self._plate = StandPlate(stage, host.widget, self._choose, self._bring, self._count)
        self._choose(picked or self._next_uid())
        self._plate.show()
        host.widget.setFocus(Qt.FocusReason.OtherFocusReason)  # the card whose deed it was is hidden now
        self._corners.begin(host, self._show)
        stage.picked_changed.connect(self._follow)
        self._show()

    def end(self) -> None:
        """Put plate and preview away; the corners stay."""
        if self.running:
            self.host.stage.picked_changed.disconnect(self._follow)
            self._plate.hide()
            self._plate.deleteLater()
            self._jobs.close()
            left_half_done(self.host.stage, self.name, self._corners)
        self._corners.end()
        self._caught = None
        super().end()

    # Whose

    def _choose(self, uid: str) -> None:
        """Go on with a group; it is the one that the column marks."""
        self._group_uid = uid
        self._plate.show_group(uid)
        if uid and group_of(self.host.stage.session.farm, self.host.stage.picked, self.host.stage.day) != uid:
            self.host.stage.pick(Picked("groups", uid))
        self._show()

    def _follow(self, picked: Picked | None) -> None:
        """Go on with the group that is picked meanwhile."""
        if picked is not None and picked.table == "groups" and picked.uid != self._group_uid:
            self._choose(picked.uid)

    def _next_uid(self) -> str:
        """Return the first group that stands nowhere today; the first of all where each stands somewhere."""
        stage = self.host.stage
        groups = book_of(stage.session.farm, stage.today).groups(stage.today)
        there = self._standing()
        return next((group.uid for group in groups if group.uid not in there), groups[0].uid if groups else "")

    def _standing(self) -> set[str]:
        """Return the groups that stand somewhere today."""
        stage = self.host.stage
        lasting = lasting_on(stage.session.farm, stage.today).values()
        return {each.stay.group_uid for each in lasting if each.covers(stage.today)}

    def _count(self) -> None:
        """Take the nets as someone says that they stand."""
        self._told = dict(self._plate.nets.counts)
        self._show()

    # From a phone

    def _bring(self) -> None:
        """Let a person choose a file that the phone made, and add its places as corners."""
        stage = self.host.stage
        kinds = stage.say("From a phone ({ends})", ends=" ".join(f"*{end}" for end in PHONE_FILES))
        chosen = self.choose_file(self._plate, stage.say("A file with the corners, or with a walk round them"), kinds)
        if not chosen:
            return
        path, projection, registry = Path(chosen), stage.session.farm.projection, stage.session.registry
        job = self._jobs.run(lambda progress, stop: corners_in(path, projection, registry))
        job.done.connect(lambda corners: self._brought(path, corners))
        job.failed.connect(lambda error: stage.notice(refusal(error), "refused"))

    def _brought(self, path: Path, corners: tuple[tuple[float, float], ...]) -> None:
        for corner in corners:
            self._corners.add(*corner)
        if self.running:
            values: dict[str, Value] = {"count": len(corners), "file": path.name}
            words = Text(
                "{count} corners from {file}. A phone errs by metres: look at them, then Enter closes.", values
            )
            self.host.stage.notice(words)
            self._show()

    # Gestures

    def hover(self, pointer: Pointer) -> None:
        """Let the next side follow the pointer, and the corner light up that a click would take."""
        before, self._caught = self._caught, self._catch(pointer)
        self._corners.follow(pointer)
        if self._caught is not None and self._corners.pointer is not None:
            self._corners.pointer = self._caught
        if self._corners.points or before != self._caught:
            self._show()

    def release(self, pointer: Pointer) -> None:
        """Set a corner, or close."""
        if self._waiting:
            return
        if self._closes(pointer):
            self._close()
            return
        self._corners.add(*(self._catch(pointer) or (pointer.x_m, pointer.y_m)))
        self._show()

    def double(self, pointer: Pointer) -> None:
        """Close."""
        self._close()

    def key(self, event: QKeyEvent) -> bool:
        """Close with Enter; the other keys are those of corners."""
        if event.key() in (Qt.Key.Key_Return, Qt.Key.Key_Enter) and self._corners.points:
            self._close()
            return True
        return self._corners.key(event)

    def _closes(self, pointer: Pointer) -> bool:
        points = self._corners.points
        return len(points) >= 3 and within_reach(points[0], pointer)

    def _catch(self, pointer: Pointer) -> tuple[float, float] | None:
        """Return the corner that a click would take: the first of these, or one that is there already."""
        if self._closes(pointer):
            return self._corners.points[0]
        stage = self.host.stage
        return self._there.near(stage.session.farm, stage.today, pointer)

    # What stands

    def _walked(self) -> Walked:
        stage, since = self.host.stage, self._plate.since
        points, told = self._corners.points, self._told
        return walked_fence(stage.session.farm, points, self._group_uid, since, today=stage.today, told=told)

    def _close(self) -> None:
        stage = self.host.stage
        if self._waiting or not self._corners.points or not self._group_uid:
            return
        self._corners.pointer = None
        try:
            found = self._walked()
        except PigmapError as error:
            stage.notice(refusal(error), "refused")
            return
        self._ask(found)

    def _ask(self, found: Walked) -> None:
        stage, uid = self.host.stage, new_uid()
        group = stage.session.farm.groups[self._group_uid]
        nets = [(net.kind.uid, net.line) for net in found.nets]
        label = Text("Where {group} stands.", {"group": group.name})
        guessed = self._told is None and bool(nets)
        changes = stands_there(group.uid, found.outline, self._plate.since, nets, uid=uid, guessed=guessed).changes
        farm = stage.session.farm
        breaches = flagged(farm, changes(farm), stage.session.registry, stage.today)
        notes = [*found.notes, *(breaches or found.over)]
        self._waiting = True

        def ended(changes: ChangeSet | None, error: BaseException | None) -> None:
            self._waiting = False
            if error is not None:
                stage.notice(refusal(error), "refused")
                return
            self._corners.clear()
            self._told = None
            self._tell(uid, nets_said(found.counts, guessed=guessed), notes)

        self._asker.ask(Edit(label, changes), ended)

    def _tell(self, uid: str, nets: Text | None, notes: Sequence[Text]) -> None:
        """Say what was recorded; go on with the next group that stands nowhere, if there is one."""
        if not self.running:
            return
        stage = self.host.stage
        farm = stage.session.farm
        group, paddock = farm.groups.get(self._group_uid), farm.paddocks.get(uid)
        values: dict[str, Value] = {
            "group": group.name if group else "",
            "paddock": paddock.name if paddock else "",
        }
        if nets is not None:
            values["nets"] = nets
        words = Text("{group} in {paddock}. {nets}" if nets else "{group} in {paddock}.", values)
        stage.notice(with_notes(words, notes), "care" if notes else "done", deed="undo")
        after = self._next_uid()
        if after and after not in self._standing():
            self._choose(after)
        else:
            stage.pick(Picked("paddocks", uid))
            stage.take_up("pick")

    # What is shown

    def _show(self) -> None:
        if not self.running:
            return
        points, pointer = self._corners.points, self._corners.pointer
        found: Walked | None = None
        if len(points) >= 3:
            try:
                found = self._walked()
            except PigmapError:
                found = None  # three corners on one line so far
        else:
            self._told = None
        self._plate.show_found(len(points), found, counted=self._told is not None)
        self.host.preview((*self._layers(points, pointer), *lit(self._caught)))

    def _layers(self, points: list[tuple[float, float]], pointer: tuple[float, float] | None) -> tuple[Layer, ...]:
        if not points:
            return ()
        farm = self.host.stage.session.farm
        scale = farm.projection.ground_per_grid
        made = list(walked(np.array(points), pointer))
        kind: NetKind | None = next(iter(farm.net_kinds.values()), None)
        if kind is not None and len(points) >= 2:
            made.append(Marks(posts(np.array(points), kind.bays_mm, scale), "dot", POST, MAP_INK))
        labels = list(side_lengths(points, pointer, self.host.stage, "about {length}"))
        if pointer is None and not self._waiting:
            labels.append(Label(*points[-1], self.host.stage.say("Go on here"), look="plan plate", side="right"))
        return (*made, Labels(tuple(labels)))


tool = Stand
