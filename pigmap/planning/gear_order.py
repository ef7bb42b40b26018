"""When each kind of gear goes from the old paddock to the new: common practice, as a sentence."""

from __future__ import annotations

from collections.abc import Iterable
from datetime import date

from pigmap.records import AS_PLANNED, Farm, GearKind
from pigmap.records.gear_standing import gear_standing
from pigmap.text import Text, Value

_FIRST = (GearKind.FEEDER, GearKind.SHADE, GearKind.WALLOW)
"""What goes through the opening at once, in this order: feed draws pigs along. Common practice."""
_WORDS = {
    GearKind.FEEDER: Text("feeder"),
    GearKind.SHADE: Text("shade"),
    GearKind.WALLOW: Text("wallow"),
}
USUAL = Text("Gear through the opening; a hut, if there is one, last.")
"""Where nothing tells which gear a group has."""


def gear_there(farm: Farm, group_uid: str, day: date, today: date = AS_PLANNED) -> frozenset[GearKind]:
    """Return the kinds of gear that stand with a group on the day it moves, or stood there the day before."""
    found = (each for each in gear_standing(farm, today) if each.place.group_uid == group_uid)
    return frozenset(each.place.kind for each in found if each.covers(day) or each.end == day)


def gear_words(kinds: Iterable[GearKind]) -> Text:
    """Return in which order gear goes: water when all pigs have crossed, the hut last.

    Examples
    --------
    >>> str(gear_words([GearKind.HUT, GearKind.DRINKER, GearKind.FEEDER]))
    'Through the opening: feeder; drinker once all have crossed; hut last.'
    >>> str(gear_words([]))
    'Gear through the opening; a hut, if there is one, last.'
    """
    there = frozenset(kinds)
    parts = [*_at_once(there)]
    if GearKind.DRINKER in there:
        parts.append(Text("drinker once all have crossed"))
    if GearKind.HUT in there:
        parts.append(Text("hut last"))
    if not parts:
        return USUAL
    said = parts[0]
    for part in parts[1:]:
        values: dict[str, Value] = {"before": said, "next": part}
        said = Text("{before}; {next}", values)
    return Text("Through the opening: {gear}.", {"gear": said})


def _at_once(there: frozenset[GearKind]) -> list[Text]:
    first = [_WORDS[kind] for kind in _FIRST if kind in there]
    if not first:
        return []
    said = first[0]
    for kind in first[1:]:
        values: dict[str, Value] = {"before": said, "next": kind}
        said = Text("{before}, {next}", values)
    return [said]
