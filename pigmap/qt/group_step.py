"""Which group is meant by what is picked, and stepping from one group to the next."""

from __future__ import annotations

from datetime import date

from pigmap.qt.stage import Picked, Stage
from pigmap.qt.whereabouts import book_of
from pigmap.records import AS_PLANNED, Farm, lasting_on


def group_of(farm: Farm, picked: Picked | None, day: date, today: date = AS_PLANNED) -> str:
    """Return the uid of the group that a picked thing belongs to; empty where it belongs to none.

    A paddock belongs to the group that is on it on the day, else to the next one planned to go there, else to the
    last that was there.
    """
    if picked is None:
        return ""
    if picked.table == "groups":
        return picked.uid
    if picked.table == "stays":
        stay = farm.stays.get(picked.uid)
        return stay.group_uid if stay else ""
    if picked.table != "paddocks":
        return ""
    stays = sorted(
        (stay for stay in farm.stays.values() if stay.paddock_uid == picked.uid), key=lambda stay: stay.in_on
    )
    lasting = lasting_on(farm, today)
    here = [stay for stay in stays if stay.uid in lasting and lasting[stay.uid].covers(day)]
    later = [stay for stay in stays if stay.uid in lasting and lasting[stay.uid].first > day]
    chosen = here[-1:] or later[:1] or stays[-1:]
    return chosen[0].group_uid if chosen else ""


def step_group(stage: Stage, by: int) -> None:
    """Pick the next or the last group in the order of the cards."""
    farm = stage.session.farm
    uids = [group.uid for group in book_of(farm, stage.today).groups(stage.day)]
    if not uids:
        return
    now = group_of(farm, stage.picked, stage.day, stage.today)
    at = uids.index(now) + by if now in uids else (0 if by > 0 else -1)
    stage.pick(Picked("groups", uids[at % len(uids)]))
