"""The values of an image's bands as red, green, blue and alpha."""

from __future__ import annotations

from collections.abc import Callable, Mapping
from typing import Any, NamedTuple

import numpy as np
from numpy.typing import NDArray

_DARK, _BRIGHT = 2.0, 98.0
"""Percentiles between which values that are no bytes are stretched. Common practice."""

_NO_SPAN = 1e-6
"""Black and white are at least so far apart, whatever was chosen of one and found of the other."""


class Stretch(NamedTuple):
    """Values that become black and white."""

    dark: float
    bright: float


def stretch_of(values: NDArray[Any], alpha: NDArray[np.uint8]) -> Stretch:
    """Return the stretch for an image from a small picture of it.

    Parameters
    ----------
    values
        Its shown bands, (bands, rows, columns); one stretch serves all, so that colours keep their hue.
    alpha
        0 where there is no data, (rows, columns).
    """
    seen = values[:, alpha > 0].astype(np.float64)
    seen = seen[np.isfinite(seen)]
    if seen.size == 0:
        return Stretch(0.0, 1.0)
    dark, bright = np.percentile(seen, (_DARK, _BRIGHT))
    if bright > dark:
        return Stretch(float(dark), float(bright))
    return Stretch(float(dark) - 1.0, float(dark) + 1.0)  # one value everywhere is shown as grey


def stretch_between(dark: float | None, bright: float | None, found: Callable[[], Stretch]) -> Stretch:
    """Return the stretch between what a person chose as black and white; what was left open is found.

    Examples
    --------
    >>> stretch_between(10.0, None, lambda: Stretch(2.0, 98.0))
    Stretch(dark=10.0, bright=98.0)
    """
    if dark is None or bright is None:
        other = found()
        dark, bright = other.dark if dark is None else dark, other.bright if bright is None else bright
    return Stretch(dark, max(bright, dark + _NO_SPAN))


def stretched(values: NDArray[Any], stretch: Stretch) -> NDArray[np.uint8]:
    """Return values as bytes, black at the dark end and white at the bright one; no number counts as black."""
    share = (np.nan_to_num(values.astype(np.float32)) - stretch.dark) / (stretch.bright - stretch.dark)
    return np.asarray(np.clip(share * 255.0 + 0.5, 0, 255), dtype=np.uint8)


def palette_table(colours: Mapping[int, tuple[int, ...]]) -> NDArray[np.uint8]:
    """Return a palette as a table of red, green, blue and alpha, (numbers, 4)."""
    table = np.zeros((max(max(colours, default=0) + 1, 256), 4), dtype=np.uint8)
    for number, colour in colours.items():
        table[number] = colour
    return table


def coloured(
    values: NDArray[Any],
    alpha: NDArray[np.uint8],
    *,
    stretch: Stretch | None,
    palette: NDArray[np.uint8] | None,
) -> NDArray[np.uint8]:
    """Return bands as one picture.

    Parameters
    ----------
    values
        Three bands, one of grey, or one of numbers of a palette, (bands, rows, columns).
    alpha
        0 where there is no data, (rows, columns).
    stretch
        For values that are no bytes.
    palette
        Table of a palette, (numbers, 4).

    Returns
    -------
    NDArray
        Red, green, blue and alpha, (rows, columns, 4).
    """
    if palette is not None:
        picture: NDArray[np.uint8] = np.take(palette, values[0], axis=0, mode="clip")
        np.minimum(picture[..., 3], alpha, out=picture[..., 3])
    else:
        picture = np.empty((*alpha.shape, 4), dtype=np.uint8)
        shown = values if stretch is None else stretched(values, stretch)
        for band in range(3):
            picture[..., band] = shown[min(band, len(shown) - 1)]
        picture[..., 3] = alpha
    if values.dtype.kind == "f":
        picture[..., 3] *= np.isfinite(values).all(axis=0)
    if picture[..., 3].min(initial=255) == 0:
        picture[picture[..., 3] == 0] = 0
    return picture
