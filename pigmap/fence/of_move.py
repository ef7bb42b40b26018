"""The nets of one move: those to set, those to leave standing and those to take up."""

from __future__ import annotations

from collections import Counter
from collections.abc import Sequence
from datetime import date
from typing import NamedTuple

import shapely

from pigmap.fence.count import nets_for
from pigmap.fence.extents import Fenced, StandingNet, nets_round, shared_nets
from pigmap.geometry.runs import Closing, Run, closing
from pigmap.records import Farm, NetKind
from pigmap.records.frozen import dataclass


class KindGround(NamedTuple):
    """Ground that nets close, and their kind; None where it is not known."""

    outline: shapely.Polygon
    kind: NetKind | None
    paddock_uid: str = ""


@dataclass(frozen=True, slots=True)
class Nets:
    """Some nets of one kind; of nets of an unknown kind only the length is known."""

    kind: NetKind | None
    count: int
    length_m: float
    numbers: tuple[str, ...] = ()
    """Numbers of those that have one."""


@dataclass(frozen=True, slots=True, eq=False)
class MoveNets:
    """What a move does with nets."""

    sides: Closing
    """The new outline: what wants nets, and what it shares with sides that stand."""
    to_set: tuple[Nets, ...]
    to_leave: tuple[Nets, ...]
    to_take_up: tuple[Nets, ...]


def nets_of_move(
    farm: Farm, coming: KindGround, old: KindGround | None, others: Sequence[KindGround], day: date | None
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
    """
    per_grid = farm.projection.ground_per_grid
    standing = [*([] if old is None else [old]), *others]
    sides = closing(coming.outline, [each.outline for each in standing], per_grid)
    fenced = [Fenced(each.outline, each.kind, each.paddock_uid) for each in standing if each.kind is not None]
    known = day is not None and len(fenced) == len(standing)
    nets = nets_round(farm, fenced, day) if known and day is not None else ()
    left = of_kinds(shared_nets(coming.outline, nets)) if sides.shared else ()
    if sides.shared and not left:
        left = (_along(sides.shared, coming.kind),)
    taken: tuple[Nets, ...] = ()
    if old is not None:
        kept = [coming.outline, *(each.outline for each in others)]
        bare = closing(old.outline, kept, per_grid).open
        taken = of_kinds(_free(old, kept, nets)) if nets else (_along(bare, old.kind),)
    to_set = (_along(sides.open, coming.kind),) if sides.open else ()
    return MoveNets(sides, to_set, left, taken)


def of_kinds(nets: Sequence[StandingNet]) -> tuple[Nets, ...]:
    """Return how many nets there are of each kind, with their numbers."""
    kinds = {net.kind.uid: net.kind for net in nets}
    counts = Counter(net.kind.uid for net in nets)
    numbers = {uid: tuple(net.number for net in nets if net.kind.uid == uid and net.number) for uid in kinds}
    return tuple(Nets(kinds[uid], count, count * kinds[uid].length_m, numbers[uid]) for uid, count in counts.items())


def _along(runs: Sequence[Run], kind: NetKind | None) -> Nets:
    return Nets(kind, nets_for(runs, kind) if kind is not None else 0, sum(run.length_m for run in runs))


def _free(old: KindGround, kept: Sequence[shapely.Polygon], nets: Sequence[StandingNet]) -> list[StandingNet]:
    """Return the nets round a paddock that no other ground uses: one that is used in part stays as a whole."""
    used = {id(net) for outline in kept for net in shared_nets(outline, nets)}
    return [net for net in shared_nets(old.outline, nets) if id(net) not in used]
