"""What the moves of a day say in the window: where from, where to, the nets, the way."""

from __future__ import annotations

from collections.abc import Sequence
from datetime import date
from typing import NamedTuple

from pigmap.drawing.on_day import Shown, letter_of, short_name
from pigmap.drawing.words import day_words
from pigmap.fence.behind import side_too_long, stays_because
from pigmap.fence.moving import move_time
from pigmap.fence.of_move import Nets
from pigmap.fence.walking import nets_a_trip
from pigmap.planning.moves_of_day import Move, ground_taken, moves_of_day, nets_short, next_move_day, to_load
from pigmap.qt.stage import Stage
from pigmap.records import Farm, Paddock
from pigmap.text import Quantity, Text, Value


class MoveWords(NamedTuple):
    """One move."""

    uid: str
    """The paddock it goes to."""
    group_uid: str
    number: int
    colour_index: int
    letter: str
    group: str
    way: str
    """From where to where."""
    lines: tuple[str, ...]
    """The nets, and how far it is from the move before."""

    @property
    def spoken(self) -> str:
        """All of it, for a screen reader."""
        return ", ".join((f"{self.number}", self.group, self.way, *self.lines))


class DayWords(NamedTuple):
    """All moves of a day."""

    day: str
    moves: tuple[MoveWords, ...]
    load: str
    """What to carry from the start."""
    short: str
    """What is missing of it, if anything."""
    lasts: str
    """How long the moves take one person, and two."""
    walk: str
    """How far one person walks with nets, empty where that is not known."""
    none: str
    """What to say where no group moves."""
    next_day: date | None
    """The next day with a move, where there is none on this one."""


def day_of_moves(stage: Stage) -> DayWords:
    """Return the moves of the day that is shown."""
    farm, day = stage.session.farm, stage.day
    moves = moves_of_day(farm, day, stage.today)
    after = next_move_day(farm, day, stage.today) if not moves else None
    load = to_load(moves)
    return DayWords(
        day_words(day, "full", language=stage.language),
        tuple(_words(stage, number, move) for number, move in enumerate(moves, 1)),
        stage.say("Take along: {nets}", nets=_nets(load)) if load else "",
        _short(stage, nets_short(farm, moves, day, stage.today)),
        _lasts(stage, farm, len(moves)),
        _walk(stage, farm, moves),
        "" if moves else _none(stage, after),
        after,
    )


def _short(stage: Stage, count: int) -> str:
    if not count:
        return ""
    words = Text(
        "{count} net more than lie spare. Have one more, or move a group on another day.",
        plural="{count} nets more than lie spare. Have more, or move a group on another day.",
        count=count,
    )
    return stage.words(words)


def _lasts(stage: Stage, farm: Farm, moves: int) -> str:
    if not moves:
        return ""
    each = move_time(farm)
    usual = "Usually about {alone} minutes for one person, {two} for two, feed and huts not counted (common practice)."
    own = (
        "About {alone} minutes for one person, {two} for two, as {count} moves of this farm went; feed and huts not "
        "counted."
    )
    values: dict[str, Value] = {
        "alone": f"{moves * each.alone:.0f}",
        "two": f"{moves * each.two:.0f}",
        "count": str(each.own_moves),
    }
    return stage.words(Text(own if each.own_moves else usual, values))


def _walk(stage: Stage, farm: Farm, moves: Sequence[Move]) -> str:
    from pigmap.planning.walk_of_move import walk_of  # takes no time at the start

    a_trip = nets_a_trip(farm)
    walks = [walk for move in moves if (walk := walk_of(farm, move, a_trip)) is not None]
    if not walks:
        return ""
    values: dict[str, Value] = {
        "way": Quantity(round(sum(walk.walk_m for walk in walks), -1), "m", 0),
        "trips": str(sum(walk.trips for walk in walks)),
        "two": str(sum(walk.trips_two for walk in walks)),
    }
    return stage.words(Text("About {way} on foot with nets, {trips} trips; for two people {two} trips each.", values))


def against_the_order(stage: Stage) -> Text | None:
    """Return what is against the order of the moves of the shown day, None if nothing is."""
    taken = ground_taken(moves_of_day(stage.session.farm, stage.day, stage.today))
    if taken is None:
        return None
    move, later = taken
    return Text(
        "In this order {group} come to {paddock} while {others} still stand there. Move {others} first.",
        {"group": move.group.name, "paddock": move.new.name, "others": later.group.name},
    )


def _none(stage: Stage, after: date | None) -> str:
    day = day_words(stage.day, "full", language=stage.language)
    if after is None:
        return stage.say("No move on {day}, and none is planned after it. Place a paddock for a group (P).", day=day)
    return stage.say(
        "No move on {day}. The next is on {next}.", day=day, next=day_words(after, "full", language=stage.language)
    )


def _name_after(farm: Farm, old: Paddock, new: Paddock) -> str:
    """Return the name of the new paddock, without that of its field where the old one lies in it too."""
    if old.field_uid is None or old.field_uid != new.field_uid:
        return new.name
    return short_name(Shown(new, None, None, new.outline), farm)


def _words(stage: Stage, number: int, move: Move) -> MoveWords:
    way = stage.say("to {new}", new=move.new.name)
    if move.old is not None:
        way = stage.say("{old} to {new}", old=move.old.name, new=_name_after(stage.session.farm, move.old, move.new))
    lines = []
    if move.nets.to_set:
        lines.append(stage.say("set {nets}", nets=_nets(move.nets.to_set)))
    if move.nets.to_leave:
        lines.append(stage.say("leave {nets}", nets=_nets(move.nets.to_leave)))
    for each in move.nets.stays:
        because = stays_because(stage.session.farm, each)
        lines.append(stage.say("stays: {nets}, {because}", nets=_nets([each.nets]), because=because))
    if move.nets.to_take_up:
        lines.append(stage.say("take up {nets}", nets=_nets(move.nets.to_take_up)))
    short = side_too_long(move.nets)
    if short is not None:
        lines.append(stage.words(short))
    if move.drive_m is not None:
        lines.append(stage.say("{way} away in a straight line", way=Quantity(move.drive_m, "m", 0)))
    return MoveWords(
        move.new.uid,
        move.group.uid,
        number,
        move.group.colour_index,
        letter_of(move.group, stage.session.farm),
        move.group.name,
        way,
        tuple(lines),
    )


def _nets(nets: Sequence[Nets]) -> Text:
    """Return nets by length and tape: 3 of 50 m blue."""
    found: Text | None = None
    for each in nets:
        length = Quantity(each.kind.length_m if each.kind is not None else each.length_m, "m", 0)
        own = Text("{length} of net", {"length": length})
        if each.kind is not None:
            words = "{count} of {length} {tape}" if each.kind.tape else "{count} of {length}"
            own = Text(words, {"count": each.count, "length": length, "tape": each.kind.tape})
        found = own if found is None else Text("{nets}, {more}", {"nets": found, "more": own})
    return found if found is not None else Text("no nets")
