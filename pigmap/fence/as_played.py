"""The nets of a move as its card tells them, from the books: by kind, with their numbers, and why some of them stay."""

from __future__ import annotations

from collections.abc import Iterable, Sequence

from pigmap.fence.extents import StandingNet
from pigmap.fence.leaning import lines_beside
from pigmap.fence.of_day import NetsOfDay, Played
from pigmap.fence.of_move import KindGround, MoveNets, Nets, Staying, of_kinds, staying
from pigmap.fence.pool import Ground, Piece
from pigmap.geometry.runs import Closing, closing
from pigmap.records import Farm


def nets_played(nets: NetsOfDay, coming: KindGround, standing: Sequence[KindGround], played: Played) -> MoveNets:
    """Return the nets of a move.

    Parameters
    ----------
    nets
        Of the day, after the move.
    coming, standing
        The ground that is closed, and what stood before, which the group leaves or others are on.
    played
        What the move did.
    """
    to_set = of_kinds(_standing(nets, played.to_set))
    sides = _sides(nets, coming, standing, played)
    if len(to_set) == 1:
        (only,) = to_set
        to_set = (Nets(only.kind, only.count, sum(run.length_m for run in sides.open) or only.length_m),)
    to_leave, taken = (of_kinds(_standing(nets, pieces)) for pieces in (played.to_leave, played.to_take_up))
    return MoveNets(sides, to_set, to_leave, taken, _stays(nets, played))


def _stays(nets: NetsOfDay, played: Played) -> tuple[Staying, ...]:
    if played.old is None:
        return ()
    return staying(_kind_ground(played.old), _behind(played), _standing(nets, played.stays))


def _sides(nets: NetsOfDay, coming: KindGround, standing: Sequence[KindGround], played: Played) -> Closing:
    """Return what of the ground is open, and what sides that stand close of it."""
    per_grid = nets.farm.projection.ground_per_grid
    outlines = [each.outline for each in standing]
    leant = lines_beside(nets.farm, coming.outline, coming.paddock_uid, coming.group_uid)
    lines = [nets.pool.line(piece) for piece in played.to_leave]
    shared = closing(coming.outline, outlines, per_grid).shared
    return Closing(closing(coming.outline, [*outlines, *leant, *lines], per_grid).open, shared)


def _standing(nets: NetsOfDay, pieces: Iterable[Piece]) -> list[StandingNet]:
    return [StandingNet(nets.pool.line(piece), piece.kind, number_of(nets.farm, piece)) for piece in pieces]


def number_of(farm: Farm, piece: Piece) -> str:
    """Return the number of a net where it is written down which one stands there; empty elsewhere."""
    uses = (farm.net_uses.get(uid) for uid in piece.use_uids)
    nets = (farm.nets.get(use.net_uid or "") for use in uses if use is not None)
    return next((net.number for net in nets if net is not None and net.number), "")


def _behind(played: Played) -> list[KindGround]:
    """Return the grounds for which nets of the old ground stay, each once."""
    found: dict[str, Ground] = {}
    for piece in played.stays:
        for ground in piece.set_for:
            if played.old is not None and ground.stay_uid != played.old.stay_uid:
                found.setdefault(ground.stay_uid, ground)
    return [_kind_ground(ground) for ground in found.values()]


def _kind_ground(ground: Ground) -> KindGround:
    return KindGround(ground.outline, ground.kind, ground.paddock_uid, ground.group_uid)
