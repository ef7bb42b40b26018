"""The order of images from below to above: one goes over or under its neighbour."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import replace

from pigmap.document.edits.find import row_of
from pigmap.records import Edit, Farm, Image, RowChange, change
from pigmap.text import Text


def images_from_above(farm: Farm) -> list[Image]:
    """Return the images of a farm, that which lies over all others first."""
    return sorted(farm.images.values(), key=lambda image: (image.position, image.name), reverse=True)


def shift_image(uid: str, up: bool) -> Edit:
    """Return the edit that lays an image over the one above it, or under the one below; if there is any."""

    def changes(farm: Farm) -> Sequence[RowChange]:
        image = row_of(farm, Image, uid)
        order = images_from_above(farm)
        at = order.index(image)
        to = at + (-1 if up else 1)
        if not 0 <= to < len(order):
            return []
        order[at], order[to] = order[to], order[at]
        numbered = zip(order, reversed(range(len(order))), strict=True)
        return [change(row, replace(row, position=number)) for row, number in numbered if row.position != number]

    return Edit(Text("Order of images changed."), changes)
