"""Why a net stays though its group goes: on which side of the old paddock it stands, and which pigs it keeps in."""

from __future__ import annotations

from pigmap.fence.of_move import MoveNets, Staying
from pigmap.records import Farm
from pigmap.text import Text


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


def _behind(farm: Farm, staying: Staying) -> Text:
    group = farm.groups.get(staying.behind.group_uid)
    if group is not None:
        return Text("{group} stand behind it", {"group": group.name})
    paddock = farm.paddocks.get(staying.behind.paddock_uid)
    if paddock is not None:
        return Text("{paddock} is behind it", {"paddock": paddock.name})
    return Text("other pigs stand behind it")
