"""Nets: their kinds, how many there are, where they stood."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import replace
from datetime import date

import shapely

from pigmap.document.edits.find import row_of, rows_with
from pigmap.errors import EditError
from pigmap.records import (
    Edit,
    Farm,
    Net,
    NetCondition,
    NetKind,
    NetUse,
    Paddock,
    RowChange,
    add,
    change,
    new_uid,
    remove,
)
from pigmap.text import Text

BAY_M = 50 / 14
"""Length from post to post that is assumed where none is told [m]. Common practice: 15 posts on 50 m."""


def usual_posts(length_m: float) -> int:
    """Return how many posts a net of some length [m] is first thought to have."""
    return max(2, round(length_m / BAY_M) + 1)


def even_bays(length_mm: int, posts: int) -> tuple[int, ...]:
    """Return the bays of a net of equal bays, as nearly as whole millimetres allow, that add up to its length.

    Examples
    --------
    >>> even_bays(10_000, 4)
    (3334, 3333, 3333)
    """
    if posts < 2 or length_mm < posts - 1:
        raise EditError(
            "A net of {posts} posts cannot be {length} mm long.",
            remedy="Give it at least 2 posts and a length.",
            posts=posts,
            length=length_mm,
        )
    bays = posts - 1
    return tuple(length_mm // bays + (number < length_mm % bays) for number in range(bays))


def add_net_kind(
    name: str, bays_mm: Sequence[int], *, tape: str = "", height_mm: int = 900, nets: int = 0, uid: str = ""
) -> Edit:
    """Return the edit that adds a kind of nets [mm], and as many nets of it as the farm owns."""
    kind = NetKind(uid=uid or new_uid(), name=name, bays_mm=tuple(bays_mm), tape=tape, height_mm=height_mm)
    owned = [Net(net_kind_uid=kind.uid) for _ in range(nets)]
    return Edit(Text("{name} added.", {"name": name}), lambda farm: [add(kind), *(add(net) for net in owned)])


def add_nets(net_kind_uid: str, count: int, *, numbers: Sequence[str] = (), first_used_on: date | None = None) -> Edit:
    """Return the edit that adds nets of a kind; `numbers` are theirs as far as they go."""
    if count < 1:
        raise EditError("{count} nets cannot be added.", remedy="Give a number of at least 1.", count=count)
    known = [*numbers, *[""] * count][:count]
    nets = [Net(net_kind_uid=net_kind_uid, number=number, first_used_on=first_used_on) for number in known]

    def changes(farm: Farm) -> Sequence[RowChange]:
        row_of(farm, NetKind, net_kind_uid)
        return [add(net) for net in nets]

    return Edit(Text("1 net added.", plural="{count} nets added.", count=count), changes)


def own_nets(net_kind_uid: str, count: int, on: date) -> Edit:
    """Return the edit that says how many nets of a kind the farm owns on a day.

    Fewer than before: those without a number and without a recorded place go first, and are removed; one that stood
    somewhere goes out of use on that day, so that where it stood stays.
    """
    if count < 0:
        raise EditError("{count} nets cannot be owned.", remedy="Give a number of at least 0.", count=count)

    def changes(farm: Farm) -> Sequence[RowChange]:
        row_of(farm, NetKind, net_kind_uid)
        there = nets_owned(farm, net_kind_uid, on)
        stood = {use.net_uid for use in farm.net_uses.values()}
        there.sort(key=lambda net: (net.uid in stood, bool(net.number), net.condition is NetCondition.DAMAGED))
        more = [add(Net(net_kind_uid=net_kind_uid)) for _ in range(count - len(there))]
        gone = there[: max(0, len(there) - count)]
        return [*more, *(change(net, replace(net, retired_on=on)) if net.uid in stood else remove(net) for net in gone)]

    return Edit(Text("1 net of a kind owned.", plural="{count} nets of a kind owned.", count=count), changes)


def nets_owned(farm: Farm, net_kind_uid: str, on: date) -> list[Net]:
    """Return the nets of a kind that the farm owns on a day, sound or not."""
    return [net for net in rows_with(farm, Net, "net_kind_uid", net_kind_uid) if net.owned_on(on)]


def set_net_condition(uid: str, condition: NetCondition) -> Edit:
    """Return the edit that says whether a net is sound."""

    def changes(farm: Farm) -> Sequence[RowChange]:
        net = row_of(farm, Net, uid)
        since = net.damaged_on if condition is NetCondition.DAMAGED else None
        return [change(net, replace(net, condition=condition, damaged_on=since))]

    return Edit(Text("Net is {condition}.", {"condition": Text(str(condition))}), changes)


def record_net_use(
    paddock_uid: str,
    net_kind_uid: str,
    run: shapely.LineString,
    set_on: date,
    *,
    taken_on: date | None = None,
    net_uid: str | None = None,
    uid: str = "",
) -> Edit:
    """Return the edit that records where a net stood."""
    use = NetUse(
        uid=uid or new_uid(),
        net_uid=net_uid,
        net_kind_uid=net_kind_uid,
        paddock_uid=paddock_uid,
        run=run,
        set_on=set_on,
        taken_on=taken_on,
    )

    def changes(farm: Farm) -> Sequence[RowChange]:
        row_of(farm, Paddock, paddock_uid)
        row_of(farm, NetKind, net_kind_uid)
        return [add(use)]

    return Edit(Text("Net set on {day}.", {"day": set_on}), changes)
