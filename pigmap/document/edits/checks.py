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


def well_recorded(farm: Farm, paddock_uid: str, group_uid: str, on: date) -> Check | None:
    """Return the daily check of a day that says that all is well with a group on a paddock; None without one."""
    return next((check for check in _checks_of(farm, paddock_uid, group_uid, on) if check.all_well), None)


def _checks_of(farm: Farm, paddock_uid: str, group_uid: str, on: date) -> list[Check]:
    """Return the checks of a day, the last one first; one that names no group is of whoever was there."""
    found = [
        check
        for check in rows_with(farm, Check, "paddock_uid", paddock_uid)
        if check.checked_on == on and check.group_uid in (group_uid, None)
    ]
    return found[::-1]  # rows stand in the order in which they went in


def all_well(paddock_uid: str, group_uid: str, on: date, *, uid: str = "") -> Edit:
    """Return the edit that records that all was well on a day; a day that has it recorded gets no second check.

    A check of that day with readings and no trouble says so then, and keeps them. One that found trouble, or counted
    the pigs, stands as it is, with a check after it.
    """
    fresh = record_check(paddock_uid, on, group_uid=group_uid, uid=uid, all_well=True)

    def changes(farm: Farm) -> Sequence[RowChange]:
        row_of(farm, Paddock, paddock_uid)
        if well_recorded(farm, paddock_uid, group_uid, on) is not None:
            return []
        last = next(iter(_checks_of(farm, paddock_uid, group_uid, on)), None)
        if last is None or _stands(last):
            return fresh.changes(farm)
        return [change(last, replace(last, all_well=True))]

    return Edit(Text("All well on {day}.", {"day": on}), changes)


def _stands(check: Check) -> bool:
    """Whether a check says what a later word cannot take back: a count may have been short of the group."""
    trouble = check.water_ok is False or check.soil_on_net is True or bool(check.damage)
    return trouble or check.pigs_seen is not None


def add_weather(days: Iterable[WeatherDay]) -> Edit:
    """Return the edit that takes in days of weather; a day that is there already gets the new readings.

    What was not read anew stays as it was, and a day that someone called hot stays hot.
    """
    taken = {row.day: row for row in days}

    def changes(farm: Farm) -> Sequence[RowChange]:
        there = {row.day: row for row in farm.weather_days.values()}
        rows = []
        for day, row in sorted(taken.items()):
            old = there.get(day)
            rows.append(add(row) if old is None else change(old, _read_anew(old, row)))
        return [row for row in rows if row.before != row.after]

    return Edit(
        Text("Weather of a day taken in.", plural="Weather of {count} days taken in.", count=len(taken)), changes
    )


def _read_anew(old: WeatherDay, new: WeatherDay) -> WeatherDay:
    """Return a day with its new readings; those that do not go together with an old one take its place, too."""
    names = ("rain_mm", "min_c", "max_c", "humidity_pct")
    kept = {name: getattr(old, name) for name in names if getattr(new, name) is None}
    low, high = kept.get("min_c", new.min_c), kept.get("max_c", new.max_c)
    if low is not None and high is not None and low > high:
        kept = {name: value for name, value in kept.items() if name not in ("min_c", "max_c")}
    return replace(new, **kept, uid=old.uid, hot=old.hot or new.hot)
