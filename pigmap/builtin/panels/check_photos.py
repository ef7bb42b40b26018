"""Photos that go with a daily check: chosen while it is filled in, taken in once it is recorded."""

from __future__ import annotations

from pathlib import Path

from PySide6.QtWidgets import QVBoxLayout, QWidget

from pigmap.builtin.panels.form_parts import Words
from pigmap.builtin.panels.photos import choose_photos
from pigmap.errors import PigmapError
from pigmap.qt.buttons import WordButton
from pigmap.qt.following import sentence
from pigmap.qt.jobs import Jobs
from pigmap.qt.stage import Stage
from pigmap.session.photos import Belongs, TakenIn, take_photos
from pigmap.text import Text


class CheckPhotos(QWidget):
    """A button, and how many were chosen; the button lets those go again that were."""

    def __init__(self, stage: Stage, parent: QWidget) -> None:
        super().__init__(parent)
        self.stage = stage
        self.paths: tuple[Path, ...] = ()
        self._begun: dict[object, tuple[Path, ...]] = {}
        """What was chosen for a group on a day and not recorded yet."""
        self._of: object = None
        self._jobs = Jobs(self)
        column = QVBoxLayout(self)
        column.setContentsMargins(0, 0, 0, 0)
        column.setSpacing(2)
        self.add = WordButton(stage, stage.say("Add a photo"), parent=self)
        self.add.clicked.connect(lambda: self.choose((*self.paths, *choose_photos(stage, self))))
        self.none = WordButton(stage, stage.say("Without photos"), parent=self)
        self.none.clicked.connect(lambda: self.choose(()))
        self.said = Words(stage, "second", self, "", "ink2")
        for part in (self.add, self.said, self.none):
            column.addWidget(part)
        self.choose(())

    def choose(self, paths: tuple[Path, ...]) -> None:
        """Let these go with the check that is filled in."""
        self.paths = tuple(dict.fromkeys(paths))
        goes = Text("{count} photo goes with it.", plural="{count} photos go with it.", count=len(self.paths))
        self.said.say(self.stage.words(goes) if self.paths else "")
        for part in (self.said, self.none):
            part.setVisible(bool(self.paths))

    def go_on_with(self, of: object) -> None:
        """Keep what was chosen for the check before, and bring back what was chosen for this one."""
        self._begun[self._of], self._of = self.paths, of
        self.choose(self._begun.pop(of, ()))

    def take_in(self, to: Belongs) -> None:
        """Take them in off the window's thread, for the check that was just recorded."""
        paths, session, today = self.paths, self.stage.session, self.stage.today
        self.choose(())
        if not paths:
            return
        job = self._jobs.run(lambda progress, stop: take_photos(session, paths, today, to))
        job.done.connect(self._taken)
        job.failed.connect(self._refused)

    def _taken(self, taken: object) -> None:
        if not isinstance(taken, TakenIn):
            return
        for why in taken.left_out:
            self.stage.notice(sentence(why), "refused")
        if taken.photos and not taken.left_out:
            count = len(taken.photos)
            words = Text("{count} photo added to the check.", plural="{count} photos added to the check.", count=count)
            self.stage.notice(words, deed="undo")

    def _refused(self, why: object) -> None:
        if isinstance(why, PigmapError):
            self.stage.notice(sentence(why), "refused")

    def close_down(self) -> None:
        """Wait for what is being read."""
        self._jobs.close()
