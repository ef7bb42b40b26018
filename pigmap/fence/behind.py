"""Why a net stays though its group goes: on which side of the old paddock it stands, and which pigs it keeps in."""

from __future__ import annotations

from pigmap.fence.count import PLAY_MM
from pigmap.fence.of_move import MoveNets, Staying
from pigmap.records import Farm
from pigmap.text import Quantity, Text, Value


def stays_because(farm: Farm, staying: Staying) -> Text:
    """Return the side on which nets stay, and who stands behind it."""
    return Text("{side} side, {behind}", {"side": staying.side, "behind": _behind(farm, staying)})


def leave_up(farm: Farm, nets: MoveNets) -> Text | None:
    """Return the step that says which sides stay up, None where none does."""
    found: Text | None = None
    for each in nets.stays:
        own = Text("the {side} side: {behind}", {"side": each.side, "behind": _behind(farm, each)})
        found = own if found is None else Text("{sides}; {more}", {"sides": found, "more": own})
    return Text("Leave up {sides}.", {"sides": found}) if found is not None else None


def side_too_long(nets: MoveNets) -> Text | None:
    """Return the words for nets that are left but do not reach along the side that both use, None where they do."""
    if not nets.to_leave or any(each.kind is None for each in nets.to_leave):
        return None
    along = sum(run.length_m for run in nets.sides.shared)
    net = sum(each.length_m for each in nets.to_leave)
    if along - net <= PLAY_MM / 1000 * sum(each.count for each in nets.to_leave):
        return None
    values: dict[str, Value] = {
        "along": Quantity(along, "m", 1),
        "net": Quantity(net, "m", 0),
        "short": Quantity(along - net, "m", 1),
    }
    return Text("side {along}, net {net}: {short} short. Set the corner nearer or add a net.", values)


def _behind(farm: Farm, staying: Staying) -> Text:
    group = farm.groups.get(staying.behind.group_uid)
    if group is not None:
        return Text("{group} stand behind it", {"group": group.name})
    paddock = farm.paddocks.get(staying.behind.paddock_uid)
    if paddock is not None:
        return Text("{paddock} is behind it", {"paddock": paddock.name})
    return Text("other pigs stand behind it")
