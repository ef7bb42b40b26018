"""Hand out: what of the farm, as which kind of file, and where to; written off the window's thread."""

from __future__ import annotations

from collections.abc import Callable
from pathlib import Path

from PySide6.QtCore import Signal
from PySide6.QtWidgets import QVBoxLayout, QWidget

from pigmap.builtin.panels.data_parts import labelled_box, tall_button
from pigmap.builtin.panels.form_parts import Words
from pigmap.errors import PigmapError
from pigmap.qt.files import choose_new_file
from pigmap.qt.following import sentence
from pigmap.qt.jobs import Jobs
from pigmap.qt.opened_file import DEED
from pigmap.qt.printing import file_name
from pigmap.qt.stage import Stage
from pigmap.records import Paddock
from pigmap.session import Session
from pigmap.session.handing_out import Asked, hand_out, handed
from pigmap.session.handing_out.lists import SHAPELESS
from pigmap.session.net_list import write_net_list
from pigmap.text import Text

WHATS: tuple[tuple[str, Text], ...] = (
    ("corners", Text("Corners of paddocks, for a phone")),
    ("paddocks", Text("Paddocks")),
    ("fields", Text("Fields")),
    ("keepouts", Text("Keep-outs")),
    ("ways", Text("Ways: paths, hedges, lines")),
    ("places", Text("Places: gates, water, trees")),
    ("stays", Text("Stays: who was where")),
    ("checks", Text("Daily checks")),
    ("ground", Text("Ground of the day that is shown")),
    ("nets", Text("List of nets")),
    ("netkinds", Text("Net kinds")),
    ("groups", Text("Groups")),
    ("events", Text("Weights, and what else happened to groups")),
    ("purposes", Text("What fields are for")),
    ("energizers", Text("Energizers")),
)
PICKED = "corners of what is picked"
KINDS: tuple[tuple[str, Text], ...] = (
    (".gpx", Text("GPX, for phones")),
    (".kml", Text("KML, for maps of the globe")),
    (".geojson", Text("GeoJSON")),
    (".gpkg", Text("GeoPackage")),
    (".zip", Text("Shapefile, in a zip")),
    (".csv", Text("Table (CSV)")),
    (".parquet", Text("GeoParquet")),
)


class DataOut(QWidget):
    """Two lists and a button."""

    grown = Signal()
    """Its height may have changed."""

    def __init__(self, stage: Stage, parent: QWidget) -> None:
        super().__init__(parent)
        self.stage = stage
        self.jobs = Jobs(self)
        self.choose_file: Callable[[QWidget, str, str, str], str] = choose_new_file
        rows = QVBoxLayout(self)
        rows.setContentsMargins(0, 0, 0, 0)
        rows.setSpacing(6)
        rows.addWidget(Words(stage, "strong", self, stage.say("Hand out")))
        self.what = labelled_box(stage, self, rows, Text("What"), WHATS)
        self.kind = labelled_box(stage, self, rows, Text("As which kind of file"), KINDS)
        self.go = tall_button(stage, self, Text("Hand it out"))
        self.said = Words(stage, "second", self, "", "ink2")
        rows.addWidget(self.go)
        rows.addWidget(self.said)
        self.what.currentIndexChanged.connect(self._show)
        self.go.clicked.connect(self._choose)

    def offer_picked(self) -> None:
        """Offer the corners of the paddock that is picked first, where one is."""
        if self.what.itemData(0) == PICKED:
            self.what.removeItem(0)
        paddock = self._picked()
        if paddock is not None:
            words = Text("Corners of {name}, for a phone", {"name": paddock.name})
            self.what.insertItem(0, self.stage.words(words), PICKED)
            self.what.setCurrentIndex(0)

    def _picked(self) -> Paddock | None:
        picked, farm = self.stage.picked, self.stage.session.farm
        if picked is None or picked.table not in ("paddocks", "stays"):
            return None
        stay = farm.stays.get(picked.uid)
        return farm.paddocks.get(stay.paddock_uid if stay is not None else picked.uid)

    def _show(self) -> None:
        """Leave no choice for what has no shapes: it is a table."""
        table = self.what.currentData() in SHAPELESS
        if table:
            self.kind.setCurrentIndex(self.kind.findData(".csv"))
        self.kind.setEnabled(not table)
        self.say("")

    def _choose(self) -> None:
        stage, ending = self.stage, str(self.kind.currentData())
        asked = self._asked()
        of = asked.paddock or stage.session.farm.name or stage.session.path.stem
        name = file_name(f"{of} {asked.what} {stage.day.isoformat()}") + ending
        kinds = f"{self.kind.currentText()} (*{ending})"
        chosen = self.choose_file(self, stage.say("Hand it out"), name, kinds)
        if chosen:
            path = Path(chosen)
            self.write(path if path.suffix.lower() == ending else path.with_name(path.name + ending))

    def write(self, path: Path) -> None:
        """Write what is chosen into a file."""
        stage = self.stage
        session, asked = stage.session, self._asked()
        self.go.rest()
        self.say(stage.say("The file is being written."))
        job = self.jobs.run(lambda progress, stop: (path, _written(session, asked, path)))
        job.done.connect(self._done)
        job.failed.connect(self._failed)

    def _asked(self) -> Asked:
        stage, what, paddock = self.stage, str(self.what.currentData()), self._picked()
        if what == PICKED:
            name = paddock.name if paddock is not None else ""
            return Asked(what="corners", on=stage.day, today=stage.today, paddock=name)
        return Asked(what=what, on=stage.day, today=stage.today)

    def _done(self, done: tuple[Path, tuple[Text, ...]]) -> None:
        path, notes = done
        self.go.wake()
        self.say(" ".join(self.stage.words(each) for each in notes))
        words = Text("{file} is saved, in {folder}.", {"file": path.name, "folder": str(path.parent)})
        self.stage.notice(words, "done", DEED, path)

    def _failed(self, why: object) -> None:
        self.go.wake()
        if isinstance(why, PigmapError):
            self.say(self.stage.words(sentence(why)))

    def say(self, words: str) -> None:
        """Say how it went."""
        self.said.say(words)
        self.grown.emit()


def _written(session: Session, asked: Asked, path: Path) -> tuple[Text, ...]:
    if asked.what == "nets":
        write_net_list(session.farm, path)
        return ()
    return hand_out(handed(session, asked), path, session.farm.projection)
