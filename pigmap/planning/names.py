"""What a breach calls paddocks and groups, also those that other software took out of the file."""

from __future__ import annotations

from pigmap.records import Farm
from pigmap.text import Text, Value


def paddock_called(farm: Farm, uid: str) -> Value:
    """Return the name of a paddock, or what to call one that the farm no longer has."""
    paddock = farm.paddocks.get(uid)
    return paddock.name if paddock is not None else Text("a paddock that is gone")


def group_called(farm: Farm, uid: str) -> Value:
    """Return the name of a group, or what to call one that the farm no longer has."""
    group = farm.groups.get(uid)
    return group.name if group is not None else Text("pigs of a group that is gone")
