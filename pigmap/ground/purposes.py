"""What a field is for on a day, and what follows from it: the rest that is wanted and the rooting that is welcome."""

from __future__ import annotations

from datetime import date
from typing import NamedTuple

from pigmap.ground.tables import REST_FLOOR_DAYS, REST_LEAST_DAYS, ROOTING_WELCOME
from pigmap.records import Farm, Field, GroundCover, Purpose, Use

USUAL_USE = Use.GRAZE_LIGHTLY
"""What a field is for where nobody said anything."""


class Wanted(NamedTuple):
    """What is wanted of a field on a day."""

    use: Use
    """Of several the one that asks for the longest rest."""
    rest_days: int
    """Rest before pigs come again [d]."""
    rooting: float
    """Share that may be rooted before it is too much, 0 to 1."""
    rest_typed: bool = False
    """Whether somebody typed the rest; else it is what is usual for the purpose."""
    rooting_typed: bool = False


def purposes_of(farm: Farm, field_uid: str) -> list[Purpose]:
    """Return the parts of a field's year in order of their first day."""
    its = (each for each in farm.purposes.values() if each.field_uid == field_uid)
    return sorted(its, key=lambda each: (each.from_month_day, each.to_month_day, each.uid))


def usual_rest(use: Use, cover: GroundCover) -> int:
    """Return the rest that is usual for a purpose on ground with a cover [d]."""
    return max(REST_FLOOR_DAYS[cover], REST_LEAST_DAYS[use])


def wanted_by(purpose: Purpose, cover: GroundCover) -> Wanted:
    """Return what one purpose wants of ground with a cover."""
    rest, rooting = purpose.rest_days_wanted, purpose.rooting_wanted
    return Wanted(
        purpose.purpose,
        usual_rest(purpose.purpose, cover) if rest is None else rest,
        ROOTING_WELCOME[purpose.purpose] if rooting is None else rooting,
        rest is not None,
        rooting is not None,
    )


def wanted_on(farm: Farm, field: Field, day: date) -> Wanted:
    """Return what is wanted of a field on a day: of several purposes the longest rest and the least rooting."""
    return strictest([each for each in purposes_of(farm, field.uid) if each.covers(day)], field.ground_cover)


def strictest(purposes: list[Purpose], cover: GroundCover) -> Wanted:
    """Return what purposes of one day want together; without any what is usual."""
    asked = [wanted_by(each, cover) for each in purposes]
    if not asked:
        return Wanted(USUAL_USE, usual_rest(USUAL_USE, cover), ROOTING_WELCOME[USUAL_USE])
    longest = max(asked, key=lambda each: each.rest_days)
    least = min(asked, key=lambda each: each.rooting)
    return longest._replace(rooting=least.rooting, rooting_typed=least.rooting_typed)
