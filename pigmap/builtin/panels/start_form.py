"""The form that starts a person's own farm: its name, its place, and the folder it is kept in."""

from __future__ import annotations

from collections.abc import Callable
from pathlib import Path

from PySide6.QtCore import Qt, QTimer, Signal
from PySide6.QtWidgets import QHBoxLayout, QVBoxLayout, QWidget

from pigmap.builtin.panels.close_button import CloseButton
from pigmap.builtin.panels.form_parts import FormLine, Words
from pigmap.builtin.panels.start_place import PlaceChoice
from pigmap.errors import PigmapError
from pigmap.qt.buttons import WordButton
from pigmap.qt.files import choose_folder, documents_folder, usual_units
from pigmap.qt.following import sentence
from pigmap.qt.jobs import Jobs
from pigmap.qt.stage import Stage
from pigmap.session.brought_images import address_of
from pigmap.session.new_farm import Wanted, farm_path, make_farm


class StartForm(QWidget):
    """Makes the farm off the window's thread; what was typed stays until it is made."""

    closed = Signal()
    told = Signal()
    """Something was refused, in words over the button."""
    made = Signal(object)
    """The farm was made: what became of it (`Made`)."""

    def __init__(self, stage: Stage, parent: QWidget, plate: QWidget) -> None:
        super().__init__(parent)
        self.stage = stage
        self.folder = documents_folder()
        self.choose_folder: Callable[[QWidget, str, str, str], str] = choose_folder
        self._jobs = Jobs(self)
        self.close_button = CloseButton(stage, self)
        self.name = FormLine(stage, stage.say("Name of the farm"), self)
        self.place = PlaceChoice(stage, self)
        self._kept = Words(stage, "second", self, "", "ink2")
        self.other_folder = WordButton(stage, stage.say("Another folder"), "link", self)
        self.refused = Words(stage, "body", self, "", "no")
        self.foot = QWidget(plate)
        """What starts it, always in sight on the plate."""
        self.go = WordButton(stage, stage.say("Start my farm"), "plain", self.foot)
        self.not_now = WordButton(stage, stage.say("Not now"), "link", self.foot)
        self._lay()
        self.close_button.clicked.connect(self.closed)
        self.not_now.clicked.connect(self.closed)
        self.go.clicked.connect(self.start)
        self.name.returnPressed.connect(self.start)
        self.place.line.returnPressed.connect(self.start)
        self.place.address.returnPressed.connect(self.start)
        self.name.textChanged.connect(self._changed)
        self.place.changed.connect(self._changed)
        self.other_folder.clicked.connect(self._choose_folder)
        self._changed()

    def _lay(self) -> None:
        stage = self.stage
        head = QHBoxLayout()
        head.addWidget(Words(stage, "title", self, stage.say("Start my farm")), 1)
        head.addWidget(self.close_button)
        foot = QHBoxLayout(self.foot)
        foot.setContentsMargins(0, 0, 0, 0)
        foot.setSpacing(12)
        foot.addWidget(self.go)
        foot.addWidget(self.not_now)
        foot.addStretch()
        column = QVBoxLayout(self)
        column.setContentsMargins(0, 0, 0, 0)
        column.setSpacing(8)
        column.addLayout(head)
        column.addWidget(Words(stage, "strong", self, stage.say("What is it called?")))
        column.addWidget(self.name)
        column.addWidget(Words(stage, "strong", self, stage.say("Where is it?")))
        column.addWidget(self.place)
        column.addWidget(self.refused)
        kept = QHBoxLayout()
        kept.setSpacing(8)
        kept.addWidget(self._kept, 1)
        kept.addWidget(self.other_folder)
        column.addLayout(kept)
        QWidget.setTabOrder(self.other_folder, self.go)
        QWidget.setTabOrder(self.go, self.not_now)

    def begin(self, name: str = "", file: Path | None = None) -> None:
        """Open with what is known already."""
        if name:
            self.name.setText(name)
        if file is not None:
            self.place.take_file(file)
        self.name.setFocus(Qt.FocusReason.OtherFocusReason)

    def start(self) -> None:
        """Make the farm, or say what keeps it from being made."""
        if not self.go.isEnabled():
            return
        try:
            wanted = self._wanted()
        except PigmapError as error:
            self._refuse(error)
            return
        self.refused.say("")
        self.go.setEnabled(False)
        if wanted.file is not None and address_of(wanted.file):
            self._kept.say(self.stage.say("The images are being looked at."))  # a server may take seconds
        registry = self.stage.session.registry
        job = self._jobs.run(lambda progress, stop: make_farm(wanted, registry))
        job.done.connect(self.made)
        job.failed.connect(self._refuse)
        job.ended.connect(self._ended)

    def _ended(self) -> None:
        self.go.setEnabled(True)
        self._say_kept()

    def _wanted(self) -> Wanted:
        farm_path(self.folder, self.name.text())
        file, place = self.place.brought(), self.place.place()
        return Wanted(self.name.text(), self.folder, place, file, usual_units())

    def _refuse(self, error: object) -> None:
        if isinstance(error, PigmapError):
            words = self.stage.words(sentence(error))
            self.refused.say(words if words != self.place.read_back.text() else "")  # told there already
            QTimer.singleShot(0, self, self.told.emit)

    def _changed(self) -> None:
        self.refused.say("")
        self._say_kept()

    def _say_kept(self) -> None:
        """Say where the farm will be kept."""
        if not self.name.text().strip():
            words = self.stage.say("It will be kept in {folder}.", folder=str(self.folder))
        else:
            path = farm_path(self.folder, self.name.text())
            words = self.stage.say("It will be kept in {folder} as {file}.", folder=str(self.folder), file=path.name)
        self._kept.say(words)

    def _choose_folder(self) -> None:
        title, new = self.stage.say("Where the farm is kept"), self.stage.say("New folder")
        chosen = self.choose_folder(self, title, str(self.folder), new)
        if chosen:
            self.folder = Path(chosen)
            self._changed()

    def close_down(self) -> None:
        """Wait for a farm that is being made."""
        self._jobs.close()
