"""What the figures beside a ghost rest on: what went into each of them, the rule, and the source."""

from __future__ import annotations

from collections.abc import Callable, Mapping, Sequence

from pigmap.animals.weight import live_weight
from pigmap.builtin.tools.ghost import Ghost
from pigmap.builtin.tools.place_figures import fence_ahead
from pigmap.geometry.free_outline import FreeOutline, Placed
from pigmap.geometry.runs import Run
from pigmap.ground.purposes import wanted_on
from pigmap.qt.ground_why import rest_why, rooting_why, wanted_rest_why
from pigmap.qt.lasts_why import Ground, lasts_why
from pigmap.qt.pigs_why import laid_on, laid_words, over_words
from pigmap.qt.stage import Stage
from pigmap.qt.volts_why import volts_why
from pigmap.qt.why import Why, joined, listed, why
from pigmap.records import lasting_on
from pigmap.records.frozen import dataclass
from pigmap.session.placing import Judgement
from pigmap.session.placing.mixing import mixed_words
from pigmap.text import Quantity, Text, Value
from pigmap.text.source import COMMON_PRACTICE, OWN_RECORDS, OWN_WORD

LEAST_M2 = 1.0
"""Less of two pieces of ground in common is the play of nets [grid m²]."""


@dataclass(frozen=True, slots=True, eq=False)
class Asked:
    """One place, or a row of places, whose figures are asked what they rest on."""

    stage: Stage
    ghost: Ghost
    row: Sequence[Placed]
    judged: Sequence[Judgement]

    def why(self, about: str) -> Why:
        """Return what a figure rests on: ``nets``, ``side``, ``area``, ``stay``, ``rest``, ``ground`` or ``volts``."""
        return _WHYS[about](self)


def _metres(stage: Stage, runs: Sequence[Run]) -> str:
    """Return lengths as they are added up: '50 m + 100 m'."""
    return " + ".join(stage.words(Text("{length}", {"length": Quantity(run.length_m, "m", 0)})) for run in runs)


def _nets(asked: Asked) -> Why:
    """Return the stretches that nothing closes yet, in whole nets, and what stands and is spare."""
    stage, kind, first = asked.stage, asked.ghost.kind, asked.judged[0]
    values: dict[str, Value] = {
        "open": _metres(stage, first.open_runs),
        "shared": _metres(stage, first.shared_runs),
        "leaning": _metres(stage, first.leaning_runs),
        "length": Quantity(kind.length_m, "m", 0),
        "carry": first.nets_to_carry,
        "leave": first.nets_to_leave,
        "spare": first.spare_nets or 0,
        "day": asked.ghost.ground.day,
    }
    parts = [Text("Every stretch that is still open takes whole nets of {length}: {open}, so {carry}.", values)]
    if first.nets_of_kinds:
        values["nets"] = mixed_words(first.nets_of_kinds)
        parts = [Text("Every stretch that is still open takes the nets told for its sides: {open}, so {nets}.", values)]
    if not first.open_runs:
        parts = [Text("Nothing of it is open: all its sides stand already.", values)]
    if first.shared_runs:
        parts.append(Text("{shared} stands already; its nets are left: {leave}.", values))
    if first.leaning_runs:
        parts.append(Text("{leaning} is closed by permanent fences and takes no nets.", values))
    if len(asked.judged) > 1:
        parts.append(Text("That is the first; each stands when the next is set."))
    if first.spare_nets is not None and not first.nets_of_kinds:
        parts.append(Text("Spare are the sound ones that do not stand on {day}: {spare}.", values))
    return joined(*(why(stage, part, OWN_RECORDS, COMMON_PRACTICE) for part in parts))


def _area(asked: Asked) -> Why:
    first, choice = asked.row[0], asked.ghost.choice
    if isinstance(first, FreeOutline):
        around: dict[str, Value] = {"count": len(first.points), "round": Quantity(first.round_m, "m", 0)}
        words = "What {count} corners enclose on the ground; its sides are {round} together."
        return why(asked.stage, Text(words, around), OWN_WORD)
    values: dict[str, Value] = {
        "long": Quantity(first.long_mm / 1000, "m", 0),
        "wide": Quantity(first.wide_mm / 1000, "m", 0),
        "nets_long": choice.nets_long,
        "nets_wide": choice.nets_wide,
        "length": Quantity(asked.ghost.kind.length_m, "m", 0),
        "area": Quantity(first.area_m2, "m²"),
        "count": len(asked.row),
    }
    if asked.ghost.told:
        values |= {"long_nets": mixed_words(asked.ghost.told[0]), "wide_nets": mixed_words(asked.ghost.told[1])}
        words = "Sides of {long_nets} and of {wide_nets}, on the ground: {long} \u00d7 {wide} = {area}."
        return why(asked.stage, Text(words, values), OWN_WORD, OWN_RECORDS)
    words = "{nets_long} by {nets_wide} nets of {length}, on the ground: {long} \u00d7 {wide} = {area}."
    if len(asked.row) > 1:
        words = (
            "{count} of {nets_long} by {nets_wide} nets of {length}, on the ground: {long} \u00d7 {wide} = {area} each."
        )
    return why(asked.stage, Text(words, values), OWN_WORD, OWN_RECORDS)


def _side(asked: Asked) -> Why:
    """Return how the posts of a side are counted that is walked."""
    values: dict[str, Value] = {
        "bays": len(asked.ghost.kind.bays_mm),
        "length": Quantity(asked.ghost.kind.length_m, "m", 0),
    }
    words = Text("Posts are counted from where its nets begin: {bays} bays to a net of {length}.", values)
    return why(asked.stage, words, OWN_RECORDS)


def _stay(asked: Asked) -> Why:
    """Return from what the usual days follow, what else would end a stay, and how much weight there would be."""
    stage, ground, first = asked.stage, asked.ghost.ground, asked.judged[0]
    uid = asked.ghost.choice.group_uid
    weight = live_weight(ground.farm, uid, ground.day)
    found = Ground(asked.row[0].outline, first.area_m2, first.field_uid, first.rooting or 0.0)
    days = lasts_why(stage, ground.farm, uid, ground.day, found)
    if not weight.pigs:
        return days
    over = over_words(weight, asked.row[0].area_m2)
    return joined(days, why(stage, over, OWN_RECORDS if weight.weighed else COMMON_PRACTICE))


_UNKNOWN = "{share} of it is not known."
_NEVER = "{share} of it was never used, as somebody said."


def _rest(asked: Asked) -> Why:
    stage, first, ground = asked.stage, asked.judged[0], asked.ghost.ground
    days = first.rest_least_days if first.rest_least_days is not None else -1
    found = [rest_why(stage, days, ground.day, occupied=days == 0 and _is_taken(asked))]
    for share, words in ((first.unknown_share, _UNKNOWN), (first.never_used_share, _NEVER)):
        if share:
            found.append(why(stage, Text(words, {"share": Quantity(share, "1")}), OWN_RECORDS))
    field = ground.farm.fields.get(first.field_uid or "")
    if field is not None:
        found.append(wanted_rest_why(stage, wanted_on(ground.farm, field, ground.day), field))
    return joined(*found)


def _is_taken(asked: Asked) -> bool:
    """Whether pigs are on some of it on the day; ground that they left on that very day has no rest either."""
    ground, outline = asked.ghost.ground, asked.row[0].outline
    there = (each for each in lasting_on(ground.farm, asked.stage.today).values() if each.covers(ground.day))
    return any(each.stay.ground.intersection(outline).area > LEAST_M2 for each in there)


def _ground(asked: Asked) -> Why:
    """Return what the rooting rests on, with the stays that lay there in the last twelve months."""
    stage, first, ground = asked.stage, asked.judged[0], asked.ghost.ground
    laid = laid_on(ground.farm, asked.row[0].outline, ground.day, stage.today)
    load = sum(each.load_kg_d_m2 for each in laid)
    field = ground.farm.fields.get(first.field_uid or "")
    found = rooting_why(stage, field, first.rooting or 0.0, first.seen_on, load)
    if not laid:
        return found
    sums = Text("{sums}.", {"sums": listed(stage, laid_words(laid))})
    return joined(found, why(stage, sums, OWN_RECORDS))


def _volts(asked: Asked) -> Why:
    """Return what the volts at the far end of the first place rest on."""
    ahead = fence_ahead(asked.ghost, asked.row[0], asked.judged[0])
    if ahead is None:
        return why(asked.stage, Text("Nothing tells what feeds it."), OWN_RECORDS)
    return volts_why(asked.stage, ahead.fence, ahead.should, in_grass=True)


_WHYS: Mapping[str, Callable[[Asked], Why]] = {
    "nets": _nets,
    "side": _side,
    "area": _area,
    "stay": _stay,
    "rest": _rest,
    "ground": _ground,
    "volts": _volts,
}
