"""Pictures that a person pinned to the map: shown where their pins put them."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import replace

from pigmap.document.edits.choices import link_image
from pigmap.document.edits.find import row_of
from pigmap.records import Edit, Farm, Image, RowChange, add, change, new_uid
from pigmap.text import Text


def pin_image(name: str, link: str, pins: str, *, count: int, uid: str = "", note: str = "") -> Edit:
    """Return the edit that shows a picture where its pins put it: a new one, or one that is shown already.

    Parameters
    ----------
    name, link
        What it is called, and the path to its file as the farm keeps it.
    pins
        As they are kept.
    count
        How many they are.
    uid
        The image that is pinned anew; a new one if the farm has none of that name.
    note
        Of a new one.
    """
    image_uid = uid or new_uid()

    def changes(farm: Farm) -> Sequence[RowChange]:
        if image_uid in farm.images:
            before = row_of(farm, Image, image_uid)
            after = replace(before, pins=pins)
            return [] if before == after else [change(before, after)]
        linked = link_image(name, link, uid=image_uid, note=note).changes(farm)
        return [add(replace(row.after, pins=pins)) for row in linked if isinstance(row.after, Image)]

    pattern = "{name} pinned at {points} points."
    return Edit(Text(pattern, {"name": name, "points": count}), changes)
