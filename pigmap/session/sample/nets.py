"""Rows of the sample farm's nets: what it owns, and where each stood from day to day."""

from __future__ import annotations

from collections.abc import Iterable, Iterator
from datetime import date, timedelta

import shapely

from pigmap.records import Net, NetCondition, NetKind, NetUse
from pigmap.session.sample.ids import uid
from pigmap.session.sample.lattice import HALF_NET_M, Spot
from pigmap.session.sample.site import Site
from pigmap.session.sample.timeline import HISTORY, Visit

BLUE, WHITE = uid("net kind", "blue"), uid("net kind", "white")
BLUE_OWNED, WHITE_OWNED = 17, 8

# Posts about 3.6 m apart, pig nets somewhat lower than those for sheep. Common practice; the bays are invented.
_BAY_MM = 3_571
TORN_AGO = timedelta(days=9)
"""So long ago the net was torn that is in repair."""


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
            damaged_on=today - TORN_AGO if (kind, count) == (BLUE, BLUE_OWNED - 1) else None,
        )
        for kind, count in owned
    ]


def net_uses(site: Site, visits: Iterable[Visit], today: date) -> Iterator[NetUse]:
    """Yield where nets stood round the paddocks of the stays that have begun, earliest first.

    A net on a side that the old and the new paddock both use stays where it is: it is written down for the new
    paddock from the day of the move on.
    """
    for visit in visits:
        if visit.in_on <= today:
            for count, ends in enumerate(visit.square.nets()):
                yield _use(site, visit, count, ends, taken_on=visit.out_on if visit.out_on <= today else None)


def _use(site: Site, visit: Visit, count: int, ends: tuple[Spot, Spot], *, taken_on: date | None) -> NetUse:
    square = visit.square
    run = shapely.LineString([square.corner.at(*end) for end in ends])
    return NetUse(
        uid=uid("net use", visit.group, visit.in_on, count),
        net_kind_uid=WHITE if square.net_m == HALF_NET_M else BLUE,
        paddock_uid=uid("paddock", square.name),
        run=site.grid(run),
        set_on=visit.in_on,
        taken_on=taken_on,
    )
