"""What it costs that only a part of a side is shared."""

from __future__ import annotations

from collections.abc import Iterator, Sequence

import numpy as np
from numpy.typing import NDArray

from pigmap.fence.told import ToldFence, nets_of_runs
from pigmap.geometry.compass import wind
from pigmap.geometry.free_outline import Placed
from pigmap.geometry.rectangle import Rectangle
from pigmap.geometry.runs import Closing, Run, closing
from pigmap.geometry.sides import FLUSH_M, Edges, Sides, flush_stretches
from pigmap.records import NetKind
from pigmap.session.placing.judgement import PlacingWarning
from pigmap.text import Quantity, Text, Value

LONGER = Text("Share a side that is as long, if there is one.")


def sharing_cares(
    placed: Placed, kind: NetKind, closers: Sides, closed: Closing, fence: ToldFence | None = None
) -> Iterator[PlacingWarning]:
    """Yield each side that is shared in part only, where a whole one would take fewer nets, and the shift to it.

    Of whole nets that are shared nothing is said where no shift shares more: that is how a longer paddock begins.

    Parameters
    ----------
    placed, kind
        The place and its nets.
    closers, closed
        The sides that close it where it lies along them, and what they close and leave open of it.
    fence
        Its nets side by side where they are of more than one kind.
    """
    if not closed.shared:
        return
    corners = placed.corners
    edges = np.stack([corners, np.roll(corners, -1, axis=0)], axis=1)
    near = _near(closers, corners)
    carried = _carried(closed.open, kind, fence)
    for edge in edges:
        length = float(np.hypot(*(edge[1] - edge[0])))
        begin, end = _shared(edge, near)
        if not FLUSH_M < end - begin < length - FLUSH_M:
            continue
        all_of_it = closing(placed.outline, closers.joined(Sides(edge[None])), placed.ground_per_grid)
        whole = _carried(all_of_it.open, kind, fence)
        if carried <= whole:
            continue
        values: dict[str, Value] = {
            "shared": round((end - begin) * placed.ground_per_grid),
            "side": Quantity(length * placed.ground_per_grid, "m", 0),
        }
        said = Text(
            "It shares {shared} of {side}: {count} net more than with the whole side.",
            values,
            plural="It shares {shared} of {side}: {count} nets more than with the whole side.",
            count=carried - whole,
        )
        remedy = None
        if isinstance(placed, Rectangle):
            remedy = _shift(placed, kind, edge, closers, (begin, end - length))
        if remedy is not None or not _is_whole_nets((end - begin) * placed.ground_per_grid, kind):
            yield PlacingWarning(said, remedy or LONGER, care=True)


def _carried(runs: Sequence[Run], kind: NetKind, fence: ToldFence | None) -> int:
    return sum(each.nets for each in nets_of_runs(runs, kind, fence))


def _is_whole_nets(length_m: float, kind: NetKind) -> bool:
    nets = round(length_m / kind.length_m)
    return nets > 0 and abs(nets * kind.length_m - length_m) <= FLUSH_M


def _near(closers: Sides, corners: NDArray[np.float64]) -> Edges:
    (west, south), (east, north) = corners.min(axis=0).tolist(), corners.max(axis=0).tolist()
    return closers.edges[closers.near((west - FLUSH_M, south - FLUSH_M, east + FLUSH_M, north + FLUSH_M))]


def _shared(edge: NDArray[np.float64], others: Edges) -> tuple[float, float]:
    """Return from where to where along a side something lies flush with it [grid m]."""
    flush = flush_stretches(edge[None], others)
    if not len(flush.side):
        return 0.0, 0.0
    return float(flush.begin_m.min()), float(flush.end_m.max())


def _shift(
    placed: Rectangle, kind: NetKind, edge: NDArray[np.float64], closers: Sides, steps: tuple[float, float]
) -> Text | None:
    """Return the smaller of the shifts along a side with which all of it is shared, in posts."""
    way = edge[1] - edge[0]
    length = float(np.hypot(*way))
    unit = way / length
    post = kind.length_m / len(kind.bays_mm) / placed.ground_per_grid
    for step in sorted((each for each in steps if abs(each) > FLUSH_M), key=abs):
        towards = unit * np.sign(step)
        moved = edge + unit * step
        begin, end = _shared(moved, _near(closers, moved))
        if end - begin >= length - FLUSH_M:
            return _by(abs(step), post, wind(*towards.tolist()), placed.ground_per_grid)
    return None


def _by(step: float, post: float, way: Text, ground_per_grid: float) -> Text:
    """Return a shift in posts, or in metres where it is no whole number of them."""
    posts = round(step / post)
    if abs(posts * post - step) > FLUSH_M:
        return Text("Set it {length} {way}.", {"length": Quantity(step * ground_per_grid, "m", 1), "way": way})
    return Text("Set it {count} post {way}.", {"way": way}, plural="Set it {count} posts {way}.", count=posts)
