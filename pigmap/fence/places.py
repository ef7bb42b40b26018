"""Where single nets are recorded to stand, in words that tell one side of a paddock from another."""

from __future__ import annotations

import math
from collections import Counter
from datetime import date
from typing import NamedTuple

import shapely

from pigmap.records import Farm, Net, NetUse
from pigmap.text import Text, Value

_SIDES = (
    Text("east side"),
    Text("north-east side"),
    Text("north side"),
    Text("north-west side"),
    Text("west side"),
    Text("south-west side"),
    Text("south side"),
    Text("south-east side"),
)


class PlaceOfNet(NamedTuple):
    """One net where it is recorded to stand."""

    use: NetUse
    called: Text
    """Such as 'Long Field 23, north side'."""
    net: Net | None
    """Which net that is; None where it is not known."""


def places_of_nets(farm: Farm, day: date) -> tuple[PlaceOfNet, ...]:
    """Return where nets are recorded to stand on a day: by paddock, then round it from the north."""
    there = [use for use in farm.net_uses.values() if use.stands(day) and use.paddock_uid in farm.paddocks]
    there.sort(key=lambda use: (farm.paddocks[use.paddock_uid].name, use.paddock_uid, _turn(farm, use), use.uid))
    told: Counter[tuple[str, int]] = Counter()
    found = []
    for use in there:
        side = round(_turn(farm, use) / 45) % 8
        told[use.paddock_uid, side] += 1
        at = told[use.paddock_uid, side]
        values: dict[str, Value] = {
            "paddock": farm.paddocks[use.paddock_uid].name,
            "side": _SIDES[(10 - side) % 8],
            "at": str(at),
        }
        words = "{paddock}, {side}" if at == 1 else "{paddock}, {side}, net {at}"
        found.append(PlaceOfNet(use, Text(words, values), farm.nets.get(use.net_uid or "")))
    return tuple(found)


def _turn(farm: Farm, use: NetUse) -> float:
    """Return in which direction from the middle of its paddock a net stands, clockwise from north [degrees]."""
    middle = shapely.centroid(farm.paddocks[use.paddock_uid].outline)
    net = use.run.interpolate(0.5, normalized=True)
    return math.degrees(math.atan2(net.x - middle.x, net.y - middle.y)) % 360
