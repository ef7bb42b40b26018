"""Corners that no post comes to, and nets that make no rectangle (W10)."""

from __future__ import annotations

from collections.abc import Iterable

import shapely
from shapely.geometry.base import BaseGeometry

from pigmap.fence.cautions.caution import Caution, Level
from pigmap.fence.cautions.things import metres
from pigmap.fence.count import nets_along
from pigmap.fence.fitted import Spare
from pigmap.fence.laid import STAKE_MM, Corner, corners_of
from pigmap.fence.order import lay_nets
from pigmap.geometry.runs import open_runs
from pigmap.records import NetKind
from pigmap.text import Quantity, Text, Value
from pigmap.text.source import COMMON_PRACTICE

_CORNERS = 4


def corners_off(
    called: Value, ground: shapely.Polygon, kind: NetKind, standing: Iterable[BaseGeometry], ground_per_grid: float
) -> Caution | None:
    """Return what is said of corners of the sides that are still open; None where every one is at a post.

    Parameters
    ----------
    called, ground
        The paddock [grid m].
    kind
        Nets it is set of.
    standing
        Outlines and fences that close some of it already [grid m].
    ground_per_grid
        Ground metres in one grid metre.
    """
    off: list[Corner] = []
    odd = 0
    for run in open_runs(ground, standing, ground_per_grid):
        nets = nets_along(run.length_mm, kind)
        corners = corners_of(run, ground_per_grid)
        off += [corner for corner in lay_nets(run.length_mm, corners, [Spare(kind, nets)]).corners if corner.own_stake]
        bays = nets * len(kind.bays_mm)
        odd = bays if run.ring and bays % 2 and len(corners) < _CORNERS else odd
    if not off:
        return None
    return _odd(called, odd) if odd else _stakes(called, off)


def _odd(called: Value, bays: int) -> Caution:
    words = Text(
        "The nets of {paddock} have {bays} bays, an odd number: no rectangle has all its corners at posts.",
        {"paddock": called, "bays": bays},
    )
    remedy = Text("Have a stake at hand for the corner between two posts, or fold one bay back.")
    return Caution("W10", Level.NOTE, words, remedy, COMMON_PRACTICE)


def _stakes(called: Value, off: list[Corner]) -> Caution:
    values: dict[str, Value] = {
        "paddock": called,
        "off": Quantity(max(corner.off_mm for corner in off) / 1000, "m", 1),
        "most": metres(STAKE_MM / 1000),
    }
    words = Text(
        "{count} corner of {paddock} is {off} from the nearest post.",
        values,
        plural="{count} corners of {paddock} are more than {most} from the nearest post, {off} at most.",
        count=len(off),
    )
    return Caution("W10", Level.NOTE, words, Text("Have stakes at hand, or move the corners."), COMMON_PRACTICE)
