"""The rule that sows have their peace around farrowing: hut and straw out before, no move until some days after."""

from __future__ import annotations

from collections.abc import Iterable, Iterator
from datetime import date, timedelta

from pigmap.planning.names import group_called
from pigmap.planning.rule import Breach
from pigmap.records import Farm, Lasting, Litter, StayState, lasting_on
from pigmap.text import Quantity, Text, Value
from pigmap.text.source import COMMON_PRACTICE

BEFORE = timedelta(days=5)
"""So long before she is due hut and straw are out, and she stays where she is. Assumed."""
AFTER = timedelta(days=7)
"""So long after farrowing sow and piglets stay where they are. Assumed."""
LATE = timedelta(days=5)
"""So long after the day she was due it is asked whether she farrowed. Assumed."""


class Farrowing:
    """Looks for planned moves of a group with a sow that is due or has just farrowed, and for huts to set."""

    api = 1
    name = "farrowing"
    title = Text("Sows are not moved around farrowing, and have hut and straw before")

    def breaches(self, farm: Farm, today: date) -> Iterable[Breach]:
        """Yield them, earliest first."""
        found = [breach for litter in farm.litters.values() for breach in _of_litter(farm, litter, today)]
        return sorted(found, key=lambda breach: (breach.day or date.min, breach.table, breach.uid))


def _of_litter(farm: Farm, litter: Litter, today: date) -> Iterator[Breach]:
    if litter.weaned_on is not None or litter.group_uid not in farm.groups:
        return
    if litter.farrowed_on is not None:
        yield from _moves(farm, litter, (litter.farrowed_on, litter.farrowed_on + AFTER), today)
        return
    due = litter.due
    if due is None:
        return
    if today > due + LATE:
        yield _not_told(farm, litter, due)
        return
    yield from _moves(farm, litter, (due - BEFORE, due + AFTER), today)
    if due - BEFORE <= today <= due:
        yield _hut(farm, litter, due)


def _values(farm: Farm, litter: Litter) -> dict[str, Value]:
    return {"sow": litter.sow, "group": group_called(farm, litter.group_uid)}


def _moves(farm: Farm, litter: Litter, days: tuple[date, date], today: date) -> Iterator[Breach]:
    first, last = days
    for each in lasting_on(farm, today).values():
        if each.stay.group_uid == litter.group_uid and _is_planned_move(each) and first <= each.first <= last:
            yield _moved(farm, litter, each, days)


def _is_planned_move(each: Lasting) -> bool:
    return each.stay.state is StayState.PLANNED


def _moved(farm: Farm, litter: Litter, each: Lasting, days: tuple[date, date]) -> Breach:
    values = {**_values(farm, litter), "day": each.first, "first": days[0], "last": days[1] + timedelta(days=1)}
    values |= {"before": Quantity(BEFORE.days, "d"), "after": Quantity(AFTER.days, "d")}
    if litter.farrowed_on is not None:
        words = Text("{group} move on {day}; {sow} farrowed on {first}.", values)
        remedy = Text(
            "Let them stay until {last}, or leave her and her litter behind. {after} after farrowing are assumed.",
            values,
        )
    else:
        values["due"] = litter.due or days[0]
        words = Text("{group} move on {day}; {sow} is due on {due}.", values)
        remedy = Text(
            "Move them before {first}, or let them stay until {last}. {before} before and {after} after are assumed.",
            values,
        )
    return Breach("stays", each.stay.uid, words, remedy, "plan", each.first, source=COMMON_PRACTICE)


def _hut(farm: Farm, litter: Litter, due: date) -> Breach:
    words = Text(
        "{sow} of {group} is due on {due}: hut and straw are to be out.", {**_values(farm, litter), "due": due}
    )
    remedy = Text(
        "Set the hut on dry, level ground, its back to the wind, with fresh straw. {before} before are assumed.",
        {"before": Quantity(BEFORE.days, "d")},
    )
    return Breach(litter.TABLE, litter.uid, words, remedy, "care", due, source=COMMON_PRACTICE)


def _not_told(farm: Farm, litter: Litter, due: date) -> Breach:
    words = Text(
        "{sow} of {group} was due on {due}; whether she farrowed is not told.", {**_values(farm, litter), "due": due}
    )
    remedy = Text(
        "Tell the day she farrowed, or the day she was served again. It is asked after {late}: assumed.",
        {"late": Quantity(LATE.days, "d")},
    )
    return Breach(litter.TABLE, litter.uid, words, remedy, "care", due)


rule = Farrowing()
