"""The sample farm's books: medicine, register, a sow that is due, slaughter bookings, an escape; all of it invented."""

from __future__ import annotations

import random
from collections.abc import Iterator
from datetime import date, timedelta

from pigmap.records import (
    Direction,
    Escape,
    GroupEvent,
    GroupEventKind,
    Litter,
    Record,
    RegisterEntry,
    SlaughterBooking,
    Treatment,
)
from pigmap.session.sample.animals import PORKER_COUNT, group_events
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

INVENTED = "Invented."
DRESSED = 0.76
"""Dead weight as a share of live weight; invented, near what butchers' notes say."""
_FIRST_GO = 2
_LEAST_KG = 80.0
_LOADED_AT = ("place", "Loading place")


def books(today: date) -> Iterator[Record]:
    """Yield the rows: what was written down up to a day, and what is booked after it."""
    yield from _medicine(today)
    yield from _litters(today)
    yield _escape(today)
    for event in group_events(today):
        yield from _of_event(event, today)
    yield from _booked(today)


def _medicine(today: date) -> Iterator[Treatment]:
    given = [(WEANERS, today - timedelta(days=4), "Wormer (invented)", 14)]
    given += [(WEANERS, start + timedelta(days=2), "Wormer (invented)", 14) for start in batch_starts(today)[1:]]
    given += [(SOWS, today - timedelta(days=200), "Ointment (invented)", 7)]
    for group, day, product, days in given:
        if today - HISTORY <= day <= today:
            yield Treatment(
                uid=uid("treatment", group, day),
                group_uid=uid("group", group),
                given_on=day,
                product=product,
                batch=f"{SEED % 1000}-{day.month:02}",
                dose="as on the label",
                given_by="A",
                withdrawal_days=days,
                note=INVENTED,
            )


def _litters(today: date) -> Iterator[Litter]:
    sows = uid("group", SOWS)
    yield Litter(
        uid=uid("litter", "Clara"),
        group_uid=sows,
        sow="Clara",
        served_on=today - timedelta(days=420),
        farrowed_on=today - timedelta(days=306),
        born=11,
        weaned_on=today - timedelta(days=264),
        weaned=10,
        note=INVENTED,
    )
    served = today - timedelta(days=54)
    yield Litter(uid=uid("litter", "Berta"), group_uid=sows, sow="Berta", served_on=served, note=INVENTED)


def _escape(today: date) -> Escape:
    return Escape(
        uid=uid("escape"),
        group_uid=uid("group", WEANERS),
        happened_on=today - timedelta(days=17),
        why="a branch on the net",
        fence_kv=0.9,
        pigs_out=3,
        pigs_back=3,
        note=INVENTED,
    )


def _of_event(event: GroupEvent, today: date) -> Iterator[Record]:
    """Yield the lines of the register, and of the porkers' last day the booking they went with."""
    chance = random.Random(f"{SEED} books {event.happened_on}")
    booking = None
    if event.kind is GroupEventKind.SOLD and event.group_uid == uid("group", PORKERS):
        booking = uid("booking", event.happened_on)
        dead_kg = None if event.mean_kg is None else round(event.mean_kg * DRESSED + chance.uniform(-1.5, 1.5), 1)
        yield _booking(event.happened_on, PORKER_COUNT, gone=event.pigs, dead_kg=dead_kg)
    first = event.happened_on == today - HISTORY  # the sows were there
    if first or event.kind not in (GroupEventKind.BOUGHT, GroupEventKind.SOLD):
        return
    on = event.kind is GroupEventKind.BOUGHT
    yield RegisterEntry(
        uid=uid("register", event.uid),
        happened_on=event.happened_on,
        direction=Direction.ON if on else Direction.OFF,
        pigs=event.pigs or 1,
        mark=f"INVENTED {event.happened_on:%y%m}",
        from_where="an invented farm" if on else "",
        to_where="" if on else "an invented butcher" if booking else "an invented farm",
        group_uid=event.group_uid,
        booking_uid=booking,
        note=INVENTED,
    )


def _booked(today: date) -> Iterator[SlaughterBooking]:
    """Yield what is booked for the porkers that are here."""
    start = max(day for day in map(porker_start, batch_starts(today)) if day <= today)
    last = start + timedelta(days=PORKER_DAYS)
    first = today + (last - today) // 3
    yield _booking(first, _FIRST_GO)
    yield _booking(last, PORKER_COUNT - _FIRST_GO)


def _booking(day: date, pigs: int, *, gone: int | None = None, dead_kg: float | None = None) -> SlaughterBooking:
    return SlaughterBooking(
        uid=uid("booking", day),
        group_uid=uid("group", PORKERS),
        goes_on=day,
        pigs=pigs,
        least_kg=_LEAST_KG,
        place_uid=uid(*_LOADED_AT),
        gone=gone,
        dead_kg=dead_kg,
        note=INVENTED,
    )
