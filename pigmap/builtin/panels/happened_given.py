"""What stands in the lines before anyone types: from the farm, or from the entry that is put right."""

from __future__ import annotations

from collections.abc import Callable, Mapping
from datetime import date
from typing import Any

from pigmap.animals.weight import live_weight
from pigmap.builtin.panels.happened_edit import AT_PADDOCK, KEPT, NEW_GROUP, NO, ON_MAP, WITH_SOWS, YES
from pigmap.builtin.panels.happened_kept import booking_words
from pigmap.builtin.panels.happened_lines import What
from pigmap.document.edits import open_litters
from pigmap.drawing.words import day_words
from pigmap.qt.stage import Stage
from pigmap.records import Escape, Farm, Group, Litter, Record, RegisterEntry, SlaughterBooking, Treatment
from pigmap.units import KG_PER_POUND


def typed_before(stage: Stage, group: Group, what: What, row: Record | None) -> dict[str, str]:
    """Return what stands in the lines, by their keys."""
    if row is not None:
        return _of_row(stage, row)
    found = {"day": min(stage.day, stage.today).isoformat(), "register": YES if what is not What.DIED else NO}
    farm = stage.session.farm
    return {**found, **_FIRST.get(what, _nothing)(farm, group, stage.day)}


def choices(stage: Stage, group: Group, what: What, key: str) -> list[tuple[str, str]]:
    """Return what can be chosen in a list: what each line says, and what it stands for."""
    if key == "to":
        return _groups(stage, group, what)
    if key == "place":
        places = [(each.name or str(each.kind), uid) for uid, each in stage.session.farm.places.items()]
        return [(stage.say("not said yet"), ""), *places]
    if key == "booking":
        told = [(_booking_said(stage, each), each.uid) for each in bookings(stage.session.farm, group.uid)]
        return [*told, (stage.say("none was booked"), "")]
    if key == "spot":
        return [
            (stage.say("not said"), ""),
            (stage.say("at their paddock"), AT_PADDOCK),
            (stage.say("I show it on the map"), ON_MAP),
        ]
    if key == "counted":
        return [(stage.say("with the sow, until weaned"), NO), (stage.say("as pigs of the group"), YES)]
    return [(stage.say("a line in the register"), YES), (stage.say("no line"), NO)]


def bookings(farm: Farm, group_uid: str) -> list[SlaughterBooking]:
    """Return the bookings of a group whose pigs did not go yet, earliest first."""
    found = [each for each in farm.slaughter_bookings.values() if each.group_uid == group_uid and each.gone is None]
    return sorted(found, key=lambda each: (each.goes_on, each.uid))


def _booking_said(stage: Stage, row: SlaughterBooking) -> str:
    return f"{day_words(row.goes_on, 'short', language=stage.language)}, {stage.words(booking_words(row))}"


def _groups(stage: Stage, group: Group, what: What) -> list[tuple[str, str]]:
    others = [
        (each.name, uid)
        for uid, each in stage.session.farm.groups.items()
        if uid != group.uid and (each.closed_on is None or each.closed_on > stage.day)
    ]
    new = (stage.say("a new group"), NEW_GROUP)
    if what is What.WEANED:
        return [new, *others, (stage.say("they stay with the sows"), WITH_SOWS)]
    return [*others, new]


def asked_first(stage: Stage, group: Group) -> What:
    """Return what is most likely to be told: pigs that were booked for a day that has come, a sow that is due."""
    farm, today = stage.session.farm, stage.today
    if any(each.goes_on <= today for each in bookings(farm, group.uid)):
        return What.WENT
    due = (each.due for each in open_litters(farm, group.uid) if each.farrowed_on is None)
    return What.FARROWED if any(day is not None and day <= today for day in due) else What.TREATED


# Before anything is known


def _nothing(farm: Farm, group: Group, day: date) -> dict[str, str]:
    return {}


def _went(farm: Farm, group: Group, day: date) -> dict[str, str]:
    first = next(iter(bookings(farm, group.uid)), None)
    return {"booking": first.uid, "pigs": _said(first.pigs)} if first is not None else {}


def _all(farm: Farm, group: Group, day: date) -> dict[str, str]:
    return {"pigs": str(live_weight(farm, group.uid, day).pigs)}


def _due(farm: Farm, group: Group, day: date) -> dict[str, str]:
    waiting = [each for each in open_litters(farm, group.uid) if each.farrowed_on is None]
    first = min(waiting, key=lambda each: each.due or date.max, default=None)
    return {"sow": first.sow} if first is not None else {}


def _with_litter(farm: Farm, group: Group, day: date) -> dict[str, str]:
    born = [each for each in open_litters(farm, group.uid) if each.farrowed_on is not None]
    first = min(born, key=lambda each: each.farrowed_on or date.max, default=None)
    return {"sow": first.sow, "weaned": _said(first.born)} if first is not None else {}


def _served(farm: Farm, group: Group, day: date) -> dict[str, str]:
    return {"served": day.isoformat()}


_FIRST: Mapping[What, Callable[[Farm, Group, date], dict[str, str]]] = {
    What.WENT: _went,
    What.LEFT: _all,
    What.FARROWED: _due,
    What.WEANED: _with_litter,
    What.SERVED: _served,
}


# From an entry


def _of_row(stage: Stage, row: Record) -> dict[str, str]:
    if isinstance(row, Treatment):
        return _treatment(row)
    if isinstance(row, Escape):
        keys = {"day": row.happened_on, "out": row.pigs_out, "back": row.pigs_back, "kv": row.fence_kv}
        return {**_all_said(keys), "why": row.why, "note": row.note, "spot": KEPT if row.point is not None else ""}
    if isinstance(row, Litter):
        return _litter(row)
    if isinstance(row, SlaughterBooking):
        return _booking(stage, row)
    return {}


def _treatment(row: Treatment) -> dict[str, str]:
    keys = {"day": row.given_on, "last": row.last_on, "withdrawal": row.withdrawal_days, "pigs": row.pigs}
    words = {"product": row.product, "which": row.which, "dose": row.dose, "batch": row.batch}
    return {**_all_said(keys), **words, "by": row.given_by, "note": row.note}


def _litter(row: Litter) -> dict[str, str]:
    days = {"served": row.served_on, "due": row.due_on, "farrowed": row.farrowed_on, "weaned_on": row.weaned_on}
    return {**_all_said({**days, "born": row.born, "weaned": row.weaned}), "sow": row.sow, "note": row.note}


def _booking(stage: Stage, row: SlaughterBooking) -> dict[str, str]:
    found = {"booking": row.uid, "place": row.place_uid or "", "note": row.note, "day": row.goes_on.isoformat()}
    if row.gone is None:
        return {**found, "pigs": _said(row.pigs), "kg": _weight(stage, row.least_kg)}
    line = _line_of(stage.session.farm, row)
    written = {"where": line.to_where, "mark": line.mark} if line is not None else {}
    return {**found, **written, "pigs": _said(row.gone), "dead_kg": _weight(stage, row.dead_kg)}


def _line_of(farm: Farm, row: SlaughterBooking) -> RegisterEntry | None:
    return next((each for each in farm.register_entries.values() if each.booking_uid == row.uid), None)


def _all_said(values: Mapping[str, Any]) -> dict[str, str]:
    return {key: _said(value) for key, value in values.items()}


def _said(value: date | float | None) -> str:
    if value is None:
        return ""
    return value.isoformat() if isinstance(value, date) else f"{value:g}"


def _weight(stage: Stage, kg: float | None) -> str:
    if kg is None:
        return ""
    return f"{kg / (KG_PER_POUND if stage.units == 'us' else 1.0):.4g}"
