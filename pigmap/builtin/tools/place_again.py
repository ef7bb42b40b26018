"""Place a paddock again where one was: its outline is taken over, and a stay on it is planned, not a second paddock."""

from __future__ import annotations

import math
from datetime import date
from typing import Any

import numpy as np
import shapely

from pigmap.builtin.tools.ghost import Ghost
from pigmap.fence.told import ToldFence, length_mm, told_sides
from pigmap.geometry.free_outline import FreeOutline, Placed
from pigmap.geometry.quadrangle import rectangle_in
from pigmap.geometry.rectangle import Rectangle
from pigmap.geometry.sides import FLUSH_M
from pigmap.qt.stage import Stage
from pigmap.records import Farm, Paddock
from pigmap.records.side_nets import read
from pigmap.text import Text

NOTHING = Text("No paddock is picked, and none was where the ghost is. Go over an old one, or pick it first.")


LEAST_OVER = 0.2
"""A ghost that covers less of an old paddock than this share of its own ground does not mean that one."""


def old_paddock(stage: Stage, over: Placed | None) -> Paddock | None:
    """Return the paddock to place again: the one that a ghost covers most of, else the one that is picked.

    Of several that it covers alike, the last used one.
    """
    farm = stage.session.farm
    if over is not None:
        outline = over.outline
        near = (each for each in farm.paddocks.values() if shapely.intersects(each.outline, outline))
        shares = [(round(each.outline.intersection(outline).area / outline.area, 1), each) for each in near]
        under = [(share, _used_until(farm, each), each.uid) for share, each in shares if share >= LEAST_OVER]
        if under:
            return farm.paddocks[max(under)[-1]]
    picked = stage.picked
    return farm.paddocks.get(picked.uid) if picked is not None and picked.table == "paddocks" else None


def paddock_at(farm: Farm, x_m: float, y_m: float) -> Paddock | None:
    """Return the paddock at a place, the last used one of several; None where there is none [grid m]."""
    point = shapely.Point(x_m, y_m)
    there = [each for each in farm.paddocks.values() if each.outline.covers(point)]
    return max(there, key=lambda each: (_used_until(farm, each), each.uid), default=None)


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
    paddock = old_paddock(stage, over)
    if paddock is None:
        stage.notice(NOTHING, "care")
    return placed_again(stage, paddock) if paddock is not None else None


def placed_again(stage: Stage, paddock: Paddock) -> Placed | None:
    """Return the outline of an old paddock to place and choose its nets; None while the farm has no nets."""
    farm = stage.session.farm
    kind = farm.net_kinds.get(paddock.net_kind_uid or "") or stage.placing.kind(farm)
    if kind is None:
        return None
    scale = farm.projection.ground_per_grid
    mixed = _of_told_sides(farm, paddock) if not stage.placing.choice.free else None
    if mixed is not None:
        stage.placing.choose(kind_uid=kind.uid, side_nets=read(paddock.side_nets))
        return mixed
    made = rectangle_in(paddock.outline, kind.length_mm, paddock.nets_long, scale)
    if made is None or stage.placing.choice.free:
        corners = shapely.get_coordinates(paddock.outline.exterior)[:-1].tolist()
        stage.placing.choose(kind_uid=kind.uid, free=True)
        return FreeOutline(tuple((float(x), float(y)) for x, y in corners), scale)
    changes: dict[str, Any] = {"nets_long": made.long_mm // kind.length_mm, "nets_wide": made.wide_mm // kind.length_mm}
    stage.placing.choose(kind_uid=kind.uid, side_nets=(), **changes)
    return made


def _of_told_sides(farm: Farm, paddock: Paddock) -> Rectangle | None:
    """Return a paddock whose nets were told side by side, the first of them along its long side; None for others."""
    fence = ToldFence.of(paddock.outline, told_sides(farm, paddock), farm.projection.ground_per_grid)
    if fence is None:
        return None
    first = [length_mm(side) for side in fence.sides].index(length_mm(told_sides(farm, paddock)[0]))
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
