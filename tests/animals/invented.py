"""Small invented farms for tests of the animals."""

from __future__ import annotations

from datetime import date
from types import MappingProxyType
from typing import Any

from pigmap.records import Farm, Group, GroupEvent, GroupEventKind, PigClass, Projection, Record, Setting

CAME = date(2026, 1, 1)


def farm(*rows: Record) -> Farm:
    """Return a farm with these rows."""
    tables: dict[str, dict[str, Record]] = {}
    for row in rows:
        tables.setdefault(row.TABLE, {})[row.uid] = row
    return Farm(
        document_uid="invented",
        projection=Projection(name="flat", authority="NONE", code=1, definition=""),
        **{table: MappingProxyType(kept) for table, kept in tables.items()},  # type: ignore[arg-type]
    )


def pigs(
    uid: str = "g",
    count: int = 20,
    kg: float | None = 80.0,
    pig_class: PigClass = PigClass.FINISHING,
    on: date = CAME,
    **columns: Any,
) -> list[Record]:
    """Return a group whose pigs came on a day, and were weighed on 2 July 2026 with the same weight."""
    weighed = [(date(2026, 7, 2), GroupEventKind.WEIGHED)] if kg is not None else []
    return [
        Group(uid=uid, name=f"Group {uid}", pig_class=pig_class, **columns),
        *(
            GroupEvent(uid=f"{uid}-{day}", group_uid=uid, happened_on=day, kind=kind, pigs=count, mean_kg=kg)
            for day, kind in [(on, GroupEventKind.BOUGHT), *weighed]
        ),
    ]


def setting(key: str, value_json: str) -> Setting:
    return Setting(uid=f"set {key}", key=key, value_json=value_json)
