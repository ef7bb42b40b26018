"""The cards of what lies in and around the fields: keep-outs, places and ways."""

from __future__ import annotations

from shapely.geometry.base import BaseGeometry

from pigmap.builtin.panels.card_facts import CardDeed, CardFacts, Fact
from pigmap.builtin.panels.card_parts import corners_of, in_words, month_day_words, own_deeds, plain
from pigmap.builtin.panels.energizer_facts import energizer_facts, energizer_of
from pigmap.fence.cautions.earths import earths_too_near
from pigmap.fence.cautions.things import metres as distance
from pigmap.fence.tables import OVERHEAD_SOURCE, overhead_clearance_m
from pigmap.qt.stage import Stage
from pigmap.qt.why import Why, joined, why
from pigmap.records import KeepOut, Place, PlaceKind, Reason, Way, WayKind
from pigmap.text import Quantity, Text, Value
from pigmap.text.source import OWN_RECORDS, OWN_WORD


def keep_out_card(stage: Stage, row: KeepOut) -> CardFacts:
    """Return the card of a keep-out."""
    area = row.shape.area * stage.session.farm.projection.ground_per_grid**2
    facts = []
    if area > 0:
        size = in_words(stage, Quantity(area, "m²"))
        facts.append(Fact(stage.say("Area"), size, why=_drawn_why(stage, row.shape)))
    for label, metres in (("Nets", row.net_m), ("Gear", row.gear_m), ("Vehicles", row.vehicle_m)):
        if metres:
            off = stage.say("{distance} off", distance=distance(metres))
            facts.append(Fact(stage.say(label), off, why=_off_why(stage, row, label, metres)))
    if row.from_month_day and row.to_month_day:
        first, last = month_day_words(stage, row.from_month_day), month_day_words(stage, row.to_month_day)
        facts.append(
            Fact(stage.say("When"), stage.say("{first} to {last}", first=first, last=last), why=_when_why(stage, row))
        )
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


def place_card(stage: Stage, place: Place) -> CardFacts:
    """Return the card of a place."""
    east, north = (f"{value:.1f} m" for value in (place.point.x, place.point.y))
    grid, where = stage.session.farm.projection.name, _where_why(stage, east, north)
    facts = [Fact(stage.say("East"), east, grid, where), Fact(stage.say("North"), north, why=where)]
    if place.radius_m:
        radius = Quantity(place.radius_m, "m")
        wide = typed_why(stage, "{radius} all round its middle.", radius=radius)
        facts.append(Fact(stage.say("Radius"), in_words(stage, radius), why=wide))
    told = energizer_of(stage, place) if place.kind is PlaceKind.ENERGIZER else None
    facts = [*(energizer_facts(stage, told) if told is not None else ()), *facts]
    name = place.name or str(place.kind).capitalize()
    kind = str(place.kind) if place.name else ""
    card = plain(stage, "places", place.uid, name, kind, "", facts, place.note)
    if place.kind is PlaceKind.ENERGIZER:
        card = card._replace(deeds=(*own_deeds(stage, "gives"), *card.deeds))
    if place.kind is PlaceKind.TREE:
        card = card._replace(deeds=(*_figure_deed(stage, "How far nets keep off"), *card.deeds))
    cares = {
        PlaceKind.ENERGIZER: Text("Live fence: switch off before work on it. One energizer to a fence."),
    }
    care = cares.get(place.kind)
    near = [each.caution for each in earths_too_near(stage.session.farm) if place in each.places]
    said = [f"{stage.words(caution.words)} {stage.words(caution.remedy)}" for caution in near]
    warnings = (*((stage.words(care),) if care else ()), *said)
    return card._replace(icon=_PLACE_ICONS.get(place.kind, "post"), warnings=warnings)


_PLACE_ICONS = {
    PlaceKind.GATE: "gate",
    PlaceKind.WATER_POINT: "water",
    PlaceKind.SHED: "roof",
    PlaceKind.LOADING_PLACE: "vehicle",
    PlaceKind.ENERGIZER: "energizer",
    PlaceKind.EARTH_ROD: "post",
}


def way_card(stage: Stage, way: Way) -> CardFacts:
    """Return the card of a way."""
    facts = [_length(stage, way)]
    if way.voltage_kv is not None:
        volts = Quantity(way.voltage_kv, "kV")
        words = "{volts}, as it was told of this {kind}."
        reason = typed_why(stage, words, volts=volts, kind=Text(str(way.kind)))
        facts.append(Fact(stage.say("Voltage"), in_words(stage, volts), why=reason))
    if way.height_m is not None:
        high = in_words(stage, distance(way.height_m))
        reason = typed_why(stage, "{height}, as it was told of the lowest wire.", height=distance(way.height_m))
        facts.append(Fact(stage.say("Lowest wire"), high, why=reason))
    if way.communication:
        facts.append(
            Fact(stage.say("Carries"), stage.say("telephone or data"), why=typed_why(stage, "As it was told."))
        )
    if way.kind is WayKind.PERMANENT_FENCE:
        facts.append(_fed_fact(stage, way))
    if way.clearance_m is not None:
        off = in_words(stage, distance(way.clearance_m))
        facts.append(Fact(stage.say("Keep off"), off, why=_clearance_why(stage, way, way.clearance_m)))
    if way.minutes_to_clear is not None:
        minutes = stage.say("{minutes} minutes", minutes=f"{way.minutes_to_clear:.0f}")
        reason = typed_why(stage, "{minutes} to clear it for nets, as it was told.", minutes=minutes)
        facts.append(Fact(stage.say("To clear"), minutes, why=reason))
    overhead = way.kind is WayKind.OVERHEAD_LINE
    kind = str(way.kind) if way.name else ""
    card = plain(stage, "ways", way.uid, way.name or str(way.kind).capitalize(), kind, "", facts, way.note)
    deeds = own_deeds(stage, *_WAY_DEEDS.get(way.kind, ()))
    if way.kind is WayKind.RIDE:
        deeds = _figure_deed(stage, "Minutes to clear")
    warnings = (stage.words(_LINE_CARE),) if overhead else ()
    return card._replace(icon="pole" if overhead else "far", warnings=warnings, deeds=(*deeds, *card.deeds))


_WAY_DEEDS = {WayKind.OVERHEAD_LINE: ("volts",), WayKind.PERMANENT_FENCE: ("fed",)}


def _figure_deed(stage: Stage, words: str) -> tuple[CardDeed, ...]:
    return tuple(deed._replace(words=stage.say(words)) for deed in own_deeds(stage, "figure"))


def _fed_fact(stage: Stage, way: Way) -> Fact:
    by_word = why(stage, Text("As it was told of this fence."), OWN_WORD)
    place = stage.session.farm.places.get(way.energizer_uid or "")
    if not way.electric:
        return Fact(stage.say("Electric"), stage.say("no"), why=by_word)
    if place is None:
        return Fact(stage.say("Electric"), stage.say("yes"), stage.say("not known by which energizer"), by_word)
    named = place.name or stage.say("an energizer")
    return Fact(stage.say("Electric"), stage.say("yes"), stage.say("fed by {energizer}", energizer=named), by_word)


def _length(stage: Stage, way: Way) -> Fact:
    length = Quantity(way.line.length * stage.session.farm.projection.ground_per_grid, "m", 0)
    points: dict[str, Value] = {"points": len(way.line.coords)}
    reason = why(
        stage, Text("Measured along the {points} points it was drawn with, on the ground.", points), OWN_RECORDS
    )
    return Fact(stage.say("Length"), in_words(stage, length), why=reason)


# What each figure rests on


def typed_why(stage: Stage, words: str, **values: Value) -> Why:
    """Return that somebody told a figure, with that figure."""
    return why(stage, Text(words, values), OWN_WORD)


def _drawn_why(stage: Stage, shape: BaseGeometry) -> Why:
    values: dict[str, Value] = {"corners": corners_of(shape)}
    return why(stage, Text("Measured from its {corners} corners, on the ground.", values), OWN_RECORDS)


_KEPT = {
    "Nets": "Nets keep {metres} off the {reason}.",
    "Gear": "Gear keeps {metres} off the {reason}.",
    "Vehicles": "Vehicles keep {metres} off the {reason}.",
}


def _off_why(stage: Stage, row: KeepOut, label: str, metres: float) -> Why:
    values: dict[str, Value] = {"metres": distance(metres), "reason": Text(str(row.reason))}
    return why(stage, Text(_KEPT[label], values), OWN_WORD)


def _when_why(stage: Stage, row: KeepOut) -> Why:
    first, last = (month_day_words(stage, each or "") for each in (row.from_month_day, row.to_month_day))
    return typed_why(stage, "Kept out of from {first} to {last}; on other days it is not.", first=first, last=last)


def _where_why(stage: Stage, east: str, north: str) -> Why:
    grid = stage.session.farm.projection.name
    values: dict[str, Value] = {"east": east, "north": north, "grid": grid}
    return why(stage, Text("Its pin on the map: {east} east, {north} north in {grid}.", values), OWN_RECORDS)


def _clearance_why(stage: Stage, way: Way, metres: float) -> Why:
    """Return what the distance from a way rests on; from an overhead line with the least that is in print."""
    told = typed_why(
        stage, "{metres}, as it was told of this {kind}.", metres=distance(metres), kind=Text(str(way.kind))
    )
    if way.kind is not WayKind.OVERHEAD_LINE:
        return told
    values: dict[str, Value] = {"least": distance(overhead_clearance_m(way.voltage_kv))}
    if way.voltage_kv is None:
        printed = Text("The least in print where the voltage is not known is {least}.", values)
    else:
        printed = Text("The least in print for {volts} is {least}.", values | {"volts": Quantity(way.voltage_kv, "kV")})
    return joined(told, why(stage, printed, OVERHEAD_SOURCE))
