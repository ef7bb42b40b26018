"""The cards of everything that can be picked: which one it is, and that of a daily check."""

from __future__ import annotations

from collections.abc import Callable, Mapping
from typing import Any

from pigmap.animals.weight import live_weight
from pigmap.builtin.panels.card_facts import CardFacts, Fact
from pigmap.builtin.panels.card_parts import own_deeds, plain
from pigmap.builtin.panels.field_facts import field_card
from pigmap.builtin.panels.gear_facts import escape_card, flow_line_card, gear_card
from pigmap.builtin.panels.group_facts import group_card
from pigmap.builtin.panels.group_words import reading_words
from pigmap.builtin.panels.paddock_facts import paddock_card
from pigmap.builtin.panels.surroundings_facts import keep_out_card, place_card, way_card
from pigmap.drawing.tokens import ROOTING_WORDS
from pigmap.drawing.words import day_words
from pigmap.qt.pigs_why import pigs_words
from pigmap.qt.stage import Picked, Stage
from pigmap.qt.why import Why, why
from pigmap.records import Check, Stay, lasting_on
from pigmap.text import Text, Value
from pigmap.text.source import OWN_RECORDS


def card_of(stage: Stage, picked: Picked | None) -> CardFacts | None:
    """Return the card of what is picked; None where it is gone, or has no card."""
    if picked is None or picked.table not in _CARDS:
        return None
    row = stage.session.farm.rows(picked.table).get(picked.uid)
    return _CARDS[picked.table](stage, row) if row is not None else None


def _stay(stage: Stage, stay: Stay) -> CardFacts | None:
    paddock = stage.session.farm.paddocks.get(stay.paddock_uid)
    return paddock_card(stage, paddock, stay) if paddock else None


def _check(stage: Stage, check: Check) -> CardFacts:
    farm = stage.session.farm
    facts = [Fact(stage.say("Reading"), reading_words(stage, check), why=_seen_why(stage, check, _READ))]
    if check.pigs_seen is not None:
        counted = stage.say("{count} counted", count=check.pigs_seen)
        facts.append(Fact(stage.say("Pigs"), counted, why=_counted_why(stage, check)))
    if check.rooting_score is not None:
        rooted = stage.say("{share} rooted", share=ROOTING_WORDS[check.rooting_score])
        facts.append(Fact(stage.say("Ground"), rooted, why=_seen_why(stage, check, _ROOTED)))
    if check.water_ok is not None:
        well = stage.say("well") if check.water_ok else stage.say("not well")
        facts.append(Fact(stage.say("Water"), well, why=_seen_why(stage, check, _WATER)))
    paddock = farm.paddocks.get(check.paddock_uid)
    day = day_words(check.checked_on, "short year", language=stage.language)
    title = paddock.name if paddock else stage.say("Daily check")
    second = stage.say("daily check, {day}", day=day)
    card = plain(stage, "checks", check.uid, title, second, "check", facts, check.note)
    return card._replace(warnings=(check.damage,) if check.damage else (), deeds=own_deeds(stage, "remove"))


_READ = "Read at the daily check of {day}{by}: of volts, lights and ground the first that was told."
_ROOTED = "Seen at the daily check of {day}{by}: {score} of 4 quarters rooted."
_WATER = "Seen at the daily check of {day}{by}."


def _seen_why(stage: Stage, check: Check, words: str) -> Why:
    """Return who saw a figure of a daily check, and when."""
    by = Text(" by {who}", {"who": check.seen_by}) if check.seen_by else ""
    values: dict[str, Value] = {"day": check.checked_on, "by": by, "score": check.rooting_score or 0}
    return why(stage, Text(words, values), OWN_RECORDS)


def _counted_why(stage: Stage, check: Check) -> Why:
    """Return what a count stands against: the pigs that were told of the group that was there on the day."""
    farm, day = stage.session.farm, check.checked_on
    there = (
        each.stay.group_uid
        for each in lasting_on(farm, stage.today).values()
        if each.stay.paddock_uid == check.paddock_uid and each.covers(day)
    )
    group = check.group_uid or next(there, None)
    values: dict[str, Value] = {"count": check.pigs_seen or 0, "day": day}
    if group is None or group not in farm.groups:
        return why(stage, Text("{count} counted on {day}.", values), OWN_RECORDS)
    values |= {"told": live_weight(farm, group, day).pigs, "from": pigs_words(farm, group, day)}
    return why(stage, Text("{count} counted on {day}, {told} told: {from}", values), OWN_RECORDS)


_CARDS: Mapping[str, Callable[[Stage, Any], CardFacts | None]] = {
    "paddocks": paddock_card,
    "stays": _stay,
    "groups": group_card,
    "fields": field_card,
    "keep_outs": keep_out_card,
    "places": place_card,
    "ways": way_card,
    "checks": _check,
    "gear_places": gear_card,
    "flow_lines": flow_line_card,
    "escapes": escape_card,
}
