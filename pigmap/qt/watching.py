"""Watch the farm file while it is shown: edits of others, whether it may be changed, whether it is still there."""

from __future__ import annotations

from concurrent.futures import Future

from PySide6.QtCore import QObject
from PySide6.QtWidgets import QApplication

from pigmap.errors import PigmapError, StoreError
from pigmap.qt import collecting
from pigmap.qt.following import sentence
from pigmap.qt.jobs import Poster
from pigmap.qt.stage import Stage
from pigmap.records import ChangeSet
from pigmap.records.later_rows import refusal
from pigmap.text import Text


class Watching(QObject):
    """Looks once a second, never twice at a time; what stands against it is said once, until it has gone."""

    def __init__(self, stage: Stage, parent: QObject) -> None:
        super().__init__(parent)
        self._stage = stage
        self._poster = Poster(self)
        self._looking: Future[ChangeSet] | None = None
        self._said = ""
        self._notes = len(stage.session.notes)
        self.unread: StoreError | None = None
        """Why the rest of a large farm cannot be read: the farm is left then."""
        stage.session.rights_changed = self._rights_changed

    def look(self) -> None:
        """Look now, unless the last look has not ended: the disk may take its time."""
        if self._looking is not None and not self._looking.done():
            return
        self._looking = self._stage.session.look()
        self._looking.add_done_callback(lambda looked: self._poster.post(lambda: self._looked(looked)))

    def _looked(self, looked: Future[ChangeSet]) -> None:
        why = looked.exception()
        if isinstance(why, StoreError) and why is refusal(self._stage.session.farm.checks):
            self.unread = why
            QApplication.exit(1)
            return
        collecting.go_on()  # where it rested until a large farm was read
        self._tell_notes()
        if isinstance(why, PigmapError) and str(why) != self._said:
            self._stage.notice(sentence(why), "refused")
        if why is None and self._said:
            self._stage.notice(
                Text("{file} is there again, and what you do goes into it.", {"file": _file(self._stage)})
            )
        self._said = str(why) if isinstance(why, PigmapError) else ""

    def _tell_notes(self) -> None:
        """Tell of rows that could not be read since, once for each."""
        notes = self._stage.session.notes[self._notes :]
        self._notes += len(notes)
        for note in notes:
            self._stage.notice(note, "refused")

    def _rights_changed(self, was: Text) -> None:
        stage = self._stage
        stage.farm_changed.emit(ChangeSet(()))  # what may be done stands on cards and plates
        if not stage.session.read_only:
            stage.notice(Text("The other window was closed: {file} can be changed here now.", {"file": _file(stage)}))
            return
        from pigmap.qt.soundness import soundness_of  # most farms are sound

        soundness_of(stage).tell()
        if not was and soundness_of(stage).looked is None:
            stage.notice(stage.session.read_only, "care")


def _file(stage: Stage) -> str:
    return stage.session.path.name
