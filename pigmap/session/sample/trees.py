"""Crowns of trees and bushes for the invented aerial image, and their shadows."""

from __future__ import annotations

from typing import NamedTuple

import numpy as np
from numpy.typing import NDArray

Image = NDArray[np.uint8]

# Afternoon light from the south-west: shadows fall to the north-east.
LIGHT = np.array([-0.55, 0.55, 0.63])
SHADOW_EAST, SHADOW_NORTH = 0.75, 0.65
"""Shift of a shadow in radii of the crown."""

_RADII = np.array([5, 7, 9, 12, 15, 18, 22])
_SORTS = 5
_LEAVES = np.array([[60, 84, 40], [70, 92, 46], [52, 76, 38], [82, 98, 52], [64, 88, 52]], dtype=np.float32)


class Tree(NamedTuple):
    """One crown: its middle and radius in pixels, rows counted from the top."""

    row: float
    column: float
    radius: float


class Crown(NamedTuple):
    """A crown as it is stamped on the image: colour (n, n, 3) and how much of it covers the ground (n, n, 1)."""

    colour: NDArray[np.float32]
    cover: NDArray[np.float32]


class Forester:
    """Plants crowns on an image, from a small stock of shapes."""

    def __init__(self, rng: np.random.Generator) -> None:
        self._rng = rng
        self._stock = {
            (int(radius), sort): _crown(rng, int(radius), _LEAVES[sort]) for radius in _RADII for sort in range(_SORTS)
        }

    def plant(self, image: Image, trees: list[Tree], *, shadows: bool = True, light: float = 1.0) -> None:
        """Draw shadows, then crowns, in place."""
        if shadows:
            for tree in trees:
                crown = self._stock[self._near(tree.radius), 0]
                row, column = tree.row - SHADOW_NORTH * tree.radius, tree.column + SHADOW_EAST * tree.radius
                _stamp(image, Crown(np.full_like(crown.colour, (30, 40, 30)), crown.cover * 0.5), row, column)
        for tree in trees:
            crown = self._stock[self._near(tree.radius), int(self._rng.integers(_SORTS))]
            _stamp(image, Crown(crown.colour * light, crown.cover), tree.row, tree.column)

    @staticmethod
    def _near(radius: float) -> int:
        return int(_RADII[np.abs(_RADII - radius).argmin()])


def _crown(rng: np.random.Generator, radius: int, leaf: NDArray[np.float32]) -> Crown:
    """Return a lobed half ball of leaves, lit from one side."""
    size = 2 * radius + 5
    down, right = (np.mgrid[:size, :size].astype(np.float32) - size // 2) / radius
    turn = np.arctan2(down, right)
    phases = rng.uniform(0, 2 * np.pi, 3)
    lobes = sum(0.09 * np.sin((3 + 2 * count) * turn + phase) for count, phase in enumerate(phases))
    far = np.hypot(down, right) / (0.92 + lobes)
    up = np.sqrt(np.clip(1 - far**2, 0, 1))
    lit = LIGHT[0] * right + LIGHT[1] * down + LIGHT[2] * up
    leaves = rng.standard_normal((size, size)) * 0.16
    brightness = np.clip(0.62 + 0.62 * lit + leaves, 0.25, 1.7)[..., None]
    cover = np.clip((1.05 - far) * radius / 2.0, 0, 1)[..., None]
    return Crown((leaf * brightness).astype(np.float32), cover.astype(np.float32))


def _stamp(image: Image, crown: Crown, row: float, column: float) -> None:
    size = crown.cover.shape[0]
    top, left = round(row) - size // 2, round(column) - size // 2
    first_row, first_column = max(top, 0), max(left, 0)
    last_row, last_column = min(top + size, image.shape[0]), min(left + size, image.shape[1])
    if first_row >= last_row or first_column >= last_column:
        return
    part = np.s_[first_row - top : last_row - top, first_column - left : last_column - left]
    under = image[first_row:last_row, first_column:last_column]
    cover = crown.cover[part]
    under[:] = under * (1 - cover) + crown.colour[part] * cover
