"""The stock of nets: damaged, mended, out of use, and what is known of a kind."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import replace
from datetime import date

from pigmap.document.edits.find import row_of
from pigmap.document.edits.nets import nets_owned
from pigmap.errors import EditError
from pigmap.records import Edit, Farm, Net, NetCondition, NetKind, NetRepair, RowChange, add, change
from pigmap.records.damage import is_damaged
from pigmap.text import Text


def net_damaged(uid: str, on: date, what: str = "") -> Edit:
    """Return the edit that says that a net is damaged from a day on, and with what in its note.

    What stood before that day did stand in good order. Of one that is damaged already the earlier day counts.
    """

    def changes(farm: Farm) -> Sequence[RowChange]:
        net = row_of(farm, Net, uid)
        note = " ".join(filter(None, [net.note, what.strip()])) if what.strip() not in net.note else net.note
        now = replace(net, condition=NetCondition.DAMAGED, damaged_on=_since(net, on), note=note)
        return [] if now == net else [change(net, now)]

    return Edit(Text("A net is damaged from {day} on.", {"day": on}), changes)


def _since(net: Net, on: date) -> date | None:
    """Return the first day of a damage of which someone tells on a day; None where it goes back for ever."""
    if net.condition is NetCondition.SOUND:
        return on
    return None if net.damaged_on is None else min(net.damaged_on, on)


def one_damaged(net_kind_uid: str, on: date, what: str = "") -> Edit:
    """Return the edit that says that one net of a kind is damaged from a day on, whichever that is.

    It is one without a number if there is one, and one that is not said to be damaged later if there is one.
    """

    def changes(farm: Farm) -> Sequence[RowChange]:
        kind = row_of(farm, NetKind, net_kind_uid)
        owned = nets_owned(farm, net_kind_uid, on)
        sound = [net for net in owned if not is_damaged(farm, net, on)]
        if not sound:
            raise _none_sound(kind, len(owned))
        stood = {use.net_uid for use in farm.net_uses.values()}
        first = min(
            sound,
            key=lambda net: (
                net.condition is NetCondition.DAMAGED,
                bool(net.number),
                net.uid in stood,
                bool(net.note),
                net.uid,
            ),
        )
        return net_damaged(first.uid, on, what)(farm)

    return Edit(Text("A net is damaged from {day} on.", {"day": on}), changes)


def _none_sound(kind: NetKind, owned: int) -> EditError:
    if not owned:
        return EditError(
            "The farm owns no net of the kind {kind}.",
            remedy="Add the nets that you own first, then say which is damaged.",
            kind=kind.name,
        )
    return EditError(
        Text(
            "The one net of the kind {kind} is damaged already.",
            {"kind": kind.name},
            plural="All {count} nets of the kind {kind} are damaged already.",
            count=owned,
        ),
        remedy=Text("Say first which is mended, or add the nets that are missing."),
    )


def net_mended(uid: str, on: date, what: str = "") -> Edit:
    """Return the edit that says that a net was mended on a day: from then on it counts again.

    Where it is not said what was mended, the note on the damage says it; it leaves the net with that. A net that is
    damaged from a later day on stays so.
    """

    def changes(farm: Farm) -> Sequence[RowChange]:
        net = row_of(farm, Net, uid)
        if not _open_on(net, on):
            return [add(NetRepair(net_uid=uid, mended_on=on, what=what.strip()))]
        told = " ".join(filter(None, [net.note, what.strip()]))
        since = net.damaged_on or net.first_used_on
        if since is not None and since > on:
            since = None
        repair = NetRepair(net_uid=uid, mended_on=on, what=told, damaged_on=since)
        now = replace(net, condition=NetCondition.SOUND, damaged_on=None, note="")
        return [change(net, now), add(repair)]

    return Edit(Text("A net mended on {day}.", {"day": on}), changes)


def _open_on(net: Net, on: date) -> bool:
    """Whether a net is damaged on a day and nobody mended it since."""
    return net.condition is NetCondition.DAMAGED and (net.damaged_on is None or net.damaged_on <= on)


def retire_nets(net_kind_uid: str, count: int, on: date) -> Edit:
    """Return the edit by which nets of a kind go out of use on a day.

    Damaged ones go first, then those without a number, then those that are not known to have stood anywhere. All
    of them stay in the farm with their past.
    """
    if count < 1:
        raise EditError("{count} nets cannot go out of use.", remedy="Give a number of at least 1.", count=count)

    def changes(farm: Farm) -> Sequence[RowChange]:
        kind = row_of(farm, NetKind, net_kind_uid)
        there = nets_owned(farm, net_kind_uid, on)
        if count > len(there):
            raise EditError(
                "The farm owns {owned} of the {kind} on {day}: {count} cannot go out of use.",
                remedy="Give a number that is not above {owned}, or put right how many you own.",
                owned=len(there),
                kind=kind.name,
                day=on,
                count=count,
            )
        stood = {use.net_uid for use in farm.net_uses.values()}
        there.sort(
            key=lambda net: (not is_damaged(farm, net, on), bool(net.number), net.uid in stood, net.uid),
        )
        return [change(net, replace(net, retired_on=on)) for net in there[:count]]

    label = Text(
        "1 net out of use from {day} on.", {"day": on}, plural="{count} nets out of use from {day} on.", count=count
    )
    return Edit(label, changes)


def change_net_kind(
    uid: str,
    *,
    name: str,
    tape: str,
    bays_mm: Sequence[int],
    height_mm: int,
    price: float | None,
    ohm_per_km: float | None = None,
    leak: float | None = None,
) -> Edit:
    """Return the edit that sets what is known of a kind of nets; as the columns of `NetKind`."""

    def changes(farm: Farm) -> Sequence[RowChange]:
        kind = row_of(farm, NetKind, uid)
        now = replace(
            kind,
            name=name.strip(),
            tape=tape.strip(),
            bays_mm=tuple(bays_mm),
            height_mm=height_mm,
            price=price,
            ohm_per_km=ohm_per_km,
            leak=leak,
        )
        if any(other.name == now.name for other in farm.net_kinds.values() if other.uid != uid):
            raise EditError(
                "Another kind of nets is called {name} already.",
                remedy="Give it a name that tells the two apart, such as {example}.",
                name=now.name,
                example=f"{now.name}, {now.tape or 'low'}",
            )
        return [] if now == kind else [change(kind, now)]

    return Edit(Text("{kind} changed.", {"kind": name.strip()}), changes)
