"""The steps of a move in words, in the order in which no fence is ever open to the outside."""

from __future__ import annotations

from collections.abc import Iterable

import numpy as np

from pigmap.builtin.reports.sheet_nets import net_words
from pigmap.drawing.letters import breadth
from pigmap.drawing.on_day import Shown, short_name
from pigmap.fence.behind import leave_up, stays_because
from pigmap.fence.of_move import Nets
from pigmap.geometry.compass import wind
from pigmap.planning.gear_order import gear_words
from pigmap.planning.moves_of_day import Move
from pigmap.records import Farm, GearKind, Paddock
from pigmap.text import Text, Value

_LONG_MM = 15.0
"""Names of paddocks up to here stand in the steps; longer ones are told of as the new and the old paddock."""


def steps_of(farm: Farm, move: Move, pigs: int, gear: Iterable[GearKind] = ()) -> tuple[Text, ...]:
    """Return the steps of a move; their order is common practice, and local practice comes first.

    Parameters
    ----------
    farm, move, pigs
        Which move, and how many pigs.
    gear
        What gear the group has, as far as it is known.
    """
    values: dict[str, Value] = {
        "new": in_short(farm, move.new, Text("the new paddock")),
        "old": in_short(farm, move.old, Text("the old paddock")),
        "count": Text("{count} pigs", plural="{count} pigs", count=pigs) if pigs > 1 else Text("the pigs"),
    }
    if move.old_outline is None:
        return _from_elsewhere(move, values)
    stays = leave_up(farm, move.nets)
    last = (*([stays] if stays is not None else []), _take_down(move, values))
    if move.shared_line is None:
        return (*_across(move, values), *last)
    return (*_through_side(move, values, gear_words(gear)), *last)


def _through_side(move: Move, values: dict[str, Value], gear: Text) -> tuple[Text, ...]:
    first, last = _ends(move)
    opened = (
        Text("Switch off. Open the side from inside, several posts wide.")
        if move.opens_at_corner
        else Text("Switch off. Open the side near its middle, from inside, several posts wide; its ends stay up.")
    )
    return (
        _drive_in(move, values),
        Text("Set the new sides, {first} end to {last} end.", {"first": first, "last": last})
        if move.nets.to_set
        else Text("All sides stand. Walk round them."),
        Text("Close. Switch on. Read the volts."),
        opened,
        Text("Pigs cross. Count {count}. Water on both sides until then.", values),
        gear,
        Text("If there is a vehicle: back through the opening, into {old}.", values),
        Text("Close the side. Switch on. Read the volts."),
    )


def _across(move: Move, values: dict[str, Value]) -> tuple[Text, ...]:
    """Return the steps where old and new share no side: the pigs walk a closed way between two closed paddocks."""
    return (
        _drive_in(move, values),
        Text("Set all sides of {new}. Nothing opens yet.", values),
        Text("Close. Switch on. Read the volts before any pig walks."),
        *_walk(move, values),
        Text("Count {count}. Water on both sides until then. Gear the same way, a hut last.", values),
        Text("Close {new} behind them. Switch on. Read the volts.", values),
        Text("Only then take the way down. If there is a vehicle: into {old}, with no pig left there.", values),
    )


def _walk(move: Move, values: dict[str, Value]) -> tuple[Text, Text]:
    if move.overlaps:
        return (
            Text("The two overlap. Local practice first. Two people, boards: hold the pigs back while you build."),
            Text("Switch off. Open only between the two, never to the outside. Lead the pigs over."),
        )
    return (
        Text("Local practice first. Two people, boards: build a closed way from {old} to {new}.", values),
        Text("Switch off. Open both paddocks into the closed way only, never to the outside. Lead the pigs over."),
    )


def _from_elsewhere(move: Move, values: dict[str, Value]) -> tuple[Text, ...]:
    return (
        _drive_in(move, values),
        Text("Set all sides of {new}. Nothing opens yet.", values),
        Text("Close. Switch on. Read the volts before any pig comes."),
        Text("Water, shade and feed stand ready inside."),
        Text("Local practice first. Two people, boards: a closed way, or a trailer driven inside."),
        Text("Switch off. Open to the closed way only, never to the outside. Lead the pigs in."),
        Text("Count {count}.", values),
        Text("Close behind them. Switch on. Read the volts."),
        Text("Stay until the pigs know the fence."),
    )


def _drive_in(move: Move, values: dict[str, Value]) -> Text:
    count = sum(nets.count for nets in move.nets.to_set)
    if not count:
        return Text("Go into {new}, with the vehicle if there is one.", values)
    nets = Text("{count} net", plural="{count} nets", count=count)
    return Text("Go into {new} with {nets}, and the vehicle if there is one.", {**values, "nets": nets})


def _take_down(move: Move, values: dict[str, Value]) -> Text:
    count = sum(nets.count for nets in move.nets.to_take_up)
    if not count and not move.nets.to_take_up:
        return Text("No net to take down. Go out over {old}: no pig is left there.", values)
    nets = Text("{count} net", plural="{count} nets", count=count) if count else Text("the nets")
    return Text(
        "Take down {nets} from inside {old}. Go out over its ground: no pig is left there.", {**values, "nets": nets}
    )


def _ends(move: Move) -> tuple[Text, Text]:
    """Return the ends of the side that both use as winds, the end at the opening first."""
    assert move.shared_line is not None
    first, last = np.asarray(move.shared_line[0]), np.asarray(move.shared_line[-1])
    if move.opening is not None and np.hypot(*(last - move.opening)) < np.hypot(*(first - move.opening)):
        first, last = last, first
    east, north = (first - last).tolist()
    return wind(east, north), wind(-east, -north)


def in_short(farm: Farm, paddock: Paddock | None, otherwise: Text) -> str | Text:
    """Return a paddock's name where it is short enough for a step."""
    name = paddock_name(farm, paddock)
    if not name or breadth(name, 3.1) > _LONG_MM:
        return otherwise
    return Text("paddock {name}", {"name": name}) if name[0].isdigit() else name


def paddock_name(farm: Farm, paddock: Paddock | None) -> str:
    """Return a paddock's name without its field's; empty where it is not known."""
    return short_name(Shown(paddock, None, None, paddock.outline), farm) if paddock is not None else ""


def whence(farm: Farm, move: Move) -> Text:
    """Return from where to where."""
    if move.old is None:
        return Text("to {new}", {"new": move.new.name})
    same = move.old.field_uid is not None and move.old.field_uid == move.new.field_uid
    new = paddock_name(farm, move.new) if same else move.new.name
    return Text("{old} to {new}", {"old": move.old.name, "new": new})


def nets_summary(move: Move) -> Text:
    """Return the nets of a move in one line: to set, to leave, to take up."""
    text = Text("Set {set}.", {"set": _listed(move.nets.to_set)})
    if move.nets.to_leave:
        text = Text("{before} Leave {leave}.", {"before": text, "leave": _listed(move.nets.to_leave)})
    if move.nets.to_take_up:
        text = Text("{before} Take up {nets}.", {"before": text, "nets": _listed(move.nets.to_take_up)})
    return text


def nets_staying(farm: Farm, move: Move) -> tuple[Text, ...]:
    """Return the nets that stay for others, each side for itself."""
    return tuple(
        Text("Stays: {nets}, {because}.", {"nets": _with_numbers(each.nets), "because": stays_because(farm, each)})
        for each in move.nets.stays
    )


def _listed(nets: tuple[Nets, ...]) -> Text:
    return listed([_with_numbers(each) for each in nets])


def _with_numbers(nets: Nets) -> Text:
    if not nets.numbers:
        return net_words(nets)
    numbers = ", ".join(nets.numbers)
    return Text("{nets} (no. {numbers})", {"nets": net_words(nets), "numbers": numbers})


def listed(parts: list[Text]) -> Text:
    """Return parts with commas between them; ``none`` where there are none."""
    if not parts:
        return Text("none")
    text = parts[0]
    for part in parts[1:]:
        text = Text("{before}, {part}", {"before": text, "part": part})
    return text
