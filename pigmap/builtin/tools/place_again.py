"""Place a paddock again where one was: its outline is taken over, and a stay on it is planned, not a second paddock."""

from __future__ import annotations

import math
from collections.abc import Iterator
from datetime import date
from typing import Any, NamedTuple

import numpy as np
import shapely

from pigmap.builtin.tools.ghost import Ghost
from pigmap.fence.told import ToldFence, length_mm, told_sides
from pigmap.geometry.free_outline import FreeOutline, Placed
from pigmap.geometry.quadrangle import rectangle_in
from pigmap.geometry.rectangle import Rectangle
from pigmap.geometry.sides import FLUSH_M
from pigmap.qt.stage import Stage
from pigmap.records import Farm, Paddock, StayState
from pigmap.records.side_nets import read
from pigmap.text import Text

NOTHING = Text("No paddock is picked, and none was where the ghost is. Go over an old one, or pick it first.")


LEAST_OVER = 0.2
"""A ghost that covers less of an old paddock than this share of its own ground does not mean that one."""


class OldGround(NamedTuple):
    """Ground that was closed once: that of a paddock as it is, or as it stood at a stay that is over."""

    paddock: Paddock
    outline: shapely.Polygon
    until: date
    """When it was used last."""
    is_now: bool = True
    """Whether the paddock still has that outline."""


def _grounds(farm: Farm) -> Iterator[OldGround]:
    for paddock in farm.paddocks.values():
        yield OldGround(paddock, paddock.outline, _used_until(farm, paddock))
    for stay in farm.stays.values():
        paddock_then = farm.paddocks.get(stay.paddock_uid)
        if (
            paddock_then is not None
            and stay.state is StayState.PAST
            and not _is_there(stay.ground, paddock_then.outline)
        ):
            yield OldGround(paddock_then, stay.ground, stay.out_on or stay.in_on, is_now=False)


def old_ground(stage: Stage, over: Placed | None) -> OldGround | None:
    """Return the ground to place again: that which a ghost covers most of, else the paddock that is picked.

    Of several that it covers alike, the last used one; paddocks as they are go before grounds of their past.
    """
    farm = stage.session.farm
    if over is not None:
        outline = over.outline
        near = [each for each in _grounds(farm) if shapely.intersects(each.outline, outline)]
        shares = [(round(each.outline.intersection(outline).area / outline.area, 1), each) for each in near]
        under = [(share, *_rank(each)) for share, each in shares if share >= LEAST_OVER]
        if under:
            best = max(under)[1:]
            return next(each for each in near if _rank(each) == best)
    picked = stage.picked
    paddock = farm.paddocks.get(picked.uid) if picked is not None and picked.table == "paddocks" else None
    return OldGround(paddock, paddock.outline, date.min) if paddock is not None else None


def ground_at(farm: Farm, x_m: float, y_m: float) -> OldGround | None:
    """Return the ground at a place that was closed once; None where there was none [grid m].

    Paddocks as they are go before grounds of their past; of several that which was used last.
    """
    point = shapely.Point(x_m, y_m)
    return max((each for each in _grounds(farm) if each.outline.covers(point)), key=_rank, default=None)


def _rank(ground: OldGround) -> tuple[bool, date, str]:
    return ground.is_now, ground.until, ground.paddock.uid


def _used_until(farm: Farm, paddock: Paddock) -> date:
    days = [stay.out_on or stay.in_on for stay in farm.stays.values() if stay.paddock_uid == paddock.uid]
    return max(days, default=date.min)


def again(stage: Stage, over: Placed | None) -> Placed | None:
    """Return the outline of an old paddock to place and choose its nets; None, with a word why, where there is none.

    Parameters
    ----------
    stage
        Whose choice of nets is changed to those of the paddock; where it is no rectangle of whole nets its corners are
        free, and so are those that are placed from then on.
    over
        Where the ghost is; None where there is none yet.
    """
    old = old_ground(stage, over)
    if old is None:
        stage.notice(NOTHING, "care")
    return placed_again(stage, old) if old is not None else None


def placed_again(stage: Stage, old: OldGround) -> Placed | None:
    """Return the outline of an old paddock to place and choose its nets; None while the farm has no nets."""
    farm, paddock = stage.session.farm, old.paddock
    kind = farm.net_kinds.get(paddock.net_kind_uid or "") or stage.placing.kind(farm)
    if kind is None:
        return None
    scale = farm.projection.ground_per_grid
    mixed = _of_told_sides(farm, old) if not stage.placing.choice.free else None
    if mixed is not None:
        stage.placing.choose(kind_uid=kind.uid, side_nets=read(paddock.side_nets))
        return mixed
    made = rectangle_in(old.outline, kind.length_mm, paddock.nets_long, scale)
    if made is None or stage.placing.choice.free:
        corners = shapely.get_coordinates(old.outline.exterior)[:-1].tolist()
        stage.placing.choose(kind_uid=kind.uid, free=True)
        return FreeOutline(tuple((float(x), float(y)) for x, y in corners), scale)
    changes: dict[str, Any] = {"nets_long": made.long_mm // kind.length_mm, "nets_wide": made.wide_mm // kind.length_mm}
    stage.placing.choose(kind_uid=kind.uid, side_nets=(), **changes)
    return made


def _of_told_sides(farm: Farm, old: OldGround) -> Rectangle | None:
    """Return ground whose nets were told side by side, the first of them along its long side; None for others."""
    told = told_sides(farm, old.paddock)
    fence = ToldFence.of(old.outline, told, farm.projection.ground_per_grid)
    if fence is None:
        return None
    first = [length_mm(side) for side in fence.sides].index(length_mm(told[0]))
    begin, end = np.take(fence.corners, (first, first + 1), axis=0, mode="wrap").tolist()
    turned = math.degrees(math.atan2(end[1] - begin[1], end[0] - begin[0]))
    sides = (length_mm(fence.sides[first]), length_mm(fence.sides[(first + 1) % 4]))
    return Rectangle(begin[0], begin[1], turned, *sides, farm.projection.ground_per_grid)


def same_paddock(ghost: Ghost, placed: Placed) -> Paddock | None:
    """Return the paddock of the same nets that has just the outline of a ghost, if there is one."""
    outline = placed.outline
    for each in ghost.ground.farm.paddocks.values():
        same_nets = each.net_kind_uid == ghost.kind.uid and read(each.side_nets) == ghost.choice.side_nets
        if same_nets and _is_there(each.outline, outline):
            return each
    return None


def _is_there(one: shapely.Polygon, other: shapely.Polygon) -> bool:
    near = max(abs(a - b) for a, b in zip(one.bounds, other.bounds, strict=True)) <= FLUSH_M
    return near and bool(shapely.hausdorff_distance(one.exterior, other.exterior) <= FLUSH_M)
