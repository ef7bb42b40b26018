"""Nets that were told for each side of a rectangle: which of them runs take, and in which order they stand."""

from __future__ import annotations

from collections import Counter
from collections.abc import Iterable, Iterator, Sequence
from itertools import pairwise
from typing import TypeAlias

import numpy as np
import shapely
from numpy.typing import NDArray

from pigmap.fence.choice import choose_nets
from pigmap.fence.count import nets_along
from pigmap.fence.fitted import Spare, laid_along
from pigmap.geometry.four_sides import corners_of_four, first_of_told
from pigmap.geometry.runs import Run
from pigmap.geometry.sides import FLUSH_M
from pigmap.records import Farm, NetKind, Paddock
from pigmap.records.frozen import dataclass
from pigmap.records.side_nets import SideNets, read

ToldSides: TypeAlias = tuple[tuple[Spare, ...], ...]
"""Nets of the four sides, anticlockwise from the first corner; nothing where they are not told."""


def told_sides(farm: Farm, paddock: Paddock | None) -> ToldSides:
    """Return the nets that were told for the sides of a paddock; nothing where all are of one kind, or one is gone."""
    return sides_with_kinds(farm, read(paddock.side_nets)) if paddock is not None and paddock.side_nets else ()


def sides_with_kinds(farm: Farm, sides: Sequence[SideNets]) -> ToldSides:
    """Return nets of sides with their kinds; nothing where the farm does not know one of them."""
    if any(uid not in farm.net_kinds for side in sides for uid, _ in side):
        return ()
    return tuple(tuple(Spare(farm.net_kinds[uid], nets) for uid, nets in side) for side in sides)


def length_mm(side: Iterable[Spare]) -> int:
    """Return how long the nets of a side are together [mm]."""
    return sum(each.kind.length_mm * each.nets for each in side)


def in_all(nets: Iterable[Sequence[Spare]]) -> tuple[Spare, ...]:
    """Return how many nets of each kind there are in all, the longest first.

    Examples
    --------
    >>> half = NetKind(name="25 m", bays_mm=(25_000,))
    >>> [(each.kind.name, each.nets) for each in in_all([[Spare(half, 1)], [Spare(half, 2)]])]
    [('25 m', 3)]
    """
    kinds: dict[str, NetKind] = {}
    counts: Counter[str] = Counter()
    for each in (one for some in nets for one in some):
        kinds[each.kind.uid] = each.kind
        counts[each.kind.uid] += each.nets
    order = sorted(kinds.values(), key=lambda kind: (-kind.length_mm, kind.name, kind.uid))
    return tuple(Spare(kind, counts[kind.uid]) for kind in order if counts[kind.uid])


@dataclass(frozen=True, slots=True, eq=False)
class ToldFence:
    """The sides of one rectangle with their nets."""

    corners: NDArray[np.float64]
    """Anticlockwise, (4, 2) [grid m]."""
    sides: ToldSides
    """The nets of the side that begins at each corner."""
    ground_per_grid: float

    @staticmethod
    def of(outline: shapely.Polygon, sides: ToldSides, ground_per_grid: float = 1.0) -> ToldFence | None:
        """Return the nets of an outline side by side; None where they were told for sides of other lengths."""
        first = first_of_told(outline, [length_mm(side) for side in sides], ground_per_grid) if sides else None
        corners = corners_of_four(outline) if first is not None else None
        if first is None or corners is None:
            return None
        return ToldFence(corners, (*sides[first:], *sides[:first]), ground_per_grid)

    @property
    def bays_mm(self) -> tuple[int, ...]:
        """All bays round it from its first corner [mm]."""
        return bays_of([kind for side in self.sides for kind in _each(side)])

    def nets(self, runs: Sequence[Run]) -> tuple[tuple[Spare, ...], ...]:
        """Return the nets of each run: of those told for the sides that it runs along, those with least left over.

        A run along whole sides takes all of them. Of the rest of a side that is shared in part, no net is taken that
        is not needed. Where two runs along one side want the same nets, each has its own.

        Examples
        --------
        >>> fifty, half = NetKind(name="50 m", bays_mm=(50_000,)), NetKind(name="25 m", bays_mm=(25_000,))
        >>> sides = (((Spare(fifty, 1), Spare(half, 1)), (Spare(fifty, 1),)) * 2)
        >>> fence = ToldFence.of(shapely.box(0, 0, 75, 50), sides)
        >>> (found,) = fence.nets([Run(fence.corners[[0, 1, 2]], 125_000)])
        >>> [(each.kind.name, each.nets) for each in found]
        [('50 m', 2), ('25 m', 1)]
        """
        if not runs:
            return ()
        met = sorted({side for run in runs for side in self._sides_of(run)})
        told = in_all(self.sides[side] for side in met)
        lengths = [run.length_mm for run in runs]
        chosen = choose_nets(lengths, told)
        if chosen is None:  # a side in two parts
            plenty = [Spare(each.kind, sum(nets_along(length, each.kind) for length in lengths)) for each in told]
            chosen = choose_nets(lengths, plenty)
        return tuple(each.nets for each in chosen or ())

    def in_order(self, run: Run, nets: Sequence[Spare]) -> tuple[NetKind, ...]:
        """Return the nets of a run one after the other, as they stand from its begin."""
        told = [(side, points) for side, points in zip(self._sides_of(run), pairwise(run.line), strict=True)]
        whole = all(self._is_whole(side, float(np.hypot(*(end - begin)))) for side, (begin, end) in told)
        if whole:
            return tuple(kind for side, _ in told for kind in _each(self.sides[side]))
        return tuple(net.kind for net in laid_along(run, nets, self.ground_per_grid)) or _each(nets)

    def bays_along(self, run: Run) -> tuple[int, ...]:
        """Return the bays of the nets along a run, from its begin [mm]."""
        return bays_of(self.in_order(run, self.nets([run])[0]))

    def _is_whole(self, side: int, length_m: float) -> bool:
        return abs(length_m * self.ground_per_grid - length_mm(self.sides[side]) / 1000) <= 2 * FLUSH_M

    def _sides_of(self, run: Run) -> list[int]:
        """Return along which side each stretch of a run lies."""
        ends = np.roll(self.corners, -1, axis=0)
        sides = np.asarray(shapely.linestrings(np.stack([self.corners, ends], axis=1)))
        middles = np.asarray(shapely.points((run.line[:-1] + run.line[1:]) / 2))
        found: list[int] = shapely.distance(middles[:, None], sides[None, :]).argmin(axis=1).tolist()
        return found


def _each(nets: Iterable[Spare]) -> tuple[NetKind, ...]:
    return tuple(each.kind for each in nets for _ in range(each.nets))


def bays_of(kinds: Iterable[NetKind]) -> tuple[int, ...]:
    """Return the bays of nets one after the other [mm]."""
    return tuple(bay for kind in kinds for bay in kind.bays_mm)


def nets_of_runs(runs: Sequence[Run], kind: NetKind, fence: ToldFence | None = None) -> tuple[Spare, ...]:
    """Return the nets that close some runs in all: of one kind, or of those told for each side.

    Examples
    --------
    >>> fifty = NetKind(name="50 m", bays_mm=(50_000,))
    >>> [(each.kind.name, each.nets) for each in nets_of_runs([Run(np.zeros((2, 2)), 140_000)], fifty)]
    [('50 m', 3)]
    """
    if fence is not None:
        return in_all(fence.nets(runs))
    count = sum(nets_along(run.length_mm, kind) for run in runs)
    return (Spare(kind, count),) if count else ()


def kinds_along(run: Run, kind: NetKind, fence: ToldFence | None = None) -> Iterator[NetKind]:
    """Yield the nets along a run from its begin."""
    if fence is None:
        yield from (kind for _ in range(nets_along(run.length_mm, kind)))
    else:
        yield from fence.in_order(run, fence.nets([run])[0])
