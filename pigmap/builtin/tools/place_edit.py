"""The edit that places what a ghost shows, one paddock or a row of them, and what is said once it is made."""

from __future__ import annotations

from collections.abc import Sequence

from pigmap.builtin.tools.ghost import Ghost
from pigmap.builtin.tools.place_again import same_paddock
from pigmap.builtin.tools.place_figures import again_words, done_words
from pigmap.builtin.tools.refusal import refusal
from pigmap.document.edits import amend, lay_row, place_paddock, plan_stay, reshape_paddock, together
from pigmap.geometry.free_outline import Placed
from pigmap.geometry.rectangle import Rectangle
from pigmap.qt.stage import Picked, Stage
from pigmap.records import ChangeSet, Edit, Farm, RowChange, StayState
from pigmap.session.placing import Judgement


def placing_edit(ghost: Ghost, row: Sequence[Placed], why: str) -> Edit:
    """Return the edit; `why` is the reason that was given where something is against the place."""
    kind, group = ghost.kind, ghost.choice.group_uid or None
    if ghost.choice.reshape_uid:
        return _reshaping(ghost, row[0], why)
    day = ghost.ground.day if group else None
    note = why if group is None else ""  # there is no stay yet that could keep it
    old = same_paddock(ghost, row[0]) if group is not None and len(row) == 1 else None
    if old is not None and group is not None:
        return plan_stay(group, old.uid, ghost.ground.day, why=why)
    rectangles = [each for each in row if isinstance(each, Rectangle)]
    sides = ghost.choice.side_nets if ghost.told and rectangles else ()
    if len(rectangles) > 1:
        return lay_row(
            rectangles, net_kind_uid=kind.uid, side_nets=sides, group_uid=group, in_on=day, why=why, note=note
        )
    ground = rectangles[0] if rectangles else row[0].outline
    return place_paddock(ground, net_kind_uid=kind.uid, side_nets=sides, group_uid=group, in_on=day, why=why, note=note)


def _reshaping(ghost: Ghost, placed: Placed, why: str) -> Edit:
    """Return the edit that gives a planned paddock its new corners; a reason is kept with what is planned there."""
    uid = ghost.choice.reshape_uid
    edit = reshape_paddock(uid, placed.outline)
    if not why:
        return edit

    def changes(farm: Farm) -> Sequence[RowChange]:
        planned = (stay for stay in farm.stays.values() if stay.paddock_uid == uid and stay.state is StayState.PLANNED)
        return together(edit.label, [edit, *(amend("stays", stay.uid, why_planned=why) for stay in planned)])(farm)

    return Edit(edit.label, changes, names=uid)


def say_done(
    stage: Stage, edit: Edit, judged: Sequence[Judgement], changes: ChangeSet | None, error: BaseException | None
) -> None:
    """Say what was placed and pick it, or why it was refused."""
    if error is not None:
        stage.notice(refusal(error), "refused")
    elif changes is not None:
        placed = [change.uid for change in changes.of("paddocks")]
        again = [getattr(change.after, "paddock_uid", "") for change in changes.of("stays") if change.before is None]
        old = stage.session.farm.paddocks.get(again[0]) if again and not placed else None
        words = again_words(old, judged[0]) if old is not None else done_words(edit, changes, judged)
        stage.notice(words, deed="undo")
        placed = placed or again
        if placed:
            stage.pick(Picked("paddocks", placed[-1]))
