"""Two planned stays of a group change places: the days stay, the ground goes the other way."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import replace

from pigmap.document.edits.find import name_of, row_of
from pigmap.errors import EditError
from pigmap.records import Edit, Farm, Paddock, RowChange, Stay, StayState, change
from pigmap.text import Text, Value


def swap_stays(uid: str, other_uid: str) -> Edit:
    """Return the edit that lets a group go to two planned paddocks in the other order.

    Each stay keeps its days and takes the ground of the other; a reason that was given for a place goes with it.
    """

    def changes(farm: Farm) -> Sequence[RowChange]:
        one, other = row_of(farm, Stay, uid), row_of(farm, Stay, other_uid)
        if one.group_uid != other.group_uid:
            raise EditError(
                "Two groups do not change places: each has a plan of its own.",
                remedy="Choose two planned stays of one group.",
            )
        for stay in (one, other):
            if stay.state is not StayState.PLANNED:
                raise EditError(
                    "{what} has begun: it cannot change its ground any more.",
                    remedy="Choose two stays that are both still planned.",
                    what=name_of(farm, row_of(farm, Paddock, stay.paddock_uid)),
                )
        return [change(one, _on_ground_of(one, other)), change(other, _on_ground_of(other, one))]

    return Edit(Text("The order of two planned paddocks swapped."), changes, names=uid)


def swapped_words(farm: Farm, uid: str, other_uid: str) -> Text:
    """Return what is done, by the names of both paddocks: which comes first now."""
    stays = sorted((row_of(farm, Stay, uid), row_of(farm, Stay, other_uid)), key=lambda stay: stay.in_on)
    before, after = (name_of(farm, row_of(farm, Paddock, stay.paddock_uid)) for stay in stays)
    values: dict[str, Value] = {"first": after, "second": before}
    return Text("First {first}, then {second}.", values)


def _on_ground_of(stay: Stay, other: Stay) -> Stay:
    return replace(stay, paddock_uid=other.paddock_uid, ground=other.ground, why_planned=other.why_planned)
