"""The rule that recorded facts agree with each other: nets, daily checks, and the days of a group."""

from __future__ import annotations

from collections.abc import Iterable, Iterator
from datetime import date, timedelta
from itertools import pairwise

from shapely.geometry.base import BaseGeometry

from pigmap.planning.names import group_called, paddock_called
from pigmap.planning.rule import Breach
from pigmap.records import Check, Farm, GroupEventKind, Lasting, NetUse, StayState, lasting_on
from pigmap.text import Quantity, Text, Value

_BRINGS_PIGS = (GroupEventKind.BOUGHT, GroupEventKind.BORN, GroupEventKind.JOINED)
CHECK_OFF_M = 30.0
"""A daily check that lies farther outside of its paddock was somewhere else [ground m]. Assumed: phones err by less."""
_RIGHT_DAY = Text("If it was so, nothing is to be done; if not, put right the day or the paddock.")


class FactsAgree:
    """Looks for facts that contradict another. All of them stand: what was seen was seen."""

    api = 1
    name = "facts-agree"
    title = Text("Nets, daily checks and groups agree on what was where")

    def breaches(self, farm: Farm, today: date) -> Iterable[Breach]:
        """Yield them, earliest first."""
        found = [*_nets(farm), *_checks(farm, today), *_checked_elsewhere(farm), *_soils(farm), *_groups(farm)]
        return sorted(found, key=lambda breach: (breach.day or date.min, breach.table, breach.uid))


def _nets(farm: Farm) -> Iterator[Breach]:
    """Yield the nets that are recorded to stand in two places on one day."""
    uses: dict[str, list[NetUse]] = {}
    for use in farm.net_uses.values():
        if use.net_uid is not None:
            uses.setdefault(use.net_uid, []).append(use)
    for net_uid, own in uses.items():
        own.sort(key=lambda use: (use.set_on, use.uid))
        for earlier, later in pairwise(own):
            if earlier.stands(later.set_on) and earlier.run.distance(later.run) > 0.0:
                yield _in_two_places(farm, net_uid, earlier, later)


def _in_two_places(farm: Farm, net_uid: str, earlier: NetUse, later: NetUse) -> Breach:
    net = farm.nets.get(net_uid)
    values: dict[str, Value] = {
        "net": Text("Net {number}", {"number": net.number}) if net is not None and net.number else Text("A net"),
        "one": paddock_called(farm, earlier.paddock_uid),
        "other": paddock_called(farm, later.paddock_uid),
        "day": later.set_on,
    }
    words = Text("{net} stands at {one} and at {other} on {day}.", values)
    remedy = Text("Look which of the two it is, and put the other right.")
    return Breach("net_uses", later.uid, words, remedy, "fact", later.set_on, (earlier.uid,))


def _checks(farm: Farm, today: date) -> Iterator[Breach]:
    """Yield the daily checks of a group in a paddock where it is not recorded on that day."""
    stays: dict[str, list[Lasting]] = {}
    for each in lasting_on(farm, today).values():
        if each.stay.state is not StayState.PLANNED:
            stays.setdefault(each.stay.group_uid, []).append(each)
    began: dict[str, date] = {}
    for each in (each for its in stays.values() for each in its):
        began[each.stay.paddock_uid] = min(each.first, began.get(each.stay.paddock_uid, date.max))
    for check in farm.checks.values():
        there = [each for each in stays.get(check.group_uid or "", ()) if _touches(each, check.checked_on)]
        if there and all(each.stay.paddock_uid != check.paddock_uid for each in there):
            values: dict[str, Value] = {
                "group": group_called(farm, check.group_uid or ""),
                "seen": paddock_called(farm, check.paddock_uid),
                "recorded": paddock_called(farm, there[-1].stay.paddock_uid),
                "day": check.checked_on,
            }
            words = Text("{group} were checked in {seen} on {day} and are recorded in {recorded}.", values)
            yield Breach("checks", check.uid, words, _RIGHT_DAY, "fact", check.checked_on)
        elif not there:
            yield from _before_all(farm, check, began)


def _before_all(farm: Farm, check: Check, began: dict[str, date]) -> Iterator[Breach]:
    """Yield a daily check of a day before any pigs are recorded in its paddock: often a year that was mistyped."""
    first = began.get(check.paddock_uid)
    if first is None or check.checked_on >= first:
        return
    values: dict[str, Value] = {
        "seen": paddock_called(farm, check.paddock_uid),
        "day": check.checked_on,
        "first": first,
    }
    words = Text("{seen} was checked on {day}; no pigs are recorded there before {first}.", values)
    yield Breach("checks", check.uid, words, _RIGHT_DAY, "fact", check.checked_on)


def _checked_elsewhere(farm: Farm) -> Iterator[Breach]:
    """Yield the daily checks whose place lies outside of the paddock that they are of."""
    grounds: dict[str, list[BaseGeometry]] = {uid: [row.outline] for uid, row in farm.paddocks.items()}
    for stay in farm.stays.values():
        grounds.setdefault(stay.paddock_uid, []).append(stay.ground)
    for check in farm.checks.values():
        point, its = check.point, grounds.get(check.paddock_uid, [])
        off = min((ground.distance(point) for ground in its), default=0.0) if point is not None else 0.0
        off_m = off * farm.projection.ground_per_grid
        if off_m > CHECK_OFF_M:
            values: dict[str, Value] = {
                "seen": paddock_called(farm, check.paddock_uid),
                "day": check.checked_on,
                "off": Quantity(round(off_m), "m"),
                "least": Quantity(CHECK_OFF_M, "m"),
            }
            words = Text("The daily check of {seen} on {day} lies {off} outside of it.", values)
            remedy = Text(
                "If it was there, nothing is to be done; if not, put right the paddock or the place. "
                "A phone errs by less than {least}: assumed.",
                values,
            )
            yield Breach("checks", check.uid, words, remedy, "fact", check.checked_on)


def _soils(farm: Farm) -> Iterator[Breach]:
    """Yield the fields whose soil is told in words that name none of the classes: how wet it is stays unknown."""
    from pigmap.weather.soils import NOT_KNOWN, soil_class

    for field in farm.fields.values():
        if field.soil and soil_class(field.soil) is None:
            values: dict[str, Value] = {"field": field.name, "soil": field.soil}
            words = Text("The soil of {field} is {soil}, and nobody knows how much water that holds.", values)
            yield Breach(field.TABLE, field.uid, words, NOT_KNOWN, "care")


def _touches(each: Lasting, day: date) -> bool:
    """Whether a group was somewhere for some of a day: on the one of a move it was in both places."""
    return each.first <= day and (each.end is None or day <= each.end)


def _groups(farm: Farm) -> Iterator[Breach]:
    """Yield the recorded stays and events of a group before it began or after it ended."""
    began: dict[str, date] = {}
    for event in farm.group_events.values():
        if event.kind in _BRINGS_PIGS:
            began[event.group_uid] = min(event.happened_on, began.get(event.group_uid, date.max))
    for stay in farm.stays.values():
        if stay.state is not StayState.PLANNED:
            last = (stay.out_on or date.max) - timedelta(days=1)  # one that went on when they came only began too soon
            yield from _out_of_its_days(farm, "stays", stay.uid, stay.group_uid, (stay.in_on, last), began)
    for event in farm.group_events.values():
        days = event.happened_on, event.happened_on
        yield from _out_of_its_days(farm, "group_events", event.uid, event.group_uid, days, began)


def _out_of_its_days(
    farm: Farm, table: str, uid: str, group_uid: str, days: tuple[date, date], began: dict[str, date]
) -> Iterator[Breach]:
    group, (day, last) = farm.groups.get(group_uid), days
    first, closed = began.get(group_uid, date.min), group.closed_on if group is not None else None
    values: dict[str, Value] = {"group": group_called(farm, group_uid), "day": day}
    remedy = Text("Put right one of the two days.")
    if last < first:
        words = Text(
            "{group} are recorded on {day}, before their first pigs came on {first}.", values | {"first": first}
        )
        yield Breach(table, uid, words, remedy, "fact", day)
    elif closed is not None and day > closed:
        words = Text("{group} are recorded on {day}, after the group ended on {last}.", values | {"last": closed})
        yield Breach(table, uid, words, remedy, "fact", day)


rule = FactsAgree()
