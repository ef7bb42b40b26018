"""What the deeds of a group's day do: what was done goes in as it was."""

from __future__ import annotations

from collections.abc import Callable, Mapping
from functools import partial
from typing import Literal

from pigmap.builtin.panels.day_deeds import ALL_WELL, FEEDER, MOVED, NOT_CROSSED, STANDS, TANK, coming, there_of
from pigmap.document.edits import NetSet, all_well, begin_stay, did_not_cross, filled, well_recorded
from pigmap.fence.books import books_of
from pigmap.qt.following import tell
from pigmap.qt.stage import Picked, Stage
from pigmap.qt.whereabouts import book_of
from pigmap.records import Edit, Group
from pigmap.text import Text


def _move(stage: Stage, group: Group) -> None:
    there = there_of(stage, group)
    book, after = book_of(stage.session.farm, stage.today), coming(stage, there)
    now, then = book.paddock_of(there.stay), book.paddock_of(after)
    if there.stay is not None and there.stay.in_on == stage.today and now is not None:
        words = Text("{group} moved to {paddock} today: it is recorded.", {"group": group.name, "paddock": now.name})
        stage.notice(words)
    elif after is None or then is None:
        stage.notice(
            Text("No next paddock for {group}. Place the next paddock first (P).", {"group": group.name}), "care"
        )
    else:
        done = Text("{group} moved to {paddock} today.", {"group": group.name, "paddock": then.name})
        tell(stage, stage.session.do(Edit(done, begin_stay(after.uid, stage.today).changes)), done)


def _well(stage: Stage, group: Group) -> None:
    stay = there_of(stage, group).stay
    paddock = stage.session.farm.paddocks.get(stay.paddock_uid) if stay is not None else None
    if paddock is None:
        words = Text("No paddock for {group} today. Place one, and record that they moved.", {"group": group.name})
        stage.notice(words, "care")
        return
    values = {"group": group.name, "paddock": paddock.name}
    if well_recorded(stage.session.farm, paddock.uid, group.uid, stage.today) is not None:
        stage.notice(Text("All well today with {group} in {paddock}: it is recorded.", values))
        return
    done = Text("All well today with {group} in {paddock}.", values)
    tell(stage, stage.session.do(Edit(done, all_well(paddock.uid, group.uid, stage.today).changes)), done)


def _not_crossed(stage: Stage, group: Group) -> None:
    after = coming(stage, there_of(stage, group))
    paddock = book_of(stage.session.farm, stage.today).paddock_of(after)
    if after is None or paddock is None:
        return
    fence = books_of(stage.session.farm, stage.today).fence_of(after.uid)
    nets = [NetSet(net.kind.uid, net.line, net.since) for net in fence]
    done = Text(
        "{group} did not cross: the nets of {paddock} stand, and the old ones are not free yet.",
        {"group": group.name, "paddock": paddock.name},
    )
    tell(stage, stage.session.do(Edit(done, did_not_cross(after.uid, nets, stage.today).changes)), done)


def _filled(what: Literal["tank", "feeder"], stage: Stage, group: Group) -> None:
    edit = filled(group.uid, what, stage.today)
    done = Text("{group}: {what}", {"group": group.name, "what": edit.label})
    tell(stage, stage.session.do(Edit(done, edit.changes)), done)


def _stands(stage: Stage, group: Group) -> None:
    stage.pick(Picked("groups", group.uid))
    stage.take_up("stand")


DEEDS: Mapping[str, Callable[[Stage, Group], None]] = {
    MOVED: _move,
    ALL_WELL: _well,
    STANDS: _stands,
    NOT_CROSSED: _not_crossed,
    TANK: partial(_filled, "tank"),
    FEEDER: partial(_filled, "feeder"),
}
"""What each deed does, by its name."""
