"""The edit of what was typed of a group: of something new, or of an entry that is put right."""

from __future__ import annotations

from collections.abc import Callable, Mapping
from typing import Any

from pigmap.animals.weight import live_weight
from pigmap.builtin.panels.happened_lines import What
from pigmap.builtin.panels.happened_typed import Typed
from pigmap.document.edits import (
    WeanedTo,
    Went,
    amend,
    book_slaughter,
    farrow,
    join_groups,
    move_pigs,
    pigs_born,
    pigs_bought,
    pigs_died,
    pigs_sold,
    record_escape,
    serve,
    split_group,
    they_went,
    treat,
    wean,
)
from pigmap.errors import EditError
from pigmap.qt.whereabouts import book_of
from pigmap.records import Edit, Farm, Group, Record, SlaughterBooking, new_uid
from pigmap.text import Text

NEW_GROUP, WITH_SOWS = "new group", "with the sows"
YES, NO = "yes", "no"
AT_PADDOCK, ON_MAP, KEPT = "at their paddock", "on the map", "where it is"
"""Where pigs got out: in the middle of their paddock, as it was shown, or as it was told before."""


def edit_of(what: What, farm: Farm, group: Group, typed: Typed) -> Edit:
    """Return the edit that writes down what was typed of a group.

    Raises
    ------
    PigmapError
        If a value cannot exist, or what has to be told is not.
    """
    edit = _NEW[what](farm, group, typed)
    return Edit(Text("{group}: {what}", {"group": group.name, "what": edit.label}), edit.changes)


def put_right(what: What, row: Record, typed: Typed) -> Edit:
    """Return the edit that puts an entry right; raises as `edit_of`."""
    if isinstance(row, SlaughterBooking) and what is What.WENT:
        return they_went(row.uid, _went(typed))
    return amend(row.TABLE, row.uid, **_COLUMNS[what](typed))


# Columns of the entries that can be put right


def _treatment(typed: Typed) -> dict[str, Any]:
    return {
        "given_on": typed.on(),
        "product": typed.named("product", Text("The medicine"), Text("Give the name on its label.")),
        "withdrawal_days": typed.days("withdrawal"),
        "which": typed.words("which"),
        "last_on": typed.day("last"),
        "pigs": typed.count("pigs", "The number of pigs treated"),
        "dose": typed.words("dose"),
        "batch": typed.words("batch"),
        "given_by": typed.words("by"),
        "note": typed.words("note"),
    }


def _escape(typed: Typed) -> dict[str, Any]:
    return {
        "happened_on": typed.on(),
        "pigs_out": typed.count("out", "The number of pigs out"),
        "pigs_back": typed.count("back", "The number of pigs back"),
        "why": typed.words("why"),
        "fence_kv": typed.kv("kv"),
        "note": typed.words("note"),
        **_spot(typed),
    }


def _spot(typed: Typed) -> dict[str, Any]:
    """Return where pigs got out; nothing where that stays as it was told."""
    if typed.chosen("spot") == KEPT:
        return {}
    if typed.chosen("spot") == ON_MAP and typed.point() is None:
        raise EditError(
            "Where they got out is not shown yet.", remedy="Click there on the map, or choose another answer."
        )
    return {"point": typed.point()}


def _booking(typed: Typed) -> dict[str, Any]:
    return {
        "goes_on": typed.on(),
        "pigs": typed.count("pigs", "The number of pigs booked", 1),
        "least_kg": typed.kg(),
        "place_uid": typed.chosen("place") or None,
        "note": typed.words("note"),
    }


def _litter(typed: Typed) -> dict[str, Any]:
    return {
        "sow": _sow(typed),
        "served_on": typed.day("served"),
        "due_on": typed.day("due"),
        "farrowed_on": typed.day("farrowed"),
        "born": typed.count("born", "The number of piglets born"),
        "weaned_on": typed.day("weaned_on"),
        "weaned": typed.count("weaned", "The number of piglets weaned"),
        "note": typed.words("note"),
    }


_COLUMNS: Mapping[What, Callable[[Typed], dict[str, Any]]] = {
    What.TREATED: _treatment,
    What.ESCAPED: _escape,
    What.BOOKED: _booking,
    What.LITTER: _litter,
}


# What is new


def _sow(typed: Typed) -> str:
    return typed.named("sow", Text("Which sow it was"), Text("Give her name, tag or mark."))


def _treated(farm: Farm, group: Group, typed: Typed) -> Edit:
    columns = _treatment(typed)
    return treat(group.uid, columns.pop("given_on"), columns.pop("product"), **columns)


def _escaped(farm: Farm, group: Group, typed: Typed) -> Edit:
    columns = _escape(typed)
    on = columns.pop("happened_on")
    stay = book_of(farm, typed.today).whereabouts(group, on).stay
    return record_escape(group.uid, on, paddock_uid=stay.paddock_uid if stay is not None else None, **columns)


def _booked(farm: Farm, group: Group, typed: Typed) -> Edit:
    columns = _booking(typed)
    return book_slaughter(columns.pop("goes_on"), group_uid=group.uid, **columns)


def _went(typed: Typed) -> Went:
    gone = typed.count("pigs", "The number of pigs that went")
    if gone is None:
        raise EditError("How many went is not told.", remedy="Give a number; 0 where none of them went.")
    return Went(
        on=typed.on(),
        gone=gone,
        live_kg=typed.kg(),
        dead_kg=typed.kg("dead_kg"),
        mark=typed.words("mark"),
        to_where=typed.words("where"),
    )


def _gone(farm: Farm, group: Group, typed: Typed) -> Edit:
    booking = typed.chosen("booking")
    if booking:
        return they_went(booking, _went(typed))
    went = _went(typed)
    return pigs_sold(group.uid, went.on, typed.pigs(), mean_kg=went.live_kg, mark=went.mark, to_where=went.to_where)


def _bought(farm: Farm, group: Group, typed: Typed) -> Edit:
    return pigs_bought(
        group.uid,
        typed.on(),
        typed.pigs(),
        mean_kg=typed.kg(),
        mark=typed.words("mark"),
        from_where=typed.words("where"),
        register=typed.chosen("register") == YES,
    )


def _sold(farm: Farm, group: Group, typed: Typed) -> Edit:
    return pigs_sold(
        group.uid,
        typed.on(),
        typed.pigs(),
        mean_kg=typed.kg(),
        mark=typed.words("mark"),
        to_where=typed.words("where"),
        register=typed.chosen("register") == YES,
    )


def _died(farm: Farm, group: Group, typed: Typed) -> Edit:
    register = typed.chosen("register") == YES
    words = {"note": typed.words("note"), "to_where": typed.words("where")}
    return pigs_died(group.uid, typed.on(), typed.pigs(), register=register, **words)


def _born(farm: Farm, group: Group, typed: Typed) -> Edit:
    return pigs_born(group.uid, typed.on(), typed.pigs())


def _new_name(typed: Typed) -> str:
    return typed.named("name", Text("The name of the new group"), Text("Give it one, such as Weaners."))


def _left(farm: Farm, group: Group, typed: Typed) -> Edit:
    on, pigs, to = typed.on(), typed.pigs(), typed.chosen("to")
    there = live_weight(farm, group.uid, on)
    mean_kg = there.mean_kg if there.weighed else None
    if to in ("", NEW_GROUP):
        return split_group(group.uid, _new_name(typed), on, pigs, mean_kg=mean_kg)
    if pigs == there.pigs:
        return join_groups(group.uid, to, on, pigs, mean_kg=mean_kg)
    return move_pigs(group.uid, to, on, pigs, mean_kg=mean_kg)


def _served(farm: Farm, group: Group, typed: Typed) -> Edit:
    return serve(group.uid, _sow(typed), typed.day("served"), due_on=typed.day("due"), note=typed.words("note"))


def _farrowed(farm: Farm, group: Group, typed: Typed) -> Edit:
    born = typed.count("born", "The number of piglets born")
    return farrow(group.uid, _sow(typed), typed.on(), born=born, count_piglets=typed.chosen("counted") == YES)


def _weaned(farm: Farm, group: Group, typed: Typed) -> Edit:
    weaned, to = typed.count("weaned", "The number of piglets weaned"), typed.chosen("to")
    where = None
    if to != WITH_SOWS:
        if not weaned:
            raise EditError("How many were weaned is not told.", remedy="Give a number: so many go to the group.")
        new = to in ("", NEW_GROUP)
        name = _new_name(typed) if new else ""
        where = WeanedTo(group_uid=new_uid() if new else to, new_name=name, mean_kg=typed.kg())
    return wean(group.uid, _sow(typed), typed.on(), weaned=weaned, to=where)


_NEW: Mapping[What, Callable[[Farm, Group, Typed], Edit]] = {
    What.TREATED: _treated,
    What.ESCAPED: _escaped,
    What.BOOKED: _booked,
    What.WENT: _gone,
    What.BOUGHT: _bought,
    What.SOLD: _sold,
    What.DIED: _died,
    What.BORN: _born,
    What.LEFT: _left,
    What.SERVED: _served,
    What.FARROWED: _farrowed,
    What.WEANED: _weaned,
}
