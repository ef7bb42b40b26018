"""Daily checks and weather: what someone saw, what the sky did."""

from __future__ import annotations

from collections.abc import Iterable, Sequence
from dataclasses import replace
from datetime import date
from typing import Any

from pigmap.document.edits.find import row_of, rows_with
from pigmap.records import (
    Check,
    Edit,
    Farm,
    Lasting,
    Paddock,
    RowChange,
    Stay,
    StayState,
    WeatherDay,
    add,
    change,
    lasting,
    new_uid,
)
from pigmap.text import Text


def record_check(
    paddock_uid: str, checked_on: date, *, group_uid: str | None = None, uid: str = "", **readings: Any
) -> Edit:
    """Return the edit that records a daily check; `readings` are further columns of `Check`.

    Without a group it is that of the recorded stay on the paddock on that day, if there is just one.
    """
    check_uid = uid or new_uid()
    seen = Check(uid=check_uid, paddock_uid=paddock_uid, checked_on=checked_on, group_uid=group_uid, **readings)

    def changes(farm: Farm) -> Sequence[RowChange]:
        row_of(farm, Paddock, paddock_uid)
        return [add(seen if group_uid is not None else replace(seen, group_uid=_group_there(farm, seen)))]

    return Edit(Text("Daily check of {day} recorded.", {"day": checked_on}), changes)


def _group_there(farm: Farm, check: Check) -> str | None:
    groups = {stay.group_uid for stay in rows_with(farm, Stay, "paddock_uid", check.paddock_uid)}
    there = [uid for uid in groups if any(_is_there(each, check) for each in _lasting(farm, uid, check.checked_on))]
    return there[0] if len(there) == 1 else None


def _lasting(farm: Farm, group_uid: str, on: date) -> list[Lasting]:
    return lasting(rows_with(farm, Stay, "group_uid", group_uid), on)


def _is_there(each: Lasting, check: Check) -> bool:
    recorded = each.stay.state is not StayState.PLANNED
    return recorded and each.stay.paddock_uid == check.paddock_uid and each.covers(check.checked_on)


def add_weather(days: Iterable[WeatherDay]) -> Edit:
    """Return the edit that takes in days of weather; a day that is there already gets the new readings."""
    taken = {row.day: row for row in days}

    def changes(farm: Farm) -> Sequence[RowChange]:
        there = {row.day: row for row in farm.weather_days.values()}
        rows = []
        for day, row in sorted(taken.items()):
            old = there.get(day)
            rows.append(add(row) if old is None else change(old, replace(row, uid=old.uid)))
        return [row for row in rows if row.before != row.after]

    return Edit(
        Text("Weather of a day taken in.", plural="Weather of {count} days taken in.", count=len(taken)), changes
    )
