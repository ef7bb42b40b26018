"""The tinted ground of one field as a layer."""

from __future__ import annotations

from functools import lru_cache

import numpy as np
from numpy.typing import NDArray
from shapely.geometry.base import BaseGeometry

from pigmap.drawing.by_cell import Regions, by_cell
from pigmap.drawing.layer import Cells
from pigmap.drawing.rings import with_breaks
from pigmap.drawing.tint import Layers, Tint
from pigmap.drawing.tokens import BARE, UNKNOWN, rgb, rooting_class
from pigmap.geometry.frame import CellFrame
from pigmap.records import Field

_MOST_PACKED = 7


def tinted_cells(
    field: Field, frame: CellFrame, region_of: Regions, layers: Layers, tint: Tint, *, computed: bool = False
) -> Cells:
    """Return the ground of a field coloured by a tint.

    Parameters
    ----------
    field
        The field; cells are clipped to its outline.
    frame, region_of
        Its cells, and the region of each, (rows, columns); -1 outside.
    layers
        State of each region, by name.
    tint
        What colours it.
    computed
        Whether the day is still to come: nothing on it was seen.
    """
    steps = _with_unknown(tint, layers)
    outline = _outline(field.outline)
    if not tint.clods:
        return Cells(field.uid, frame, by_cell(steps, region_of, BARE), colour_table(tint), outline=outline)
    known = np.zeros_like(layers["seen"]) if computed else layers["seen"]
    codes, clods, seen = _with_clods(steps, rooting_class(layers["rooting"]), known, region_of)
    return Cells(field.uid, frame, codes, colour_table(tint), clods, seen, outline)


def _with_unknown(tint: Tint, layers: Layers) -> NDArray[np.uint8]:
    """Return the steps of a tint, and `UNKNOWN` where nobody knows; a tint without steps shows nothing at all."""
    steps, unknown = tint.steps(layers), layers.get("unknown")
    if unknown is None or not tint.key():
        return steps
    return np.where(unknown, np.uint8(UNKNOWN), steps)


def _with_clods(
    steps: NDArray[np.uint8], rooted: NDArray[np.uint8], seen: NDArray[np.bool_], region_of: Regions
) -> tuple[NDArray[np.uint8], NDArray[np.uint8], NDArray[np.bool_]]:
    """Return step, class of rooting and whether it was seen of each cell.

    Looking up the regions of all cells takes longest, so few steps are packed with the rest into one number for it:
    step in bits 0 to 3, where 15 is bare and 14 unknown, rooting in bits 4 to 6, seen in bit 7.
    """
    if ((steps > _MOST_PACKED) & (steps < UNKNOWN)).any():
        cells = (by_cell(steps, region_of, BARE), by_cell(rooted, region_of, 0))
        return (*cells, by_cell(seen.astype(np.uint8), region_of, 0).view(np.bool_))
    numbers = np.bitwise_and(steps, 15, dtype=np.uint8)
    numbers += rooted * np.uint8(16)
    numbers += seen.view(np.uint8) * np.uint8(128)
    packed = by_cell(numbers, region_of, 15)
    # Times 16 is ten times as fast as a shift here. The sign runs on: 15 becomes -1, without a sign 255, and 14 254.
    codes = (packed * np.uint8(16)).view(np.int8) >> 4
    clods = np.bitwise_and(packed >> np.uint8(4), 7, dtype=np.uint8)
    return codes.view(np.uint8), clods, packed >= 128


@lru_cache(maxsize=64)
def _outline(field_outline: BaseGeometry) -> NDArray[np.float64]:
    """Return what cells are clipped to; the same array for the same outline, so that it is laid out once."""
    made = with_breaks(field_outline)
    made.flags.writeable = False
    return made


def colour_table(tint: Tint) -> NDArray[np.uint8]:
    """Return red, green, blue and alpha of each step of a tint, (256, 4); steps it does not have are bare."""
    return _table(tuple(key.colour for key in tint.key()))


@lru_cache(maxsize=64)
def _table(colours: tuple[str, ...]) -> NDArray[np.uint8]:
    table = np.zeros((256, 4), dtype=np.uint8)
    for step, colour in enumerate(colours):
        table[step] = rgb(colour)
    table.flags.writeable = False
    return table
