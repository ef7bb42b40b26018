"""The example farm with a permanent fence along the south of its row, an energizer at the shed and one at the barn."""

from __future__ import annotations

from datetime import timedelta
from typing import Any

import shapely

from pigmap.document.edits import add_place, add_way, record_stay
from pigmap.records import Edit, Energizer, Farm, PlaceKind, WayKind, add
from pigmap.text import Text
from tests.document.example_farm import DAY, GROUP, PADDOCK, done, example

MOVE = DAY + timedelta(days=5)
LINE = shapely.LineString([(0, 10), (400, 10)])
OWN = Energizer(uid="own", name="Own unit", group_uid=GROUP, place_uid="shed")


def leaning_farm(**fence: Any) -> Farm:
    """Return it; what is given is of the fence."""
    return done(
        example(),
        record_stay(GROUP, PADDOCK, DAY),
        add_place(PlaceKind.ENERGIZER, shapely.Point(0, 0), uid="shed"),
        add_place(PlaceKind.ENERGIZER, shapely.Point(9, 0), uid="barn"),
        Edit(Text("Told."), lambda _: [add(OWN)]),
        add_way(WayKind.PERMANENT_FENCE, LINE, uid="fence", **fence),
    )
