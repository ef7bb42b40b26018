"""Where each net of 25 groups is over 5 years: 10,000 moves, invented, and the question for one day of each week."""

from __future__ import annotations

import gc
from datetime import date, timedelta
from time import process_time

import numpy as np
import shapely

from pigmap.fence.books import Books
from pigmap.records import Farm, Group, Net, NetKind, Paddock, Projection, Record, Stay, StayState, add
from tests.benchmarks.sticks import Measured

TODAY = date(2026, 5, 20)
GROUPS, MOVES, PADDOCKS, ACROSS = 25, 400, 40, 8
SIDE_M, APART_M = 50, 1000


def case() -> Farm:
    """Make a farm on which each group goes round 40 squares of its own, four or five days on each."""
    kind = NetKind(uid="kind", name="50 m nets", bays_mm=(5_000,) * 10)
    rows: list[Record] = [kind, *(Net(uid=f"net {at}", net_kind_uid="kind") for at in range(4 * GROUPS + 4))]
    for group in range(GROUPS):
        rows += _group(group)
    flat = Projection(name="flat", authority="NONE", code=0, definition="", ground_per_grid=1.0)
    return Farm(document_uid="farm", projection=flat).after(add(row) for row in rows)


def _group(group: int) -> list[Record]:
    rows: list[Record] = [Group(uid=f"group {group}", name=f"Group {group}")]
    outlines = []
    for at in range(PADDOCKS):
        up, along = divmod(at, ACROSS)
        west = APART_M * group + SIDE_M * (along if up % 2 == 0 else ACROSS - 1 - along)
        outlines.append(shapely.box(west, SIDE_M * up, west + SIDE_M, SIDE_M * (up + 1)))
        uid = f"paddock {group} {at}"
        rows.append(Paddock(uid=uid, name=uid, outline=outlines[-1], net_kind_uid="kind"))
    day = TODAY - timedelta(days=group % 5)
    for at in range(MOVES + 1):
        out = day + timedelta(days=4 + (at + group) % 2)
        rows.append(
            Stay(
                uid=f"stay {group} {at}",
                group_uid=f"group {group}",
                paddock_uid=f"paddock {group} {at % PADDOCKS}",
                ground=outlines[at % PADDOCKS],
                state=StayState.PLANNED if at else StayState.RUNNING,
                in_on=day,
                out_on=out,
            )
        )
        day = out
    return rows


def measure_books(*, quick: bool) -> dict[str, Measured]:
    """Measure the books of all moves, which net is which, and what stands on some days."""
    farm = case()
    gc.collect()
    gc.freeze()  # as the window does after its first frame
    Books(farm, TODAY)
    took = [_once(farm) for _ in range(3 if quick else 7)]
    gc.unfreeze()
    note = f"{GROUPS * MOVES} moves, each net by its name; half of {len(took)} runs, the longest {max(took):.2f} s"
    return {"books": Measured(float(np.median(took)), note=note)}


def _once(farm: Farm) -> float:
    gc.collect()
    began = process_time()
    books = Books(farm, TODAY)
    there = books.standing(TODAY + timedelta(days=900))
    took = process_time() - began
    assert len(books.moves) == GROUPS * MOVES
    assert len({each.net.uid for each in there if each.net is not None}) == len(there) == 4 * GROUPS
    return took
