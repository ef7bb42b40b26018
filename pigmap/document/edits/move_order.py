"""The order in which the moves of a day are to be done, where someone put them in order."""

from __future__ import annotations

from collections.abc import Sequence
from datetime import date

from pigmap.document.edits.choices import change_setting
from pigmap.records import Edit, Farm, RowChange
from pigmap.records.move_order import ORDER_OF_MOVES
from pigmap.text import Text


def order_moves(day: date, group_uids: Sequence[str]) -> Edit:
    """Return the edit that keeps the order of a day's moves."""

    def changes(farm: Farm) -> Sequence[RowChange]:
        before = farm.setting(ORDER_OF_MOVES, {})
        kept = {**(before if isinstance(before, dict) else {}), day.isoformat(): list(group_uids)}
        return change_setting(ORDER_OF_MOVES, kept).changes(farm)

    return Edit(Text("Moves of {day} put in order.", {"day": day}), changes)
