"""The rule that paddocks and gear keep off water, wells and flow lines, and gear off where gear stood lately."""

from __future__ import annotations

from collections.abc import Iterable, Iterator
from datetime import date, timedelta

from pigmap.fence.cautions.setbacks import gear_near_water, near_water, setbacks_of
from pigmap.fence.cautions.things import near
from pigmap.ground.tables import HOT_SPOTS_APART_M, TRAILING_DAYS
from pigmap.planning.cautions import on_each_ground
from pigmap.planning.names import group_called
from pigmap.planning.rule import Breach
from pigmap.records import Farm, GearKind, StandingGear, gear_standing
from pigmap.text import Quantity, Text, Value
from pigmap.text.source import OUR_GUESS

_HOT = frozenset((GearKind.HUT, GearKind.FEEDER, GearKind.SHADE))
"""Gear about which ground is trodden and dunged most."""
HOT_REMEDY = Text(
    "Set it on other ground: feed, water and hut that move every time spread what pigs leave. "
    "{apart} apart are assumed.",
    {"apart": Quantity(HOT_SPOTS_APART_M, "m")},
)


class Setbacks:
    """Looks at paddocks and gear that stand or are planned; what is over is left alone. It is advice, and no more."""

    api = 1
    name = "setbacks"
    title = Text("Paddocks and gear keep off water, wells and flow lines")

    def breaches(self, farm: Farm, today: date) -> Iterable[Breach]:
        """Yield them, earliest first."""
        setbacks = setbacks_of(farm)
        if setbacks:
            yield from on_each_ground(farm, lambda on, live: near_water(on, live, setbacks), past=False)
        yield from sorted(_gear(farm, today), key=lambda breach: (breach.day or date.min, breach.uid))


def _gear(farm: Farm, today: date) -> Iterator[Breach]:
    every = gear_standing(farm, today)
    for each in every:
        if each.end is not None and each.end <= today:
            continue
        uid, name = each.place.uid, _called(farm, each)
        for caution in gear_near_water(farm, each.place.kind, name, each.place.point):
            yield Breach("gear_places", uid, caution.words, caution.remedy, "care", each.first, source=caution.source)
        yield from _hot_spot(farm, each, every)


def _called(farm: Farm, each: StandingGear) -> Text:
    values: dict[str, Value] = {
        "gear": str(each.place.kind).capitalize(),
        "group": group_called(farm, each.place.group_uid),
    }
    return Text("{gear} of {group}", values)


def _hot_spot(farm: Farm, each: StandingGear, every: Iterable[StandingGear]) -> Iterator[Breach]:
    """Yield that gear stands where other gear stood in another stay within twelve months before."""
    if each.place.kind not in _HOT:
        return
    since, grid = each.first - timedelta(days=TRAILING_DAYS), farm.projection.ground_per_grid
    lately = [
        (other.place.point.distance(each.place.point) * grid, other)
        for other in every
        if other.stay_uid != each.stay_uid
        and other.place.kind in _HOT
        and other.first < each.first
        and (other.end is None or other.end > since)
    ]
    off, other = min(lately, key=lambda one: (one[0], one[1].place.uid), default=(float("inf"), None))
    if other is None or off >= HOT_SPOTS_APART_M:
        return
    values: dict[str, Value] = {
        "name": _called(farm, each),
        "off": near(off),
        "other": str(other.place.kind),
        "day": other.first,
    }
    words = Text("{name} stands {off} from where a {other} stood from {day} on.", values)
    yield Breach("gear_places", each.place.uid, words, HOT_REMEDY, "care", each.first, source=OUR_GUESS)


rule = Setbacks()
