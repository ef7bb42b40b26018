"""What several cards have in common: plain cards, own deeds, figures and days in words."""

from __future__ import annotations

from datetime import date

import shapely
from shapely.geometry.base import BaseGeometry

from pigmap.builtin.panels.card_facts import CardDeed, CardFacts, Fact
from pigmap.drawing.words import day_words
from pigmap.qt.stage import Stage
from pigmap.qt.why import why
from pigmap.text import Quantity, Text
from pigmap.text.source import OWN_WORD


def plain(
    stage: Stage, table: str, uid: str, title: str, second: str, icon: str, facts: list[Fact], note: str
) -> CardFacts:
    """Return the card of a thing that can be renamed and removed."""
    if note:
        facts = [*facts, Fact(stage.say("Note"), note)]
    deeds = own_deeds(stage, "rename", "remove")
    return CardFacts(title, second, icon=icon, facts=tuple(facts), deeds=deeds, table=table, uid=uid)


def own_deeds(stage: Stage, *names: str) -> tuple[CardDeed, ...]:
    """Return deeds by name; none on a farm that can only be read."""
    if stage.session.read_only:
        return ()
    words = {
        "purposes": stage.say("What it is for"),
        "before": stage.say("What was before"),
        "work": stage.say("What was done"),
        "told": stage.say("What was told"),
        "soil": stage.say("Its soil"),
        "happened": stage.say("What happened"),
        "needs": stage.say("What they need"),
        "weigh": stage.say("Weigh or count"),
        "nets": stage.say("Nets that stand"),
        "energizer": stage.say("Energizer"),
        "gives": stage.say("What it gives"),
        "fed": stage.say("What feeds it"),
        "volts": stage.say("Its volts and height"),
        "figure": stage.say("Its figure"),
        "rename": stage.say("Rename"),
        "end use": stage.say("End of use"),
        "end group": stage.say("End group"),
        "remove": stage.say("Remove"),
    }
    return tuple(CardDeed(name, words[name]) for name in names)


def in_words(stage: Stage, quantity: Quantity) -> str:
    """Return a figure with its unit."""
    return stage.words(Text("{quantity}", {"quantity": quantity}))


def corners_of(shape: BaseGeometry) -> int:
    """Return how many corners an area has; the first of a ring is its last again."""
    rings = shapely.get_num_interior_rings(shapely.get_parts(shape)).sum() + shapely.get_num_geometries(shape)
    return int(shapely.get_num_coordinates(shape) - rings)


def month_day_words(stage: Stage, month_day: str) -> str:
    """Return a day of any year, ``MM-DD``, as people say it."""
    month, day = (int(part) for part in month_day.split("-"))
    return day_words(date(2024, month, min(day, 29) if month == 2 else day), language=stage.language).split(" ", 1)[1]


def end_of_use(stage: Stage, day: date | None) -> list[Fact]:
    """Return the row that says from when on a field or a group is no longer in use."""
    if day is None:
        return []
    reason = why(stage, Text("{day}, as it was typed: the first day it is out of use.", {"day": day}), OWN_WORD)
    return [Fact(stage.say("End of use"), day_words(day, "short year", language=stage.language), why=reason)]
