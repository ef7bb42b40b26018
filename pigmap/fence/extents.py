"""From where to where each net stands round paddocks, and how many of them a new outline uses too."""

from __future__ import annotations

from collections.abc import Iterable, Iterator, Sequence
from datetime import date
from itertools import accumulate, pairwise
from typing import NamedTuple, cast

import numpy as np
import shapely
from shapely.geometry.base import BaseGeometry
from shapely.ops import substring

from pigmap.fence.told import ToldFence, ToldSides, kinds_along, told_sides
from pigmap.geometry.runs import Run, open_runs
from pigmap.geometry.sides import DRAWN_OUT, FLUSH_M, edges_of, flush_stretches
from pigmap.records import Farm, NetKind, NetUse


class Fenced(NamedTuple):
    """Ground that nets of a kind stand round, or will stand round."""

    ground: shapely.Polygon
    kind: NetKind
    paddock_uid: str = ""
    told: ToldSides = ()
    """Its nets side by side where they are of more than one length."""


class StandingNet(NamedTuple):
    """One net where it stands: its line from end to end [grid m], its kind, and its number if it has one."""

    line: shapely.LineString
    kind: NetKind
    number: str = ""


def nets_round(
    farm: Farm,
    fenced: Sequence[Fenced],
    day: date,
    fences: Iterable[BaseGeometry] = (),
    *,
    in_the_morning: bool = False,
) -> tuple[StandingNet, ...]:
    """Return where each net round some ground stands on a day.

    Nets stand where they are recorded to stand. What no recorded net closes follows from the outlines: nets are laid
    along each run from its begin, as their posts are drawn.

    Parameters
    ----------
    farm, day
        Whose nets, and when.
    fenced
        The ground, that which stands longest first: a side that two share has the nets of the first.
    fences
        Lines that close sides without nets.
    in_the_morning
        Whether what was taken up on that day counts too.
    """
    recorded = _recorded(farm, fenced, day, in_the_morning=in_the_morning)
    lines = (net.line for net in recorded)
    told = [each._replace(told=told_sides(farm, farm.paddocks.get(each.paddock_uid))) for each in fenced]
    return (*recorded, *laid_round(told, [*fences, *lines], farm.projection.ground_per_grid))


def laid_round(
    fenced: Iterable[Fenced], closed: Iterable[BaseGeometry], ground_per_grid: float
) -> tuple[StandingNet, ...]:
    """Return the nets that close the ground where some sides are closed already by outlines or lines."""
    found: list[StandingNet] = []
    others = [*closed]
    for each in fenced:
        near = [shape for shape in others if shapely.dwithin(shape, each.ground, FLUSH_M)]
        fence = ToldFence.of(each.ground, each.told, ground_per_grid)
        for run in open_runs(each.ground, near, ground_per_grid):
            found += _laid(run, [*kinds_along(run, each.kind, fence)], ground_per_grid)
        others.append(each.ground)
    return tuple(found)


def _laid(run: Run, kinds: Sequence[NetKind], ground_per_grid: float) -> Iterator[StandingNet]:
    """Yield the nets along a run from its begin; the last ends with it."""
    line = shapely.LineString(run.line)
    joints = np.array([*accumulate((kind.length_m for kind in kinds), initial=0.0)]) / ground_per_grid
    joints[-1] = line.length
    for kind, (begin, end) in zip(kinds, pairwise(joints.tolist()), strict=True):
        yield StandingNet(cast(shapely.LineString, substring(line, begin, end)), kind)


def shared_nets(outline: shapely.Polygon, nets: Sequence[StandingNet]) -> tuple[StandingNet, ...]:
    """Return the nets that stand along an outline for more than `FLUSH_M`: each must stay up as a whole."""
    lines = np.array([net.line for net in nets], dtype=np.object_)
    near = np.flatnonzero(shapely.dwithin(outline.boundary, lines, FLUSH_M)).tolist()
    edges = edges_of([outline])
    flush = (number for number in near if len(flush_stretches(edges, edges_of([nets[number].line])).side))
    return tuple(nets[number] for number in flush)


def _recorded(farm: Farm, fenced: Sequence[Fenced], day: date, *, in_the_morning: bool) -> list[StandingNet]:
    """Return the nets that are recorded to stand round the ground; one that is written down twice stands once."""
    found: list[StandingNet] = []
    uids = {each.paddock_uid for each in fenced}
    for use in farm.net_uses.values():
        there = use.stands(day) or (in_the_morning and use.taken_on == day and use.set_on < day)
        if not there or not is_one_net(farm, use):
            continue
        net = standing_net(farm, use)
        # A net of the paddock before stays where the next one uses it.
        beside = use.paddock_uid in uids or any(shared_nets(each.ground, [net]) for each in fenced)
        if beside and not stands_among(net, found):
            found.append(net)
    return found


def standing_net(farm: Farm, use: NetUse) -> StandingNet:
    """Return a net as it is written down to stand; its kind must be known."""
    own = farm.nets.get(use.net_uid or "")
    return StandingNet(use.run, farm.net_kinds[use.net_kind_uid], own.number if own is not None else "")


def stands_among(net: StandingNet, others: Iterable[StandingNet]) -> bool:
    """Whether a net is one of some others: it stands where one of them does."""
    return any(shapely.hausdorff_distance(net.line, other.line) <= FLUSH_M for other in others)


def is_one_net(farm: Farm, use: NetUse) -> bool:
    """Whether the line of a recorded net is that of one net; some lines go all the way round a paddock."""
    kind = farm.net_kinds.get(use.net_kind_uid)
    return kind is not None and use.run.length * farm.projection.ground_per_grid <= kind.length_m * DRAWN_OUT
