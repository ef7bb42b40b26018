"""The cards of everything but paddocks: groups, fields, keep-outs, places, ways and daily checks."""

from __future__ import annotations

from collections.abc import Callable, Mapping
from datetime import date
from typing import Any

from pigmap.animals.weight import live_weight
from pigmap.builtin.panels.card_facts import CardDeed, CardFacts, Fact
from pigmap.builtin.panels.day_deeds import day_deeds
from pigmap.builtin.panels.group_words import group_words, mean_weight, reading_words
from pigmap.builtin.panels.paddock_facts import paddock_card
from pigmap.drawing.on_day import letter_of
from pigmap.drawing.tokens import ROOTING_WORDS
from pigmap.drawing.words import day_words
from pigmap.ground.rest import rest_wanted
from pigmap.qt.stage import Picked, Stage
from pigmap.qt.whereabouts import book_of
from pigmap.records import Check, Field, Group, KeepOut, Place, PlaceKind, Reason, Stay, Way, WayKind
from pigmap.session.placing.words import distance
from pigmap.text import Quantity, Text


def card_of(stage: Stage, picked: Picked | None) -> CardFacts | None:
    """Return the card of what is picked; None where it is gone, or has no card."""
    if picked is None or picked.table not in _CARDS:
        return None
    row = stage.session.farm.rows(picked.table).get(picked.uid)
    return _CARDS[picked.table](stage, row) if row is not None else None


def _stay(stage: Stage, stay: Stay) -> CardFacts | None:
    paddock = stage.session.farm.paddocks.get(stay.paddock_uid)
    return paddock_card(stage, paddock, stay) if paddock else None


def _group(stage: Stage, group: Group) -> CardFacts:
    words = group_words(stage, book_of(stage.session.farm, stage.today), group)
    weight = live_weight(stage.session.farm, group.uid, stage.day)
    facts = [Fact(stage.say("Pigs"), str(weight.pigs), str(group.pig_class))]
    if weight.pigs and weight.mean_kg:
        total = stage.say("{weight} in all", weight=Quantity(weight.total_kg, "kg"))
        each = stage.say("{weight} each" if weight.pigs > 1 else "{weight}", weight=mean_weight(weight))
        known = total if weight.weighed else stage.say("as such pigs usually weigh")
        facts.append(Fact(stage.say("Weight"), each, known))
    facts.append(Fact(stage.say("Where"), words.place, words.day_of))
    there = book_of(stage.session.farm, stage.today).whereabouts(group, stage.day)
    if there.check is not None:
        facts.append(Fact(stage.say("Checked"), reading_words(stage, there.check)))
    if words.move_day:
        facts.append(Fact(stage.say("Next"), words.move_day, words.move_to))
    facts += _end(stage, group.closed_on)
    return CardFacts(
        title=group.name,
        second=group.breed_type,
        sign=(group.colour_index, letter_of(group)),
        facts=tuple(facts),
        warnings=words.cares,
        deeds=(*day_deeds(stage, group), *_own_deeds(stage, "rename", "end group")),
        table="groups",
        uid=group.uid,
        ends_on=group.closed_on,
    )


def _field(stage: Stage, field: Field) -> CardFacts:
    farm = stage.session.farm
    area = field.outline.area * farm.projection.ground_per_grid**2
    paddocks = sum(paddock.field_uid == field.uid for paddock in farm.paddocks.values())
    facts = [Fact(stage.say("Area"), _quantity(stage, Quantity(area, "m²")), str(field.ground_cover))]
    facts.append(Fact(stage.say("Paddocks"), str(paddocks)))
    purposes = [row for row in farm.purposes.values() if row.field_uid == field.uid and row.covers(stage.day)]
    if purposes:
        until = stage.say("until {day}", day=_month_day(stage, purposes[0].to_month_day))
        facts.append(Fact(stage.say("Purpose"), str(purposes[0].purpose), until))
    wanted = rest_wanted(farm, field.uid, stage.day)
    if wanted is not None:
        facts.append(Fact(stage.say("Rest"), stage.say("{days} wanted", days=Quantity(wanted, "d"))))
    facts += _field_ground(stage, field)
    if field.soil:
        facts.append(Fact(stage.say("Soil"), field.soil))
    facts += _end(stage, field.retired_on)
    card = _plain(stage, "fields", field.uid, field.name, stage.say("field"), "paddock", facts, field.note)
    return card._replace(deeds=_own_deeds(stage, "rename", "end use", "remove"), ends_on=field.retired_on)


def _end(stage: Stage, day: date | None) -> list[Fact]:
    """Return the row that says from when on a field or a group is no longer in use."""
    if day is None:
        return []
    return [Fact(stage.say("End of use"), day_words(day, "short year", language=stage.language))]


def _field_ground(stage: Stage, field: Field) -> list[Fact]:
    state = stage.session.ground.state(field.uid, stage.day, stage.today)
    under = state.by_field if state is not None else None
    if under is None:
        return []
    return [
        Fact(stage.say("Green"), _quantity(stage, Quantity(under.cover, "1")), stage.say("of the ground")),
        Fact(stage.say("Not used"), _quantity(stage, Quantity(under.never_used, "1")), stage.say("of the ground")),
    ]


def _keep_out(stage: Stage, row: KeepOut) -> CardFacts:
    area = row.shape.area * stage.session.farm.projection.ground_per_grid**2
    facts = [Fact(stage.say("Area"), _quantity(stage, Quantity(area, "m²")))] if area > 0 else []
    for label, metres in (("Nets", row.net_m), ("Gear", row.gear_m), ("Vehicles", row.vehicle_m)):
        if metres:
            facts.append(Fact(stage.say(label), stage.say("{distance} off", distance=distance(metres))))
    if row.from_month_day and row.to_month_day:
        first, last = _month_day(stage, row.from_month_day), _month_day(stage, row.to_month_day)
        facts.append(Fact(stage.say("When"), stage.say("{first} to {last}", first=first, last=last)))
    name = row.name or str(row.reason).capitalize()
    warnings = tuple(stage.words(text) for text in _KEEP_OUT_CARES.get(row.reason, ()))
    card = _plain(
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
        facts.append(Fact(stage.say("Radius"), _quantity(stage, Quantity(place.radius_m, "m"))))
    name = place.name or str(place.kind).capitalize()
    kind = str(place.kind) if place.name else ""
    card = _plain(stage, "places", place.uid, name, kind, "", facts, place.note)
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
    facts = [Fact(stage.say("Length"), _quantity(stage, Quantity(length, "m", 0)))]
    if way.voltage_kv is not None:
        facts.append(Fact(stage.say("Voltage"), _quantity(stage, Quantity(way.voltage_kv, "kV"))))
    if way.clearance_m is not None:
        facts.append(Fact(stage.say("Keep off"), _quantity(stage, distance(way.clearance_m))))
    if way.minutes_to_clear is not None:
        facts.append(Fact(stage.say("To clear"), stage.say("{minutes} minutes", minutes=f"{way.minutes_to_clear:.0f}")))
    overhead = way.kind is WayKind.OVERHEAD_LINE
    kind = str(way.kind) if way.name else ""
    card = _plain(stage, "ways", way.uid, way.name or str(way.kind).capitalize(), kind, "", facts, way.note)
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
    card = _plain(stage, "checks", check.uid, title, second, "check", facts, check.note)
    return card._replace(warnings=(check.damage,) if check.damage else (), deeds=_own_deeds(stage, "remove"))


def _plain(
    stage: Stage, table: str, uid: str, title: str, second: str, icon: str, facts: list[Fact], note: str
) -> CardFacts:
    if note:
        facts = [*facts, Fact(stage.say("Note"), note)]
    deeds = _own_deeds(stage, "rename", "remove")
    return CardFacts(title, second, icon=icon, facts=tuple(facts), deeds=deeds, table=table, uid=uid)


def _own_deeds(stage: Stage, *names: str) -> tuple[CardDeed, ...]:
    if stage.session.read_only:
        return ()
    words = {
        "rename": stage.say("Rename"),
        "end use": stage.say("End of use"),
        "end group": stage.say("End group"),
        "remove": stage.say("Remove"),
    }
    return tuple(CardDeed(name, words[name]) for name in names)


def _quantity(stage: Stage, quantity: Quantity) -> str:
    return stage.words(Text("{quantity}", {"quantity": quantity}))


def _month_day(stage: Stage, month_day: str) -> str:
    month, day = (int(part) for part in month_day.split("-"))
    return day_words(date(2024, month, min(day, 29) if month == 2 else day), language=stage.language).split(" ", 1)[1]


_CARDS: Mapping[str, Callable[[Stage, Any], CardFacts | None]] = {
    "paddocks": paddock_card,
    "stays": _stay,
    "groups": _group,
    "fields": _field,
    "keep_outs": _keep_out,
    "places": _place,
    "ways": _way,
    "checks": _check,
}
