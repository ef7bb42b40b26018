"""How far is walked with nets at a move: to set those of the new paddock, and to take up those of the old."""

from __future__ import annotations

from collections.abc import Sequence
from typing import NamedTuple

import shapely

from pigmap.fence.fitted import laid_along
from pigmap.fence.moving import trips
from pigmap.fence.told import ToldFence, nets_of_runs, told_sides
from pigmap.fence.walking import walked
from pigmap.geometry.runs import Run, closing
from pigmap.planning.moves_of_day import Move
from pigmap.records import Farm, NetKind, Paddock


class Walk(NamedTuple):
    """The ways of one person."""

    walk_m: float
    """[m of ground]."""
    trips: int
    """For one person."""
    trips_two: int
    """For each of two."""


def walk_of(farm: Farm, move: Move, a_trip: int) -> Walk | None:
    """Return how far one person walks with the nets of a move; None where nothing tells of which nets it is.

    The vehicle stands in the middle of the new paddock while its sides are set, and in the middle of the old one while
    its sides are taken up. Nets are set, and taken up, from one end of what is open to the other.

    Parameters
    ----------
    farm, move
        Whose, and which.
    a_trip
        How many nets one person carries at a time.
    """
    lines = [_lines(farm, move.new, move.new_outline, move.nets.sides.open), _taken_up(farm, move)]
    if not lines[0] and not lines[1]:
        return None
    grounds = (move.new_outline, move.old_outline or move.new_outline)
    per_grid = farm.projection.ground_per_grid
    ways = [
        walked(nets, shapely.point_on_surface(ground), a_trip, per_grid)
        for nets, ground in zip(lines, grounds, strict=True)
    ]
    return Walk(
        sum(way.walk_m for way in ways),
        sum(way.trips for way in ways),
        sum(trips(len(nets), 2, a_trip) for nets in lines),
    )


def _taken_up(farm: Farm, move: Move) -> list[shapely.LineString]:
    if move.old_outline is None or not move.nets.to_take_up:
        return []
    others = [move.new_outline, *(each.outline for each in move.beside)]
    runs = closing(move.old_outline, others, farm.projection.ground_per_grid).open
    return _lines(farm, move.old, move.old_outline, runs)


def _lines(
    farm: Farm, paddock: Paddock | None, outline: shapely.Polygon, runs: Sequence[Run]
) -> list[shapely.LineString]:
    """Return where the nets along some runs stand, in order."""
    kind = _kind(farm, paddock)
    if kind is None:
        return []
    per_grid = farm.projection.ground_per_grid
    fence = ToldFence.of(outline, told_sides(farm, paddock), per_grid)
    return [net.line for run in runs for net in laid_along(run, nets_of_runs([run], kind, fence), per_grid)]


def _kind(farm: Farm, paddock: Paddock | None) -> NetKind | None:
    kinds = farm.net_kinds
    found = kinds.get((paddock.net_kind_uid or "") if paddock is not None else "")
    return found or (next(iter(kinds.values())) if len(kinds) == 1 else None)
