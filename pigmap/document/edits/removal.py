"""Removing a row, with what makes no sense without it; what is recorded history stays."""

from __future__ import annotations

from collections.abc import Callable, Mapping, Sequence
from dataclasses import replace

from pigmap.document.edits.find import any_row, kind_in_words, name_of, rows_with
from pigmap.errors import EditError
from pigmap.records import (
    Check,
    Edit,
    Energizer,
    EnergizerReading,
    Escape,
    Farm,
    Field,
    GearPlace,
    Group,
    GroupEvent,
    GroupEventKind,
    KeepOut,
    Litter,
    MoveDone,
    Net,
    NetKind,
    NetRepair,
    NetUse,
    OwnDays,
    Paddock,
    Photo,
    Place,
    Purpose,
    Record,
    RegisterEntry,
    RowChange,
    SlaughterBooking,
    Stay,
    StayState,
    Treatment,
    Way,
    change,
)
from pigmap.records import remove as taken_out
from pigmap.records.side_nets import kinds_told
from pigmap.text import Text


def remove(table: str, uid: str, *, name: str = "") -> Edit:
    """Return the edit that removes a row with what depends on it; undo brings all of it back.

    Plans and parts go with what they were made for: planned stays, paddocks nobody was in, purposes, the days
    on which a group is due. Recorded facts are never lost with what they are about: a field, a paddock, a group, a net
    or a kind of nets that has any is not removed. `name` is what the edit calls the row, where the caller knows it.

    Raises
    ------
    EditError
        When it is done, if the row is gone already, or recorded facts hang on it.
    """

    def changes(farm: Farm) -> Sequence[RowChange]:
        row = any_row(farm, table, uid)
        return [*_WITH.get(table, _nothing)(farm, row), taken_out(row)]

    what = name or Text(str(kind_in_words(table)).capitalize())
    return Edit(Text("{name} removed.", {"name": what}), changes, names=uid)


def _nothing(farm: Farm, row: Record) -> Sequence[RowChange]:
    return ()


_IN_WORDS: Mapping[str, tuple[str, str]] = {
    Stay.TABLE: ("1 recorded stay", "{count} recorded stays"),
    Check.TABLE: ("1 daily check", "{count} daily checks"),
    NetUse.TABLE: ("1 recorded place of a net", "{count} recorded places of nets"),
    Net.TABLE: ("1 net", "{count} nets"),
    NetRepair.TABLE: ("1 recorded repair", "{count} recorded repairs"),
    Paddock.TABLE: ("1 paddock made of it", "{count} paddocks made of it"),
    Treatment.TABLE: ("1 line in the medicine book", "{count} lines in the medicine book"),
    Photo.TABLE: ("1 photo", "{count} photos"),
    Escape.TABLE: ("1 recorded escape", "{count} recorded escapes"),
    Litter.TABLE: ("1 litter", "{count} litters"),
    SlaughterBooking.TABLE: ("1 slaughter booking", "{count} slaughter bookings"),
    RegisterEntry.TABLE: ("1 line in the register", "{count} lines in the register"),
}
_EVENTS_IN_WORDS: Mapping[GroupEventKind, tuple[str, str]] = {
    GroupEventKind.TREATED: ("1 recorded treatment", "{count} recorded treatments"),
    GroupEventKind.WEIGHED: ("1 weighing", "{count} weighings"),
}
_OTHER_EVENTS = ("1 recorded entry", "{count} recorded entries")


def _facts(farm: Farm, row: Record, *about: tuple[type[Record], str]) -> list[Record]:
    """Return what is recorded about a row in some tables, by the column that names it; plans are not."""
    return [each for kind, column in about for each in rows_with(farm, kind, column, row.uid) if not _is_plan(each)]


def _is_medicine(row: Record) -> bool:
    return isinstance(row, Treatment) or (isinstance(row, GroupEvent) and row.kind is GroupEventKind.TREATED)


def _is_plan(row: Record) -> bool:
    if isinstance(row, Stay):
        return row.state is StayState.PLANNED
    return isinstance(row, GroupEvent) and row.kind is GroupEventKind.DUE


def _keep(farm: Farm, row: Record, facts: Sequence[Record], remedy: Text) -> None:
    """Refuse to remove what recorded facts are about, and name the first sort of them."""
    if not facts:
        return
    first = _sort(facts[0])
    count = sum(_sort(each) == first for each in facts)
    raise EditError(
        Text(
            "{name} has {what}: it would be lost.",
            {"name": name_of(farm, row), "what": Text(first[0], plural=first[1], count=count)},
            plural="{name} has {what}: they would be lost.",
            count=count,
        ),
        remedy=remedy,
    )


def _sort(fact: Record) -> tuple[str, str]:
    if isinstance(fact, GroupEvent):
        return _EVENTS_IN_WORDS.get(fact.kind, _OTHER_EVENTS)
    return _IN_WORDS[fact.TABLE]


def _with_field(farm: Farm, row: Record) -> Sequence[RowChange]:
    paddocks = list(rows_with(farm, Paddock, "field_uid", row.uid))
    facts = [fact for paddock in paddocks for fact in _facts(farm, paddock, *_OF_PADDOCK)]
    _keep(farm, row, facts, Text("Give it an end of use instead: then its past stays."))
    rows: list[RowChange] = []
    for paddock in paddocks:
        rows += [*_plans(farm, paddock, "paddock_uid"), taken_out(paddock)]
    rows += [taken_out(purpose) for purpose in rows_with(farm, Purpose, "field_uid", row.uid)]
    rows += [change(each, replace(each, field_uid=None)) for each in rows_with(farm, KeepOut, "field_uid", row.uid)]
    rows += [change(each, replace(each, field_uid=None)) for each in rows_with(farm, Photo, "field_uid", row.uid)]
    return rows


_OF_PADDOCK = tuple((kind, "paddock_uid") for kind in (Stay, Check, NetUse, Escape, Photo))


def _plans(farm: Farm, row: Record, column: str) -> list[RowChange]:
    stays = list(rows_with(farm, Stay, column, row.uid))
    gear = [taken_out(each) for stay in stays for each in rows_with(farm, GearPlace, "stay_uid", stay.uid)]
    return [*gear, *(taken_out(stay) for stay in stays)]


def _with_paddock(farm: Farm, row: Record) -> Sequence[RowChange]:
    remedy = Text("Remove those first if they never were; a paddock with a past can stay as it is.")
    _keep(farm, row, _facts(farm, row, *_OF_PADDOCK), remedy)
    return _plans(farm, row, "paddock_uid")


def _with_group(farm: Farm, row: Record) -> Sequence[RowChange]:
    facts = _facts(
        farm,
        row,
        *((kind, "group_uid") for kind in (Stay, GroupEvent, Treatment, Escape, Litter, SlaughterBooking)),
        (RegisterEntry, "group_uid"),
        (GroupEvent, "other_group_uid"),
        (Litter, "weaned_group_uid"),
        (Check, "group_uid"),
    )
    facts.sort(key=lambda fact: not _is_medicine(fact))
    _keep(
        farm, row, facts, Text("Remove those first if they never were, or end the group instead: then its past stays.")
    )
    due = [taken_out(event) for event in rows_with(farm, GroupEvent, "group_uid", row.uid)]
    of_others = [
        change(event, replace(event, other_group_uid=None))
        for event in rows_with(farm, GroupEvent, "other_group_uid", row.uid)
        if event.group_uid != row.uid
    ]
    moved_with = [
        change(each, replace(each, group_uid=None)) for each in rows_with(farm, Energizer, "group_uid", row.uid)
    ]
    lasting = [taken_out(each) for each in rows_with(farm, OwnDays, "group_uid", row.uid)]
    stays = {stay.uid for stay in rows_with(farm, Stay, "group_uid", row.uid)}  # their gear goes with them
    places = rows_with(farm, GearPlace, "group_uid", row.uid)
    gear = [taken_out(each) for each in places if each.stay_uid not in stays]
    return [*gear, *_plans(farm, row, "group_uid"), *due, *of_others, *moved_with, *lasting]


def _with_net_kind(farm: Farm, row: Record) -> Sequence[RowChange]:
    users = _facts(farm, row, *((kind, "net_kind_uid") for kind in (Net, Paddock, NetUse)))
    of_sides = (each for each in farm.paddocks.values() if row.uid in kinds_told(each.side_nets))
    users += [each for each in of_sides if each not in users]
    _keep(farm, row, users, Text("Remove those first, or leave the kind as it is."))
    return ()


def _with_net(farm: Farm, row: Record) -> Sequence[RowChange]:
    remedy = Text("Give it a day on which it goes out of use instead: then where it stood stays.")
    _keep(farm, row, _facts(farm, row, (NetUse, "net_uid"), (NetRepair, "net_uid")), remedy)
    return ()


def _with_place(farm: Farm, row: Record) -> Sequence[RowChange]:
    stood = [change(each, replace(each, place_uid=None)) for each in rows_with(farm, Energizer, "place_uid", row.uid)]
    fed = [change(way, replace(way, energizer_uid=None)) for way in rows_with(farm, Way, "energizer_uid", row.uid)]
    loaded = rows_with(farm, SlaughterBooking, "place_uid", row.uid)
    return [*stood, *fed, *(change(each, replace(each, place_uid=None)) for each in loaded)]


def _with_energizer(farm: Farm, row: Record) -> Sequence[RowChange]:
    """Return its readings, which tell of nothing else, and the paddocks that it feeds."""
    readings = [taken_out(each) for each in rows_with(farm, EnergizerReading, "energizer_uid", row.uid)]
    fed = rows_with(farm, Paddock, "energizer_uid", row.uid)
    return [*readings, *(change(each, replace(each, energizer_uid=None)) for each in fed)]


def _with_stay(farm: Farm, row: Record) -> Sequence[RowChange]:
    gear = rows_with(farm, GearPlace, "stay_uid", row.uid)
    return [taken_out(each) for each in (*rows_with(farm, MoveDone, "to_stay_uid", row.uid), *gear)]


def _with_check(farm: Farm, row: Record) -> Sequence[RowChange]:
    """Return the photos that belong to it: they show the paddock all the same."""
    return [change(each, replace(each, check_uid=None)) for each in rows_with(farm, Photo, "check_uid", row.uid)]


def _with_booking(farm: Farm, row: Record) -> Sequence[RowChange]:
    went = rows_with(farm, RegisterEntry, "booking_uid", row.uid)
    return [change(each, replace(each, booking_uid=None)) for each in went]


_WITH: Mapping[str, Callable[[Farm, Record], Sequence[RowChange]]] = {
    Field.TABLE: _with_field,
    Paddock.TABLE: _with_paddock,
    Group.TABLE: _with_group,
    NetKind.TABLE: _with_net_kind,
    Net.TABLE: _with_net,
    Place.TABLE: _with_place,
    Energizer.TABLE: _with_energizer,
    SlaughterBooking.TABLE: _with_booking,
    Stay.TABLE: _with_stay,
    Check.TABLE: _with_check,
}
