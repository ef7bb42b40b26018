"""The deeds of a group's day: where it stands, that it moved, that all was well. What was done goes in as it was."""

from __future__ import annotations

from collections.abc import Callable, Mapping
from datetime import date

from pigmap.builtin.panels.card_facts import CardDeed
from pigmap.document.edits import NetSet, all_well, begin_stay, did_not_cross, well_recorded
from pigmap.fence.books import books_of
from pigmap.qt.following import tell
from pigmap.qt.stage import Picked, Stage
from pigmap.qt.whereabouts import Whereabouts, book_of
from pigmap.records import Edit, Group, Stay, StayState
from pigmap.text import Text

MOVED, ALL_WELL, STANDS, NOT_CROSSED = "moved", "all well", "stands", "not crossed"


def day_deeds(stage: Stage, group: Group | None) -> tuple[CardDeed, ...]:
    """Return the deeds of a group; only today has any: what happened on other days is told by their stays."""
    if group is None or stage.day != stage.today or stage.session.read_only:
        return ()
    there = _there(stage, group)
    if there.stay is None and _coming(stage, there) is None:
        stands = stage.say("Where {group} is: click the corners of its paddock", group=group.name)
        return (CardDeed(STANDS, stage.say("Show where it stands"), stands),)
    moved = stage.say("Moved, {group}: {where}", group=group.name, where=_where_to(stage, group))
    well = stage.say("All well, {group}: daily check of today", group=group.name)
    deeds = CardDeed(MOVED, stage.say("Moved"), moved), CardDeed(ALL_WELL, stage.say("All well"), well)
    return (*deeds, *_not_crossed_deed(stage, group, there))


def _not_crossed_deed(stage: Stage, group: Group, there: Whereabouts) -> tuple[CardDeed, ...]:
    """Return the deed that tells of a night between two fences, on a day on which the group was to move."""
    coming = _coming(stage, there)
    if there.stay is None or coming is None or coming.in_on > stage.today or _is_fenced(stage, coming):
        return ()
    spoken = stage.say("Did not cross, {group}: the new nets stand, and so do the old", group=group.name)
    return (CardDeed(NOT_CROSSED, stage.say("Did not cross"), spoken),)


def _is_fenced(stage: Stage, coming: Stay) -> bool:
    uses = stage.session.farm.net_uses.values()
    return any(use.paddock_uid == coming.paddock_uid and use.stands(stage.today) for use in uses)


def _there(stage: Stage, group: Group) -> Whereabouts:
    return book_of(stage.session.farm, stage.today).whereabouts(group, stage.today)


def _coming(stage: Stage, there: Whereabouts) -> Stay | None:
    """Return the stay that a move begins: the next one, else the first whose days have passed without a move."""
    if there.next_stay is not None:
        return there.next_stay if there.next_stay.state is StayState.PLANNED else None
    stays = book_of(stage.session.farm, stage.today).stays(there.group.uid)
    since = there.stay.in_on if there.stay is not None else date.min
    return next((stay for stay in stays if stay.state is StayState.PLANNED and stay.in_on >= since), None)


def _where_to(stage: Stage, group: Group) -> str:
    paddock = book_of(stage.session.farm, stage.today).paddock_of(_coming(stage, _there(stage, group)))
    if paddock is None:
        return stage.say("no next paddock yet")
    return stage.say("to {paddock}, today", paddock=paddock.name)


def do_day_deed(stage: Stage, name: str, group_uid: str) -> None:
    """Record one of the deeds of a group for today, and say so; where it cannot be told how, say what to do."""
    group = stage.session.farm.groups.get(group_uid)
    if group is not None and stage.day == stage.today:
        _DEEDS[name](stage, group)


def _move(stage: Stage, group: Group) -> None:
    there = _there(stage, group)
    book, after = book_of(stage.session.farm, stage.today), _coming(stage, there)
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
    stay = _there(stage, group).stay
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
    coming = _coming(stage, _there(stage, group))
    paddock = book_of(stage.session.farm, stage.today).paddock_of(coming)
    if coming is None or paddock is None:
        return
    fence = books_of(stage.session.farm, stage.today).fence_of(coming.uid)
    nets = [NetSet(net.kind.uid, net.line, net.since) for net in fence]
    done = Text(
        "{group} did not cross: the nets of {paddock} stand, and the old ones are not free yet.",
        {"group": group.name, "paddock": paddock.name},
    )
    tell(stage, stage.session.do(Edit(done, did_not_cross(coming.uid, nets, stage.today).changes)), done)


def _stands(stage: Stage, group: Group) -> None:
    stage.pick(Picked("groups", group.uid))
    stage.take_up("stand")


_DEEDS: Mapping[str, Callable[[Stage, Group], None]] = {
    MOVED: _move,
    ALL_WELL: _well,
    STANDS: _stands,
    NOT_CROSSED: _not_crossed,
}
DAY_DEEDS = frozenset(_DEEDS)
"""Names of the deeds that `do_day_deed` knows."""
