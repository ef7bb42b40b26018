"""Rows of the sample farm's nets: what it owns, and where each stood from day to day."""

from __future__ import annotations

from collections.abc import Iterator, Sequence
from dataclasses import replace
from datetime import date, timedelta

import shapely

from pigmap.records import Net, NetCondition, NetKind, NetUse
from pigmap.session.sample.ids import uid
from pigmap.session.sample.lattice import HALF_NET_M, Spot, Square
from pigmap.session.sample.site import Site
from pigmap.session.sample.timeline import HISTORY, Visit

BLUE, WHITE = uid("net kind", "blue"), uid("net kind", "white")
BLUE_OWNED, WHITE_OWNED = 16, 8

# Posts about 3.6 m apart, pig nets somewhat lower than those for sheep. Common practice; the bays are invented.
_BAY_MM = 3_571


def net_kinds() -> list[NetKind]:
    """Return the two kinds: 50 m with blue tape and 25 m with white."""
    return [
        NetKind(uid=BLUE, name="50 m nets", tape="blue", bays_mm=_bays(50_000, 14), height_mm=750),
        NetKind(uid=WHITE, name="25 m nets", tape="white", bays_mm=_bays(25_000, 7), height_mm=750),
    ]


def _bays(length_mm: int, bays: int) -> tuple[int, ...]:
    return (*(_BAY_MM,) * (bays - 1), length_mm - _BAY_MM * (bays - 1))


def nets(today: date) -> list[Net]:
    """Return every net the farm owns; one of the blue ones is in repair."""
    first = today - HISTORY
    owned = [(BLUE, count) for count in range(BLUE_OWNED)] + [(WHITE, count) for count in range(WHITE_OWNED)]
    return [
        Net(
            uid=uid("net", kind, count),
            net_kind_uid=kind,
            condition=NetCondition.DAMAGED if (kind, count) == (BLUE, BLUE_OWNED - 1) else NetCondition.SOUND,
            first_used_on=first if count < BLUE_OWNED - 4 else first + timedelta(days=150),
            note="Two torn strands, in repair." if (kind, count) == (BLUE, BLUE_OWNED - 1) else "",
        )
        for kind, count in owned
    ]


Standing = dict[tuple[Spot, Spot], NetUse]


def net_uses(site: Site, visits: Sequence[Visit], today: date) -> Iterator[NetUse]:
    """Yield where nets stood during the stays that have begun, side by side as they were set.

    Nets on a side that the old and the new paddock both use stay where they are; the others are taken up on the
    day of the move.
    """
    for group in sorted({visit.group for visit in visits}):
        walked = [visit for visit in visits if visit.group == group and visit.in_on <= today]
        yield from _of_group(site, walked, today)


def _of_group(site: Site, walked: Sequence[Visit], today: date) -> Iterator[NetUse]:
    standing: Standing = {}
    before: Visit | None = None
    for visit in walked:
        follows = before is not None and before.out_on == visit.in_on and before.square.field == visit.square.field
        wanted = set(visit.square.nets())
        for ends in [ends for ends in standing if not (follows and ends in wanted)]:
            assert before is not None
            yield replace(standing.pop(ends), taken_on=before.out_on)
        for count, ends in enumerate(visit.square.nets()):
            if ends not in standing:
                standing[ends] = _set(site, visit, count, ends)
        before = visit
    if before is not None:
        taken = before.out_on if before.out_on <= today else None
        yield from (replace(use, taken_on=taken) for use in standing.values())


def _set(site: Site, visit: Visit, count: int, ends: tuple[Spot, Spot]) -> NetUse:
    square: Square = visit.square
    run = shapely.LineString([square.corner.at(*end) for end in ends])
    return NetUse(
        uid=uid("net use", visit.group, visit.in_on, count),
        net_kind_uid=WHITE if square.net_m == HALF_NET_M else BLUE,
        paddock_uid=uid("paddock", square.name),
        run=site.grid(run),
        set_on=visit.in_on,
    )
