"""Which of the spare nets most likely close a run that someone saw standing, and where each begins and ends."""

from __future__ import annotations

from collections.abc import Sequence
from itertools import product
from typing import NamedTuple, cast

import numpy as np
import shapely
from numpy.typing import NDArray
from shapely.ops import substring

from pigmap.geometry.runs import Run
from pigmap.records import NetKind

CLICKED_M, CLICKED_SHARE = 1.0, 0.03
"""So much longer than its nets a run may seem, since its corners were clicked by eye [m, and share]. Own choice."""
AT_CORNER_M = 2.0
"""A net that ends nearer to a corner than this ends at it [grid m]. Own choice."""
MOST_OF_A_KIND = 40
"""Nets of one kind that are tried on one run."""


class Spare(NamedTuple):
    """Nets of a kind that can stand in a run."""

    kind: NetKind
    nets: int


class FittedNet(NamedTuple):
    """One net where it stands [grid m]."""

    kind: NetKind
    line: shapely.LineString


def nets_that_fit(length_mm: int, spare: Sequence[Spare]) -> tuple[Spare, ...] | None:
    """Return the spare nets that come nearest to a run that they close; None where they are too few for it.

    Of two choices that come as near the one of fewer nets is taken. A run may be `CLICKED_M` and `CLICKED_SHARE`
    longer than its nets.

    Examples
    --------
    >>> fifty = NetKind(name="50 m", bays_mm=(50_000,))
    >>> half = NetKind(name="25 m", bays_mm=(25_000,))
    >>> found = nets_that_fit(98_700, [Spare(fifty, 1), Spare(half, 2)])
    >>> [(kind.name, nets) for kind, nets in found]
    [('50 m', 1), ('25 m', 2)]
    >>> nets_that_fit(140_000, [Spare(fifty, 1), Spare(half, 2)]) is None
    True
    """
    lengths = np.array([each.kind.length_mm for each in spare], dtype=np.int64)
    tries = [range(min(each.nets, MOST_OF_A_KIND, length_mm // each.kind.length_mm + 1) + 1) for each in spare]
    counts = np.array(list(product(*tries)), dtype=np.int64).reshape(-1, len(spare))
    reach = counts @ lengths
    closes = reach >= length_mm - round(CLICKED_M * 1000 + CLICKED_SHARE * length_mm)
    if not len(spare) or not closes.any():
        return None
    counts, off = counts[closes], np.abs(reach[closes] - length_mm)
    best = counts[np.lexsort((counts.sum(axis=1), off))[0]]
    return tuple(Spare(each.kind, int(count)) for each, count in zip(spare, best, strict=True) if count)


def laid_along(run: Run, nets: Sequence[Spare], ground_per_grid: float) -> tuple[FittedNet, ...]:
    """Return where nets begin and end along a run: each ends at a corner where one of the kinds left over about does.

    Nets that are together shorter than the run are drawn out to its length; what the last does not need of its
    length is folded.
    """
    line = shapely.LineString(run.line)
    left = {each.kind.uid: each.nets for each in nets}
    kinds = {each.kind.uid: each.kind for each in nets}
    reach = sum(each.kind.length_m * each.nets for each in nets) / ground_per_grid
    drawn = max(1.0, line.length / reach) if reach else 1.0
    corners = np.concatenate([[0.0], np.cumsum(np.hypot(*np.diff(run.line, axis=0).T))])
    found, at = [], 0.0
    while any(left.values()) and at < line.length - 1e-6:
        ends = {uid: at + kinds[uid].length_m * drawn / ground_per_grid for uid, count in left.items() if count}
        uid = min(ends, key=lambda uid: (_off(corners, ends[uid]), -ends[uid]))
        last = sum(left.values()) == 1
        end = line.length if last else min(_at_corner(corners, ends[uid]), line.length)
        found.append(FittedNet(kinds[uid], cast(shapely.LineString, substring(line, at, end))))
        left[uid] -= 1
        at = end
    return tuple(found)


def _at_corner(corners: NDArray[np.float64], end: float) -> float:
    """Return the end of a net at the corner it is as good as at, since corners that are clicked are not exact."""
    near = float(corners[np.abs(corners - end).argmin()])
    return near if abs(near - end) <= AT_CORNER_M else end


def _off(corners: NDArray[np.float64], end: float) -> float:
    """Return how far the end of a net is from the nearest corner, whole metres alike."""
    return float(np.round(np.abs(corners - end).min()))
