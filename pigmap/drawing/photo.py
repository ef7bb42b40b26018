"""The photo as pixels: toned for pencil or dark, and its fine structure to press into tinted ground."""

from __future__ import annotations

import numpy as np
from numpy.typing import NDArray

from pigmap.drawing.layer import Tiles

_GREY = np.array([0.299, 0.587, 0.114], dtype=np.float32)
"""Share of each colour in grey: ITU-R BT.601-7 (2011), section 2.5.1."""


def toned(pixels: NDArray[np.uint8], layer: Tiles) -> NDArray[np.uint8]:
    """Return a photo (rows, columns, 4) as the layer says: less coloured, lifted towards white, or dimmed."""
    if not (layer.desaturated or layer.lifted or layer.dimmed):
        return pixels
    colours = pixels[..., :3].astype(np.float32)
    if layer.desaturated:
        grey = colours @ _GREY
        colours += (grey[..., None] - colours) * np.float32(layer.desaturated)
    if layer.lifted:
        colours += (255 - colours) * np.float32(layer.lifted)
    if layer.dimmed:
        colours *= np.float32(1 - layer.dimmed)
    made = pixels.copy()
    made[..., :3] = np.clip(np.rint(colours), 0, 255)
    return made


def pressed(pixels: NDArray[np.uint8], sigma: float) -> NDArray[np.uint8]:
    """Return the fine structure of a photo as grey about 128: the photo less its own blur, (rows, columns).

    Parameters
    ----------
    pixels
        Photo, (rows, columns, 4).
    sigma
        Breadth of the blur [pixels].
    """
    grey = pixels[..., :3].astype(np.float32) @ _GREY
    half = max(1, round(sigma * np.sqrt(12 / 3) / 2))  # three boxes in a row have about the spread of one bell
    blurred = grey
    for _ in range(3):
        blurred = _boxed(_boxed(blurred, half).T, half).T
    fine: NDArray[np.uint8] = np.clip(grey - blurred + 128, 0, 255).astype(np.uint8)
    return fine


def _boxed(grey: NDArray[np.float32], half: int) -> NDArray[np.float32]:
    """Return the mean over `half` rows to either side."""
    padded = np.pad(grey, ((half + 1, half), (0, 0)), mode="edge")
    sums = np.cumsum(padded, axis=0, dtype=np.float64)
    return ((sums[2 * half + 1 :] - sums[: -2 * half - 1]) / (2 * half + 1)).astype(np.float32)
