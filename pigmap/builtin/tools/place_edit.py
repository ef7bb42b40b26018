"""The edit that places what a ghost shows, one paddock or a row of them, and what is said once it is made."""

from __future__ import annotations

from collections.abc import Sequence

from pigmap.builtin.tools.ghost import Ghost
from pigmap.builtin.tools.place_figures import done_words
from pigmap.builtin.tools.refusal import refusal
from pigmap.document.edits import lay_row, place_paddock
from pigmap.geometry.rectangle import Rectangle
from pigmap.qt.stage import Picked, Stage
from pigmap.records import ChangeSet, Edit
from pigmap.session.placing import Judgement


def placing_edit(ghost: Ghost, row: Sequence[Rectangle], why: str) -> Edit:
    """Return the edit; `why` is the reason that was given where something is against the place."""
    kind, group = ghost.kind, ghost.choice.group_uid or None
    day = ghost.ground.day if group else None
    note = why if group is None else ""  # there is no stay yet that could keep it
    if len(row) > 1:
        return lay_row(row, net_kind_uid=kind.uid, group_uid=group, in_on=day, why=why, note=note)
    return place_paddock(row[0], net_kind_uid=kind.uid, group_uid=group, in_on=day, why=why, note=note)


def say_done(
    stage: Stage, edit: Edit, judged: Sequence[Judgement], changes: ChangeSet | None, error: BaseException | None
) -> None:
    """Say what was placed and pick it, or why it was refused."""
    if error is not None:
        stage.notice(refusal(error), "refused")
    elif changes is not None:
        stage.notice(done_words(edit, changes, judged), deed="undo")
        placed = [change.uid for change in changes.of("paddocks")]
        if placed:
            stage.pick(Picked("paddocks", placed[-1]))
