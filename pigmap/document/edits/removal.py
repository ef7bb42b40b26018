"""Removing a row, with what makes no sense without it; what is recorded history stays."""

from __future__ import annotations

from collections.abc import Callable, Mapping, Sequence
from dataclasses import replace

from pigmap.document.edits.find import any_row, kind_in_words, name_of, rows_with
from pigmap.document.edits.stay_flags import flag_others
from pigmap.errors import EditError
from pigmap.records import (
    Check,
    Edit,
    Farm,
    Field,
    Group,
    GroupEvent,
    KeepOut,
    Net,
    NetKind,
    NetUse,
    Paddock,
    Place,
    Purpose,
    Record,
    RowChange,
    Stay,
    StayState,
    Way,
    change,
)
from pigmap.records import remove as taken_out
from pigmap.text import Text


def remove(table: str, uid: str, *, name: str = "") -> Edit:
    """Return the edit that removes a row with what depends on it; undo brings all of it back.

    Plans go with what they were made for. Recorded stays are facts: a paddock, a group or a field that has any is not
    removed, nor a paddock or field that was looked at. A group that was nowhere yet goes with its weighings. `name` is
    what the edit calls the row, where the caller knows it.

    Raises
    ------
    EditError
        When it is done, if the row is gone already, or recorded facts hang on it.
    """

    def changes(farm: Farm) -> Sequence[RowChange]:
        row = any_row(farm, table, uid)
        return [*_WITH.get(table, _nothing)(farm, row), taken_out(row)]

    what = name or Text(str(kind_in_words(table)).capitalize())
    return Edit(Text("{name} removed.", {"name": what}), changes)


def _nothing(farm: Farm, row: Record) -> Sequence[RowChange]:
    return ()


def _recorded(farm: Farm, row: Record, column: str) -> list[Stay]:
    return [stay for stay in rows_with(farm, Stay, column, row.uid) if stay.state is not StayState.PLANNED]


def _refuse(farm: Farm, row: Record, count: int, what: Text, remedy: Text) -> EditError:
    return EditError(
        Text(
            "{name} has {what}: they would be lost.",
            {"name": name_of(farm, row), "what": what},
            count=count,
        ),
        remedy=remedy,
    )


def _stays_in_words(count: int) -> Text:
    return Text("1 recorded stay", plural="{count} recorded stays", count=count)


def _without_plans(farm: Farm, row: Record, column: str, remedy: Text) -> list[RowChange]:
    """Return the removal of the plans for a row; refuse if it has recorded stays."""
    recorded = _recorded(farm, row, column)
    if recorded:
        raise _refuse(farm, row, len(recorded), _stays_in_words(len(recorded)), remedy)
    return [taken_out(stay) for stay in rows_with(farm, Stay, column, row.uid)]


def _with_field(farm: Farm, row: Record) -> Sequence[RowChange]:
    remedy = Text("Give it an end of use instead: then its past stays.")
    rows: list[RowChange] = []
    for paddock in rows_with(farm, Paddock, "field_uid", row.uid):
        recorded = _recorded(farm, paddock, "paddock_uid")
        if recorded or any(rows_with(farm, Check, "paddock_uid", paddock.uid)):
            raise _refuse(farm, row, max(1, len(recorded)), _facts_in_words(len(recorded)), remedy)
        rows += [*_with_paddock(farm, paddock), taken_out(paddock)]
    rows += [taken_out(purpose) for purpose in rows_with(farm, Purpose, "field_uid", row.uid)]
    rows += [change(each, replace(each, field_uid=None)) for each in rows_with(farm, KeepOut, "field_uid", row.uid)]
    return rows


def _facts_in_words(stays: int) -> Text:
    return _stays_in_words(stays) if stays else Text("recorded checks")


def _with_paddock(farm: Farm, row: Record) -> Sequence[RowChange]:
    remedy = Text("Remove those first if they never were; a paddock with a past can stay as it is.")
    rows = _without_plans(farm, row, "paddock_uid", remedy)
    checks = list(rows_with(farm, Check, "paddock_uid", row.uid))
    if checks:
        what = Text("1 daily check", plural="{count} daily checks", count=len(checks))
        raise _refuse(farm, row, len(checks), what, remedy)
    return [*rows, *(taken_out(use) for use in rows_with(farm, NetUse, "paddock_uid", row.uid))]


def _with_group(farm: Farm, row: Record) -> Sequence[RowChange]:
    rows = _without_plans(farm, row, "group_uid", Text("End the group instead: then its past stays."))
    rows += [taken_out(event) for event in rows_with(farm, GroupEvent, "group_uid", row.uid)]
    rows += [
        change(event, replace(event, other_group_uid=None))
        for event in rows_with(farm, GroupEvent, "other_group_uid", row.uid)
        if event.group_uid != row.uid
    ]
    return rows + [
        change(check, replace(check, group_uid=None)) for check in rows_with(farm, Check, "group_uid", row.uid)
    ]


def _with_net_kind(farm: Farm, row: Record) -> Sequence[RowChange]:
    for kind, one, many in (
        (Net, "1 net", "{count} nets"),
        (Paddock, "1 paddock made of it", "{count} paddocks made of it"),
        (NetUse, "1 recorded place of a net", "{count} recorded places of nets"),
    ):
        users = list(rows_with(farm, kind, "net_kind_uid", row.uid))
        if users:
            what = Text(one, plural=many, count=len(users))
            raise _refuse(farm, row, len(users), what, Text("Remove those first, or leave the kind as it is."))
    return ()


def _with_net(farm: Farm, row: Record) -> Sequence[RowChange]:
    # Where a net of this kind stood remains a fact; only which one it was is forgotten.
    return [change(use, replace(use, net_uid=None)) for use in rows_with(farm, NetUse, "net_uid", row.uid)]


def _with_place(farm: Farm, row: Record) -> Sequence[RowChange]:
    return [change(way, replace(way, energizer_uid=None)) for way in rows_with(farm, Way, "energizer_uid", row.uid)]


def _with_stay(farm: Farm, row: Record) -> Sequence[RowChange]:
    assert isinstance(row, Stay)
    return flag_others(farm.after([taken_out(row)]), row, None)


_WITH: Mapping[str, Callable[[Farm, Record], Sequence[RowChange]]] = {
    Field.TABLE: _with_field,
    Paddock.TABLE: _with_paddock,
    Group.TABLE: _with_group,
    NetKind.TABLE: _with_net_kind,
    Net.TABLE: _with_net,
    Place.TABLE: _with_place,
    Stay.TABLE: _with_stay,
}
