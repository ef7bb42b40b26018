"""Judging a place for a paddock: nets, ground, what is in the way."""

from __future__ import annotations

from collections.abc import Mapping, Sequence
from datetime import date

import shapely

from pigmap.fence.count import nets_for
from pigmap.fence.extents import Fenced, laid_round, shared_nets
from pigmap.fence.told import ToldFence, ToldSides, nets_of_runs
from pigmap.geometry.free_outline import Placed
from pigmap.geometry.runs import Closing, Run, closing, shared_runs
from pigmap.geometry.sides import Sides, sides_of
from pigmap.ground.state import GroundState
from pigmap.records import Farm, NetKind
from pigmap.session.placing.against import Place, warnings_of
from pigmap.session.placing.below import Below, below
from pigmap.session.placing.ground import PlacingGround
from pigmap.session.placing.judgement import Judgement
from pigmap.session.placing.obstacles import ObstacleKind


def judge(
    farm: Farm,
    states: Mapping[str, GroundState],
    placed: Placed,
    kind: NetKind,
    day: date,
    *,
    group_uid: str | None = None,
    ground: PlacingGround | None = None,
    also_standing: Sequence[Placed] = (),
    told: ToldSides = (),
) -> Judgement:
    """Return the figures of a paddock where it would be placed, and what is against it.

    Parameters
    ----------
    farm
        As it is.
    states
        State of the ground of each field on that day, as far as it is computed, by the field's uid.
    placed, kind
        Where it would be, and of which nets.
    day
        From which day it would be used.
    group_uid
        For whom: the nets of the group's present paddock still stand then.
    ground
        What was made for this farm, day and group before; made here if not given.
    also_standing
        Paddocks of a row that will stand by then, such as the one before this.
    told
        The nets of its four sides, where they are of more than one kind; those of `also_standing` have the same.

    Notes
    -----
    Nothing is refused here: what is against a place is said with its remedy. Warnings that are `hard` cannot be
    overridden with a reason; those of `care` do not stand against it.
    """
    ground = ground or PlacingGround(farm, day, group_uid)
    outline = placed.outline
    closers = _closers(ground.sides, also_standing)
    closed, leaning = _closed(ground, outline, closers, also_standing)
    fields = ground.fields_under(outline)
    grounds = tuple((each, below(states.get(each.uid), outline)) for each in fields)
    field, under = grounds[0] if grounds else (None, Below())
    outside = _outside_share(ground, outline)
    fence = ToldFence.of(outline, told, ground.ground_per_grid)
    of_kinds = nets_of_runs(closed.open, kind, fence) if fence is not None else ()
    place = Place(ground, placed, outline, kind, closers, closed, grounds, outside, leaning, fence)
    return Judgement(
        nets_to_carry=sum(each.nets for each in of_kinds) if fence is not None else nets_for(closed.open, kind),
        nets_to_leave=_nets_to_leave(ground, placed, also_standing, kind, told),
        spare_nets=ground.spare(kind),
        area_m2=placed.area_m2,
        field_uid=field.uid if field is not None else None,
        outside_share=outside,
        keep_out_share=_keep_out_share(ground, outline),
        open_runs=closed.open,
        shared_runs=closed.shared,
        leaning_runs=leaning,
        warnings=warnings_of(place),
        nets_of_kinds=of_kinds,
        **under._asdict(),
    )


def _closed(
    ground: PlacingGround, outline: shapely.Polygon, closers: Sides, also_standing: Sequence[Placed]
) -> tuple[Closing, tuple[Run, ...]]:
    """Return what of an outline is open and what nets that stand close, and what leans on permanent fences."""
    closed = closing(outline, closers, ground.ground_per_grid)
    if not closed.shared or not ground.fence_lines:
        return closed, ()
    leaning = shared_runs(outline, ground.fence_sides, ground.ground_per_grid)
    if not leaning:
        return closed, ()
    standing = _closers(ground.standing_sides, also_standing)
    return Closing(closed.open, shared_runs(outline, standing, ground.ground_per_grid)), leaning


def _closers(sides: Sides, also_standing: Sequence[Placed]) -> Sides:
    return sides.joined(sides_of(each.outline for each in also_standing)) if also_standing else sides


def _nets_to_leave(
    ground: PlacingGround, placed: Placed, also_standing: Sequence[Placed], kind: NetKind, told: ToldSides
) -> int:
    """Return the nets that stand and must not be taken up, since they stand along its sides.

    A net that is shared only in part stays up as a whole; fences are no nets.
    """
    nets = ground.nets(kind)
    if also_standing:
        coming = [Fenced(each.outline, kind, told=told) for each in also_standing]
        closed = [*ground.fence_lines, *(paddock.ground for paddock in ground.standing)]
        nets = (*nets, *laid_round(coming, closed, ground.ground_per_grid))
    return len(shared_nets(placed.outline, nets))


def _outside_share(ground: PlacingGround, outline: shapely.Polygon) -> float:
    fields = ground.fields_as_one
    if shapely.covers(fields, outline):
        return 0.0
    return float(1.0 - shapely.intersection(fields, outline).area / outline.area)


def _keep_out_share(ground: PlacingGround, outline: shapely.Polygon) -> float:
    _, touched = ground.touched([outline])
    taken = [ground.obstacles[number] for number in touched]
    shapes = [each.shape for each in taken if each.kind in (ObstacleKind.KEEP_OUT, ObstacleKind.OVERHEAD)]
    if not shapes:
        return 0.0
    return float(shapely.intersection(shapely.union_all(shapes), outline).area / outline.area)
