"""Energizers: what they give, whose fence they feed, what was read at them."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import replace
from datetime import date
from typing import Any

from pigmap.document.edits.find import row_of
from pigmap.errors import EditError
from pigmap.records import (
    Edit,
    Energizer,
    EnergizerReading,
    Farm,
    Group,
    Paddock,
    Place,
    PlaceKind,
    RowChange,
    add,
    change,
    new_uid,
)
from pigmap.text import Text


def tell_energizer_at(place_uid: str, *, uid: str = "", **columns: Any) -> Edit:
    """Return the edit that says what the energizer at a place gives; `columns` are columns of `Energizer`.

    `uid` is that of the row where it is a new one.

    Raises
    ------
    RecordError
        If a value cannot exist.
    EditError
        When it is done, if the place is gone or is no energizer.
    """
    uid = uid or new_uid()
    Energizer(name="This energizer", **columns)  # refused here, before anything is done

    def changes(farm: Farm) -> Sequence[RowChange]:
        place = row_of(farm, Place, place_uid)
        if place.kind is not PlaceKind.ENERGIZER:
            raise EditError(
                "{place} is no energizer.",
                remedy="Set a place of that kind where the energizer stands.",
                place=place.name or Text(str(place.kind)),
            )
        told = next((each for each in farm.energizers.values() if each.place_uid == place_uid), None)
        if told is not None:
            return [change(told, replace(told, **columns))]
        return [add(Energizer(uid=uid, name=place.name or "Energizer", place_uid=place_uid, **columns))]

    return Edit(Text("Energizer told of."), changes)


def tell_energizer_of(group_uid: str, *, uid: str = "", **columns: Any) -> Edit:
    """Return the edit that says what the energizer gives that moves with a group; raises as `tell_energizer_at`."""
    uid = uid or new_uid()
    Energizer(name="This energizer", **columns)  # refused here, before anything is done

    def changes(farm: Farm) -> Sequence[RowChange]:
        group = row_of(farm, Group, group_uid)
        told = next((each for each in farm.energizers.values() if each.group_uid == group_uid), None)
        if told is not None:
            return [change(told, replace(told, **columns))]
        return [add(Energizer(uid=uid, name=f"{group.name}, own unit", group_uid=group_uid, **columns))]

    return Edit(Text("Energizer told of."), changes)


def read_energizer(
    energizer_uid: str, on: date, *, battery_v: float | None = None, earth_kv: float | None = None, uid: str = ""
) -> Edit:
    """Return the edit that writes down what was read at an energizer on a day; raises if nothing was."""
    if battery_v is None and earth_kv is None:
        raise EditError("Nothing was read.", remedy="Give the battery or the earth test.")
    row = EnergizerReading(
        uid=uid or new_uid(), energizer_uid=energizer_uid, read_on=on, battery_v=battery_v, earth_kv=earth_kv
    )

    def changes(farm: Farm) -> Sequence[RowChange]:
        row_of(farm, Energizer, energizer_uid)
        return [add(row)]

    return Edit(Text("Reading of the energizer written down."), changes)


def feed_paddock(paddock_uid: str, energizer_uid: str | None, *, own_switch: bool = False) -> Edit:
    """Return the edit that says what feeds the fence of a paddock; None lets that follow from its group."""

    def changes(farm: Farm) -> Sequence[RowChange]:
        paddock = row_of(farm, Paddock, paddock_uid)
        if energizer_uid is not None:
            row_of(farm, Energizer, energizer_uid)
        return [change(paddock, replace(paddock, energizer_uid=energizer_uid, own_switch=own_switch))]

    return Edit(Text("Told what feeds the fence."), changes)
