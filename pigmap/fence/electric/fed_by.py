"""Which energizer feeds which fence on a day, and which pigs are without power when one is switched off."""

from __future__ import annotations

from collections.abc import Mapping
from datetime import date
from typing import NamedTuple

from pigmap.fence.electric.feeding import feeds as feeds
from pigmap.fence.standing import StandingPaddock, standing_on
from pigmap.records import AS_PLANNED, Energizer, Farm
from pigmap.text import Text


def fences_of(farm: Farm, day: date, *, today: date = AS_PLANNED) -> Mapping[str, tuple[StandingPaddock, ...]]:
    """Return the paddocks that stand on a day by the uid of what feeds them; under "" those of which nothing tells."""
    found: dict[str, list[StandingPaddock]] = {}
    for each in standing_on(farm, day, today=today):
        energizer = feeds(farm, each.paddock_uid, each.group_uid)
        found.setdefault(energizer.uid if energizer is not None else "", []).append(each)
    return {uid: tuple(paddocks) for uid, paddocks in found.items()}


class Off(NamedTuple):
    """What a switch takes the power from."""

    energizer: Energizer | None
    """What feeds the fence; None where nothing tells."""
    own_switch: bool
    """Whether the fence that is worked on has a switch of its own, so that the others keep their power."""
    others: tuple[StandingPaddock, ...]
    """Other paddocks that go dead with it."""

    @property
    def group_uids(self) -> tuple[str, ...]:
        """The groups that stand behind a dead fence besides."""
        return tuple(dict.fromkeys(each.group_uid for each in self.others if each.group_uid))


def off_with(farm: Farm, paddock_uid: str, group_uid: str, day: date, *, today: date = AS_PLANNED) -> Off:
    """Return what goes dead on a day when the fence of one group's paddock is switched off.

    With a switch of its own it goes dead alone; else its energizer is switched off, and all that hangs on it.
    """
    paddock = farm.paddocks.get(paddock_uid)
    energizer = feeds(farm, paddock_uid, group_uid)
    if paddock is not None and paddock.own_switch:
        return Off(energizer, own_switch=True, others=())
    on_it = fences_of(farm, day, today=today).get(energizer.uid, ()) if energizer is not None else ()
    others = tuple(each for each in on_it if paddock_uid != each.paddock_uid and each.group_uid != group_uid)
    return Off(energizer, own_switch=False, others=others)


def off_words(farm: Farm, off: Off) -> Text | None:
    """Return which pigs are without power while a fence is worked on; None where it is no others, or not known."""
    if off.own_switch:
        return Text("This fence has a switch of its own: leave the others on.")
    names = [farm.groups[uid].name for uid in off.group_uids if uid in farm.groups]
    if not names or off.energizer is None:
        return None
    groups = Text("{name}", {"name": names[0]})
    for name in names[1:]:
        groups = Text("{before}, {name}", {"before": groups, "name": name})
    return Text("{energizer} off: no power for {groups} either.", {"energizer": off.energizer.name, "groups": groups})
