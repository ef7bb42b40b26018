"""The rule that corners of planned paddocks fall at posts; one that does not wants a stake, and no more."""

from __future__ import annotations

from collections.abc import Iterable, Iterator
from datetime import date

from shapely.geometry.base import BaseGeometry

from pigmap.fence.cautions.corners import corners_off
from pigmap.fence.standing import standing_on
from pigmap.fence.told import ToldFence, told_sides
from pigmap.planning.cautions import of_stay
from pigmap.planning.names import paddock_called
from pigmap.planning.rule import Breach
from pigmap.planning.uses import uses_of
from pigmap.records import Farm, Paddock, Stay, StayState, WayKind
from pigmap.text import Text


class CornersAtPosts:
    """Looks for corners between two posts in planned paddocks; those of whole nets have none."""

    api = 1
    name = "corners-at-posts"
    title = Text("Corners of planned paddocks fall at posts")

    def breaches(self, farm: Farm, today: date) -> Iterable[Breach]:
        """Yield them, earliest first."""
        planned = [use for use in uses_of(farm) if use.stay.state is StayState.PLANNED]
        for use in sorted(planned, key=lambda use: (use.stay.in_on, use.stay.uid)):
            paddock = farm.paddocks.get(use.stay.paddock_uid)
            kind = farm.net_kinds.get(paddock.net_kind_uid or "") if paddock is not None else None
            if paddock is None or kind is None or _of_whole_nets(farm, paddock):
                continue
            standing = _standing(farm, use.stay, today)
            called = paddock_called(farm, paddock.uid)
            caution = corners_off(called, use.stay.ground, kind, standing, farm.projection.ground_per_grid)
            if caution is not None:
                yield of_stay(use, caution)


def _of_whole_nets(farm: Farm, paddock: Paddock) -> bool:
    """Whether nets end at each of its corners."""
    if paddock.nets_long and paddock.nets_wide:
        return True
    return ToldFence.of(paddock.outline, told_sides(farm, paddock), farm.projection.ground_per_grid) is not None


def _standing(farm: Farm, stay: Stay, today: date) -> Iterator[BaseGeometry]:
    """Yield what closes sides of a planned paddock when it is set."""
    for each in standing_on(farm, max(stay.in_on, today), stay.group_uid, today=today):
        if each.paddock_uid != stay.paddock_uid:
            yield each.ground
    yield from (way.line for way in farm.ways.values() if way.kind is WayKind.PERMANENT_FENCE)


rule = CornersAtPosts()
