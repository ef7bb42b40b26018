"""What a farm has that lies nowhere, as tables: purposes of fields, groups, what happened to them, energizers, nets."""

from __future__ import annotations

from collections.abc import Mapping, Sequence
from typing import Any

from pigmap.records import Farm, Record
from pigmap.session.handing_out.order import in_order
from pigmap.session.handing_out.table import Column, Handed, Kind, column

SHAPELESS = ("purposes", "groups", "events", "energizers", "netkinds", "nets")
"""What has no shape, so that it is a table and nothing else."""


def purposes_of(farm: Farm) -> Handed:
    """Return what each field is for in each part of the year."""
    rows = sorted(farm.purposes.values(), key=lambda row: (_name(farm.fields, row.field_uid), row.from_month_day))
    return _table(
        "purposes",
        column("field", "text", [_name(farm.fields, row.field_uid) for row in rows]),
        *_columns(
            rows,
            text=("from_month_day", "to_month_day", "purpose"),
            whole=("rest_days_wanted",),
            number=("rooting_wanted",),
        ),
        _uids(rows),
    )


def groups_of(farm: Farm) -> Handed:
    """Return all groups, also those that have ended; their pigs are what happened to them."""
    rows = in_order(farm.groups.values())
    return _table(
        "groups",
        column("name", "text", [row.name for row in rows]),
        column("class", "text", [row.pig_class for row in rows]),
        *_columns(
            rows,
            text=("breed_type",),
            truth=("ringed",),
            number=("feed_share", "feed_kg", "feed_protein_g_kg", "tank_l", "feeder_kg", "target_kg"),
            whole=("drinkers",),
            day=("closed_on",),
        ),
        column("note", "text", [row.note for row in rows]),
        _uids(rows),
    )


def events_of(farm: Farm) -> Handed:
    """Return what happened to groups, the earliest first: how many came and went, and what they weighed."""
    rows = sorted(farm.group_events.values(), key=lambda row: (row.happened_on, row.uid))
    return _table(
        "events",
        column("group", "text", [_name(farm.groups, row.group_uid) for row in rows]),
        *_columns(
            rows,
            day=("happened_on",),
            text=("kind",),
            whole=("pigs",),
            number=("mean_kg",),
        ),
        column("weighed_by", "text", [row.weighed_by if row.mean_kg is not None else None for row in rows]),
        column("other_group", "text", [_name(farm.groups, row.other_group_uid) for row in rows]),
        column("withdrawal_days", "whole", [row.withdrawal_days for row in rows]),
        column("note", "text", [row.note for row in rows]),
        _uids(rows),
    )


def energizers_of(farm: Farm) -> Handed:
    """Return all energizers, where each stands or with whom it moves."""
    rows = in_order(farm.energizers.values())
    return _table(
        "energizers",
        *_columns(
            rows,
            text=("name", "source"),
            number=("output_j", "open_kv", "kv_500"),
            whole=("rods",),
        ),
        *_columns(
            rows,
            number=("rod_m", "rod_mm", "rods_apart_m", "lead_m", "lead_ohm_per_km"),
            text=("soil",),
            day=("swap_on",),
        ),
        column("group", "text", [_name(farm.groups, row.group_uid) for row in rows]),
        column("place", "text", [_name(farm.places, row.place_uid) for row in rows]),
        column("note", "text", [row.note for row in rows]),
        _uids(rows),
    )


def net_kinds_of(farm: Farm) -> Handed:
    """Return the kinds of nets, bay by bay."""
    rows = in_order(farm.net_kinds.values())
    return _table(
        "netkinds",
        *_columns(rows, text=("name", "tape")),
        column("length_m", "number", [row.length_m for row in rows]),
        column("posts", "whole", [row.posts for row in rows]),
        column("bays_mm", "text", [" ".join(map(str, row.bays_mm)) for row in rows]),
        column("height_mm", "whole", [row.height_mm for row in rows]),
        column("ohm_per_km", "number", [row.ohm_per_km for row in rows]),
        column("leak_kohm", "number", [row.leak for row in rows]),
        column("price", "number", [row.price for row in rows]),
        _uids(rows),
    )


def _columns(rows: Sequence[Any], **names: Sequence[str]) -> list[Column]:
    """Return columns of records as they are, by their kinds."""
    kinds: Mapping[str, Kind] = {
        "text": "text", "whole": "whole", "number": "number", "truth": "truth", "day": "day"
    }  # fmt: skip
    return [
        column(name, kinds[kind], [getattr(row, name) for row in rows]) for kind, each in names.items() for name in each
    ]


def _table(name: str, *columns: Column) -> Handed:
    count = len(columns[0].values)
    called = columns[0].values
    return Handed(name, columns, (None,) * count, tuple(str(each or "") for each in called))


def _name(rows: Mapping[str, Any], uid: str | None) -> str:
    return str(getattr(rows.get(uid or ""), "name", ""))


def _uids(rows: Sequence[Record]) -> Column:
    return column("uid", "text", [row.uid for row in rows])
