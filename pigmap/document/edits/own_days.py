"""How many days a paddock lasts a group, as the keeper says it."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import replace

from pigmap.document.edits.find import row_of
from pigmap.records import Edit, Farm, Group, OwnDays, RowChange, Use, add, change, new_uid
from pigmap.text import Quantity, Text


def say_days(
    days: float,
    *,
    group_uid: str | None = None,
    purpose: Use | None = None,
    from_month_day: str | None = None,
    to_month_day: str | None = None,
    uid: str = "",
) -> Edit:
    """Return the edit that says how many days a paddock lasts; what is left out counts for all.

    What was said for the same group, purpose and part of the year, or the row of that uid, is put right.
    """
    fresh = OwnDays(
        uid=uid or new_uid(),
        group_uid=group_uid,
        purpose=purpose,
        from_month_day=from_month_day,
        to_month_day=to_month_day,
        days=days,
    )

    def changes(farm: Farm) -> Sequence[RowChange]:
        if group_uid is not None:
            row_of(farm, Group, group_uid)
        old = farm.own_days.get(fresh.uid) or next((row for row in farm.own_days.values() if _alike(row, fresh)), None)
        if old is None:
            return [add(fresh)]
        now = replace(fresh, uid=old.uid)
        return [] if now == old else [change(old, now)]

    return Edit(Text("A paddock lasts {days}.", {"days": Quantity(days, "d", _digits(days))}), changes)


def _alike(one: OwnDays, other: OwnDays) -> bool:
    return replace(one, uid=other.uid, days=other.days) == other


def _digits(days: float) -> int:
    """Return the digits after the point that days have, to the quarter."""
    return next((each for each in (0, 1) if days * 10**each == round(days * 10**each)), 2)
