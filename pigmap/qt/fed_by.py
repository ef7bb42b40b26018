"""What can be chosen to feed a fence, as people say it."""

from __future__ import annotations

from pigmap.qt.stage import Stage
from pigmap.records import PlaceKind

NOT_ELECTRIC = "not electric"
AS_ITS_PIGS = ""


def fence_choices(stage: Stage) -> list[tuple[str, str]]:
    """Return what can feed a permanent fence: what is said, and the uid of a place, nothing, or `NOT_ELECTRIC`."""
    choices = [(stage.say("not electric"), NOT_ELECTRIC)]
    for place in stage.session.farm.places.values():
        if place.kind is PlaceKind.ENERGIZER:
            named = place.name or stage.say("an energizer")
            choices.append((stage.say("fed by {energizer}", energizer=named), place.uid))
    return [*choices, (stage.say("electric, not known by which"), "")]


def paddock_choices(stage: Stage) -> list[tuple[str, str]]:
    """Return what can feed the nets of a paddock: what is said, and the uid of an energizer or `AS_ITS_PIGS`."""
    choices = [(stage.say("whatever its pigs have"), AS_ITS_PIGS)]
    for energizer in stage.session.farm.energizers.values():
        choices.append((stage.say("fed by {energizer}", energizer=energizer.name), energizer.uid))
    return choices
