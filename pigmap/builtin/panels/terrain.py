"""The plate for terrain images: those that slopes are read from, and another one from a file."""

from __future__ import annotations

from collections.abc import Callable
from pathlib import Path

from PySide6.QtWidgets import QHBoxLayout, QVBoxLayout, QWidget

from pigmap.builtin.panels.aside import AsidePlate
from pigmap.builtin.panels.form_parts import Words
from pigmap.document.edits import unlink_terrain
from pigmap.errors import PigmapError
from pigmap.qt.asking import Asker
from pigmap.qt.buttons import WordButton
from pigmap.qt.files import choose_file
from pigmap.qt.following import sentence
from pigmap.qt.jobs import Jobs
from pigmap.qt.stage import Stage
from pigmap.records import ChangeSet, Edit, Terrain
from pigmap.session.brought_terrain import ENDS, BroughtTerrain, look_over, said_of_terrain, terrain_linked


class TerrainImages(AsidePlate):
    """A file is looked over by a worker before it is linked; it stays where it is."""

    def __init__(self, stage: Stage, parent: QWidget) -> None:
        super().__init__(stage, parent, stage.say("Terrain image"))
        self.choose_file: Callable[[QWidget, str, str], str] = choose_file
        self.jobs, self._asker = Jobs(self), Asker(stage, self)
        self.what = Words(stage, "body", self, stage.say("Slope is worked out from the heights in it."))
        self.rows: list[TerrainRow] = []
        self._list = QVBoxLayout()
        self.bring = WordButton(stage, stage.say("Bring a terrain image"), "plain", self)
        self.said = Words(stage, "second", self, "", "ink2")
        self.show_slope = WordButton(stage, stage.say("Show the slope"), "link", self)
        self.column.addWidget(self.what)
        self.column.addLayout(self._list)
        for widget in (self.bring, self.said, self.show_slope):
            self.column.addWidget(widget)
        self.bring.clicked.connect(self._choose)
        self.show_slope.clicked.connect(lambda: stage.show_tint("slope"))
        stage.farm_changed.connect(self._farm_changed)
        self._show_rows()

    def first(self) -> QWidget:
        """Return the button that brings a file."""
        return self.bring

    def renew(self) -> None:
        """Say nothing of a file that came before."""
        self.said.say("")
        self._show_rows()

    def _farm_changed(self, changes: ChangeSet) -> None:
        if any(changes.of("terrains")):
            self._show_rows()

    def _show_rows(self) -> None:
        for row in self.rows:
            row.hide()
            row.deleteLater()
        self.rows = [TerrainRow(self, each) for each in self.stage.session.farm.terrains.values()]
        for row in self.rows:
            self._list.addWidget(row)
            row.show()
        self.show_slope.setVisible(bool(self.rows))
        self._refit()

    def ask(self, edit: Edit) -> None:
        """Do an edit, and say how it went."""

        def ended(changes: ChangeSet | None, error: BaseException | None) -> None:
            if isinstance(error, PigmapError):
                self.stage.notice(sentence(error), "refused")
            elif error is None:
                self.stage.notice(edit.label, "done", "undo")

        self._asker.ask(edit, ended)

    def _choose(self) -> None:
        stage = self.stage
        ends = " ".join(f"*{end}" for end in ENDS)
        kinds = ";;".join([stage.say("Terrain images ({ends})", ends=ends), stage.say("All files ({ends})", ends="*")])
        chosen = self.choose_file(self, stage.say("A terrain image"), kinds)
        if chosen:
            self.take_file(Path(chosen))

    def take_file(self, path: Path) -> None:
        """Look a file over in a worker, and link it."""
        self._say(self.stage.say("The file is being looked at."))
        self.bring.setEnabled(False)
        job = self.jobs.run(lambda progress, stop: look_over(path))
        job.done.connect(self._taken)
        job.failed.connect(self._refused)

    def _taken(self, facts: BroughtTerrain) -> None:
        self.bring.setEnabled(True)
        said = said_of_terrain(facts, self.stage.session.farm)
        self._say(" ".join(self.stage.words(words) for words in said))
        self.ask(terrain_linked(facts, self.stage.session.path))

    def _refused(self, why: object) -> None:
        self.bring.setEnabled(True)
        if isinstance(why, PigmapError):
            self._say(self.stage.words(sentence(why)))

    def _say(self, words: str) -> None:
        self.said.say(words)
        self._refit()


class TerrainRow(QWidget):
    """One terrain image, and the button that takes it away."""

    def __init__(self, plate: TerrainImages, terrain: Terrain) -> None:
        super().__init__(plate)
        stage = plate.stage
        name = Words(stage, "strong", self, terrain.name)
        self.away = WordButton(stage, stage.say("Take away"), "plain", self)
        self.away.setAccessibleName(stage.say("Take {name} away", name=terrain.name))
        self.away.clicked.connect(lambda: plate.ask(unlink_terrain(terrain.uid)))
        row = QHBoxLayout(self)
        row.setContentsMargins(0, 0, 0, 0)
        row.addWidget(name, 1)
        row.addWidget(self.away)


class _Panel:
    name = "terrain"
    place = "aside"
    verb = ""

    def make(self, stage: Stage, parent: QWidget) -> QWidget:
        """Return the plate."""
        return TerrainImages(stage, parent)


panel = _Panel()
