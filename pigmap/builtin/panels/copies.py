"""A copy of the farm that comes back from another computer, and what was changed in both, side by side."""

from __future__ import annotations

from collections.abc import Callable
from pathlib import Path

from PySide6.QtWidgets import QListWidget, QWidget

from pigmap.builtin.panels.aside import AsidePlate
from pigmap.builtin.panels.form_parts import Words
from pigmap.errors import EditError, PigmapError
from pigmap.qt.buttons import WordButton
from pigmap.qt.files import choose_file
from pigmap.qt.following import sentence, tell
from pigmap.qt.jobs import Jobs
from pigmap.qt.stage import Stage
from pigmap.qt.theme import font
from pigmap.records import Edit
from pigmap.session.joining.copy import FarmCopy
from pigmap.session.joining.told import Told, nothing, open_conflicts, take_other, told
from pigmap.text import Text

WHAT = Text(
    "Give someone a copy of the farm file. When it comes back, all that was done in it is brought in here, as one step "
    "that undo takes back. The copy stays as it is."
)
BOTH = Text("Changed in both copies. What was done last stands; look at each:")
HIGH = 150


class Copies(AsidePlate):
    """Asks for the copy, and lists what a person has to look at; both values stand below the list."""

    def __init__(self, stage: Stage, parent: QWidget) -> None:
        super().__init__(stage, parent, stage.say("A copy that comes back"))
        self._jobs = Jobs(self)
        self.open: list[Told] = []
        self.column.addWidget(Words(stage, "body", self, stage.words(WHAT)))
        self.bring = self._button(stage.say("Bring in a copy"), self._ask)
        self.said = Words(stage, "body", self, colour="warn")
        self.column.addWidget(self.said)
        self.both = Words(stage, "strong", self, stage.words(BOTH))
        self.column.addWidget(self.both)
        self.list = QListWidget(self)
        self.list.setFont(font("body", stage))
        self.list.setAccessibleName(stage.say("Changed in both copies"))
        self.list.setFixedHeight(round(HIGH * stage.text_scale))
        self.list.currentRowChanged.connect(self._show_sides)
        self.column.addWidget(self.list)
        self.kept = Words(stage, "body", self)
        self.other = Words(stage, "body", self)
        self.column.addWidget(self.kept)
        self.column.addWidget(self.other)
        self.leave = self._button(stage.say("Let it stand"), self._let_stand)
        self.take = self._button(stage.say("Take the other"), self._take)

    def _button(self, words: str, deed: Callable[[], None]) -> WordButton:
        button = WordButton(self.stage, words, parent=self)
        button.clicked.connect(deed)
        self.column.addWidget(button)
        return button

    def first(self) -> QWidget:
        """Return the list where there is something in it, else the button."""
        return self.list if self.open else self.bring

    def renew(self) -> None:
        """List what is open now."""
        self.said.say("")
        self.bring.setEnabled(not self.stage.session.read_only)
        self._list()

    def _list(self) -> None:
        session = self.stage.session
        self.open = told(session.farm, *open_conflicts(session.path))
        at = max(self.list.currentRow(), 0)
        self.list.clear()
        self.list.addItems([self.stage.words(each.what) for each in self.open])
        self.list.setCurrentRow(min(at, len(self.open) - 1))
        for part in (self.both, self.list, self.kept, self.other, self.leave, self.take):
            part.setVisible(bool(self.open))
        self._show_sides()

    def _show_sides(self, *_: object) -> None:
        chosen = self._chosen()
        stage = self.stage
        self.kept.say(stage.say("Stands: {value}", value=chosen.kept) if chosen is not None else "")
        self.other.say(stage.say("Other: {value}", value=chosen.other) if chosen is not None else "")
        self.list.setAccessibleDescription(" ".join((self.kept.text(), self.other.text())))
        self.fit()

    def _chosen(self) -> Told | None:
        at = self.list.currentRow()
        return self.open[at] if 0 <= at < len(self.open) else None

    def _ask(self) -> None:
        stage = self.stage
        path = choose_file(self, stage.say("The copy that came back"), stage.say("Farm files (*.gpkg)"))
        if path:
            self.bring_in(Path(path))

    def bring_in(self, path: Path) -> None:
        """Read a copy off the window's thread, and have the writer bring it in."""
        self.said.say("")
        self.bring.setEnabled(False)
        job = self._jobs.run(lambda progress, stop: self._read(path))
        job.done.connect(self._join)
        job.failed.connect(self._refused)

    def _read(self, path: Path) -> FarmCopy:
        if path.exists() and path.samefile(self.stage.session.path):
            raise EditError(
                "{file} is the farm itself.",
                remedy="Choose the copy that came back from the other computer.",
                file=path.name,
            )
        return FarmCopy(path)

    def _join(self, copy: object) -> None:
        if not isinstance(copy, FarmCopy):
            return
        done, path = self.stage.session.join(copy), self.stage.session.path
        job = self._jobs.run(lambda progress, stop: (done.result(), copy.bring_pictures(path)))
        job.done.connect(lambda _: self._joined())
        job.failed.connect(self._refused)

    def _joined(self) -> None:
        self.renew()
        label = self.stage.session.undo_label
        if label is not None:
            self.stage.notice(label, deed="undo")

    def _refused(self, why: object) -> None:
        self.bring.setEnabled(True)
        if isinstance(why, PigmapError):
            self.said.say(self.stage.words(sentence(why)))
            self.fit()

    def _let_stand(self) -> None:
        self._settle(nothing())

    def _take(self) -> None:
        chosen = self._chosen()
        if chosen is not None:
            self._settle(take_other(chosen.conflict))

    def _settle(self, edit: Edit) -> None:
        chosen = self._chosen()
        if chosen is None:
            return
        done = self.stage.session.settle([chosen.number], edit)
        tell(self.stage, done, edit.label)
        job = self._jobs.run(lambda progress, stop: done.exception())
        job.done.connect(lambda _: self._list())

    def close_down(self) -> None:
        """Wait for what is being read."""
        self._jobs.close()


class _Panel:
    name = "copies"
    place = "aside"
    verb = ""

    def make(self, stage: Stage, parent: QWidget) -> QWidget:
        """Return the plate."""
        return Copies(stage, parent)


panel = _Panel()
