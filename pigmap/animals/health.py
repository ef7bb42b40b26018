"""Health facts from the records: pigs on ground within years, withdrawal, newcomers apart, standstill; all pure.

Nothing here says that ground is free of parasites, or that a rule is met.
"""

from __future__ import annotations

from datetime import date, timedelta
from typing import NamedTuple

import shapely
from shapely.geometry.base import BaseGeometry

from pigmap.records import Farm, GroundJobKind, GroupEventKind, StayState

ROUNDWORM_YEARS = 9
"""Years for which eggs of the large roundworm live on in ground, at the least of what was watched.

Katakam and others 2016, Parasites & Vectors 9:80: up to at least 9 years. Larsen and Roepstorff 1999, Parasitology:
most vanish within weeks, faster in short grass and in summer. Roepstorff and Murrell 1997, International Journal for
Parasitology 27(5): those that are left can be infective after 4 to 6 warm weeks.
"""
INFECTIVE_WEEKS = (4, 6)
"""Warm weeks from which eggs may be infective. The same paper of 1997."""
YEAR_DAYS = 365.25

APART_DAYS = 30
"""Days for which newcomers are kept apart at the least. Australian rural veterinary practice."""
STANDSTILL_DAYS = 20
"""Days for which no pig leaves after pigs came on. England: gov.uk, general licence, annex A (2016). Local rules come
first: elsewhere they are others, and there are exceptions."""
PLAY_SHARE = 0.01
"""Less of some ground in common is the play of nets. Own choice."""


class PigsHere(NamedTuple):
    """What is known of pigs on some ground before a day."""

    last_on: date | None
    """The day on which they left, or were there, last; None where no pigs are known."""
    within: bool
    """Whether that is within the years asked for."""
    all_known: bool
    """Whether records, or what somebody told, reach back over all of these years and all of the ground."""


def pigs_within(farm: Farm, ground: BaseGeometry, day: date, years: int = ROUNDWORM_YEARS) -> PigsHere:
    """Return whether pigs were on some ground within years before a day, as far as it is known.

    Parameters
    ----------
    farm
        Whose records.
    ground
        An area [grid m].
    day
        The day before which it is asked.
    years
        How far back.
    """
    since = day - timedelta(days=round(years * YEAR_DAYS))
    least = max(ground.area * PLAY_SHARE, 1e-6)
    days = [
        min(each.out_on or day, day)
        for each in farm.stays.values()
        if each.in_on < day and each.state is not StayState.PLANNED and _meets(each.ground, ground, least)
    ]
    told = [each for each in farm.ground_jobs.values() if _meets(each.shape, ground, least)]
    days += [
        each.happened_on
        for each in told
        if each.kind is GroundJobKind.USED_BEFORE and each.happened_on is not None and each.happened_on <= day
    ]
    last = max(days, default=None)
    never = shapely.union_all([each.shape for each in told if each.kind is GroundJobKind.NEVER_USED])
    told_whole = bool(ground.difference(never).area <= least)
    begun = min((each.in_on for each in farm.stays.values()), default=day)
    return PigsHere(last, last is not None and last > since, told_whole or begun <= since)


def _meets(one: BaseGeometry, other: BaseGeometry, least: float) -> bool:
    return bool(one.intersects(other)) and bool(one.intersection(other).area > least)


class Withdrawal(NamedTuple):
    """Until when what was given holds pigs of a group back."""

    clear_on: date | None
    """The first day after all days of withdrawal that were typed; None where none run."""
    untyped: bool
    """Whether something was given whose days nobody typed from the label."""


def withdrawal_on(farm: Farm, group_uid: str, day: date) -> Withdrawal:
    """Return what holds a group on a day: by the medicine book, and by what was told of it as treated."""
    given = [each for each in farm.treatments.values() if each.group_uid == group_uid and each.given_on <= day]
    events = [
        each
        for each in farm.group_events.values()
        if each.group_uid == group_uid and each.kind is GroupEventKind.TREATED and each.happened_on <= day
    ]
    days = [each.clear_on for each in given if each.clear_on is not None]
    days += [
        each.happened_on + timedelta(days=each.withdrawal_days + 1)
        for each in events
        if each.withdrawal_days is not None
    ]
    untyped = any(each.withdrawal_days is None for each in given) or any(
        each.withdrawal_days is None for each in events
    )
    return Withdrawal(max((each for each in days if each > day), default=None), untyped)


def bought_on(farm: Farm, group_uid: str | None, day: date) -> date | None:
    """Return the last day up to a day on which pigs were bought into a group, or into any; None where none were."""
    days = (
        each.happened_on
        for each in farm.group_events.values()
        if each.kind is GroupEventKind.BOUGHT and group_uid in (None, each.group_uid) and each.happened_on <= day
    )
    return max(days, default=None)


def apart_until(farm: Farm, group_uid: str, day: date) -> date | None:
    """Return the day from which newcomers need not be kept apart any more; None where that is past or none came."""
    return _ahead(bought_on(farm, group_uid, day), APART_DAYS, day)


def standstill_until(farm: Farm, day: date) -> date | None:
    """Return the day from which pigs may leave again as in England; advice, since local rules come first."""
    return _ahead(bought_on(farm, None, day), STANDSTILL_DAYS, day)


def _ahead(came: date | None, days: int, day: date) -> date | None:
    until = came + timedelta(days=days) if came is not None else None
    return until if until is not None and until > day else None
