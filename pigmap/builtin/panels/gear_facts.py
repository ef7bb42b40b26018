"""The cards of gear, of a flow line, and of a place where pigs got out."""

from __future__ import annotations

from pigmap.builtin.panels.card_facts import CardFacts, Fact
from pigmap.builtin.panels.card_parts import in_words, own_deeds, plain
from pigmap.builtin.panels.plan_breaches import said_of
from pigmap.drawing.words import day_words
from pigmap.ground.dung import times_in_and_out
from pigmap.ground.tables import DUNG_ZONE_DROPPED, DUNG_ZONE_GROUND
from pigmap.qt.stage import Stage
from pigmap.qt.why import why
from pigmap.records import Escape, FlowLine, GearKind, GearPlace, StandingGear, gear_standing
from pigmap.text import Quantity, Text, Value
from pigmap.text.source import DUNG_ZONE, OWN_RECORDS, OWN_WORD


def gear_card(stage: Stage, place: GearPlace) -> CardFacts:
    """Return the card of gear: whose it is, since when it stands there, and what follows for the dung."""
    farm = stage.session.farm
    group = farm.groups.get(place.group_uid)
    named: dict[str, Value] = {"gear": str(place.kind).capitalize(), "group": group.name if group else ""}
    title = stage.words(Text("{gear} of {group}", named)) if group else str(named["gear"])
    every = gear_standing(farm, stage.today)
    here = next((each for each in every if each.place.uid == place.uid), None)
    facts = [_since(stage, place, here), *_dung(stage, here, every)]
    if place.note:
        facts.append(Fact(stage.say("Note"), place.note))
    deeds = own_deeds(stage, "remove")
    second = stage.say("gear") if here is not None else stage.say("gear; no pigs were there on that day")
    cares = tuple(said_of(stage, place.uid))
    return CardFacts(title, second, facts=tuple(facts), warnings=cares, deeds=deeds, table="gear_places", uid=place.uid)


def _since(stage: Stage, place: GearPlace, here: StandingGear | None) -> Fact:
    first = here.first if here is not None else place.set_on
    words = Text("Set down on {day}. It stands until its like is set elsewhere, or the pigs leave.", {"day": first})
    end = here.end if here is not None else None
    until = stage.say("until {day}", day=day_words(end, "short", language=stage.language)) if end is not None else ""
    since = stage.say("since {day}", day=day_words(first, "short", language=stage.language))
    return Fact(stage.say("Stands there"), since, until, why(stage, words, OWN_WORD))


def _dung(stage: Stage, here: StandingGear | None, every: tuple[StandingGear, ...]) -> list[Fact]:
    """Return what is counted of dung: half of it in a zone where shade and hut or feeder have a place."""
    if here is None or here.place.kind in (GearKind.DRINKER, GearKind.WALLOW):
        return []
    kinds = {each.place.kind for each in every if each.stay_uid == here.stay_uid and each.covers(here.first)}
    if GearKind.SHADE not in kinds or not kinds & {GearKind.HUT, GearKind.FEEDER}:
        words = Text(
            "Dung counts as evenly spread: where most of it falls is known once shade, and a hut or a feeder, have a "
            "place."
        )
        return [Fact(stage.say("Dung"), stage.say("evenly spread"), why=why(stage, words, DUNG_ZONE))]
    within, without = times_in_and_out(DUNG_ZONE_GROUND)
    values: dict[str, Value] = {
        "dropped": Quantity(DUNG_ZONE_DROPPED, "1"),
        "ground": Quantity(DUNG_ZONE_GROUND, "1"),
        "within": f"{within:.1f}",
        "without": f"{without:.1f}",
    }
    words = Text(
        "{dropped} of it counts on the {ground} of the paddock that lie about the middle of the way from hut or feeder "
        "to shade: {within} times the even load there, {without} times elsewhere. In all it is as much as before.",
        values,
    )
    figure = stage.words(Text("{dropped} on {ground} of the ground", values))
    return [Fact(stage.say("Dung"), figure, why=why(stage, words, DUNG_ZONE))]


def flow_line_card(stage: Stage, line: FlowLine) -> CardFacts:
    """Return the card of a flow line."""
    metres = line.line.length * stage.session.farm.projection.ground_per_grid
    drawn = why(stage, Text("As it was drawn."), OWN_WORD)
    facts = [Fact(stage.say("Length"), in_words(stage, Quantity(metres, "m")), why=drawn)]
    second = stage.say("flow line: water runs there in hard rain")
    name = line.name or stage.say("Flow line")
    return plain(stage, "flow_lines", line.uid, name, second, "", facts, line.note)


def escape_card(stage: Stage, escape: Escape) -> CardFacts:
    """Return the card of a place where pigs got out."""
    farm = stage.session.farm
    group = farm.groups.get(escape.group_uid)
    title = stage.say("{group} got out", group=group.name) if group else stage.say("Pigs got out")
    told = why(stage, Text("As it was told; the card of the group puts it right."), OWN_RECORDS)
    counted = ((stage.say("Out"), escape.pigs_out), (stage.say("Back"), escape.pigs_back))
    facts = [
        Fact(label, stage.say("{count} pigs", count=count), why=told) for label, count in counted if count is not None
    ]
    if escape.fence_kv is not None:
        facts.append(Fact(stage.say("Fence"), in_words(stage, Quantity(escape.fence_kv, "kV", 1)), why=told))
    facts += [
        Fact(label, words)
        for label, words in ((stage.say("Why"), escape.why), (stage.say("Note"), escape.note))
        if words
    ]
    second = day_words(escape.happened_on, "short year", language=stage.language)
    deeds = own_deeds(stage, "remove")
    return CardFacts(title, second, facts=tuple(facts), deeds=deeds, table="escapes", uid=escape.uid)
