"""Rows of the sample farm's stays and daily checks."""

from __future__ import annotations

import random
from collections.abc import Iterable, Iterator
from datetime import date, timedelta

import shapely

from pigmap.records import Check, Stay, StayState
from pigmap.session.sample.animals import PORKER_COUNT, SOW_COUNT, SOW_KG, WEANER_COUNT, porker_kg, weaner_kg
from pigmap.session.sample.ground import is_wood, outline
from pigmap.session.sample.ids import uid
from pigmap.session.sample.site import Site
from pigmap.session.sample.timeline import PORKERS, SEED, SOWS, Visit

CHECKED_DAILY = timedelta(days=120)
"""So far back every day was written down; before that every other day."""

# Share of the ground that is rooted for each kg·d/m² carried, by season; invented, near what keepers see.
ROOTED_IN_SUMMER, ROOTED_IN_WINTER = 0.10, 0.19


def stays(site: Site, visits: Iterable[Visit], today: date) -> Iterator[Stay]:
    """Yield visits as stays: past, running or planned as seen on a day."""
    for visit in visits:
        yield Stay(
            uid=uid("stay", visit.group, visit.in_on),
            group_uid=uid("group", visit.group),
            paddock_uid=uid("paddock", visit.square.name),
            ground=outline(site, visit.square),
            state=_state(visit, today),
            in_on=visit.in_on,
            out_on=visit.out_on,
        )


def _state(visit: Visit, today: date) -> StayState:
    if visit.out_on <= today:
        return StayState.PAST
    return StayState.RUNNING if visit.in_on <= today else StayState.PLANNED


def checks(site: Site, visits: Iterable[Visit], today: date) -> Iterator[Check]:
    """Yield the daily checks of the stays that have begun, up to and on a day."""
    for visit in visits:
        yield from _of_visit(site, visit, today)


def _of_visit(site: Site, visit: Visit, today: date) -> Iterator[Check]:
    length = (visit.out_on - visit.in_on).days
    for count in range(length):
        day = visit.in_on + timedelta(days=count)
        last = count == length - 1
        daily = today - day < CHECKED_DAILY
        if day <= today and (daily or last or day.toordinal() % 2 == 0):
            chance = random.Random(f"{SEED} {visit.group} {day}")
            yield _check(site, visit, day, chance, scored=last or count % 2 == 1)


def _check(site: Site, visit: Visit, day: date, chance: random.Random, *, scored: bool) -> Check:
    kv = _kilovolts(visit, day, chance)
    soil = chance.random() < 0.05
    return Check(
        uid=uid("check", visit.group, day),
        checked_on=day,
        group_uid=uid("group", visit.group),
        paddock_uid=uid("paddock", visit.square.name),
        point=_spot(site, visit, chance) if scored else None,
        all_well=not soil and kv >= 3.0,
        fence_kv=kv,
        pigs_seen=_pigs(visit),
        water_ok=chance.random() > 0.02,
        soil_on_net=soil,
        rooting_score=_score(visit, day, chance) if scored else None,
        seen_by=chance.choice(("A", "B")),
        note="Soil pushed against the bottom strand, raked off." if soil else "",
    )


def _spot(site: Site, visit: Visit, chance: random.Random) -> shapely.Point:
    square = visit.square
    along = square.along + square.long_m * chance.uniform(0.2, 0.8)
    across = square.across + square.wide_m * chance.uniform(0.2, 0.8)
    return shapely.Point(*site.grid_point(*square.corner.at(along, across)))


def _kilovolts(visit: Visit, day: date, chance: random.Random) -> float:
    usual = 4.3 if is_wood(visit.square.field) else 6.2
    damp = 0.5 if day.month in (11, 12, 1, 2) else 0.0
    return round(max(2.2, chance.gauss(usual - damp, 0.4)), 1)


def _pigs(visit: Visit) -> int:
    if visit.group == SOWS:
        return SOW_COUNT
    return PORKER_COUNT if visit.group == PORKERS else WEANER_COUNT


def _score(visit: Visit, day: date, chance: random.Random) -> int:
    days = (day - visit.in_on).days + 1
    area_m2 = visit.square.long_m * visit.square.wide_m
    load = _pigs(visit) * _kilograms(visit) * days / area_m2
    rooted = ROOTED_IN_WINTER if day.month in (11, 12, 1, 2, 3) else ROOTED_IN_SUMMER
    return min(4, max(0, round(4 * rooted * load * chance.uniform(0.6, 1.5))))


def last_score(visit: Visit, today: date) -> int:
    """Return how hard the ground of a visit was seen rooted at its end, or so far: the score of its last check."""
    day = min(visit.out_on - timedelta(days=1), today)
    chance = random.Random(f"{SEED} {visit.group} {day}")
    return max(_score(visit, day, chance), 1)


def _kilograms(visit: Visit) -> float:
    """Return about what a pig weighs: enough to guess how much ground a group turns over."""
    if visit.group == SOWS:
        return SOW_KG
    return porker_kg(55) if visit.group == PORKERS else weaner_kg(30)
