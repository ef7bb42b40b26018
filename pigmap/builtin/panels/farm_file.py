"""The farm file: whether it is sound, what is wrong with it, and the ways back."""

from __future__ import annotations

from collections.abc import Callable

from PySide6.QtWidgets import QHBoxLayout, QWidget

from pigmap.builtin.panels.aside import AsidePlate
from pigmap.builtin.panels.form_parts import Words
from pigmap.builtin.panels.tall import Tall
from pigmap.drawing.words import day_words
from pigmap.errors import PigmapError
from pigmap.qt.buttons import WordButton
from pigmap.qt.following import sentence
from pigmap.qt.jobs import Job
from pigmap.qt.soundness import soundness_of
from pigmap.qt.stage import Stage
from pigmap.session.new_farm import Made
from pigmap.session.rescuing import newest_good
from pigmap.text import Text

WHAT = Text(
    "Every edit is in the file twice, as it stands and as it was made. Looking it through holds one against the other, "
    "and every page of the file with it. You can go on working meanwhile."
)
WAYS = Text(
    "Nothing is written into this file any more. A rescued copy has all that can be read of it; the backup is as the "
    "farm was then. Each becomes a file of its own, and this one stays as it is."
)
MOST_TOLD = 6


class FarmFilePlate(AsidePlate):
    """What the last look through the file came to, how far the present one is, and what can be done."""

    def __init__(self, stage: Stage, parent: QWidget) -> None:
        super().__init__(stage, parent, stage.say("The farm file"))
        self._soundness = soundness_of(stage)
        self.tall = Tall(self)
        self.column.addWidget(self.tall, 1)
        inner = self.tall.column
        self.where = Words(stage, "second", self, colour="ink2")
        self.state = Words(stage, "strong", self)
        self.found = Words(stage, "body", self)
        for words in (self.where, self.state):
            inner.addWidget(words)
        self.what = Words(stage, "body", self, stage.words(WHAT))
        self.ways = Words(stage, "body", self, stage.words(WAYS))
        inner.addWidget(self.what)
        inner.addWidget(self.ways)
        self.rescue = self._button(stage.say("Write a rescued copy and open it"), self._rescue)
        self.backup = self._button("", self._backup)
        self.look = self._button(stage.say("Look it through now"), self._look)
        inner.addWidget(self.found)
        self.said = Words(stage, "body", self, colour="warn")
        self.column.addWidget(self.said)
        self._soundness.changed.connect(self._follow)
        self._working = False

    def _button(self, words: str, deed: Callable[[], None]) -> WordButton:
        button = WordButton(self.stage, words, parent=self)
        button.clicked.connect(deed)
        row = QHBoxLayout()
        row.addWidget(button)
        row.addStretch(1)
        self.tall.column.addLayout(row)
        return button

    def first(self) -> QWidget:
        """Return the first button that can be pressed."""
        return self.rescue if self.rescue.isVisibleTo(self) else self.look

    def renew(self) -> None:
        """Show how it stands."""
        self.said.say("")
        self._show()

    def _follow(self) -> None:
        if not self.isHidden():
            self._show()

    def _show(self) -> None:
        stage, soundness, path = self.stage, self._soundness, self.stage.session.path
        found = soundness.looked.found if soundness.looked is not None else ()
        self.where.say(str(path))
        self.state.say(self._state())
        told = [stage.words(each) for each in found[:MOST_TOLD]]
        if len(found) > MOST_TOLD:
            told.append(stage.say("{count} more.", count=len(found) - MOST_TOLD))
        self.found.say("\n".join(told))
        damaged = soundness.looked is not None and soundness.looked.damaged
        self.what.setVisible(not damaged)
        self.ways.setVisible(damaged)
        self._name(self.look, stage.say("Stop") if soundness.running else stage.say("Look it through now"))
        backup = newest_good(path) if damaged else None
        self.rescue.setVisible(damaged)
        self.backup.setVisible(backup is not None)
        if backup is not None:
            day = day_words(backup.made_at.date(), "short year", language=stage.language)
            time = f"{backup.made_at:%H:%M}"
            self._name(self.backup, stage.say("Open the newest backup: {day}, {time}", day=day, time=time))
        for button in (self.look, self.rescue, self.backup):
            button.setEnabled(not self._working)
        if not self.isHidden():
            self.tall.lay_out()
            self.column.invalidate()
            self.fit()

    def _name(self, button: WordButton, words: str) -> None:
        button.setText(words)
        button.setAccessibleName(words)

    def _state(self) -> str:
        stage, soundness = self.stage, self._soundness
        if soundness.running:
            return stage.say("Being looked through: {percent} %.", percent=f"{soundness.share:.0%}"[:-1])
        if soundness.looked is None:
            return stage.say("It was not looked through yet.")
        if not soundness.looked.whole:
            return stage.say("It could not be looked through to the end.")
        if soundness.looked.found:
            return stage.say("It is not sound.")
        at = soundness.ended_at
        return stage.say("It is sound: looked through at {time}.", time=f"{at:%H:%M}" if at is not None else "")

    def _look(self) -> None:
        if self._soundness.running:
            self._soundness.stop()
        else:
            self._soundness.look()

    def _rescue(self) -> None:
        self._wait_for(self._soundness.rescue())

    def _backup(self) -> None:
        backup = newest_good(self.stage.session.path)
        if backup is not None:
            self._wait_for(self._soundness.go_back(backup))

    def _wait_for(self, job: Job) -> None:
        self._working = True
        job.done.connect(self._made)
        job.failed.connect(self._refused)
        job.progressed.connect(self._further)
        self._show()

    def _further(self, share: float) -> None:
        self.state.say(self.stage.say("Being written: {percent} %.", percent=f"{share:.0%}"[:-1]))

    def _made(self, made: object) -> None:
        self._working = False
        if isinstance(made, Made):
            self.stage.farm_asked.emit(made)

    def _refused(self, why: object) -> None:
        self._working = False
        self._show()
        if isinstance(why, PigmapError):
            self.said.say(self.stage.words(sentence(why)))
            self.fit()


class _Panel:
    name = "farm-file"
    place = "aside"
    verb = ""

    def make(self, stage: Stage, parent: QWidget) -> QWidget:
        """Return the plate."""
        return FarmFilePlate(stage, parent)


panel = _Panel()
