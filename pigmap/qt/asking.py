"""Ask the session for an edit, and hear on the window's thread how it went."""

from __future__ import annotations

from collections.abc import Callable
from concurrent.futures import Future

from PySide6.QtCore import QObject

from pigmap.qt.jobs import Poster
from pigmap.qt.stage import Stage
from pigmap.records import ChangeSet, Edit

Ended = Callable[["ChangeSet | None", "BaseException | None"], None]
"""Hears what an edit changed, or why it did not; called once it is on disk and published."""


class Asker(QObject):
    """Hands edits to the session of a stage.

    The session's futures may end on its writer's thread; what is asked for through here is told on the window's.
    """

    def __init__(self, stage: Stage, parent: QObject | None = None) -> None:
        super().__init__(parent)
        self._stage = stage
        self._poster = Poster(self)

    def ask(self, edit: Edit, ended: Ended) -> None:
        """Ask for an edit."""
        self.hear(self._stage.session.do(edit), ended)

    def hear(self, future: Future[ChangeSet], ended: Ended) -> None:
        """Hear how something that was asked for goes."""
        if future.done():
            _tell(future, ended)
        else:
            future.add_done_callback(lambda done: self._poster.post(lambda: _tell(done, ended)))


def _tell(future: Future[ChangeSet], ended: Ended) -> None:
    error = future.exception()
    ended(None if error is not None else future.result(), error)
