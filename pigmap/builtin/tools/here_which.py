"""Which paddock is meant to stand elsewhere, which planned ones follow it, and what is odd about it there."""

from __future__ import annotations

import shapely

from pigmap.builtin.tools.refusal import refusal
from pigmap.document.edits import stands_here, what_follows
from pigmap.errors import PigmapError
from pigmap.fence.reach import short_of_nets
from pigmap.qt.stage import Picked, Stage
from pigmap.qt.tool import Pointer
from pigmap.records import Farm, Paddock, Stay, StayState
from pigmap.session.comes_of import flagged
from pigmap.text import Text


def followers(farm: Farm, uid: str, now: shapely.Polygon) -> tuple[tuple[Paddock, shapely.Polygon], ...]:
    """Return what follows; nothing while its sides cross, or when it was removed meanwhile."""
    if not now.is_valid or now.area <= 0.0:
        return ()
    try:
        return what_follows(farm, uid, now)
    except PigmapError:
        return ()


def odd_about(stage: Stage, uid: str, ground: shapely.Polygon) -> list[Text]:
    """Return what comes of it that is out of the ordinary when a paddock stands there; none of it hinders."""
    farm, today = stage.session.farm, stage.today
    paddock = farm.paddocks.get(uid)
    if paddock is None:
        return []
    try:
        rows = stands_here(uid, ground)(farm)
    except PigmapError as error:
        return [refusal(error)]
    short = short_of_nets(farm, paddock, ground, today, today)
    return [*([short] if short is not None else []), *flagged(farm, rows, stage.session.registry, today)]


def running_stay(farm: Farm, paddock_uid: str) -> Stay | None:
    """Return the stay that runs on a paddock, the one that began first of several."""
    found = [
        stay
        for stay in farm.stays.values()
        if stay.paddock_uid == paddock_uid and stay.state is StayState.RUNNING and stay.paddock_uid in farm.paddocks
    ]
    return min(found, key=lambda stay: (stay.in_on, stay.uid), default=None)


def picked_paddock(farm: Farm, picked: Picked | None) -> str:
    """Return the paddock with pigs in it that belongs to what is picked; empty where there is none."""
    if picked is None:
        return ""
    if picked.table == "groups":
        own = (stay for stay in farm.stays.values() if stay.group_uid == picked.uid)
        running = [stay for stay in own if stay.state is StayState.RUNNING]
        last = max(running, key=lambda stay: (stay.in_on, stay.uid), default=None)
        return last.paddock_uid if last is not None else ""
    if picked.table == "stays":
        stay = farm.stays.get(picked.uid)
        return stay.paddock_uid if stay is not None else ""
    return picked.uid if picked.table == "paddocks" else ""


def paddock_at(farm: Farm, pointer: Pointer) -> str:
    """Return the paddock with pigs in it that lies under the pointer; empty where there is none."""
    running = [stay for stay in farm.stays.values() if stay.state is StayState.RUNNING]
    there = (stay for stay in running if shapely.contains_xy(stay.ground, pointer.x_m, pointer.y_m))
    return next((stay.paddock_uid for stay in there), "")
