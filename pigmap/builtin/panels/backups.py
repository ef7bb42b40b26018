"""The backups that this computer keeps of the farm; one of them opened as a farm of its own."""

from __future__ import annotations

from datetime import timedelta
from pathlib import Path

from PySide6.QtWidgets import QListWidget, QWidget

from pigmap.builtin.panels.aside import AsidePlate
from pigmap.builtin.panels.form_parts import Words
from pigmap.builtin.panels.kept_pictures import amount
from pigmap.drawing.words import day_words
from pigmap.errors import PigmapError
from pigmap.qt.buttons import WordButton
from pigmap.qt.following import sentence
from pigmap.qt.jobs import Jobs
from pigmap.qt.stage import Stage
from pigmap.qt.theme import font
from pigmap.session.backups import Backup, backups_of, open_as_copy
from pigmap.session.new_farm import Made
from pigmap.text import Text

WHAT = Text(
    "Kept on this computer while you work, away from the farm file: the last ten, then one for each of the last days, "
    "weeks and months. A disk can break: keep a copy on a stick in another house, too."
)
HIGH = 260


class Backups(AsidePlate):
    """Lists them, the newest first; nothing is ever written over the farm."""

    def __init__(self, stage: Stage, parent: QWidget) -> None:
        super().__init__(stage, parent, stage.say("Backups"))
        self._jobs = Jobs(self)
        self.kept: tuple[Backup, ...] = ()
        self.column.addWidget(Words(stage, "body", self, stage.words(WHAT)))
        self.list = QListWidget(self)
        self.list.setFont(font("body", stage))
        self.list.setAccessibleName(stage.say("Backups, newest first"))
        self.list.setFixedHeight(round(HIGH * stage.text_scale))
        self.column.addWidget(self.list)
        self.open = WordButton(stage, stage.say("Open it as a farm of its own"), parent=self)
        self.open.clicked.connect(self._open)
        self.list.itemActivated.connect(self._open)
        self.column.addWidget(self.open)
        self.said = Words(stage, "body", self, colour="warn")
        self.column.addWidget(self.said)

    def first(self) -> QWidget:
        """Return the list."""
        return self.list

    def renew(self) -> None:
        """List what is kept now."""
        self.said.say("")
        self.kept = backups_of(self.stage.session.path)
        self.list.clear()
        self.list.addItems([self._line(each) for each in self.kept])
        if not self.kept:
            none = "None yet. The first is kept soon after a farm of your own is opened."
            self.list.addItem(self.stage.say(none))
        self.list.setCurrentRow(0)
        self.open.setEnabled(bool(self.kept))

    def _line(self, backup: Backup) -> str:
        stage, day = self.stage, backup.made_at.date()
        named = {stage.today: "today", stage.today - timedelta(days=1): "yesterday"}
        on = stage.say(named[day]) if day in named else day_words(day, "short year", language=stage.language)
        return stage.say(
            "{time}, {day}; {size}", time=f"{backup.made_at:%H:%M}", day=on, size=amount(backup.bytes / 1e6)
        )

    def _open(self, *_: object) -> None:
        at = self.list.currentRow()
        if not 0 <= at < len(self.kept):
            return
        backup, path = self.kept[at], self.stage.session.path
        self.open.setEnabled(False)
        job = self._jobs.run(lambda progress, stop: open_as_copy(backup, path))
        job.done.connect(self._opened)
        job.failed.connect(self._refused)

    def _opened(self, copy: object) -> None:
        if not isinstance(copy, Path):
            return
        words = Text(
            "This is {copy}, a copy beside the farm as it was before. The farm itself is as you left it.",
            {"copy": copy.name},
        )
        self.stage.farm_asked.emit(Made(copy, (words,)))

    def _refused(self, why: object) -> None:
        self.open.setEnabled(True)
        if isinstance(why, PigmapError):
            self.said.say(self.stage.words(sentence(why)))
            self.fit()

    def close_down(self) -> None:
        """Wait for what is being written."""
        self._jobs.close()


class _Panel:
    name = "backups"
    place = "aside"
    verb = ""

    def make(self, stage: Stage, parent: QWidget) -> QWidget:
        """Return the plate."""
        return Backups(stage, parent)


panel = _Panel()
