"""What is written down of a group already: each entry in a line of words, the latest first, and how it is put right."""

from __future__ import annotations

from collections.abc import Iterator
from datetime import date
from typing import NamedTuple

from pigmap.builtin.panels.happened_lines import What
from pigmap.document.edits import remove, together
from pigmap.records import (
    Edit,
    Farm,
    GroupEvent,
    GroupEventKind,
    Litter,
    Record,
    RegisterEntry,
    SlaughterBooking,
)
from pigmap.text import Text


class Kept(NamedTuple):
    """One entry."""

    row: Record
    day: date
    words: Text
    what: What | None
    """What is asked to put it right; None where it can only be removed and told again."""


_EVENT_WORDS = {
    GroupEventKind.BOUGHT: ("1 bought", "{count} bought"),
    GroupEventKind.BORN: ("1 born", "{count} born"),
    GroupEventKind.SOLD: ("1 sold", "{count} sold"),
    GroupEventKind.DIED: ("1 died", "{count} died"),
    GroupEventKind.JOINED: ("1 came from another group", "{count} came from another group"),
    GroupEventKind.SPLIT: ("1 went to another group", "{count} went to another group"),
}


def kept_of(farm: Farm, group_uid: str) -> list[Kept]:
    """Return the entries of a group, the latest first."""
    found = [each for look in _LOOKS for each in look(farm, group_uid)]
    return sorted(found, key=lambda each: (each.day, each.row.TABLE, each.row.uid), reverse=True)


def _treatments(farm: Farm, group_uid: str) -> Iterator[Kept]:
    for row in farm.treatments.values():
        if row.group_uid == group_uid:
            yield Kept(row, row.given_on, Text("{medicine}", {"medicine": row.product}), What.TREATED)


def _escapes(farm: Farm, group_uid: str) -> Iterator[Kept]:
    for row in farm.escapes.values():
        if row.group_uid == group_uid:
            words = Text("got out")
            if row.pigs_out is not None:
                words = Text("1 got out", plural="{count} got out", count=row.pigs_out)
            yield Kept(row, row.happened_on, words, What.ESCAPED)


def _litters(farm: Farm, group_uid: str) -> Iterator[Kept]:
    for row in farm.litters.values():
        day = row.weaned_on or row.farrowed_on or row.served_on or row.due_on
        if row.group_uid == group_uid and day is not None:
            yield Kept(row, day, litter_words(row), What.LITTER)


def litter_words(row: Litter) -> Text:
    """Return how far a sow has come."""
    if row.weaned_on is not None:
        return Text("{sow} weaned", {"sow": row.sow})
    if row.farrowed_on is not None:
        return Text("{sow} farrowed", {"sow": row.sow})
    return Text("{sow} served" if row.served_on is not None else "{sow} due", {"sow": row.sow})


def _bookings(farm: Farm, group_uid: str) -> Iterator[Kept]:
    for row in farm.slaughter_bookings.values():
        if row.group_uid == group_uid:
            yield Kept(row, row.goes_on, booking_words(row), What.BOOKED if row.gone is None else What.WENT)


def booking_words(row: SlaughterBooking) -> Text:
    """Return how many pigs of a booking are to go, or went."""
    if row.gone is not None:
        return Text("1 went to slaughter", plural="{count} went to slaughter", count=row.gone)
    if row.pigs is None:
        return Text("booked for slaughter")
    return Text("1 booked for slaughter", plural="{count} booked for slaughter", count=row.pigs)


def _events(farm: Farm, group_uid: str) -> Iterator[Kept]:
    went = {(row.goes_on, row.gone) for row in farm.slaughter_bookings.values() if row.group_uid == group_uid}
    for row in farm.group_events.values():
        words = _EVENT_WORDS.get(row.kind)
        if row.group_uid != group_uid or words is None or not row.pigs:
            continue
        if row.kind is not GroupEventKind.SOLD or (row.happened_on, row.pigs) not in went:
            yield Kept(row, row.happened_on, Text(words[0], plural=words[1], count=row.pigs), None)


_LOOKS = (_treatments, _escapes, _litters, _bookings, _events)


# Taking an entry out again


def take_out(farm: Farm, row: Record) -> Edit:
    """Return the edit that removes an entry with what was written down with it: its twin, its line in the register."""
    with_it = [row, *_with(farm, row)]
    return together(Text("Entry removed."), [remove(each.TABLE, each.uid) for each in reversed(with_it)])


def _with(farm: Farm, row: Record) -> Iterator[Record]:
    if isinstance(row, SlaughterBooking) and row.gone:
        yield from (each for each in farm.register_entries.values() if each.booking_uid == row.uid)
        yield from _sold(farm, row)
    elif isinstance(row, GroupEvent):
        yield from _twins(farm, row)
        yield from _lines(farm, row)


def _sold(farm: Farm, row: SlaughterBooking) -> Iterator[Record]:
    for each in farm.group_events.values():
        same = each.group_uid == row.group_uid and each.happened_on == row.goes_on and each.pigs == row.gone
        if same and each.kind is GroupEventKind.SOLD:
            yield each
            return


def _twins(farm: Farm, row: GroupEvent) -> Iterator[Record]:
    """Yield the entry of the other group, where pigs went from one to the other."""
    kinds = {GroupEventKind.JOINED: GroupEventKind.SPLIT, GroupEventKind.SPLIT: GroupEventKind.JOINED}
    for each in farm.group_events.values():
        crossed = (each.group_uid, each.other_group_uid) == (row.other_group_uid, row.group_uid)
        if (
            crossed
            and each.kind is kinds.get(row.kind)
            and (each.happened_on, each.pigs) == (row.happened_on, row.pigs)
        ):
            yield each
            return


def _lines(farm: Farm, row: GroupEvent) -> Iterator[Record]:
    """Yield the line of the register that was written with it."""
    if row.kind not in (GroupEventKind.BOUGHT, GroupEventKind.SOLD, GroupEventKind.DIED):
        return
    way = "on" if row.kind is GroupEventKind.BOUGHT else "off"
    for each in farm.register_entries.values():
        if _is_of(each, row) and each.direction.value == way and each.booking_uid is None:
            yield each
            return


def _is_of(line: RegisterEntry, row: GroupEvent) -> bool:
    return (line.group_uid, line.happened_on, line.pigs) == (row.group_uid, row.happened_on, row.pigs)
