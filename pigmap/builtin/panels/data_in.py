"""Take in: a file is read off the window's thread and told in words; a button does it, as one step."""

from __future__ import annotations

from collections.abc import Callable
from pathlib import Path

from PySide6.QtCore import Qt, Signal
from PySide6.QtWidgets import QHBoxLayout, QVBoxLayout, QWidget

from pigmap.builtin.panels.data_parts import LabelledBox, labelled_box, tall_button
from pigmap.builtin.panels.form_parts import FormLine, Words
from pigmap.errors import PigmapError
from pigmap.qt.asking import Asker
from pigmap.qt.files import choose_file
from pigmap.qt.following import sentence
from pigmap.qt.jobs import Jobs
from pigmap.qt.stage import Stage
from pigmap.records import ChangeSet
from pigmap.session.brought import outline_suffixes
from pigmap.session.taking_in import TakeIn, TakenIn
from pigmap.session.taking_in.look import Looked, look
from pigmap.session.taking_in.told import told
from pigmap.session.taking_in.usual import KIND_WORDS, NEEDED
from pigmap.text import Text

HOLDS: tuple[tuple[str, Text], ...] = (("", Text("found out from its columns")), *KIND_WORDS.items())
ASKED: tuple[tuple[str, Text], ...] = (
    ("name", Text("Column with the name")),
    ("field", Text("Column with the field")),
    ("purpose", Text("Column with the purpose")),
    ("from", Text("Column with its first day")),
    ("to", Text("Column with its last day")),
    ("group", Text("Column with the group")),
    ("paddock", Text("Column with the paddock")),
    ("in", Text("Column with the day in")),
    ("day", Text("Column with the day")),
)
"""Columns without which rows say nothing."""
WITHOUT_PLACE = ("purposes", "groups", "events", "energizers", "netkinds", "nets", "stays", "checks", "weather")
"""What is taken wherever its shapes lie, so that nobody is asked where that is."""


class DataIn(QWidget):
    """Nothing is done before the last button is pressed."""

    grown = Signal()
    """Its height may have changed."""
    at_work = Signal(bool)
    """Whether a file is being looked at: that takes all the room there is."""

    def __init__(self, stage: Stage, parent: QWidget) -> None:
        super().__init__(parent)
        self.stage = stage
        self.jobs, self._asker = Jobs(self), Asker(stage, self)
        self.choose_file: Callable[[QWidget, str, str], str] = choose_file
        self.path: Path | None = None
        self.taken: TakenIn | None = None
        self.rows = QVBoxLayout(self)
        self.rows.setContentsMargins(0, 12, 0, 0)
        self.rows.setSpacing(6)
        self.rows.addWidget(Words(stage, "strong", self, stage.say("Take in")))
        self.choose = tall_button(stage, self, Text("Choose a file"))
        self.rows.addWidget(self.choose)
        self.holds = labelled_box(stage, self, self.rows, Text("What it holds"), HOLDS)
        self.layer = labelled_box(stage, self, self.rows, Text("Layer"))
        self.columns = {what: labelled_box(stage, self, self.rows, words) for what, words in ASKED}
        self.crs_label = Words(stage, "second", self, stage.say("Its coordinate system"), "ink2")
        self.crs = FormLine(stage, stage.say("Its coordinate system"), self, "EPSG:32632")
        self.told = Words(stage, "strong", self, "")
        self.more = Words(stage, "second", self, "", "ink2")
        self.go, self.leave = tall_button(stage, self, Text("Take it in")), tall_button(stage, self, Text("Leave it"))
        self._lay()
        self._connect()
        self.begin_anew()

    def _lay(self) -> None:
        self.crs_label.setBuddy(self.crs)
        self.crs.setFixedHeight(self.go.height())
        for widget in (self.crs_label, self.crs, self.told, self.more):
            self.rows.addWidget(widget)
        row = QHBoxLayout()
        row.setSpacing(8)
        row.addWidget(self.go, 1)
        row.addWidget(self.leave, 1)
        self.rows.addLayout(row)

    def _connect(self) -> None:
        self.choose.clicked.connect(self._choose)
        self.crs.returnPressed.connect(self.look)
        self.go.clicked.connect(self._take)
        self.leave.clicked.connect(self.begin_anew)
        for box in (self.holds, self.layer, *self.columns.values()):
            box.activated.connect(self.look)

    def begin_anew(self) -> None:
        """Begin with no file."""
        self.path = self.taken = None
        self.at_work.emit(False)
        self.holds.setCurrentIndex(0)
        self.crs.clear()
        for box in (self.holds, self.layer, *self.columns.values()):
            box.show_all(False)
        for box in (self.layer, *self.columns.values()):
            box.clear()
        for widget in (self.crs, self.crs_label, self.go, self.leave):
            widget.hide()
        self._say("", "")

    def _choose(self) -> None:
        stage = self.stage
        ends = " ".join(f"*{end}" for end in (*outline_suffixes(stage.session.registry), ".txt", ".wth"))
        kinds = ";;".join(
            [stage.say("Outlines and tables ({ends})", ends=ends), stage.say("All files ({ends})", ends="*")]
        )
        chosen = self.choose_file(self, stage.say("A file to take in"), kinds)
        if chosen:
            self.take_file(Path(chosen))

    def take_file(self, path: Path) -> None:
        """Look at a file that was chosen."""
        self.begin_anew()
        self.path = path
        self.at_work.emit(True)
        self.look()

    def look(self) -> None:
        """Look at the file, off the window's thread, as it is asked for now."""
        if self.path is None:
            return
        stage, columns = self.stage, {what: str(box.currentData()) for what, box in self.columns.items()}
        asked = TakeIn(
            file=self.path,
            today=stage.today,
            kind=str(self.holds.currentData() or ""),
            layer=str(self.layer.currentData() or ""),
            crs=self.crs.text().strip(),
            columns={what: name for what, name in columns.items() if name and name != "None"},
        )
        farm, registry = stage.session.farm, stage.session.registry
        self.taken = None
        self.go.hide()
        self.choose.rest()
        self._say("", stage.say("The file is being read."))
        job = self.jobs.run(lambda progress, stop: look(asked, farm, registry))
        job.done.connect(self._show)

    def _show(self, looked: Looked) -> None:
        """Say what becomes of the file, or why nothing does; what may help is asked for."""
        self.choose.wake()
        self.taken = looked.taken
        self._offer_layers(looked.layers)
        self._offer_columns(looked)
        self.holds.show_all(True)
        self.leave.show()
        for widget in (self.crs, self.crs_label):
            widget.setVisible(looked.why is not None and self.holds.currentData() not in WITHOUT_PLACE)
        if looked.taken is None:
            self._say("", self.stage.words(sentence(looked.why)) if looked.why is not None else "", "no")
            return
        first, *others = [self.stage.words(each) for each in told(looked.taken)]
        self.go.setVisible(looked.taken.changes_anything and not self.stage.session.read_only)
        self._say(first, "\n".join(others))

    def _offer_layers(self, layers: tuple[str, ...]) -> None:
        if self.layer.count() == 0:
            self.layer.addItem(self.stage.say("the one with shapes"), "")
            for name in layers:
                self.layer.addItem(name, name)
        self.layer.show_all(len(layers) > 1)

    def _offer_columns(self, looked: Looked) -> None:
        """Ask which column tells what rows cannot do without, where the file cannot be taken as it is."""
        needed = NEEDED.get(str(self.holds.currentData() or ""), ())
        for what, box in self.columns.items():
            if box.count() == 0 and looked.head:
                _fill(box, self.stage.say("by its name"), looked.head)
            asked = bool(looked.why) and bool(looked.head)
            box.show_all(what in needed and (asked or bool(box.currentData())))

    def _take(self) -> None:
        taken = self.taken
        if taken is None:
            return
        edit = taken.edit

        def ended(changes: ChangeSet | None, error: BaseException | None) -> None:
            if isinstance(error, PigmapError):
                self._say("", self.stage.words(sentence(error)), "no")
            elif error is None:
                self.stage.notice(edit.label, "done", "undo")
                self.begin_anew()
                self.choose.setFocus(Qt.FocusReason.OtherFocusReason)

        self._asker.ask(edit, ended)

    def _say(self, first: str, more: str, colour: str = "ink2") -> None:
        self.told.say(first)
        self.more.colour(colour)
        self.more.say(more)
        self.grown.emit()


def _fill(box: LabelledBox, usual: str, names: tuple[str, ...]) -> None:
    box.addItem(usual, "")
    for name in names:
        box.addItem(name, name)
