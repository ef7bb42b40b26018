"""Layers that are the same on all days, kept from one day to the next: what is kept off, lines, and field edges.

While days are played or dragged past, most of the time went into painting these anew.
"""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import replace
from datetime import date

from shapely.geometry.base import BaseGeometry

from pigmap.drawing.layer import Layer, Marks, Outlines
from pigmap.drawing.surroundings import (
    field_layers,
    fields_on,
    keep_out_layers,
    keep_outs_on,
    kept_off_layers,
    way_layers,
)
from pigmap.records import Farm

_last: tuple[tuple[object, ...], tuple[Layer, ...]] | None = None


def still_layers(
    farm: Farm, day: date, kept_off: Sequence[BaseGeometry] = (), *, printed: bool = False, more_px: float = 0.0
) -> tuple[Layer, ...]:
    """Return what lies over the tinted ground and below all that changes from day to day.

    The same layers are returned as long as nothing of them is another: fields and keep-outs in force on the day, and
    lines on the ground.

    Parameters
    ----------
    farm, day
        What to show, and on which day.
    kept_off
        Ground near water that pigs are usually kept off.
    printed
        Whether it is for paper.
    more_px
        How much wider casings are, for bright sun [px].
    """
    global _last
    rests_on = (
        *(id(each) for each in (farm.ways, farm.flow_lines, farm.projection)),
        tuple(id(each) for each in fields_on(farm, day)),
        tuple(id(each) for each in keep_outs_on(farm, day)),
        tuple(id(each) for each in kept_off),
        printed,
        more_px,
    )
    held = (farm.ways, farm.flow_lines, farm.projection, fields_on(farm, day), keep_outs_on(farm, day), tuple(kept_off))
    kept = _last
    if kept is None or kept[0][0] != rests_on:
        made = (
            *kept_off_layers(kept_off),
            *keep_out_layers(farm, day),
            *way_layers(farm),
            *field_layers(farm, day, printed=printed),
        )
        # What the numbers above name is held as well: a number of something that is gone could be given again.
        kept = _last = (rests_on, held), tuple(_still(bolder(each, more_px)) for each in made)
    return kept[1]


def _still(layer: Layer) -> Layer:
    return replace(layer, still=True) if isinstance(layer, (Outlines, Marks)) else layer


def bolder(layer: Layer, more_px: float) -> Layer:
    """Return a layer whose casings are wider, for bright sun."""
    if not more_px or not isinstance(layer, Outlines) or not layer.strokes:
        return layer
    wider = tuple(
        replace(stroke, casing_width=stroke.casing_width._replace(px=stroke.casing_width.px + more_px))
        for stroke in layer.strokes
    )
    return replace(layer, strokes=wider)
