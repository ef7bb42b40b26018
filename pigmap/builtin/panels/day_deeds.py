"""The deeds that a group's day offers: where it stands, that it moved, that all was well, that it did not cross."""

from __future__ import annotations

from datetime import date

from pigmap.builtin.panels.card_facts import CardDeed
from pigmap.qt.stage import Stage
from pigmap.qt.whereabouts import Whereabouts, book_of
from pigmap.records import Group, Stay, StayState

MOVED, ALL_WELL, STANDS, NOT_CROSSED = "moved", "all well", "stands", "not crossed"
TANK, FEEDER = "tank filled", "feeder filled"
DAY_DEEDS = frozenset((MOVED, ALL_WELL, STANDS, NOT_CROSSED, TANK, FEEDER))
"""Names of the deeds that `do_day_deed` knows."""


def day_deeds(stage: Stage, group: Group | None) -> tuple[CardDeed, ...]:
    """Return the deeds of a group; only today has any: what happened on other days is told by their stays."""
    if group is None or stage.day != stage.today or stage.session.read_only:
        return ()
    there = there_of(stage, group)
    if there.stay is None and coming(stage, there) is None:
        stands = stage.say("Where {group} is: click the corners of its paddock", group=group.name)
        return (CardDeed(STANDS, stage.say("Show where it stands"), stands),)
    moved = stage.say("Moved, {group}: {where}", group=group.name, where=_where_to(stage, group))
    well = stage.say("All well, {group}: daily check of today", group=group.name)
    deeds = CardDeed(MOVED, stage.say("Moved"), moved), CardDeed(ALL_WELL, stage.say("All well"), well)
    return (*deeds, *_not_crossed_deed(stage, group, there), *_filled_deeds(stage, group))


def _filled_deeds(stage: Stage, group: Group) -> tuple[CardDeed, ...]:
    """Return the deeds that tell of a filling today, for what has a size."""
    tank = stage.say("Tank filled, {group}: today", group=group.name)
    feeder = stage.say("Feeder filled, {group}: today", group=group.name)
    return (
        *([CardDeed(TANK, stage.say("Tank filled"), tank)] if group.tank_l else []),
        *([CardDeed(FEEDER, stage.say("Feeder filled"), feeder)] if group.feeder_kg else []),
    )


def _not_crossed_deed(stage: Stage, group: Group, there: Whereabouts) -> tuple[CardDeed, ...]:
    """Return the deed that tells of a night between two fences, on a day on which the group was to move."""
    after = coming(stage, there)
    if there.stay is None or after is None or after.in_on > stage.today or _is_fenced(stage, after):
        return ()
    spoken = stage.say("Did not cross, {group}: the new nets stand, and so do the old", group=group.name)
    return (CardDeed(NOT_CROSSED, stage.say("Did not cross"), spoken),)


def _is_fenced(stage: Stage, after: Stay) -> bool:
    uses = stage.session.farm.net_uses.values()
    return any(use.paddock_uid == after.paddock_uid and use.stands(stage.today) for use in uses)


def there_of(stage: Stage, group: Group) -> Whereabouts:
    """Return where a group is today, and where it goes next."""
    return book_of(stage.session.farm, stage.today).whereabouts(group, stage.today)


def coming(stage: Stage, there: Whereabouts) -> Stay | None:
    """Return the stay that a move begins: the next one, else the first whose days have passed without a move."""
    if there.next_stay is not None:
        return there.next_stay if there.next_stay.state is StayState.PLANNED else None
    stays = book_of(stage.session.farm, stage.today).stays(there.group.uid)
    since = there.stay.in_on if there.stay is not None else date.min
    return next((stay for stay in stays if stay.state is StayState.PLANNED and stay.in_on >= since), None)


def _where_to(stage: Stage, group: Group) -> str:
    paddock = book_of(stage.session.farm, stage.today).paddock_of(coming(stage, there_of(stage, group)))
    if paddock is None:
        return stage.say("no next paddock yet")
    return stage.say("to {paddock}, today", paddock=paddock.name)


def do_day_deed(stage: Stage, name: str, group_uid: str) -> None:
    """Record one of the deeds of a group for today, and say so; where it cannot be told how, say what to do."""
    group = stage.session.farm.groups.get(group_uid)
    if group is not None and stage.day == stage.today:
        from pigmap.builtin.panels.day_done import DEEDS  # on use: the first frame needs no edits

        DEEDS[name](stage, group)
