"""How long a move took, told once it is done."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import replace

from pigmap.document.edits.find import row_of, rows_with
from pigmap.errors import EditError
from pigmap.records import Edit, Farm, MoveDone, Paddock, RowChange, Stay, StayState, add, change
from pigmap.text import Text


def tell_move_time(stay_uid: str, minutes: float, people: int) -> Edit:
    """Return the edit that tells how long the move took with which a stay began; told again, it is put right.

    Parameters
    ----------
    stay_uid
        The stay that began.
    minutes
        From the first net to the last by the clock [min].
    people
        How many did it.
    """

    def changes(farm: Farm) -> Sequence[RowChange]:
        stay = row_of(farm, Stay, stay_uid)
        if stay.state is StayState.PLANNED:
            paddock = farm.paddocks.get(stay.paddock_uid)
            raise EditError(
                "The move to {paddock} is not done yet.",
                remedy="Record that they moved first, then how long it took.",
                paddock=paddock.name if paddock is not None else Text(Paddock.TABLE),
            )
        told = next(iter(rows_with(farm, MoveDone, "to_stay_uid", stay_uid)), None)
        if told is not None:
            return [change(told, replace(told, minutes=minutes, people=people))]
        return [add(MoveDone(to_stay_uid=stay_uid, done_on=stay.in_on, minutes=minutes, people=people))]

    return Edit(Text("Time of a move told."), changes, names=stay_uid)
