"""The cards of everything but paddocks: groups, fields, keep-outs, places, ways and daily checks."""

from __future__ import annotations

from collections.abc import Callable, Mapping
from typing import Any

from pigmap.animals.weight import live_weight
from pigmap.builtin.panels.card_facts import CardFacts, Fact, Why
from pigmap.builtin.panels.card_parts import end_of_use, in_words, month_day_words, own_deeds, plain
from pigmap.builtin.panels.day_deeds import day_deeds
from pigmap.builtin.panels.field_facts import field_card
from pigmap.builtin.panels.group_words import group_words, mean_weight, reading_words
from pigmap.builtin.panels.paddock_facts import paddock_card
from pigmap.drawing.on_day import letter_of
from pigmap.drawing.tokens import ROOTING_WORDS
from pigmap.drawing.words import day_words
from pigmap.qt.stage import Picked, Stage
from pigmap.qt.whereabouts import book_of
from pigmap.records import Check, Group, KeepOut, Place, PlaceKind, Reason, Stay, Way, WayKind
from pigmap.session.placing.words import distance
from pigmap.text import Quantity, Text
from pigmap.text.source import COMMON_PRACTICE, OWN_RECORDS


def card_of(stage: Stage, picked: Picked | None) -> CardFacts | None:
    """Return the card of what is picked; None where it is gone, or has no card."""
    if picked is None or picked.table not in _CARDS:
        return None
    row = stage.session.farm.rows(picked.table).get(picked.uid)
    return _CARDS[picked.table](stage, row) if row is not None else None


def _stay(stage: Stage, stay: Stay) -> CardFacts | None:
    paddock = stage.session.farm.paddocks.get(stay.paddock_uid)
    return paddock_card(stage, paddock, stay) if paddock else None


_PIGS_WHY = Text("Pigs that came, less those that went, as told by this day.")
_WEIGHED_WHY = Text("From the weights that were told, and the days since.")
_USUAL_WHY = Text("Nobody told a weight. A usual one for such pigs counts until you type one.")
_WHERE_WHY = Text("From the stays of the group on this day: past and running as recorded, later ones as planned.")
_CHECKED_WHY = Text("The last daily check of the paddock up to this day.")
_NEXT_WHY = Text("The first planned stay after this day.")


def _own(stage: Stage, words: Text) -> Why:
    return Why(stage.words(words), stage.words(OWN_RECORDS))


def _group(stage: Stage, group: Group) -> CardFacts:
    words = group_words(stage, book_of(stage.session.farm, stage.today), group)
    weight = live_weight(stage.session.farm, group.uid, stage.day)
    facts = [Fact(stage.say("Pigs"), str(weight.pigs), str(group.pig_class), _own(stage, _PIGS_WHY))]
    if weight.pigs and weight.mean_kg:
        total = stage.say("{weight} in all", weight=Quantity(weight.total_kg, "kg"))
        each = stage.say("{weight} each" if weight.pigs > 1 else "{weight}", weight=mean_weight(weight))
        known = total if weight.weighed else stage.say("as such pigs usually weigh")
        why = (
            _own(stage, _WEIGHED_WHY) if weight.weighed else Why(stage.words(_USUAL_WHY), stage.words(COMMON_PRACTICE))
        )
        facts.append(Fact(stage.say("Weight"), each, known, why))
    facts.append(Fact(stage.say("Where"), words.place, words.day_of, _own(stage, _WHERE_WHY)))
    there = book_of(stage.session.farm, stage.today).whereabouts(group, stage.day)
    if there.check is not None:
        facts.append(Fact(stage.say("Checked"), reading_words(stage, there.check), why=_own(stage, _CHECKED_WHY)))
    if words.move_day:
        facts.append(Fact(stage.say("Next"), words.move_day, words.move_to, _own(stage, _NEXT_WHY)))
    facts += end_of_use(stage, group.closed_on)
    return CardFacts(
        title=group.name,
        second=group.breed_type,
        sign=(group.colour_index, letter_of(group)),
        facts=tuple(facts),
        warnings=words.cares,
        deeds=(*day_deeds(stage, group), *own_deeds(stage, "rename", "end group")),
        table="groups",
        uid=group.uid,
        ends_on=group.closed_on,
    )


def _keep_out(stage: Stage, row: KeepOut) -> CardFacts:
    area = row.shape.area * stage.session.farm.projection.ground_per_grid**2
    facts = [Fact(stage.say("Area"), in_words(stage, Quantity(area, "m²")))] if area > 0 else []
    for label, metres in (("Nets", row.net_m), ("Gear", row.gear_m), ("Vehicles", row.vehicle_m)):
        if metres:
            facts.append(Fact(stage.say(label), stage.say("{distance} off", distance=distance(metres))))
    if row.from_month_day and row.to_month_day:
        first, last = month_day_words(stage, row.from_month_day), month_day_words(stage, row.to_month_day)
        facts.append(Fact(stage.say("When"), stage.say("{first} to {last}", first=first, last=last)))
    name = row.name or str(row.reason).capitalize()
    warnings = tuple(stage.words(text) for text in _KEEP_OUT_CARES.get(row.reason, ()))
    card = plain(
        stage, "keep_outs", row.uid, name, stage.say("keep-out, {why}", why=str(row.reason)), "", facts, row.note
    )
    return card._replace(icon="refused", warnings=warnings)


_LINE_CARE = Text("Keep clear of the overhead line. Its owner can tell you the distance.")
_WATER_CARE = Text("Keep pigs, feed and dung off the water. Local rules on the distance come first.")
_KEEP_OUT_CARES = {
    Reason.OVERHEAD_LINE: (_LINE_CARE,),
    Reason.POND: (_WATER_CARE,),
    Reason.WATERCOURSE: (_WATER_CARE,),
    Reason.WELL: (Text("Keep pigs and dung well off the well. Local rules on the distance come first."),),
}


def _place(stage: Stage, place: Place) -> CardFacts:
    east, north = (f"{value:.1f} m" for value in (place.point.x, place.point.y))
    facts = [Fact(stage.say("East"), east, stage.session.farm.projection.name), Fact(stage.say("North"), north)]
    if place.radius_m:
        facts.append(Fact(stage.say("Radius"), in_words(stage, Quantity(place.radius_m, "m"))))
    name = place.name or str(place.kind).capitalize()
    kind = str(place.kind) if place.name else ""
    card = plain(stage, "places", place.uid, name, kind, "", facts, place.note)
    cares = {
        PlaceKind.ENERGIZER: Text("Live fence: switch off before work on it. One energizer to a fence."),
    }
    care = cares.get(place.kind)
    return card._replace(icon=_PLACE_ICONS.get(place.kind, "post"), warnings=(stage.words(care),) if care else ())


_PLACE_ICONS = {
    PlaceKind.GATE: "gate",
    PlaceKind.WATER_POINT: "water",
    PlaceKind.SHED: "roof",
    PlaceKind.LOADING_PLACE: "vehicle",
    PlaceKind.ENERGIZER: "energizer",
    PlaceKind.EARTH_ROD: "post",
}


def _way(stage: Stage, way: Way) -> CardFacts:
    length = way.line.length * stage.session.farm.projection.ground_per_grid
    facts = [Fact(stage.say("Length"), in_words(stage, Quantity(length, "m", 0)))]
    if way.voltage_kv is not None:
        facts.append(Fact(stage.say("Voltage"), in_words(stage, Quantity(way.voltage_kv, "kV"))))
    if way.clearance_m is not None:
        facts.append(Fact(stage.say("Keep off"), in_words(stage, distance(way.clearance_m))))
    if way.minutes_to_clear is not None:
        facts.append(Fact(stage.say("To clear"), stage.say("{minutes} minutes", minutes=f"{way.minutes_to_clear:.0f}")))
    overhead = way.kind is WayKind.OVERHEAD_LINE
    kind = str(way.kind) if way.name else ""
    card = plain(stage, "ways", way.uid, way.name or str(way.kind).capitalize(), kind, "", facts, way.note)
    return card._replace(icon="pole" if overhead else "far", warnings=(stage.words(_LINE_CARE),) if overhead else ())


def _check(stage: Stage, check: Check) -> CardFacts:
    farm = stage.session.farm
    facts = [Fact(stage.say("Reading"), reading_words(stage, check))]
    if check.pigs_seen is not None:
        facts.append(Fact(stage.say("Pigs"), stage.say("{count} counted", count=check.pigs_seen)))
    if check.rooting_score is not None:
        facts.append(Fact(stage.say("Ground"), stage.say("{share} rooted", share=ROOTING_WORDS[check.rooting_score])))
    if check.water_ok is not None:
        facts.append(Fact(stage.say("Water"), stage.say("well") if check.water_ok else stage.say("not well")))
    paddock = farm.paddocks.get(check.paddock_uid)
    day = day_words(check.checked_on, "short year", language=stage.language)
    title = paddock.name if paddock else stage.say("Daily check")
    second = stage.say("daily check, {day}", day=day)
    card = plain(stage, "checks", check.uid, title, second, "check", facts, check.note)
    return card._replace(warnings=(check.damage,) if check.damage else (), deeds=own_deeds(stage, "remove"))


_CARDS: Mapping[str, Callable[[Stage, Any], CardFacts | None]] = {
    "paddocks": paddock_card,
    "stays": _stay,
    "groups": _group,
    "fields": field_card,
    "keep_outs": _keep_out,
    "places": _place,
    "ways": _way,
    "checks": _check,
}
