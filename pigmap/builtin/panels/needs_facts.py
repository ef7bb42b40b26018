"""What a group needs and leaves, in rows: how long its paddock lasts, feed, water, shade, and what it lays down."""

from __future__ import annotations

from collections.abc import Iterator
from datetime import date, timedelta

from pigmap.animals import sources
from pigmap.animals.animal_units import AnimalUnits
from pigmap.animals.health import apart_until, standstill_until
from pigmap.animals.health_words import apart_words, standstill_words
from pigmap.animals.hot import hot_days, stage_of
from pigmap.animals.hot_words import (
    INDEX_WORDS,
    STRESS_WORDS,
    hot_line,
    index_words,
    temperature_words,
    what_to_do,
)
from pigmap.animals.manure import SOURCE_WORDS, ManureSource
from pigmap.animals.needs import Needs, needs
from pigmap.animals.target import Reached, fall_words, falls_of, reaches
from pigmap.builtin.panels.card_facts import Fact
from pigmap.builtin.panels.lasts_facts import lasts_facts
from pigmap.builtin.panels.needs_carried import drinkers, feed, feeder, figure, tank, wallow, water
from pigmap.builtin.panels.needs_room import shade, shelter
from pigmap.drawing.words import day_words
from pigmap.qt.stage import Stage
from pigmap.qt.why import Why, why
from pigmap.records import Group
from pigmap.text import Quantity, Text, Value
from pigmap.text.source import OWN_RECORDS

LATELY = timedelta(days=60)
"""So long it is said that a weight fell. Own choice."""


def needs_facts(stage: Stage, group: Group) -> list[Fact]:
    """Return what a group with pigs needs on the shown day, its food and drink first; nothing without pigs."""
    need = needs(stage.session.farm, group.uid, stage.day)
    if not need.weight.pigs:
        return []
    return [
        *lasts_facts(stage, group),
        *hot_facts(stage, group),
        *_how_hot(stage, group),
        *_target(stage, group),
        feed(stage, need),
        *feeder(stage, need),
        water(stage, need),
        *tank(stage, need),
        drinkers(stage, need),
        wallow(stage, need),
        shade(stage, need),
        shelter(stage, need),
        _laid(stage, need),
        _units(stage, need),
    ]


def needs_cares(stage: Stage, group: Group) -> tuple[str, ...]:
    """Return what wants care behind the figures: weights that fell, newcomers, a standstill, days not typed."""
    farm, day = stage.session.farm, stage.day
    said = [fall_words(farm, each) for each in falls_of(farm, group.uid) if day - LATELY <= each.day <= day]
    apart, still = apart_until(farm, group.uid, day), standstill_until(farm, day)
    said += [apart_words(apart)] if apart is not None else []
    said += [standstill_words(still)] if still is not None else []
    return tuple(stage.words(each) for each in said)


def _day(stage: Stage, day: date) -> str:
    return day_words(day, "short", language=stage.language)


def hot_facts(stage: Stage, group: Group) -> list[Fact]:
    """Return the next hot day on and after the shown day, with what to do."""
    found = hot_days(stage.session.farm, group, stage.day)
    if not found:
        return []
    need = needs(stage.session.farm, group.uid, stage.day)
    words = " ".join(stage.words(each) for each in what_to_do(found[0], need))
    reason = Why(words, "; ".join(stage.words(each) for each in (sources.HOT_ACTIONS, sources.WATER_HOT)))
    return [Fact(stage.say("Hot weather"), stage.words(hot_line(found[0])), why=reason)]


def _how_hot(stage: Stage, group: Group) -> Iterator[Fact]:
    """Yield how hot the next hot day is, by its temperature and by temperature and humidity, side by side."""
    farm = stage.session.farm
    found = next(iter(hot_days(farm, group, stage.day)), None)
    if found is None:
        return
    pigs, on = stage_of(farm, group, found.day), _day(stage, found.day)
    reason = why(stage, temperature_words(found, pigs), sources.SOW_STAGES)
    how = STRESS_WORDS[found.stress] if found.max_c is not None else Text("not known")
    yield Fact(stage.say("By warmth"), stage.words(how), on, reason)
    index = stage.words(INDEX_WORDS[found.index_class]) if found.both is not None else stage.say("not known")
    beside = f"{found.both:.0f}" if found.both is not None else stage.say("no humidity read")
    yield Fact(stage.say("With humidity"), index, beside, why(stage, index_words(found), sources.WEATHER_INDEX))


def _target(stage: Stage, group: Group) -> Iterator[Fact]:
    """Yield when they come to the weight at which they go, as a range of days."""
    if group.target_kg is None:
        return
    found = reaches(stage.session.farm, group.uid, group.target_kg)
    label = figure(stage, "{kg} each", kg=Quantity(group.target_kg, "kg", 0))
    if found is None:
        yield Fact(label, stage.say("not in sight"), why=why(stage, _NOT_IN_SIGHT, sources.CURVE))
        return
    until = _day(stage, found.latest) if found.latest is not None else stage.say("later")
    between = stage.say("{first} to {last}", first=_day(stage, found.earliest), last=until)
    yield Fact(label, _day(stage, found.likely), between, _target_why(stage, found))


_NOT_IN_SIGHT = Text(
    "Nobody weighed them, they do not grow, or they are not in sight of that weight within three years."
)


def _target_why(stage: Stage, found: Reached) -> Why:
    words = "From the last weighing on, at the pace that the weighings tell; in nine of ten cases between these days."
    if found.past_curve:
        words += " The curve was made from pigs up to 127 kg: beyond that it is a guess."
    return why(stage, Text(words), OWN_RECORDS, sources.CURVE, sources.OUTDOORS)


def _laid(stage: Stage, need: Needs) -> Fact:
    """Return nitrogen and phosphorus of a day; what was not read in print says so."""
    values: dict[str, Value] = {
        "each": f"{need.nitrogen_g / need.weight.pigs:.0f}",
        "phosphorus": f"{need.phosphorus_g / need.weight.pigs:.1f}",
    }
    words = (
        "{each} g of nitrogen and {phosphorus} g of phosphorus from each in a day; phosphorus from memory, not read."
    )
    if need.manure_source is ManureSource.UK:
        words += " Nitrogen is printed net of what escapes in a house, so a little more falls on a field."
    recalled = sources.NRCS_MANURE if need.manure_source is ManureSource.NRCS else sources.ASABE_MANURE
    reason = why(stage, Text(words, values), SOURCE_WORDS[need.manure_source], recalled)
    shown = figure(stage, "{much} of N a day", much=Quantity(need.nitrogen_g / 1000, "kg", 2))
    beside = figure(stage, "{much} of P", much=Quantity(need.phosphorus_g / 1000, "kg", 2))
    return Fact(stage.say("Laid down"), shown, beside, reason)


def _units(stage: Stage, need: Needs) -> Fact:
    """Return the animal units by weight, and by each other definition, each with its name."""
    first, *others = need.units
    told = [_unit_words(stage, each) for each in others]
    words = Text("The word means several things. {others}.", {"others": "; ".join(told)})
    return Fact(
        stage.say("Animal units"),
        f"{first.units:.1f}",
        stage.say("of {definition}", definition=first.definition.value),
        why(stage, words, *(each.definition.value for each in need.units)),
    )


def _unit_words(stage: Stage, each: AnimalUnits) -> str:
    return stage.say("{definition}: {units}", definition=each.definition.value, units=f"{each.units:.1f}")
