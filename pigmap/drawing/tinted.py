"""The tinted ground of one field as a layer."""

from __future__ import annotations

import numpy as np
from numpy.typing import NDArray

from pigmap.drawing.layer import Cells
from pigmap.drawing.rings import with_breaks
from pigmap.drawing.tint import Layers, Tint
from pigmap.drawing.tokens import BARE, rgb, rooting_class
from pigmap.geometry.frame import CellFrame
from pigmap.records import Field


def tinted_cells(
    field: Field, frame: CellFrame, region_of: NDArray[np.int32], layers: Layers, tint: Tint, *, computed: bool = False
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
    codes = _by_cell(tint.steps(layers), region_of, BARE)
    clods = seen = None
    if tint.clods:
        clods = _by_cell(rooting_class(layers["rooting"]), region_of, 0)
        known = np.zeros_like(layers["seen"]) if computed else layers["seen"]
        seen = _by_cell(known.astype(np.uint8), region_of, 0).view(np.bool_)
    return Cells(field.uid, frame, codes, colour_table(tint), clods, seen, with_breaks(field.outline))


def colour_table(tint: Tint) -> NDArray[np.uint8]:
    """Return red, green, blue and alpha of each step of a tint, (256, 4); steps it does not have are bare."""
    table = np.zeros((256, 4), dtype=np.uint8)
    for step, key in enumerate(tint.key()):
        table[step] = rgb(key.colour)
    return table


def _by_cell(of_region: NDArray[np.uint8], region_of: NDArray[np.int32], outside: int) -> NDArray[np.uint8]:
    longer = np.append(of_region, np.uint8(outside))  # region -1 takes the last one
    made: NDArray[np.uint8] = np.take(longer, region_of, mode="wrap")
    return made
