"""What the key is made from: the ways to colour the ground, and the rest that its blue mark stands at."""

from __future__ import annotations

from collections import Counter
from datetime import date

from pigmap.drawing.tint import Tint
from pigmap.errors import PluginError
from pigmap.ground.rest import rest_wanted
from pigmap.qt.keys import tints_in_order
from pigmap.qt.printing import field_of_picked
from pigmap.qt.stage import Stage
from pigmap.records import Farm


def loaded_tints(stage: Stage) -> dict[str, Tint]:
    """Return the tints in the order of their keys; one that cannot be used is left out."""
    found: dict[str, Tint] = {}
    for name in tints_in_order(stage):
        try:
            found[name] = stage.session.registry.load("tints", name)
        except PluginError:
            continue
    return found


def mark_words(stage: Stage, days: int) -> str:
    """Say what the mark stands for: it follows the season, and fields may want different rests."""
    chosen = field_of_picked(stage)
    if chosen:
        name = stage.session.farm.fields[chosen].name
        return stage.say("Blue mark: {days} days wanted in {field} now", days=days, field=name)
    if len(_wanted(stage)) > 1:
        return stage.say("Blue mark: {days} days, what most fields want now", days=days)
    return stage.say("Blue mark: rest wanted now, {days} days", days=days)


def rest_mark(stage: Stage) -> int | None:
    """Return the rest that is wanted: of the picked thing's field, else what most fields want."""
    counted = _wanted(stage)
    return counted.most_common(1)[0][0] if counted else None


def _wanted(stage: Stage) -> Counter[int]:
    """Return the rests that are wanted on the day that is shown, each with the number of fields."""
    global _last
    farm, day = stage.session.farm, stage.day
    chosen = field_of_picked(stage)
    kept = _last
    if kept is None or kept[0] is not farm or kept[1:3] != (day, chosen):  # the key asks many times for each day
        wanted = [rest_wanted(farm, uid, day) for uid in ([chosen] if chosen else farm.fields)]
        kept = _last = farm, day, chosen, Counter(days for days in wanted if days is not None)
    return kept[3]


_last: tuple[Farm, date, str, Counter[int]] | None = None
