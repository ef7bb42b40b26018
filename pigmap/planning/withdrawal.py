"""What pigs of a group were given, themselves or in a group that they came from, and until when its days run."""

from __future__ import annotations

from collections.abc import Iterator
from datetime import date, timedelta
from typing import NamedTuple

from pigmap.records import Farm, GroupEvent, GroupEventKind, Treatment

UNTYPED_DAYS = timedelta(days=180)
"""So long before slaughter it is said that the days of a label are missing. Assumed."""


class Given(NamedTuple):
    """A treatment, and whether all pigs of the group that is asked about may have had it."""

    treatment: Treatment
    all_of_them: bool


def given_to(farm: Farm, group_uid: str, until: date) -> list[Given]:
    """Return what pigs of a group were given up to a day, earliest first; pigs that joined bring theirs with them."""
    found = list(_given(farm, group_uid, until, set()))
    return sorted(found, key=lambda each: (each.treatment.given_on, each.treatment.uid))


def _told_as_treated(farm: Farm, group_uid: str, until: date) -> Iterator[GroupEvent]:
    """Yield what was told of the group as treated, where it has no line in the medicine book."""
    for event in farm.group_events.values():
        treated = event.kind is GroupEventKind.TREATED and event.group_uid == group_uid
        if treated and event.happened_on <= until:
            yield event


def _written(event: GroupEvent) -> Treatment:
    return Treatment(
        uid=event.uid,
        group_uid=event.group_uid,
        given_on=event.happened_on,
        pigs=event.pigs,
        product=event.note.strip() or "what was given",
        withdrawal_days=event.withdrawal_days,
    )


def _given(farm: Farm, group_uid: str, until: date, seen: set[str]) -> Iterator[Given]:
    seen.add(group_uid)
    for each in farm.treatments.values():
        if each.group_uid == group_uid and each.given_on <= until:
            yield Given(each, each.pigs is None and not each.which)
    yield from (Given(_written(each), each.pigs is None) for each in _told_as_treated(farm, group_uid, until))
    for event in farm.group_events.values():
        other = event.other_group_uid
        came = event.group_uid == group_uid and event.kind is GroupEventKind.JOINED and event.happened_on <= until
        if came and other is not None and other not in seen:
            yield from (each._replace(all_of_them=False) for each in _given(farm, other, event.happened_on, seen))
