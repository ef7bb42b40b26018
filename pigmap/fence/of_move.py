"""The nets of one move: those to set, those to leave standing and those to take up."""

from __future__ import annotations

from collections import Counter
from collections.abc import Sequence
from datetime import date
from typing import NamedTuple

import shapely

from pigmap.fence.count import nets_for
from pigmap.fence.extents import Fenced, StandingNet, nets_round, shared_nets, standing_net, stands_among
from pigmap.fence.leaning import lines_beside
from pigmap.fence.told import ToldFence, nets_of_runs, told_sides
from pigmap.geometry.compass import wind
from pigmap.geometry.runs import Closing, Run, closing
from pigmap.geometry.sides import BESIDE_M, closes, faces
from pigmap.records import Farm, NetKind
from pigmap.records.frozen import dataclass
from pigmap.text import Text


class KindGround(NamedTuple):
    """Ground that nets close, and their kind; None where it is not known."""

    outline: shapely.Polygon
    kind: NetKind | None
    paddock_uid: str = ""
    group_uid: str = ""
    """Whose it is, where the pigs behind a net are to be named."""


@dataclass(frozen=True, slots=True)
class Nets:
    """Some nets of one kind; of nets of an unknown kind only the length is known."""

    kind: NetKind | None
    count: int
    length_m: float
    numbers: tuple[str, ...] = ()
    """Numbers of those that have one."""


@dataclass(frozen=True, slots=True, eq=False)
class Staying:
    """Nets round the old paddock that must stay, since other ground is closed by them too."""

    nets: Nets
    side: Text
    """On which side of the old paddock."""
    behind: KindGround
    """The ground they close."""
    lines: tuple[shapely.LineString, ...]
    """Where they stand [grid m]."""


@dataclass(frozen=True, slots=True, eq=False)
class MoveNets:
    """What a move does with nets."""

    sides: Closing
    """The new outline: what wants nets, and what it shares with sides that stand."""
    to_set: tuple[Nets, ...]
    to_leave: tuple[Nets, ...]
    to_take_up: tuple[Nets, ...]
    stays: tuple[Staying, ...] = ()
    """Nets of the old paddock that are neither used by the new one nor taken up."""


def nets_of_move(
    farm: Farm,
    coming: KindGround,
    old: KindGround | None,
    others: Sequence[KindGround],
    day: date | None,
    perhaps: Sequence[KindGround] = (),
) -> MoveNets:
    """Return the nets of a move.

    Parameters
    ----------
    farm
        Whose nets.
    coming, old
        The paddock to be set, and the one of the same group that is taken down afterwards.
    others
        Those that stand besides and stay.
    day
        When; None where it is not known: then nets follow from lengths alone.
    perhaps
        Ground that pigs should have left, though nobody planned where to: its nets stay up too.
    """
    per_grid = farm.projection.ground_per_grid
    standing = [*([] if old is None else [old]), *others]
    sides = closing(coming.outline, [each.outline for each in standing], per_grid)
    leant = lines_beside(farm, coming.outline, coming.paddock_uid, coming.group_uid)
    already = nets_set_before(farm, coming.paddock_uid, day)
    if leant or already:
        closed = [*(each.outline for each in standing), *leant, *(net.line for net in already)]
        sides = Closing(closing(coming.outline, closed, per_grid).open, sides.shared)
    fenced = [Fenced(each.outline, each.kind, each.paddock_uid) for each in standing if each.kind is not None]
    known = day is not None and len(fenced) == len(standing)
    fences = [line for each in standing for line in lines_beside(farm, each.outline, each.paddock_uid, each.group_uid)]
    nets = nets_round(farm, fenced, day, fences, in_the_morning=True) if known and day is not None else ()
    left = of_kinds(shared_nets(coming.outline, nets)) if sides.shared else ()
    if sides.shared and not left and not already:
        left = (_along(sides.shared, coming.kind),)
    if already:
        beside = shared_nets(coming.outline, nets)
        left = of_kinds([*already, *(net for net in beside if not stands_among(net, already))])
    taken: tuple[Nets, ...] = ()
    stays: tuple[Staying, ...] = ()
    if old is not None:
        behind = [*others, *perhaps]
        if nets:
            round_old = _round_old(coming, old, nets)
            stays = staying(old, behind, round_old)
            taken = of_kinds([net for net in round_old if not any(closes(net.line, each.outline) for each in behind)])
        else:
            closed = [coming.outline, *(each.outline for each in behind), *fences]
            bare = closing(old.outline, closed, per_grid).open
            taken = (_along(bare, old.kind),) if bare else ()
            stays = _staying_by_length(coming, old, behind, per_grid)
    to_set = _set_along(farm, coming, sides.open) if sides.open else ()
    return MoveNets(sides, to_set, left, taken, stays)


def nets_set_before(farm: Farm, paddock_uid: str, day: date | None) -> tuple[StandingNet, ...]:
    """Return the nets that are written down round a paddock though its pigs are yet to come: they did not cross."""
    if day is None or not paddock_uid:
        return ()
    own = (use for use in farm.net_uses.values() if use.paddock_uid == paddock_uid)
    there = [use for use in own if use.set_on < day and use.stands(day)]
    return tuple(standing_net(farm, use) for use in there if use.net_kind_uid in farm.net_kinds)


def of_kinds(nets: Sequence[StandingNet]) -> tuple[Nets, ...]:
    """Return how many nets there are of each kind, with their numbers."""
    kinds = {net.kind.uid: net.kind for net in nets}
    counts = Counter(net.kind.uid for net in nets)
    numbers = {uid: tuple(net.number for net in nets if net.kind.uid == uid and net.number) for uid in kinds}
    return tuple(Nets(kinds[uid], count, count * kinds[uid].length_m, numbers[uid]) for uid, count in counts.items())


def _set_along(farm: Farm, coming: KindGround, runs: Sequence[Run]) -> tuple[Nets, ...]:
    """Return the nets to set: of one kind, or of those that were told for each side."""
    told = told_sides(farm, farm.paddocks.get(coming.paddock_uid))
    fence = ToldFence.of(coming.outline, told, farm.projection.ground_per_grid)
    if fence is None or coming.kind is None:
        return (_along(runs, coming.kind),)
    nets = nets_of_runs(runs, coming.kind, fence)
    return tuple(Nets(each.kind, each.nets, each.nets * each.kind.length_m) for each in nets)


def _along(runs: Sequence[Run], kind: NetKind | None) -> Nets:
    return Nets(kind, nets_for(runs, kind) if kind is not None else 0, sum(run.length_m for run in runs))


def _round_old(coming: KindGround, old: KindGround, nets: Sequence[StandingNet]) -> list[StandingNet]:
    """Return the nets round the old paddock but for those that the new one uses, as a whole or in part."""
    left = {id(net) for net in shared_nets(coming.outline, nets)}
    return [net for net in shared_nets(old.outline, nets) if id(net) not in left]


def staying(old: KindGround, behind: Sequence[KindGround], nets: Sequence[StandingNet]) -> tuple[Staying, ...]:
    """Return those of the nets that other ground is closed by, side by side; each net once."""
    found: dict[tuple[int, str], list[StandingNet]] = {}
    for net in nets:
        at = next((at for at, each in enumerate(behind) if closes(net.line, each.outline)), None)
        if at is not None:
            found.setdefault((at, str(wind(*faces(_beside(net.line, behind[at]), old.outline)))), []).append(net)
    return tuple(
        Staying(nets_of_kind, Text(side), behind[at], tuple(net.line for net in group if _is_of(net, nets_of_kind)))
        for (at, side), group in found.items()
        for nets_of_kind in of_kinds(group)
    )


def _is_of(net: StandingNet, nets: Nets) -> bool:
    return nets.kind is not None and net.kind.uid == nets.kind.uid


def _beside(line: shapely.LineString, behind: KindGround) -> shapely.LineString:
    """Return the longest part of a net that runs beside other ground."""
    parts = shapely.get_parts(line.intersection(behind.outline.boundary.buffer(BESIDE_M))).tolist()
    lines = [part for part in parts if part.geom_type == "LineString"]
    return max(lines, key=lambda part: part.length, default=line)


def _staying_by_length(
    coming: KindGround, old: KindGround, behind: Sequence[KindGround], per_grid: float
) -> tuple[Staying, ...]:
    """Return what stays where the kinds of nets are not known: the lengths along other ground."""
    found: list[Staying] = []
    for each in behind:
        shared = closing(old.outline, [each.outline], per_grid).shared
        for run in shared:
            line = shapely.LineString(run.line)
            if not closes(line, coming.outline):
                side = wind(*faces(line, old.outline))
                found.append(Staying(_along([run], old.kind), side, each, (line,)))
    return tuple(found)
