"""Reasons of the trade with which a paddock is placed in spite of what is against it, ready to be taken."""

from __future__ import annotations

from pigmap.records import Reason
from pigmap.session.placing.obstacles import Obstacle, ObstacleKind
from pigmap.text import Text

LONGEST = 120
"""Most characters of a reason: it stands in one line of a card."""

SEEN = Text("seen on the spot, it fits")
OUTSIDE = (Text("the edge of the field is drawn wrong"), Text("agreed with the neighbour"))
NETS_SHORT = (Text("nets are borrowed for it"), Text("more nets are on the way"))
MIXED = Text("nets of another length fill in")
CLOSED = (Text("agreed with whoever closed it"), Text("the dates have changed"))

_KEEP_OUTS = {
    Reason.POND: (Text("the pond is dry"), Text("the pond has a fence of its own")),
    Reason.WATERCOURSE: (Text("the watercourse is dry"), Text("the bank has a fence of its own")),
    Reason.WELL: (Text("the well is out of use"),),
    Reason.WET: (Text("the ground is dry now"), Text("frozen hard then")),
    Reason.FLOOD: (Text("no flood is to be expected then"),),
    Reason.STEEP: (Text("nets stand well on that slope"),),
    Reason.ROOTS: (Text("the trees have a fence of their own"), Text("the trees are felled")),
    Reason.PATH: (Text("the path is closed then"), Text("a safe way round is left")),
    Reason.WILDLIFE: (Text("agreed, the young have flown"),),
}


def ready_reasons(obstacle: Obstacle) -> tuple[Text, ...]:
    """Return a few reasons that a keeper may have where a paddock touches something; none where none helps."""
    if obstacle.hard:
        return ()
    match obstacle.kind:
        case ObstacleKind.KEEP_OUT:
            own = _KEEP_OUTS.get(obstacle.reason or Reason.OTHER, ())
        case ObstacleKind.CROSSED_WAY:
            own = (Text("a safe way round is left"), Text("agreed with whoever it belongs to"))
        case ObstacleKind.BARBED:
            own = (Text("the barbed wire is taken off"), Text("nets stand on posts of their own"))
        case ObstacleKind.STANDING:
            own = (Text("it is taken up by then"),)
        case ObstacleKind.STAY:
            own = (Text("they will be gone by then"), Text("the two groups may meet"))
        case _:
            own = ()
    return (*own, SEEN)
