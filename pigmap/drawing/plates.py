"""Words on the map: names of fields, plates of paddocks, words of keep-outs and places."""

from __future__ import annotations

import math
from collections.abc import Callable, Iterable, Iterator
from datetime import date

import shapely
from shapely.geometry.base import BaseGeometry

from pigmap.drawing.layer import Label
from pigmap.drawing.on_day import OnDay, Shown, short_name, sign_of
from pigmap.drawing.surroundings import PLACES_FROM_M, fields_on, keep_outs_on
from pigmap.drawing.words import day_words
from pigmap.geometry.kept_out import kept_out
from pigmap.records import Farm, Field, KeepOut, PlaceKind, Reason, WayKind
from pigmap.text import Quantity, Text

Say = Callable[[Text], str]
"""Puts a text into the words of whoever looks."""

_NAMES_FROM_M = 6.0
_PLATES_FROM_M = 3.5
_QUIET_FROM_M = 1.0
NAME_SHARE = 0.35
"""Share of a field's breadth along which its name clears the edge below it."""
_SILENT = (PlaceKind.GATE, PlaceKind.TREE)


def field_names(farm: Farm, day: date, say: Say) -> Iterator[Label]:
    """Yield the name of each field above its upper edge, area and cover behind it; further east, or alone, if need be.

    A name comes before words of keep-outs and places, which are only read from near by.
    """
    per_grid = farm.projection.ground_per_grid
    yield from _gates_kept_clear(farm)
    for field in fields_on(farm, day):
        area = Quantity(field.outline.area * per_grid**2, "m²")
        second = say(Text("{area} {cover}", {"area": area, "cover": Text(str(field.ground_cover))}))
        spots = [_upper_edge(field, share) for share in (0.08, 0.3, 0.45, 0.6)]
        for words, priority in ((second, 95), ("", 94)):
            for x, y in spots:
                yield Label(
                    x,
                    y,
                    field.name,
                    words,
                    look="name",
                    priority=priority,
                    smallest_scale=_NAMES_FROM_M,
                    side="right above",
                    once=f"field {field.uid}",
                )


def _gates_kept_clear(farm: Farm) -> Iterator[Label]:
    """Yield the gates as spots without words: a gate under a name is not seen."""
    for place in farm.places.values():
        if place.kind is PlaceKind.GATE:
            x, y = place.point.x, place.point.y
            yield Label(x, y, "", look="clear", priority=96, smallest_scale=PLACES_FROM_M)


def _upper_edge(field: Field, share: float) -> tuple[float, float]:
    """Return a spot some share of a field's breadth from its west, as high as it rises from there on."""
    west, south, east, north = field.outline.bounds
    x = west + share * (east - west)
    cut = field.outline.intersection(shapely.box(x, south, x + NAME_SHARE * (east - west), north))
    return x, cut.bounds[3] if not cut.is_empty else north


def running_plates(farm: Farm, shown: OnDay, day: date, say: Say) -> Iterator[Label]:
    """Yield the plate of each group: its sign, the paddock and which day of the stay it is."""
    for each in shown.running:
        x, y = _middle(each.outline)
        yield Label(
            x,
            y,
            short_name(each, farm),
            say(day_of(each, day)),
            "plate",
            priority=100,
            sign=sign_of(each.group, farm),
            room_m=_room(each.outline) * 1.08,
            smallest_scale=_PLATES_FROM_M,
        )


def day_of(each: Shown, day: date) -> Text:
    """Return which day of its stay a group is in."""
    assert each.stay is not None
    number = (day - each.stay.in_on).days + 1
    if each.stay.out_on is None:
        return Text("day {number}", {"number": number})
    days = max((each.stay.out_on - each.stay.in_on).days, number)
    return Text("day {number} of {days}", {"number": number, "days": days})


def planned_plates(farm: Farm, shown: OnDay, day: date, say: Say, language: str) -> Iterator[Label]:
    """Yield the plate of each planned paddock with its day, and of a placed one with its name."""
    for order, each in enumerate(shown.planned):
        assert each.stay is not None
        x, y = _middle(each.outline)
        there = each.there
        words = short_name(each, farm) if there else day_words(each.stay.in_on, language=language)
        short = "" if there else day_words(each.stay.in_on, "shortest", language=language)
        yield Label(
            x,
            y,
            words,
            say(day_of(each, day)) if there else "",
            look="plan plate",
            short=short,
            priority=90 - min(order, 25),
            sign=sign_of(each.group, farm) if there else "",
            room_m=_room(each.outline) * 1.08,
            smallest_scale=_PLATES_FROM_M,
        )
    for each in shown.placed:
        x, y = _middle(each.outline)
        yield Label(
            x,
            y,
            short_name(each, farm),
            look="plan plate",
            priority=64,
            room_m=_room(each.outline) * 1.08,
            smallest_scale=_PLATES_FROM_M,
        )


def keep_out_words(farm: Farm, day: date, say: Say, *, within: BaseGeometry | None = None) -> Iterator[Label]:
    """Yield the word of each keep-out, with the distance to keep."""
    for each in keep_outs_on(farm, day):
        area = kept_out(each, each.net_m, farm.projection.ground_per_grid)
        if within is not None:
            area = area.intersection(within)
        if area.is_empty:
            continue
        x, y = _middle(area)
        overhead = each.reason is Reason.OVERHEAD_LINE
        words = say(Text("Overhead line: keep away")) if overhead else say(keep_out_name(each))
        yield Label(
            x,
            y,
            words,
            look="plate" if overhead else "quiet",
            priority=98 if overhead else 50,
            smallest_scale=_PLATES_FROM_M if overhead else _QUIET_FROM_M,
        )
    for way in farm.ways.values():
        if way.kind is WayKind.OVERHEAD_LINE:
            line = way.line if within is None else way.line.intersection(within)
            if line.is_empty:
                continue
            for share in (0.16, 0.5, 0.84, 0.33, 0.66):
                spot = shapely.get_parts(line)[0].interpolate(share, normalized=True)
                yield Label(
                    spot.x,
                    spot.y,
                    say(Text("Overhead line: keep away")),
                    look="plate",
                    priority=98,
                    smallest_scale=_PLATES_FROM_M,
                    side="right" if _steep(line) else "below",
                    once=f"overhead {way.uid}",
                )


def _steep(line: BaseGeometry) -> bool:
    west, south, east, north = line.bounds
    return north - south > east - west


def keep_out_name(each: KeepOut) -> Text:
    """Return what a keep-out is called: its name, or its reason."""
    return Text("{name}", {"name": each.name}) if each.name else Text(str(each.reason).capitalize())


def place_words(farm: Farm, say: Say, *, within: BaseGeometry | None = None) -> Iterator[Label]:
    """Yield the names of places below their signs."""
    for place in farm.places.values():
        there = within is None or within.intersects(place.point)
        if place.name and there and place.kind not in _SILENT:
            yield Label(
                place.point.x,
                place.point.y,
                place.name,
                look="quiet",
                priority=30,
                smallest_scale=min(PLACES_FROM_M, _QUIET_FROM_M * 0.6),
                side="below",
            )


def _middle(area: BaseGeometry) -> tuple[float, float]:
    spot = area.centroid
    if not area.contains(spot):
        spot = shapely.point_on_surface(area)
    return spot.x, spot.y


def _room(outline: BaseGeometry) -> float:
    return math.sqrt(outline.area)


def all_labels(groups: Iterable[Iterable[Label]]) -> tuple[Label, ...]:
    """Return labels of several sorts as one row."""
    return tuple(label for group in groups for label in group)
