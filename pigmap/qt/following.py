"""Carry what a session publishes to the stage's signals, and what it refuses to the message bar."""

from __future__ import annotations

from collections.abc import Callable
from concurrent.futures import Future

from pigmap.errors import PigmapError
from pigmap.qt.stage import Stage
from pigmap.records import ChangeSet
from pigmap.session import Published
from pigmap.session.between import CameBetweenError
from pigmap.text import Text


def follow(stage: Stage) -> Callable[[], None]:
    """Make the stage tell of every new farm and every piece of ground that is ready; return how to stop it."""

    def published(news: Published) -> None:
        picked = stage.picked
        if any(each.after is None and (each.table, each.uid) == picked for each in news.changes.rows):
            stage.pick(None)  # it is gone: a card that stayed would offer to change what is no longer there
        stage.farm_changed.emit(news.changes)

    unlisten = stage.session.listen(published)
    unground = stage.session.ground.listen(stage.ground_changed.emit)
    slopes = stage.session.seen.slopes
    unslope = slopes.listen(stage.ground_changed.emit)
    slopes.told = lambda why: stage.notice(sentence(why), "care")

    def stop() -> None:
        unlisten()
        unground()
        unslope()
        slopes.told = None

    return stop


def tell(
    stage: Stage,
    asked: Future[ChangeSet],
    done: Text | Callable[[ChangeSet], Text] | None = None,
    *,
    deed: str = "undo",
    again: str = "",
    kind: str = "done",
) -> None:
    """Say how an edit went once it is known, without waiting for it.

    Parameters
    ----------
    stage
        Whose message bar says it.
    asked
        What `Session.do`, `undo` or `redo` returned.
    done
        What to say when it is done, or what tells that from what changed; nothing where it is None.
    deed
        What the message offers.
    again
        What it offers where another program came in between.
    kind
        What kind of message it is when it is done: ``done`` or ``care``.
    """

    def ended(future: Future[ChangeSet]) -> None:
        error = future.exception()
        if isinstance(error, PigmapError):
            stage.notice(sentence(error), "refused", again if isinstance(error, CameBetweenError) else "")
        elif error is not None:
            stage.notice(Text("This was not done: {why}", {"why": f"{type(error).__name__}: {error}"}), "refused")
        elif done is not None:
            stage.notice(done if isinstance(done, Text) else done(future.result()), kind, deed)

    asked.add_done_callback(ended)


def sentence(error: PigmapError) -> Text:
    """Return an error and its remedy as one text."""
    if not error.remedy:
        return error.message
    return Text("{message} {remedy}", {"message": error.message, "remedy": error.remedy})


def undo(stage: Stage) -> None:
    """Take back what was done last, and say what it was."""
    if stage.not_yet is not None:
        stage.notice(Text("Taken back: {what}", {"what": stage.not_yet()}))
        return
    if stage.session.undo_label is None:
        stage.notice(Text("Nothing to undo."))
        return
    tell(stage, stage.session.undo(), _taken_back, deed="redo", again="undo")


def redo(stage: Stage) -> None:
    """Do again what was taken back last."""
    if stage.session.redo_label is None:
        stage.notice(Text("Nothing to redo."))
        return
    tell(stage, stage.session.redo(), _done_again, again="redo")


def _taken_back(changes: ChangeSet) -> Text:
    return Text("Taken back: {what}", {"what": changes.label})


def _done_again(changes: ChangeSet) -> Text:
    return Text("Done again: {what}", {"what": changes.label})
