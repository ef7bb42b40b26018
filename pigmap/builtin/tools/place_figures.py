"""What the plate beside the ghost says: its head, its figures, what is against the place."""

from __future__ import annotations

from collections.abc import Sequence
from datetime import date
from typing import NamedTuple

import numpy as np

from pigmap.animals.weight import live_weight
from pigmap.builtin.tools.ghost import Ghost
from pigmap.builtin.tools.place_round import in_the_way
from pigmap.document.edits import usual_days
from pigmap.drawing.tokens import ROOTING_WORDS, rooting_class
from pigmap.drawing.words import day_words
from pigmap.fence.electric.ahead import Ahead
from pigmap.fence.fitted import Spare
from pigmap.fence.told import in_all
from pigmap.geometry.free_outline import FreeOutline, Placed
from pigmap.geometry.rectangle import Rectangle
from pigmap.ground.rest import rest_wanted
from pigmap.qt.stage import Stage
from pigmap.records import ChangeSet, Edit, Paddock
from pigmap.records.frozen import dataclass
from pigmap.session.placing import Judgement, PlacingWarning
from pigmap.session.placing.mixing import mixed_words
from pigmap.text import Quantity, Text, Value

ALMOST_ALL = 0.995
MOST_REASONS = 3


class Row(NamedTuple):
    """One line of figures: what, how much, and more quietly what it rests on."""

    name: str
    figure: str
    beside: str
    about: str = ""
    """``nets``, ``side``, ``area``, ``stay``, ``rest``, ``ground`` or ``volts``: what it rests on is asked by it."""


@dataclass(frozen=True, slots=True)
class PlateWords:
    """All that a plate says."""

    head: str
    second: str
    nets: Row
    """The head as a line of figures, for a plate whose head says 'Not here'."""
    rows: tuple[Row, ...]
    against: str = ""
    """Why it cannot be placed here; empty where it can."""
    remedy: str = ""
    others: tuple[str, ...] = ()
    """What else is against it, each with what puts it right."""
    cares: tuple[str, ...] = ()
    overridable: bool = False
    """Whether a reason lets it be placed all the same."""
    reasons: tuple[str, ...] = ()
    """Ready reasons."""
    held: str = ""
    """What to do next where it is held."""
    deeds: tuple[str, ...] = ()
    """What can be done with it then, besides setting it."""


def plate_words(stage: Stage, ghost: Ghost, row: Sequence[Placed], judged: Sequence[Judgement]) -> PlateWords:
    """Return what the plate says of one paddock, or of a row of them."""
    against = [warning for each in judged for warning in each.warnings if not warning.care]
    cares = _cares(stage, judged)
    ahead = fence_ahead(ghost, row[0], judged[0])
    if ahead is not None and ahead.should.weak is not None:
        cares.append(stage.words(ahead.should.weak))
    worst = against[0] if against else None
    others = dict.fromkeys(_with_remedy(stage, each) for each in against)
    return PlateWords(
        head=stage.words(_head(judged)),
        second=_second(stage, ghost, judged),
        nets=_nets(stage, judged),
        rows=(*_rows(stage, ghost, row, judged[0]), *_volts(stage, ahead)),
        against=stage.words(worst.text) if worst is not None else "",
        remedy=stage.words(worst.remedy) if worst is not None else "",
        others=tuple(others)[1:],
        cares=tuple(dict.fromkeys(cares)),
        overridable=bool(against) and not any(one.hard for one in judged),
        reasons=_reasons(stage, against),
        held=stage.words(HELD_CORNERS if isinstance(row[0], FreeOutline) else HELD),
        deeds=_deeds(ghost, row),
    )


def _deeds(ghost: Ghost, row: Sequence[Placed]) -> tuple[str, ...]:
    """Return what can be done with a ghost that is held, besides setting it."""
    if len(row) > 1:
        return "row", "again"
    if in_the_way(ghost, row[0]):
        return "round", "again", "free"
    return ("again", "free") if isinstance(row[0], FreeOutline) else ("row", "again", "free")


HELD = Text("It is held here. Esc, or a click elsewhere, and it follows you again.")
HELD_CORNERS = Text("Drag a corner, or a side by its middle; Backspace opens it at the last one. Enter sets it.")


def _reasons(stage: Stage, against: Sequence[PlacingWarning]) -> tuple[str, ...]:
    """Return the ready reasons for all that is against a place, those for the worst first."""
    every = dict.fromkeys(stage.words(reason) for warning in against for reason in warning.reasons)
    return tuple(every)[:MOST_REASONS]


def _cares(stage: Stage, judged: Sequence[Judgement]) -> list[str]:
    """Return what wants care; of a row what is said of many alike once, with how many they are."""
    if len(judged) == 1:
        return [_with_remedy(stage, each) for each in judged[0].warnings if each.care]
    alike: dict[str, list[str]] = {}
    for one in judged:
        for each in one.warnings:
            if each.care:
                alike.setdefault(each.text.id, []).append(_with_remedy(stage, each))
    return [_of_many(stage, said) for said in alike.values()]


def _of_many(stage: Stage, said: Sequence[str]) -> str:
    if len(said) == 1:
        return said[0]
    return f"{said[0]} {stage.say('The like is so for {count} of them.', count=len(said))}"


def _with_remedy(stage: Stage, warning: PlacingWarning) -> str:
    return f"{stage.words(warning.text)} {stage.words(warning.remedy)}"


def _head(judged: Sequence[Judgement]) -> Text:
    if len(judged) > 1:
        total = sum(one.nets_to_carry for one in judged)
        return Text("{paddocks} paddocks, {nets} nets in all", {"paddocks": len(judged), "nets": total})
    return nets_words(judged[0])


def _nets(stage: Stage, judged: Sequence[Judgement]) -> Row:
    carried = ", ".join(str(one.nets_to_carry) for one in judged[:6])
    figure = stage.words(Text("{count} net", plural="{count} nets", count=judged[0].nets_to_carry))
    if len(judged) > 1:
        return Row(stage.say("Carry"), carried, stage.say("nets, {count} paddocks", count=len(judged)), "nets")
    left = judged[0].nets_to_leave
    return Row(stage.say("Carry"), figure, stage.say("leave {count}", count=left) if left else "", "nets")


def nets_words(judged: Judgement) -> Text:
    """Return the nets of a paddock as a keeper says them: 'Carry 3 nets, leave 1'."""
    carry = Text("Carry {count} net", plural="Carry {count} nets", count=judged.nets_to_carry)
    if not judged.nets_to_leave:
        return carry
    return Text("{carry}, leave {leave}", {"carry": carry, "leave": judged.nets_to_leave})


def done_words(edit: Edit, changes: ChangeSet, judged: Sequence[Judgement]) -> Text:
    """Return what was placed, and what it takes to set it."""
    placed = list(changes.of("paddocks"))
    if len(placed) != 1 or not judged:
        return edit.label
    values: dict[str, Value] = {"name": str(getattr(placed[0].after, "name", "")), "nets": nets_words(judged[0])}
    return Text("{name} placed. {nets}." if placed[0].before is None else "{name} reshaped. {nets}.", values)


def again_words(paddock: Paddock, judged: Judgement) -> Text:
    """Return which paddock is used again, and what it takes to set it."""
    return Text("{name} again. {nets}.", {"name": paddock.name, "nets": nets_words(judged)})


def _second(stage: Stage, ghost: Ghost, judged: Sequence[Judgement]) -> str:
    kind = ghost.kind
    values: dict[str, Value] = {
        "count": judged[0].nets_to_carry,
        "length": Quantity(kind.length_m, "m"),
        "tape": kind.tape,
        "spare": judged[0].spare_nets if judged[0].spare_nets is not None else 0,
    }
    if len(judged) > 1:
        carried = ", ".join(str(one.nets_to_carry) for one in judged[:8])
        return stage.words(Text("carry {nets}, one move after the other", {"nets": carried}))
    if judged[0].nets_of_kinds:
        return stage.words(
            mixed_words(judged[0].nets_of_kinds, [_spare_of(ghost, each) for each in judged[0].nets_of_kinds])
        )
    pattern = "{count} \u00d7 {length}, {tape} tape" if kind.tape else "{count} \u00d7 {length}"
    if judged[0].spare_nets is not None:
        pattern += "; {spare} spare"
    return stage.words(Text(pattern, values))


def _spare_of(ghost: Ghost, nets: Spare) -> int | None:
    return ghost.ground.spare(nets.kind)


def _rows(stage: Stage, ghost: Ghost, row: Sequence[Placed], judged: Judgement) -> list[Row]:
    found = [_area(stage, row)]
    herd = _herd(stage, ghost, judged.field_uid)
    if herd is not None:
        found.append(Row(stage.say("Stay") if len(row) == 1 else stage.say("Each"), *herd, "stay"))
    if judged.rest_least_days is not None:
        found += [_rest(stage, judged, ghost.ground.day), _ground(stage, judged)]
    return found


def _herd(stage: Stage, ghost: Ghost, field_uid: str | None) -> tuple[str, str] | None:
    """Return the days that the group usually stays in a field, and its pigs; the keeper's own days lead."""
    farm, uid, day = ghost.ground.farm, ghost.choice.group_uid, ghost.ground.day
    if uid not in farm.groups:
        return None
    if field_uid not in ghost.days:
        ghost.days[field_uid] = usual_days(farm, uid, day, field_uid)
    pigs = live_weight(farm, uid, day).pigs
    return (
        stage.words(Text("{days}", {"days": Quantity(ghost.days[field_uid], "d")})),
        stage.words(Text("for {count} pig", plural="for {count} pigs", count=pigs)),
    )


def _area(stage: Stage, row: Sequence[Placed]) -> Row:
    first = row[0]
    area = stage.words(Text("{area}", {"area": Quantity(sum(each.area_m2 for each in row), "m²")}))
    if isinstance(first, FreeOutline):
        return Row(stage.say("Area"), area, stage.say("{count} corners", count=len(first.points)), "area")
    long, wide = (Quantity(side / 1000, "m") for side in (first.long_mm, first.wide_mm))
    bare = stage.words(Text("{long}", {"long": long})).split(" ")[0]
    each = stage.words(Text("{long} \u00d7 {wide}", {"long": bare, "wide": wide}))
    return Row(stage.say("Area"), area, each, "area")


def _rest(stage: Stage, judged: Judgement, day: date) -> Row:
    wanted = rest_wanted(stage.session.farm, judged.field_uid or "", day)
    beside = stage.say("{days} wanted", days=str(wanted)) if wanted is not None else ""
    if judged.rest_least_days == -1:
        return Row(stage.say("Rest"), *_unused(stage, judged), "rest")
    least = stage.words(Text("{days}", {"days": Quantity(judged.rest_least_days or 0, "d")}))
    if judged.unknown_share:
        beside = stage.words(Text("{share} not known", {"share": Quantity(judged.unknown_share, "1")}))
    elif judged.never_used_share:
        beside = stage.words(Text("{share} never used", {"share": Quantity(judged.never_used_share, "1")}))
    return Row(stage.say("Rest"), least, beside, "rest")


def _unused(stage: Stage, judged: Judgement) -> tuple[str, str]:
    """Return what is said of ground on which no pigs are known to have been: never, and not known, are two things."""
    unknown = judged.unknown_share or 0.0
    if unknown >= ALMOST_ALL:
        return stage.say("not known"), stage.say("nothing recorded")
    if unknown:
        return stage.say("never used"), stage.words(Text("{share} not known", {"share": Quantity(unknown, "1")}))
    return stage.say("never used"), stage.say("you said")


def _ground(stage: Stage, judged: Judgement) -> Row:
    words = stage.words(ROOTING_WORDS[int(rooting_class(np.array([judged.rooting or 0.0]))[0])])
    seen = judged.seen_on
    beside = (
        stage.say("seen {day}", day=day_words(seen, "short", language=stage.language))
        if seen is not None
        else stage.say("computed")
    )
    return Row(stage.say("Ground"), stage.say("{much} rooted", much=words), beside, "ground")


def fence_ahead(ghost: Ghost, placed: Placed, judged: Judgement) -> Ahead | None:
    """Return the fence of a place, and what it should read; None where nothing tells what feeds it."""
    nets = judged.nets_to_carry + judged.nets_to_leave
    if ghost.told and isinstance(placed, Rectangle):
        return ghost.fences.of_kinds(in_all(ghost.told), ring=not judged.leaning_runs)
    ring = not judged.leaning_runs and nets * ghost.kind.length_m >= placed.round_m * ALMOST_ALL
    return ghost.fences.fence(nets, ring=ring)


def _volts(stage: Stage, ahead: Ahead | None) -> tuple[Row, ...]:
    """Return the row with the volts at the far end, none where they are not known."""
    if ahead is None:
        return ()
    figure = stage.say("about {volts}", volts=ahead.should.mown.words)
    return (Row(stage.say("Far end"), figure, stage.say("if mown"), "volts"),)
