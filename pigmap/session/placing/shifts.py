"""The remedy: how many posts to which side a paddock, or one of its sides, must be set to be clear of something."""

from __future__ import annotations

from functools import cached_property
from typing import NamedTuple

import numpy as np
import shapely
from numpy.typing import NDArray

from pigmap.geometry.compass import wind
from pigmap.geometry.free_outline import Placed
from pigmap.geometry.rectangle import Rectangle
from pigmap.geometry.runs import closing
from pigmap.geometry.sides import Sides
from pigmap.records import NetKind
from pigmap.session.placing.ground import PlacingGround
from pigmap.text import Text

MOST_POSTS = 10
"""Farthest shift that is offered, in posts. Own choice: beyond it one sets it anew."""

OUTSIDE = -1
"""Number under which lying outside the fields counts among what is in the way."""

_NOWHERE = -2
"""Number under which sides that cross count: nothing can be set so."""


class _Ways(NamedTuple):
    """The ways in which it can be shifted: all of a rectangle, or one side of a paddock with corners of its own."""

    unit: NDArray[np.float64]
    """East and north, (k, 2)."""
    moves: NDArray[np.bool_]
    """Which corners move, (k, corners)."""
    side: tuple[Text | None, ...]
    """The way the side faces that moves; None for all of it."""


class Shifts:
    """The places to which a paddock can be shifted in whole posts, and what is in the way at each.

    Nothing is computed before the first question, since most ghosts are clear of everything.
    """

    def __init__(self, ground: PlacingGround, placed: Placed, kind: NetKind, closers: Sides, shared: bool) -> None:
        self._ground = ground
        self._placed = placed
        self._post_m = kind.length_m / len(kind.bays_mm) / placed.ground_per_grid
        self._closers = closers
        self._shared = shared
        self._lost: dict[int, bool] = {}

    @cached_property
    def _ways(self) -> _Ways:
        return _all_of_it(self._placed) if isinstance(self._placed, Rectangle) else _its_sides(self._placed)

    @cached_property
    def _posts(self) -> NDArray[np.int64]:
        return np.tile(np.arange(1, MOST_POSTS + 1), len(self._ways.unit))

    @cached_property
    def _way(self) -> NDArray[np.int64]:
        return np.repeat(np.arange(len(self._ways.unit)), MOST_POSTS)

    @cached_property
    def _outlines(self) -> NDArray[np.object_]:
        """The outline at each of the places; the one it has now comes last."""
        moves = self._ways.unit[self._way] * (self._posts * self._post_m)[:, None]
        corners = self._placed.corners + moves[:, None] * self._ways.moves[self._way][:, :, None]
        return np.asarray(shapely.polygons(np.concatenate([corners, self._placed.corners[None]])), dtype=np.object_)

    @cached_property
    def _in_the_way(self) -> list[set[int]]:
        """What each of the places touches; the place it has now comes last."""
        outlines = self._outlines
        found: list[set[int]] = [set() for _ in outlines]
        for place, obstacle in zip(*self._ground.touched(outlines), strict=True):
            found[place].add(int(obstacle))
        for place in np.flatnonzero(~shapely.covers(self._ground.fields_as_one, outlines)):
            found[place].add(OUTSIDE)
        for place in np.flatnonzero(~shapely.is_valid(outlines)):
            found[place].add(_NOWHERE)
        return found

    def clear_of(self, number: int) -> Text | None:
        """Return the smallest shift that clears an obstacle and brings nothing else into the way, if there is one.

        Shifts that clear everything come first, then those that keep the side both paddocks use, then the fewest
        posts.
        """
        *places, now = self._in_the_way
        ranked = [
            (len(met), self._loses_share(place), int(self._posts[place]), int(self._way[place]))
            for place, met in enumerate(places)
            if number not in met and met <= now
        ]
        if not ranked:
            return None
        _, _, posts, way = min(ranked)
        east, north = self._ways.unit[way].tolist()
        side = self._ways.side[way]
        if side is None:
            one, many = (f"Set it {{count}} {post} {{way}}." for post in ("post", "posts"))
            return Text(one, {"way": wind(east, north)}, plural=many, count=posts)
        one, many = (f"Set its {{side}} side {{count}} {post} {{way}}." for post in ("post", "posts"))
        return Text(one, {"side": side, "way": wind(east, north)}, plural=many, count=posts)

    def _loses_share(self, place: int) -> bool:
        """Whether no side that stands closes any of it there, though one closes some of it where it is."""
        if not self._shared:
            return False
        if place not in self._lost:
            self._lost[place] = not closing(self._outlines[place], self._closers).shared
        return self._lost[place]


def _all_of_it(placed: Rectangle) -> _Ways:
    (ux, uy), (vx, vy) = placed.axes
    unit = np.array([[ux, uy], [-ux, -uy], [vx, vy], [-vx, -vy]])
    return _Ways(unit, np.ones((4, 4), dtype=np.bool_), (None,) * 4)


def _its_sides(placed: Placed) -> _Ways:
    """Return each side with the way to the inside: what offends a side is most often just outside it."""
    corners = placed.corners
    count = len(corners)
    along = np.roll(corners, -1, axis=0) - corners
    inward = np.stack([-along[:, 1], along[:, 0]], axis=1) / np.hypot(*along.T)[:, None]
    moves = np.eye(count, dtype=np.bool_) | np.roll(np.eye(count, dtype=np.bool_), 1, axis=1)
    return _Ways(inward, moves, tuple(wind(-east, -north) for east, north in inward.tolist()))
