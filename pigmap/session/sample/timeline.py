"""Who was where in the sample farm: stays of three groups over two years and some weeks of plan."""

from __future__ import annotations

import random
from collections.abc import Callable, Iterable, Iterator, Sequence
from datetime import date, timedelta
from itertools import chain, cycle, islice
from typing import NamedTuple

from pigmap.session.sample.lattice import BARN_ROWS, LONG_ROWS, POND_ROWS, TRAINING, WOOD_ROWS, Square

SEED = 20261125
HISTORY = timedelta(days=730)
PLANNED = timedelta(days=38)

SOWS, WEANERS, PORKERS = "Dry sows", "Weaners", "Porkers"

BATCH_DAYS = 119
"""From one batch of weaners to the next."""
WEANER_DAYS = 63
PORKER_DAYS = 115
CURRENT_BATCH_DAYS = 30
"""How long the batch that is here today has been here."""
BATCHES = 6
"""Batches of weaners before the one that is here today."""
TRAINING_DAYS = 6
SHORTEST = timedelta(days=2)


class Visit(NamedTuple):
    """One stay: who, where, from a day to a day that is not part of it."""

    group: str
    square: Square
    in_on: date
    out_on: date


def visits(today: date) -> list[Visit]:
    """Return every stay of every group from two years before a day to some weeks after it, earliest first."""
    found = [*_of_sows(today), *_of_porkers(today), *_of_weaners(today)]
    return sorted(found, key=lambda visit: (visit.in_on, visit.group))


def batch_starts(today: date) -> list[date]:
    """Return the days on which weaners came, earliest first; the first of them lies before the records."""
    newest = today - timedelta(days=CURRENT_BATCH_DAYS)
    return [newest - timedelta(days=BATCH_DAYS * count) for count in range(BATCHES, -1, -1)]


def porker_start(batch_start: date) -> date:
    """Return the day on which the biggest of a batch of weaners become porkers."""
    return batch_start + timedelta(days=WEANER_DAYS)


def _of_sows(today: date) -> Iterator[Visit]:
    chance = random.Random(SEED)

    def days(day: date) -> int:
        if day.month in (12, 1, 2):
            return chance.choice((7, 8, 8, 9))
        return chance.choice((5, 6)) if day.month in (3, 11) else chance.choice((4, 5, 5))

    # The far row was grazed once, in the first summer.
    route = chain(LONG_ROWS, cycle(LONG_ROWS[:36]))
    yield from _walk(SOWS, route, today - HISTORY, today + PLANNED, days)


def _of_porkers(today: date) -> Iterator[Visit]:
    chance = random.Random(SEED + 1)
    for count, start in enumerate(map(porker_start, batch_starts(today)[:-1])):
        in_wood = count % 2 == 1
        rows: Sequence[Square] = WOOD_ROWS if in_wood else POND_ROWS
        days = (lambda _: 7) if in_wood else (lambda _: chance.choice((4, 5, 5, 6)))
        yield from _walk(PORKERS, cycle(rows), start, start + timedelta(days=PORKER_DAYS), days)


def _of_weaners(today: date) -> Iterator[Visit]:
    chance = random.Random(SEED + 2)
    route = cycle(BARN_ROWS)
    for start in batch_starts(today)[1:]:
        walking = start + timedelta(days=TRAINING_DAYS)
        last = min(start + timedelta(days=WEANER_DAYS), today + PLANNED)
        yield Visit(WEANERS, TRAINING, start, walking)
        yield from _walk(WEANERS, route, walking, last, lambda _: chance.choice((3, 4, 4, 5)))


def _walk(group: str, route: Iterable[Square], first: date, last: date, days: Callable[[date], int]) -> Iterator[Visit]:
    """Yield stays one after the other along a route; the last one ends on the last day."""
    day = first
    for square in islice(route, 1_000):
        if day >= last:
            return
        out_on = day + timedelta(days=days(day))
        if last - out_on < SHORTEST:  # the rest is not worth a move
            out_on = last
        yield Visit(group, square, day, out_on)
        day = out_on
