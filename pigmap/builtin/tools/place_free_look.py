"""What is shown while corners of a planned paddock are set: sides, posts, own stakes, and lengths in bays."""

from __future__ import annotations

from collections.abc import Sequence
from itertools import pairwise
from typing import NamedTuple

import numpy as np

from pigmap.builtin.tools.corners_there import lit
from pigmap.builtin.tools.ghost import Ghost
from pigmap.builtin.tools.place_figures import Row
from pigmap.builtin.tools.side_lengths import NO_SIDE_M, length_label
from pigmap.drawing.free_ghost import free_ghost, free_next, free_posts, free_sides, own_stakes
from pigmap.drawing.ghost import offending
from pigmap.drawing.layer import Label, Labels, Layer, Marks, Size
from pigmap.drawing.nets import both_use
from pigmap.drawing.tokens import CASING, MAP_PLAN
from pigmap.fence.bays import Corner, posts_on, posts_to, walked_run
from pigmap.fence.laid import STAKE_MM, off_post
from pigmap.geometry.free_outline import FreeOutline
from pigmap.geometry.runs import Closing, closing
from pigmap.qt.stage import Stage
from pigmap.records import NetKind
from pigmap.session.placing.odd_bays import runs_as_walked
from pigmap.session.placing.walking import Walking
from pigmap.text import Quantity, Text

Point = tuple[float, float]


class FreeLook(NamedTuple):
    """Corners that are set, and what is known of them."""

    points: Sequence[Point]
    pointer: Point | None
    """Where the next one would be; None where none follows."""
    caught: Point | None
    """A corner or side that is there already and draws the next one."""
    outline: FreeOutline | None
    """What they close so far, the pointer's included; None where that is nothing yet."""
    crossed: bool = False
    """Whether their sides cross."""
    closed: bool = False
    """Whether they are dragged, and sides by their middle."""

    @property
    def every(self) -> list[Point]:
        """All corners, the pointer's included."""
        return [*self.points, *([self.pointer] if self.pointer is not None else [])]


def free_layers(stage: Stage, ghost: Ghost, walking: Walking, look: FreeLook, *, fits: bool) -> tuple[Layer, ...]:
    """Return what is drawn of a closed outline, and its words."""
    scale, bays = ghost.ground.ground_per_grid, ghost.kind.bays_mm
    closed = Closing((), ())
    if look.outline is not None:
        closed = closing(look.outline.outline, ghost.ground.sides, scale)
    shared = [run.line for run in closed.shared]
    stakes = [corner.point for corner in stakes_of(look, ghost.kind, closed)]
    sides = _sides(walking, look)
    return (
        *free_ghost(np.array(look.points).reshape(-1, 2), fits=fits),
        *both_use(shared, [bays] * len(shared), ground_per_grid=scale),
        *_posts(walking, sides, fits=fits),
        *own_stakes(stakes),
        *_handles(look),
        Labels((*_lengths(stage, sides, look, sides[-1:]), *_stake_words(stage, stakes))),
    )


def set_layers(stage: Stage, walking: Walking, look: FreeLook, *, fits: bool) -> tuple[Layer, ...]:
    """Return what is drawn of the corners that are set; it stays while the next one follows the pointer."""
    only = look._replace(pointer=None, outline=None)
    sides = _sides(walking, only)
    stakes = [side.end for side, after in pairwise(sides) if side.needs_stake and after.bays is not None]
    return (
        *free_sides(np.array(look.points).reshape(-1, 2), fits=fits),
        *_posts(walking, sides, fits=fits),
        *own_stakes(stakes),
        Labels((*_lengths(stage, sides, only, sides[-1:]), *_stake_words(stage, stakes))),
    )


def moving_layers(look: FreeLook, *, fits: bool, spot: Point | None) -> tuple[Layer, ...]:
    """Return what follows the pointer at once: the side to the next corner, and the one that would close."""
    if look.pointer is None or not look.points:
        return (*lit(look.caught), *((offending(spot),) if spot is not None else ()))
    corners = np.array(look.points).reshape(-1, 2)
    return (*free_next(corners, look.pointer, fits=fits, spot=spot), *lit(look.caught))


def told_layers(stage: Stage, walking: Walking, look: FreeLook, *, fits: bool) -> tuple[Layer, ...]:
    """Return what is told of those sides a moment later: their posts, bays and lengths."""
    if look.pointer is None or not look.points:
        return ()
    points, pointer = look.points, look.pointer
    chain = [points[-1], pointer, *points[:1]]
    coming = _sides_along(walking, chain, walking.set_ahead_mm(points, pointer))
    coming = coming if look.outline is not None else coming[:1]
    return (*_posts(walking, coming, fits=fits), Labels(tuple(_lengths(stage, coming, look, coming))))


def _posts(walking: Walking, sides: Sequence[_Side], *, fits: bool) -> tuple[Layer, ...]:
    scale, bays = walking.ground.ground_per_grid, walking.kind.bays_mm
    found = [post for side in sides if side.bays is not None for post in posts_on(*side[:2], side.set_mm, bays, scale)]
    return free_posts(found, fits=fits)


def _handles(look: FreeLook) -> tuple[Layer, ...]:
    """Return the middles of sides, which corners can be pulled out of."""
    if not look.closed or len(look.points) < 3:
        return ()
    points = np.array(look.points)
    middles = (points + np.roll(points, -1, axis=0)) / 2
    return (Marks(middles, "dot", Size(7.0, 1.3), CASING, MAP_PLAN, Size(1.8, 0.3)),)


def stakes_of(look: FreeLook, kind: NetKind, closed: Closing) -> list[Corner]:
    """Return the corners that fall between two posts."""
    if look.outline is None:
        return []
    runs = runs_as_walked(look.outline, closed.open)
    found = (corner for run in runs for corner in walked_run(run, kind.bays_mm, look.outline.ground_per_grid).corners)
    return [corner for corner in found if corner.own_stake]


def _stake_words(stage: Stage, stakes: Sequence[Point]) -> list[Label]:
    return [Label(*corner, stage.say("own stake"), look="plan plate", side="right") for corner in stakes]


def _lengths(stage: Stage, sides: Sequence[_Side], look: FreeLook, last: Sequence[_Side] = ()) -> list[Label]:
    """Return what each side takes: its whole bays, and its length; the last ones are told however short they are."""
    return [
        length_label(side.begin, side.end, stage.words(side.words), look.every, last=side in last)
        for side in sides
        if side.length_m >= NO_SIDE_M
    ]


class _Side(NamedTuple):
    """One side that is walked."""

    begin: Point
    end: Point
    length_m: float
    bays: tuple[int, int] | None
    """Whole bays and what is over them [mm]; None where it stands already."""
    set_mm: int
    """How much net is set where it begins [mm]."""
    needs_stake: bool
    """Whether no post stands where it ends."""

    @property
    def length(self) -> Quantity:
        return Quantity(self.length_m, "m", 1)

    @property
    def words(self) -> Text:
        if self.bays is None:
            return Text("{length}, stands", {"length": self.length})
        return Text("{length}, {bays}", {"length": self.length, "bays": _bays(*self.bays)})


def _sides(walking: Walking, look: FreeLook) -> list[_Side]:
    """Return all sides, the closing one last where there is one."""
    chain = [*look.every, *(look.every[:1] if look.outline is not None else ())]
    return _sides_along(walking, chain, walking.set_mm(chain))


def _sides_along(walking: Walking, chain: Sequence[Point], set_mm: Sequence[int]) -> list[_Side]:
    scale, found = walking.ground.ground_per_grid, []
    for (begin, before), (end, until) in pairwise(zip(chain, set_mm, strict=True)):
        length_m = float(np.hypot(end[0] - begin[0], end[1] - begin[1])) * scale
        bays = walking.bays(before, until) if until else None
        stake = until > 0 and off_post(until, posts_to(until, walking.kind.bays_mm)) > STAKE_MM
        found.append(_Side(begin, end, length_m, bays, before if until > before else 0, stake))
    return found


def _bays(count: int, over_mm: int) -> Text:
    if over_mm > OVER_MM:
        many = "{count} bays + {over}"
        return Text("{count} bay + {over}", {"over": Quantity(over_mm / 1000, "m", 1)}, plural=many, count=count)
    return Text("{count} bay", plural="{count} bays", count=count)


OVER_MM = 50
"""Less beyond the last whole bay is not said [mm]."""


def side_row(stage: Stage, walking: Walking, look: FreeLook) -> Row:
    """Return the side that is walked as a line of figures."""
    sides = _sides(walking, look)
    side = sides[-2] if look.pointer is not None and look.outline is not None else sides[-1]
    length = stage.words(Text("{length}", {"length": side.length}))
    beside = stage.say("stands already") if side.bays is None else stage.words(_bays(*side.bays))
    return Row(stage.say("Side"), length, beside, "side")
