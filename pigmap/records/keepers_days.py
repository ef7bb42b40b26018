"""How many days a paddock lasts a group by the keeper's own word and records: one rule for all who ask."""

from __future__ import annotations

from datetime import date
from typing import NamedTuple

from pigmap.records.farm import Farm
from pigmap.records.field import Use
from pigmap.records.own_days import OwnDays
from pigmap.records.stay import StayState

USUAL_DAYS = 5
"""Days of a stay where nobody told any and a group has no past stays to learn from. Common practice: every few days."""
STAYS_LOOKED_AT = 5
"""Past stays of a group of which the middle one counts. Own choice."""


class KeepersDays(NamedTuple):
    """Days from move to move, and from whom they are known."""

    days: float
    said: OwnDays | None
    """What the keeper typed; None where the group's recorded stays tell."""
    stays: tuple[int, ...] = ()
    """Days of the stays that were looked at, rising."""


def use_of(farm: Farm, field_uid: str | None, day: date) -> Use | None:
    """Return what a field is for on a day: to graze lightly where nobody said, None where several things were said."""
    if field_uid is None or field_uid not in farm.fields:
        return None
    said = {each.purpose for each in farm.purposes.values() if each.field_uid == field_uid and each.covers(day)}
    return next(iter(said), Use.GRAZE_LIGHTLY) if len(said) < 2 else None


def keepers_days(
    farm: Farm, group_uid: str, day: date | None = None, field_uid: str | None = None
) -> KeepersDays | None:
    """Return how long a paddock lasts a group: what the keeper typed, else the middle one of its last stays.

    None where neither is known.

    Parameters
    ----------
    farm, group_uid
        Whose days.
    day
        The day on which the group comes; without it what holds for a part of the year is left out.
    field_uid
        The field of the paddock; without it what holds for one purpose is left out.
    """
    use = use_of(farm, field_uid, day) if day is not None else None
    fitting = [each for each in farm.own_days.values() if _fits(each, group_uid, day, use)]
    if fitting:
        said = max(fitting, key=lambda each: (*_says(each), each.uid))
        return KeepersDays(said.days, said)
    return _of_stays(farm, group_uid)


def own_days_of(farm: Farm, group_uid: str | None) -> list[OwnDays]:
    """Return what was typed for a group, or for all of them, what counts for most of the year first."""
    its = [each for each in farm.own_days.values() if each.group_uid == group_uid]
    return sorted(its, key=lambda each: (_says(each), each.from_month_day or "", each.uid))


def _fits(own: OwnDays, group_uid: str, day: date | None, use: Use | None) -> bool:
    if own.group_uid not in (None, group_uid) or own.purpose not in (None, use):
        return False
    return not _of_season(own) or (day is not None and own.covers(day))


def _of_season(own: OwnDays) -> bool:
    return own.from_month_day is not None or own.to_month_day is not None


def _says(own: OwnDays) -> tuple[int, bool, bool, bool]:
    """Return how much a figure says: the more things it is told for the more; of equals the group's comes first."""
    told = own.group_uid is not None, own.purpose is not None, _of_season(own)
    return sum(told), *told


def _of_stays(farm: Farm, group_uid: str) -> KeepersDays | None:
    from statistics import median  # with random and fractions, which nothing else of the window needs

    past = [each for each in farm.stays.values() if each.group_uid == group_uid and each.state is StayState.PAST]
    past.sort(key=lambda each: (each.in_on, each.uid))
    lengths = [(each.out_on - each.in_on).days for each in past[-STAYS_LOOKED_AT:] if each.out_on is not None]
    if not lengths:
        return None
    return KeepersDays(float(median(lengths)), None, tuple(sorted(lengths)))
