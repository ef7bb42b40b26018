"""Numbers of nets, and which numbered net stands in a place."""

from __future__ import annotations

from collections.abc import Iterable, Sequence
from dataclasses import replace
from datetime import date

from pigmap.document.edits.find import row_of, rows_with
from pigmap.document.edits.nets import nets_owned
from pigmap.errors import EditError
from pigmap.records import Edit, Farm, Net, NetKind, NetUse, RowChange, add, change, new_uid
from pigmap.text import Text


def number_net(uid: str, number: str) -> Edit:
    """Return the edit that gives a net a number, or takes it where nothing is given.

    Nets of two kinds may have one number: tape and length tell them apart. Those of one kind may not, but for one
    that went out of use before the other came.
    """

    def changes(farm: Farm) -> Sequence[RowChange]:
        net = row_of(farm, Net, uid)
        now = replace(net, number=number.strip())
        if any(same_number(now, other) for other in rows_with(farm, Net, "net_kind_uid", net.net_kind_uid)):
            raise EditError(
                "Another of the {kind} has the number {number} already.",
                remedy="Give it one that is free, such as {free}, or change that of the other first.",
                kind=row_of(farm, NetKind, net.net_kind_uid).name,
                number=now.number,
                free=next_numbers(farm, net.net_kind_uid, 1)[0],
            )
        return [] if now == net else [change(net, now)]

    words = Text("Net has the number {number}.", {"number": number.strip()})
    return Edit(words if number.strip() else Text("Number of a net taken away."), changes)


def number_all(net_kind_uid: str, on: date) -> Edit:
    """Return the edit that numbers the nets of a kind that have no number yet, on from the highest."""

    def changes(farm: Farm) -> Sequence[RowChange]:
        row_of(farm, NetKind, net_kind_uid)
        bare = [net for net in nets_owned(farm, net_kind_uid, on) if not net.number]
        numbers = next_numbers(farm, net_kind_uid, len(bare))
        return [change(net, replace(net, number=number)) for net, number in zip(bare, numbers, strict=True)]

    return Edit(Text("Nets numbered."), changes)


def same_number(net: Net, other: Net) -> bool:
    """Whether two nets of one kind have one number on some day on which the farm owns both."""
    if net.uid == other.uid or not net.number or net.number != other.number:
        return False
    first = max(net.first_used_on or date.min, other.first_used_on or date.min)
    return first < min(net.retired_on or date.max, other.retired_on or date.max)


def next_numbers(farm: Farm, net_kind_uid: str, count: int) -> list[str]:
    """Return numbers for more nets of a kind, on from the highest."""
    taken = [net.number for net in rows_with(farm, Net, "net_kind_uid", net_kind_uid)]
    first = max((int(number) for number in taken if number.isdecimal()), default=0) + 1
    return [str(first + step) for step in range(count)]


def another_stands_here(use_uid: str, net_uid: str, on: date) -> Edit:
    """Return the edit that says which net stands in a place from a day on.

    Where that net was written down elsewhere, the one that was taken to stand here stands there: the two change
    places. Where each of them stood before that day stays as it is.

    Parameters
    ----------
    use_uid
        The place, by the row that tells of it.
    net_uid
        The net that really stands there.
    on
        From when.
    """
    fresh: dict[str, str] = {}

    def changes(farm: Farm) -> Sequence[RowChange]:
        here, real = row_of(farm, NetUse, use_uid), row_of(farm, Net, net_uid)
        if here.taken_on is not None and here.taken_on <= on:
            raise EditError(
                "No net stands there on {day}: it was taken up on {taken}.",
                remedy="Go to a day from {set} on, before it was taken up.",
                day=on,
                taken=here.taken_on,
                set=here.set_on,
            )
        told = farm.nets.get(here.net_uid or "")
        if told is not None and told.uid == net_uid:
            return []
        rows = _from(here, on, real.uid, real.net_kind_uid, fresh)
        for use in _uses_from(farm, (net_uid, here.net_uid), on):
            if use.uid == here.uid:
                continue
            if use.net_uid == net_uid:
                if told is not None or use.stands(max(on, here.set_on)):
                    uid, kind = (told.uid, told.net_kind_uid) if told is not None else (None, here.net_kind_uid)
                    rows += _from(use, on, uid, kind, fresh)
            else:
                rows += _from(use, on, real.uid, real.net_kind_uid, fresh)
        return rows

    return Edit(Text("Another net stands there from {day} on.", {"day": on}), changes)


def _uses_from(farm: Farm, net_uids: Iterable[str | None], on: date) -> list[NetUse]:
    """Return where some nets stand on a day or later."""
    wanted = {uid for uid in net_uids if uid is not None}
    return [
        use for use in farm.net_uses.values() if use.net_uid in wanted and (use.taken_on is None or on < use.taken_on)
    ]


def _from(use: NetUse, on: date, net_uid: str | None, kind_uid: str, fresh: dict[str, str]) -> list[RowChange]:
    """Return the changes by which another net stands in a place from a day on, in a row of its own where it must."""
    if on <= use.set_on:
        return [change(use, replace(use, net_uid=net_uid, net_kind_uid=kind_uid))]
    uid = fresh.setdefault(use.uid, new_uid())
    after = replace(use, uid=uid, net_uid=net_uid, net_kind_uid=kind_uid, set_on=on)
    return [change(use, replace(use, taken_on=on)), add(after)]
