"""A small invented farm for the tests of edits."""

from __future__ import annotations

from datetime import date
from typing import Any

import shapely

from pigmap.document.edits import add_field, add_group, add_net_kind, place_paddock
from pigmap.geometry.rectangle import Rectangle
from pigmap.records import Edit, Farm, Projection

DAY = date(2026, 5, 1)
FIELD, GROUP, OTHERS, KIND = "field", "group", "others", "kind"
PADDOCK = "paddock-1"


def empty() -> Farm:
    """Return a farm without rows."""
    return Farm(document_uid="d", projection=Projection(name="flat", authority="NONE", code=0, definition=""))


def done(farm: Farm, *edits: Edit) -> Farm:
    """Return the farm after some edits."""
    for edit in edits:
        farm = farm.after(edit(farm))
    return farm


def square(number: int = 0) -> Rectangle:
    """Return a square of four nets, so many squares east of the field's corner."""
    return Rectangle(10.0 + 50.0 * number, 10.0, 0.0, 50_000, 50_000)


def example() -> Farm:
    """Return a farm with a field, two groups, 16 nets and a paddock."""
    return done(
        empty(),
        add_field("Long Field", shapely.box(0, 0, 400, 120), uid=FIELD),
        add_net_kind("50 m nets", (3572,) * 13 + (3564,), tape="blue", nets=16, uid=KIND),
        add_group("Sows", pigs=8, mean_kg=180.0, since=DAY, uid=GROUP),
        add_group("Weaners", uid=OTHERS),
        place_paddock(square(), net_kind_uid=KIND, uid=PADDOCK),
    )


def only(rows: Any) -> Any:
    """Return the one value of a mapping or sequence."""
    (found,) = rows.values() if hasattr(rows, "values") else rows
    return found
