"""Which of the spare nets most likely close a run that someone saw standing, and where each begins and ends."""

from __future__ import annotations

from collections.abc import Iterable, Sequence
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
CORNER_DEG = 20.0
"""A run that turns by less than this goes straight on: nobody begins a net there for it [degrees]. Own choice."""


class Spare(NamedTuple):
    """Nets of a kind that can stand in a run."""

    kind: NetKind
    nets: int


class FittedNet(NamedTuple):
    """One net where it stands [grid m]."""

    kind: NetKind
    line: shapely.LineString


def nets_that_fit(run: Run, spare: Sequence[Spare], ground_per_grid: float = 1.0) -> tuple[Spare, ...] | None:
    """Return the spare nets that most likely close a run; None where they are too few for it.

    Those that come nearest to its length are looked at, as near as corners are clicked by eye. Of these the choice is
    taken whose nets end at the corners, since a side of 26 m is closed by a net of 25 m rather than by half of one
    round the corner; of those that do so alike, the nearer, then the one of fewer nets. A run may be `CLICKED_M` and
    `CLICKED_SHARE` longer than its nets.

    Parameters
    ----------
    run
        What is to be closed.
    spare
        Nets that are there for it.
    ground_per_grid
        Ground metres in one grid metre.

    Examples
    --------
    >>> fifty = NetKind(name="50 m", bays_mm=(50_000,))
    >>> half = NetKind(name="25 m", bays_mm=(25_000,))
    >>> run = Run(np.array([(0.0, 0.0), (49.0, 0.0), (49.0, 26.0), (0.0, 26.0), (0.0, 0.0)]), 150_000, ring=True)
    >>> [(kind.name, nets) for kind, nets in nets_that_fit(run, [Spare(fifty, 14), Spare(half, 2)])]
    [('50 m', 2), ('25 m', 2)]
    >>> nets_that_fit(run, [Spare(fifty, 2), Spare(half, 1)]) is None
    True
    """
    lengths = np.array([each.kind.length_mm for each in spare], dtype=np.int64)
    tries = [range(min(each.nets, MOST_OF_A_KIND, run.length_mm // each.kind.length_mm + 1) + 1) for each in spare]
    counts = np.array(list(product(*tries)), dtype=np.int64).reshape(-1, len(spare))
    reach = counts @ lengths
    by_eye = round(CLICKED_M * 1000 + CLICKED_SHARE * run.length_mm)
    closes = reach >= run.length_mm - by_eye
    if not len(spare) or not closes.any():
        return None
    counts, off = counts[closes], np.abs(reach[closes] - run.length_mm)
    near = off <= off.min() + by_eye
    choices = [_those(spare, each) for each in counts[near]]
    missed = [_missed_m(run, each, ground_per_grid) for each in choices] if len(choices) > 1 else [0.0]
    ranked = zip(missed, off[near].tolist(), counts[near].sum(axis=1).tolist(), range(len(choices)), strict=True)
    return choices[min(ranked)[-1]]


def _those(spare: Sequence[Spare], counts: Iterable[int]) -> tuple[Spare, ...]:
    return tuple(Spare(each.kind, int(count)) for each, count in zip(spare, counts, strict=True) if count)


def _missed_m(run: Run, nets: Sequence[Spare], ground_per_grid: float) -> float:
    """Return how far the corners of a run are from the ends of nets along it, added up in steps of `AT_CORNER_M`."""
    laid = laid_along(run, nets, ground_per_grid)
    ends = np.concatenate([[0.0], np.cumsum([net.line.length for net in laid])])
    corners = _corners(run)
    if not len(corners):
        return 0.0
    off = np.abs(corners[:, None] - ends[None, :]).min(axis=1)
    return float(np.where(off <= AT_CORNER_M, 0.0, np.round(off / AT_CORNER_M)).sum()) * AT_CORNER_M


def _corners(run: Run) -> NDArray[np.float64]:
    """Return where along a run it turns [grid m]; its ends are none."""
    ways = np.diff(run.line, axis=0)
    turns = np.degrees(np.arctan2(ways[:, 1], ways[:, 0]))
    bends = np.abs((np.diff(turns) + 180.0) % 360.0 - 180.0)
    found: NDArray[np.float64] = np.cumsum(np.hypot(*ways.T))[:-1][bends >= CORNER_DEG]
    return found


def laid_as_told(run: Run, nets: Sequence[Spare], ground_per_grid: float) -> tuple[FittedNet, ...]:
    """Return where nets that someone counted begin and end along a run: all of them, drawn out or in to its length."""
    laid = laid_along(run, nets, ground_per_grid)
    told = [each.kind for each in nets for _ in range(each.nets)]
    if len(laid) == len(told):
        return laid
    line = shapely.LineString(run.line)
    ends = np.concatenate([[0.0], np.cumsum([kind.length_m for kind in told])])
    ends *= line.length / ends[-1]
    return tuple(
        FittedNet(kind, cast(shapely.LineString, substring(line, begin, end)))
        for kind, begin, end in zip(told, ends[:-1], ends[1:], strict=True)
    )


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
