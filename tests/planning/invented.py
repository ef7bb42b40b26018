"""A small invented farm to break rules on: one field of 300 by 200 m, two groups, eight nets of 50 m."""

from __future__ import annotations

from collections.abc import Iterable
from datetime import date, timedelta

import shapely

from pigmap.records import (
    Farm,
    Field,
    Group,
    Net,
    NetCondition,
    NetKind,
    Paddock,
    Projection,
    Record,
    Stay,
    StayState,
    add,
)

TODAY = date(2026, 5, 20)
KIND = NetKind(uid="kind", name="50 m nets", tape="blue", bays_mm=(5_000,) * 10)
PROJECTION = Projection(name="flat", authority="NONE", code=0, definition="", ground_per_grid=1.0)


def farm_with(*rows: Record, nets: int = 8, damaged: int = 0) -> Farm:
    """Return the farm with some more rows."""
    field = Field(
        uid="field",
        name="Long Field",
        outline=shapely.MultiPolygon([shapely.box(0, 0, 300, 200)]),
        origin_x_m=0,
        origin_y_m=0,
        turned_deg=0,
    )
    groups = [Group(uid="sows", name="Sows"), Group(uid="weaners", name="Weaners")]
    owned = [
        Net(
            uid=f"net {count}",
            net_kind_uid="kind",
            condition=NetCondition.DAMAGED if count < damaged else NetCondition.SOUND,
        )
        for count in range(nets)
    ]
    return Farm(document_uid="farm", projection=PROJECTION).after(
        add(row) for row in (field, KIND, *groups, *owned, *rows)
    )


def stay(
    group: str, corner: tuple[float, float], first: int, last: int | None, *, state: StayState | None = None
) -> Iterable[Record]:
    """Yield a paddock of 50 by 50 m and a stay on it; days are counted from today."""
    name = f"{corner[0]:g} {corner[1]:g}"
    ground = shapely.box(*corner, corner[0] + 50, corner[1] + 50)
    if state is None:
        over = last is not None and last <= 0
        state = StayState.PAST if over else StayState.RUNNING if first <= 0 else StayState.PLANNED
    yield Paddock(uid=f"paddock {name}", name=name, field_uid="field", outline=ground, net_kind_uid="kind")
    yield Stay(
        uid=f"{group} {name} {first}",
        group_uid=group,
        paddock_uid=f"paddock {name}",
        ground=ground,
        state=state,
        in_on=TODAY + timedelta(days=first),
        out_on=None if last is None else TODAY + timedelta(days=last),
    )
