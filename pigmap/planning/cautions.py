"""Cautions about fences as breaches: what was is a fact, what is planned can still be changed."""

from __future__ import annotations

from collections.abc import Callable, Iterable, Iterator
from typing import Literal

from pigmap.fence.cautions.caution import Caution, LiveGround
from pigmap.fence.electric.fed_by import feeds
from pigmap.planning.names import paddock_called
from pigmap.planning.rule import Breach
from pigmap.planning.uses import Use, uses_of
from pigmap.records import Farm, Lasting, Stay, StayState
from pigmap.text import Text

OVER = Text("That is over. Keep the next one clear, or put right what is drawn wrong.")
"""What to do about ground that was used long ago."""


def live_ground(farm: Farm, stay: Stay) -> LiveGround:
    """Return the ground of a stay with what feeds its fence."""
    energizer = feeds(farm, stay.paddock_uid, stay.group_uid)
    return LiveGround(paddock_called(farm, stay.paddock_uid), stay.ground, energizer)


def stand_together(one: Lasting, other: Lasting) -> bool:
    """Whether two paddocks stand at one time; two of one group do so on the day of its move."""
    if one.stay.paddock_uid == other.stay.paddock_uid:
        return False
    moving = one.stay.group_uid == other.stay.group_uid and one.end == other.first
    return moving or one.meets(other.first, other.end)


def _bare_ground(farm: Farm, stay: Stay) -> LiveGround:
    return LiveGround(paddock_called(farm, stay.paddock_uid), stay.ground)


def on_each_ground(
    farm: Farm, look: Callable[[Farm, LiveGround], Iterable[Caution]], *, past: bool = True, fed: bool = False
) -> Iterator[Breach]:
    """Yield what a look at each piece of ground finds, earliest first.

    Parameters
    ----------
    farm, look
        The farm, and what names the cautions of one piece of ground.
    past
        Whether ground that was used and is left is looked at too: of it only what holds a plan is told, since there
        is nothing left to take care of.
    fed
        Whether it matters what feeds the fence.
    """
    for use in sorted(uses_of(farm), key=lambda use: (use.stay.in_on, use.stay.uid)):
        over = use.stay.state is StayState.PAST
        if over and not past:
            continue
        live = (live_ground if fed else _bare_ground)(farm, use.stay)
        for caution in look(farm, live):
            if not over or caution.held != "care":
                yield of_stay(use, caution)


def of_stay(use: Use, caution: Caution) -> Breach:
    """Return a caution about the ground of a stay."""
    stay = use.stay
    remedy = OVER if stay.state is StayState.PAST else caution.remedy
    weight = weight_of(caution, planned=stay.state is StayState.PLANNED)
    helps: Literal["ground", "never"] = "never" if caution.held == "never" else "ground"
    return Breach(
        "stays",
        stay.uid,
        caution.words,
        remedy,
        weight,
        stay.in_on,
        use.later,
        helps,
        caution=caution.id,
        source=caution.source,
    )


def weight_of(caution: Caution, *, planned: bool) -> Literal["fact", "plan", "care"]:
    """Return what a caution weighs, by whether it can still be planned otherwise."""
    if caution.held == "care":
        return "care"
    return "plan" if planned else "fact"
