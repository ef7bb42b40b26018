"""The sample farm's pigs: three groups, what came and went, and what they weighed."""

from __future__ import annotations

import random
from collections.abc import Iterator
from datetime import date, timedelta

from pigmap.records import Group, GroupEvent, GroupEventKind, PigClass
from pigmap.session.sample.ids import uid
from pigmap.session.sample.timeline import (
    HISTORY,
    PORKER_DAYS,
    PORKERS,
    SEED,
    SOWS,
    WEANERS,
    batch_starts,
    porker_start,
)

# Invented, within what is usual: weaned at about 9 kg, walked slowly, sold at a little over 100 kg.
WEANED_KG, WEANER_GAIN_KG, PORKER_GAIN_KG = 9.2, 0.36, 0.62
WEANER_COUNT, PORKER_COUNT, SOW_COUNT = 24, 16, 8
SOW_KG = 212.0


def groups() -> list[Group]:
    """Return the three groups."""
    return [
        Group(uid=uid("group", SOWS), name=SOWS, pig_class=PigClass.GESTATING, breed_type="coloured", colour_index=0),
        Group(uid=uid("group", WEANERS), name=WEANERS, pig_class=PigClass.WEANED, colour_index=1),
        Group(uid=uid("group", PORKERS), name=PORKERS, pig_class=PigClass.FINISHING, colour_index=2),
    ]


def group_events(today: date) -> list[GroupEvent]:
    """Return what happened to the groups up to and on a day, earliest first."""
    chance = random.Random(SEED + 4)
    found = [*_of_sows(today, chance), *_of_batches(today, chance)]
    first = today - HISTORY
    kept = [event for event in found if first <= event.happened_on <= today]
    return sorted(kept, key=lambda event: event.happened_on)


def weaner_kg(days: int) -> float:
    """Return what a weaner weighs so many days after it came [kg]."""
    return WEANED_KG + WEANER_GAIN_KG * days


def porker_kg(days: int) -> float:
    """Return what a porker weighs so many days after it left the weaners [kg]."""
    return weaner_kg((porker_start(date(2000, 1, 1)) - date(2000, 1, 1)).days) + PORKER_GAIN_KG * days


def _event(group: str, day: date, kind: GroupEventKind, pigs: int, kg: float | None, **more: str | None) -> GroupEvent:
    return GroupEvent(
        uid=uid("event", group, day, kind),
        group_uid=uid("group", group),
        happened_on=day,
        kind=kind,
        pigs=pigs,
        mean_kg=None if kg is None else round(kg, 1),
        **more,  # type: ignore[arg-type]
    )


def _of_sows(today: date, chance: random.Random) -> Iterator[GroupEvent]:
    first = today - HISTORY
    yield _event(SOWS, first, GroupEventKind.BOUGHT, SOW_COUNT, SOW_KG, note="Here when the records begin.")
    for count in range(1, 9):
        day = first + timedelta(days=88 * count)
        yield _event(SOWS, day, GroupEventKind.WEIGHED, SOW_COUNT, SOW_KG + chance.uniform(-6, 8))


def _of_batches(today: date, chance: random.Random) -> Iterator[GroupEvent]:
    for count, start in enumerate(batch_starts(today)):
        if count:  # the first batch came before the records
            yield from _of_weaners(start, chance)
        yield from _of_porkers(porker_start(start), chance)


def _of_weaners(start: date, chance: random.Random) -> Iterator[GroupEvent]:
    leaving = porker_start(start)
    yield _event(WEANERS, start, GroupEventKind.BOUGHT, WEANER_COUNT, WEANED_KG)
    for days in (14, 28, 46):
        weighed = weaner_kg(days) * chance.uniform(0.97, 1.03)
        yield _event(WEANERS, start + timedelta(days=days), GroupEventKind.WEIGHED, WEANER_COUNT, weighed)
    last_kg = weaner_kg((leaving - start).days)
    porkers = uid("group", PORKERS)
    yield _event(WEANERS, leaving, GroupEventKind.WEIGHED, WEANER_COUNT, last_kg)
    yield _event(WEANERS, leaving, GroupEventKind.SPLIT, PORKER_COUNT, last_kg, other_group_uid=porkers)
    yield _event(WEANERS, leaving, GroupEventKind.SOLD, WEANER_COUNT - PORKER_COUNT, last_kg)


def _of_porkers(start: date, chance: random.Random) -> Iterator[GroupEvent]:
    weaners = uid("group", WEANERS)
    yield _event(PORKERS, start, GroupEventKind.JOINED, PORKER_COUNT, porker_kg(0), other_group_uid=weaners)
    for days in (28, 56, 84, 105):
        weighed = porker_kg(days) * chance.uniform(0.97, 1.03)
        yield _event(PORKERS, start + timedelta(days=days), GroupEventKind.WEIGHED, PORKER_COUNT, weighed)
    leaving = start + timedelta(days=PORKER_DAYS)
    yield _event(PORKERS, leaving, GroupEventKind.WEIGHED, PORKER_COUNT, porker_kg(PORKER_DAYS))
    yield _event(PORKERS, leaving, GroupEventKind.SOLD, PORKER_COUNT, porker_kg(PORKER_DAYS))
