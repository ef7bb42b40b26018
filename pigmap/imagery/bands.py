"""Which bands of an image are shown as which colour."""

from __future__ import annotations

from typing import Any

import numpy as np

from pigmap.errors import RasterError
from pigmap.imagery.facts import Bands

_INKS = {"cyan", "magenta", "yellow", "black"}
_OTHER_MODELS = {"hue", "saturation", "lightness"}


def shown_bands(dataset: Any, name: str) -> Bands:
    """Return the bands to show of an open dataset.

    Colours go by what the file says of each band, never by their order; a file that says nothing shows its first
    three. Nothing is taken for infrared.

    Raises
    ------
    RasterError
        If the values are no brightness: complex numbers, or amounts of ink.
    """
    told = [band.name for band in dataset.colorinterp]
    _need_brightness(dataset, told, name)
    alpha = told.index("alpha") + 1 if "alpha" in told else None
    plain = [index for index in range(1, len(told) + 1) if index != alpha]
    if told[0] == "palette":
        return Bands(colours=(1,), alpha=alpha, palette=True, count=len(told))
    stretched = any(kind != "uint8" for kind in dataset.dtypes) or _single_bits(dataset)
    if {"red", "green", "blue"} <= set(told):
        colours = tuple(told.index(colour) + 1 for colour in ("red", "green", "blue"))
        return Bands(colours=colours, alpha=alpha, stretched=stretched, count=len(told))
    if len(plain) < 3:
        return Bands(colours=(plain[0],), alpha=alpha, stretched=stretched, count=len(told))
    return Bands(colours=tuple(plain[:3]), alpha=alpha, stretched=stretched, named=False, count=len(told))


def _single_bits(dataset: Any) -> bool:
    return str(dataset.tags(1, ns="IMAGE_STRUCTURE").get("NBITS", "8")) == "1"


def _need_brightness(dataset: Any, told: list[str], name: str) -> None:
    kinds = sorted({kind for kind in dataset.dtypes if np.dtype(kind).kind not in "uif"} if told else ())
    if kinds:
        raise RasterError(
            "{name} holds values of the kind {kind}; a picture needs whole or decimal numbers.",
            remedy="Export it as 8-bit red, green and blue.",
            name=name,
            kind=kinds[0],
        )
    other = _INKS if _INKS & set(told) else _OTHER_MODELS if _OTHER_MODELS & set(told) else set()
    if other:
        raise RasterError(
            "{name} holds its colours as {bands}; the map shows red, green and blue.",
            remedy="Export it as 8-bit red, green and blue.",
            name=name,
            bands=", ".join(band for band in told if band in other),
        )
