"""The first words on a farm with nothing on it: draw, or bring a walked boundary or a parcel file."""

from __future__ import annotations

from collections.abc import Callable, Sequence
from pathlib import Path

from PySide6.QtCore import Qt, Signal
from PySide6.QtWidgets import QVBoxLayout, QWidget

from pigmap.builtin.panels.form_parts import Words
from pigmap.errors import PigmapError
from pigmap.qt.asking import Asker
from pigmap.qt.buttons import WordButton
from pigmap.qt.files import choose_file
from pigmap.qt.following import sentence
from pigmap.qt.jobs import Jobs
from pigmap.qt.parcel_picking import picking_of
from pigmap.qt.pinning import pinning_of
from pigmap.qt.stage import Stage
from pigmap.records import ChangeSet
from pigmap.session.brought import IMAGE_SUFFIXES, outline_suffixes
from pigmap.session.county import Parcels, farms_or_offered
from pigmap.session.intake import Taken, fields_added
from pigmap.session.new_farm import bring, has_place, notes_of, place_of, together
from pigmap.text import Text

WALKED = (".gpx", ".kml", ".kmz")
"""What phones write of a walk."""


class BringPage(QWidget):
    """Three buttons; on a farm without a place a file begins the farm anew, at the place that it names."""

    file_brought = Signal(object)
    """A file (its path) was chosen for a farm that has no place."""

    def __init__(self, stage: Stage, parent: QWidget) -> None:
        super().__init__(parent)
        self.stage = stage
        self.choose_file: Callable[[QWidget, str, str], str] = choose_file
        self._file: Path | None = None
        self._jobs = Jobs(self)
        self._asker = Asker(stage, self)
        self.draw = WordButton(stage, stage.say("Nothing: draw on the grid"), "plain", self)
        self.walked = WordButton(stage, stage.say("A boundary walked with the phone"), "plain", self)
        self.parcels = WordButton(stage, stage.say("A parcel file"), "plain", self)
        self.picture = WordButton(stage, stage.say("A picture, pinned at three points"), "plain", self)
        self.said = Words(stage, "body", self, "", "no")
        self.place = WordButton(stage, stage.say("Type its place"), "link", self)
        self._no_place = Words(stage, "second", self, "", "ink2")
        self._lay()
        self.place.clicked.connect(lambda: stage.plate_asked.emit("farm-place"))
        stage.farm_changed.connect(self._show_place)
        self._show_place()
        self.draw.clicked.connect(lambda: stage.take_up("draw"))
        self.walked.clicked.connect(lambda: self._choose(WALKED))
        self.picture.clicked.connect(self._choose_picture)
        self.parcels.clicked.connect(lambda: self._choose(outline_suffixes(stage.session.registry)))

    def _lay(self) -> None:
        stage = self.stage
        column = QVBoxLayout(self)
        column.setContentsMargins(0, 0, 0, 0)
        column.setSpacing(8)
        column.addWidget(Words(stage, "heading", self, stage.say("Bring what you have")))
        for button in (self.draw, self.walked, self.parcels, self.picture):
            column.addWidget(button)
        column.addWidget(self._no_place)
        column.addWidget(self.place, 0, Qt.AlignmentFlag.AlignLeft)
        column.addWidget(self.said)

    def _show_place(self) -> None:
        """Say that the farm has no place yet, as long as that is so."""
        placed = has_place(self.stage.session.farm.projection)
        words = Text(
            "This farm has no place on the map of the world yet. Type it below; or a file gives it one: the farm is "
            "then begun anew from that, and this empty one stays where it is."
        )
        self._no_place.say("" if placed else self.stage.words(words))
        self.place.setVisible(not placed)

    def _choose(self, ends: Sequence[str]) -> None:
        stage = self.stage
        kinds = stage.say("Outlines ({ends})", ends=" ".join(f"*{end}" for end in ends))
        chosen = self.choose_file(self, stage.say("A file of outlines"), kinds)
        if not chosen:
            return
        self.said.say("")
        if not has_place(stage.session.farm.projection):
            self.file_brought.emit(Path(chosen))
            return
        self._file = file = Path(chosen)
        farm, registry = stage.session.farm, stage.session.registry
        self._busy(True)
        yard = place_of(farm)
        if yard is None:
            job = self._jobs.run(lambda progress, stop: bring(file, farm, registry))
        else:
            job = self._jobs.run(lambda progress, stop: farms_or_offered(file, farm, registry, yard))
        job.done.connect(self._take)
        job.failed.connect(self._refuse)
        job.ended.connect(self._rest)

    def _choose_picture(self) -> None:
        """Let a person choose a picture, and go on where it is pinned."""
        stage = self.stage
        kinds = stage.say("Pictures ({ends})", ends=" ".join(f"*{end}" for end in IMAGE_SUFFIXES))
        chosen = self.choose_file(self, stage.say("A scan, or a photo of a map"), kinds)
        if chosen:
            pinning_of(stage).open(Path(chosen))
            stage.take_up("pin")

    def _busy(self, busy: bool) -> None:
        for button in (self.draw, self.walked, self.parcels, self.picture):
            button.setEnabled(not busy)

    def _rest(self) -> None:
        self._busy(False)

    def _take(self, brought: object) -> None:
        if isinstance(brought, Parcels):
            picking_of(self.stage).offer(brought)
            self.stage.take_up("parcels")
            return
        if not isinstance(brought, tuple) or self._file is None:
            return
        taken: tuple[Taken, ...] = brought

        def ended(changes: ChangeSet | None, error: BaseException | None) -> None:
            if error is not None:
                self._refuse(error)
                return
            self.stage.notice(together(notes_of(taken)), "done", "undo")

        self._asker.ask(fields_added(taken, self._file.name), ended)

    def _refuse(self, error: object) -> None:
        if isinstance(error, PigmapError):
            self.said.say(self.stage.words(sentence(error)))

    def close_down(self) -> None:
        """Wait for a file that is being read."""
        self._jobs.close()
        pinning_of(self.stage).close()
        picking_of(self.stage).close()
