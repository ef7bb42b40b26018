"""Settings, images, and single columns of any row."""

from __future__ import annotations

import json
from collections.abc import Sequence
from dataclasses import fields, replace
from datetime import date
from typing import Any

from pigmap.document.edits.find import any_row, kind_in_words, row_of
from pigmap.errors import EditError
from pigmap.records import TABLES, Edit, Farm, Image, RowChange, Setting, add, change, new_uid, remove
from pigmap.text import Text

_OWN_EDITS = {"uid", "outline", "ground", "shape", "line", "point", "run"}
"""Columns that only edits of their own change, since others hang on them."""


def change_setting(key: str, value: Any, *, unit: str = "") -> Edit:
    """Return the edit that sets one of the farm's choices; None takes it back to what it is without one."""
    fresh = Setting(key=key, value_json=json.dumps(value, ensure_ascii=False), unit=unit)

    def changes(farm: Farm) -> Sequence[RowChange]:
        old = next((row for row in farm.settings.values() if row.key == key), None)
        if value is None:
            return [] if old is None else [remove(old)]
        if old is None:
            return [add(fresh)]
        now = replace(old, value_json=fresh.value_json, unit=unit)
        return [] if now == old else [change(old, now)]

    return Edit(Text("{key} changed.", {"key": Text(key.capitalize())}), changes)


def link_image(name: str, link: str, *, opacity: float = 1.0, note: str = "", uid: str = "") -> Edit:
    """Return the edit that shows an aerial image; the file stays where it is, the newest lies on top."""
    image = Image(uid=uid or new_uid(), name=name, link=link, opacity=opacity, note=note)

    def changes(farm: Farm) -> Sequence[RowChange]:
        top = max((row.position for row in farm.images.values()), default=-1)
        return [add(replace(image, position=top + 1))]

    return Edit(Text("{name} linked.", {"name": name}), changes)


def unlink_image(uid: str) -> Edit:
    """Return the edit that no longer shows an image; its file is not touched."""
    return Edit(Text("Image no longer shown."), lambda farm: [remove(row_of(farm, Image, uid))])


def rename(table: str, uid: str, name: str) -> Edit:
    """Return the edit that gives a row of a table another name."""
    column = {"nets": "number"}.get(table, "name")
    edit = amend(table, uid, **{column: name})
    return Edit(Text("Renamed to {name}.", {"name": name}), edit.changes)


def end_use(table: str, uid: str, on: date | None) -> Edit:
    """Return the edit that gives a field, a group or a net its first day out of use; None takes that day back.

    Its past stays. It is the way out for what recorded facts keep from being removed.
    """
    edit = amend(table, uid, **{"closed_on" if table == "groups" else "retired_on": on})
    if on is None:
        return Edit(Text("End of use taken back."), edit.changes)
    return Edit(Text("Out of use from {day} on.", {"day": on}), edit.changes)


def amend(table: str, uid: str, **columns: Any) -> Edit:
    """Return the edit that changes single columns of a row, such as a note or the cover of a field.

    Raises
    ------
    EditError
        If a column does not exist, or has an edit of its own.
    """
    known = {each.name for each in fields(TABLES[table])} - _OWN_EDITS
    for column in columns:
        if column not in known:
            raise EditError(
                "{column} of a {kind} cannot be changed on its own.",
                remedy="Choose one of: {known}.",
                column=column,
                kind=kind_in_words(table),
                known=", ".join(sorted(known)),
            )

    def changes(farm: Farm) -> Sequence[RowChange]:
        row = any_row(farm, table, uid)
        now = replace(row, **columns)
        return [] if now == row else [change(row, now)]

    return Edit(Text("{kind} changed.", {"kind": Text(str(kind_in_words(table)).capitalize())}), changes)
