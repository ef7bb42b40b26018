"""What was told of a field: what was before and work, each on a line with a button that takes it out."""

from __future__ import annotations

from collections.abc import Mapping

from PySide6.QtCore import Qt, Signal
from PySide6.QtGui import QKeyEvent
from PySide6.QtWidgets import QVBoxLayout, QWidget

from pigmap.builtin.panels.form_parts import Words, high_at
from pigmap.builtin.panels.tab_order import tab_as_read
from pigmap.document.edits import remove
from pigmap.qt.buttons import WordButton
from pigmap.qt.following import tell
from pigmap.qt.stage import Stage
from pigmap.records import Field, GroundJob
from pigmap.records.told_words import told_words, work_words
from pigmap.text import Quantity, Text

TARGET = 44
SHARE_WORTH_LISTING = 0.002


_last: tuple[Mapping[str, GroundJob], Field, list[tuple[GroundJob, float]]] | None = None


def jobs_on(stage: Stage, field: Field) -> list[tuple[GroundJob, float]]:
    """Return what was told of a field and on which share of it, what was told last first.

    The last answer is kept until anything told, or the field, is another: a card asks on every day that is shown.
    """
    global _last
    told = stage.session.farm.ground_jobs
    if _last is None or _last[0] is not told or _last[1] is not field:
        _last = told, field, _jobs_on(told, field)
    return _last[2]


def _jobs_on(told: Mapping[str, GroundJob], field: Field) -> list[tuple[GroundJob, float]]:
    jobs = sorted(told.values(), key=lambda job: (job.position, job.uid), reverse=True)
    near = [job for job in jobs if job.shape.intersects(field.outline)]
    shares = [(job, job.shape.intersection(field.outline).area / field.outline.area) for job in near]
    return [each for each in shares if each[1] > SHARE_WORTH_LISTING]


def job_words(stage: Stage, job: GroundJob) -> str:
    """Return what was told, in words."""
    south = stage.session.farm.projection.lies_south
    return stage.words(told_words(job, south=south) if job.kind.tells_what_was else work_words(job))


class ToldJobs(QWidget):
    """Stands in the card's place; every line taken out is one edit."""

    ended = Signal()
    grown = Signal()
    """It asks for another height."""
    shows = Signal(QWidget)
    """A part of it is to be seen."""

    def __init__(self, stage: Stage, field: Field, parent: QWidget) -> None:
        super().__init__(parent)
        self.stage, self._field_uid = stage, field.uid
        title = stage.say("Told of {field}", field=field.name)
        self.setAccessibleName(title)
        self.outs: dict[str, WordButton] = {}
        self._lines: dict[str, Words] = {}
        column = QVBoxLayout(self)
        column.setContentsMargins(0, 0, 0, 0)
        column.setSpacing(6)
        self.head = Words(stage, "title", self, title)
        column.addWidget(self.head)
        self._rows = QVBoxLayout()
        self._rows.setSpacing(6)
        column.addLayout(self._rows)
        self._none = Words(stage, "body", self)
        column.addWidget(self._none)
        self.done = WordButton(stage, stage.say("Done"), parent=self)
        self.done.setFixedHeight(round(TARGET * stage.text_scale))
        self.done.clicked.connect(self.ended)
        column.addWidget(self.done)
        column.addStretch(1)
        stage.farm_changed.connect(self._renew)
        self._renew()

    @property
    def first(self) -> QWidget:
        """What has the keys first."""
        return next(iter(self.outs.values()), self.done)

    def _renew(self, *_: object) -> None:
        field = self.stage.session.farm.fields.get(self._field_uid)
        if field is None:
            self.ended.emit()
            return
        jobs = jobs_on(self.stage, field)
        had = next((uid for uid, button in self.outs.items() if button.hasFocus()), "")
        for uid in self.outs.keys() - {job.uid for job, _ in jobs}:
            for part in (self.outs.pop(uid), self._lines.pop(uid)):
                part.hide()
                part.deleteLater()
        for at, (job, share) in enumerate(jobs):
            if job.uid not in self.outs:
                self._make(job)
            words = job_words(self.stage, job)
            much = self.stage.say("{share} of it", share=Quantity(share, "1"))
            self._lines[job.uid].say(f"{words}, {much}")
            self.outs[job.uid].setAccessibleName(self.stage.say("Take out: {told}", told=words))
            self._rows.insertWidget(2 * at, self._lines[job.uid])
            self._rows.insertWidget(2 * at + 1, self.outs[job.uid])
        self._none.say("" if jobs else self.stage.say("Nothing is told of this field."))
        if had and had not in self.outs:
            self.first.setFocus(Qt.FocusReason.OtherFocusReason)
        self.grown.emit()
        tab_as_read(self, max(self.width(), 1) * 2)

    def _make(self, job: GroundJob) -> None:
        out = WordButton(self.stage, self.stage.say("Take out"), parent=self)
        out.setFixedHeight(round(TARGET * self.stage.text_scale))
        out.clicked.connect(lambda: self._take_out(job.uid))
        out.show()
        self.outs[job.uid] = out
        self._lines[job.uid] = Words(self.stage, "body", self)

    def _take_out(self, uid: str) -> None:
        job = self.stage.session.farm.ground_jobs.get(uid)
        if job is not None:
            words = Text("Taken out: {told}.", {"told": job_words(self.stage, job)})
            tell(self.stage, self.stage.session.do(remove("ground_jobs", uid)), words)

    def keyPressEvent(self, event: QKeyEvent) -> None:
        """End with Esc."""
        if event.key() == Qt.Key.Key_Escape:
            self.ended.emit()
            return
        super().keyPressEvent(event)

    def high_at(self, width: int) -> int:
        """Return the height it takes at a breadth [px]."""
        return high_at(self, width)
