"""The remedy: how many posts to which side a paddock must be set to be clear of something."""

from __future__ import annotations

from functools import cached_property

import numpy as np
import shapely
from numpy.typing import NDArray

from pigmap.geometry.compass import wind
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


class Shifts:
    """The places to which a rectangle can be shifted in whole posts, and what is in the way at each.

    Nothing is computed before the first question, since most ghosts are clear of everything.
    """

    def __init__(
        self, ground: PlacingGround, rectangle: Rectangle, kind: NetKind, closers: Sides, shared: bool
    ) -> None:
        self._ground = ground
        self._rectangle = rectangle
        self._post_m = kind.length_m / len(kind.bays_mm) / rectangle.ground_per_grid
        self._closers = closers
        self._shared = shared
        self._lost: dict[int, bool] = {}

    @cached_property
    def _directions(self) -> NDArray[np.float64]:
        (ux, uy), (vx, vy) = self._rectangle.axes
        return np.array([[ux, uy], [-ux, -uy], [vx, vy], [-vx, -vy]])

    @cached_property
    def _posts(self) -> NDArray[np.int64]:
        return np.tile(np.arange(1, MOST_POSTS + 1), len(self._directions))

    @cached_property
    def _direction(self) -> NDArray[np.int64]:
        return np.repeat(np.arange(len(self._directions)), MOST_POSTS)

    @cached_property
    def _moves(self) -> NDArray[np.float64]:
        moves: NDArray[np.float64] = self._directions[self._direction] * (self._posts * self._post_m)[:, None]
        return moves

    @cached_property
    def _in_the_way(self) -> list[set[int]]:
        """What each of the places touches; the place it has now comes last."""
        moves = np.concatenate([self._moves, [[0.0, 0.0]]])
        outlines = shapely.polygons(self._rectangle.corners[None] + moves[:, None])
        found: list[set[int]] = [set() for _ in moves]
        for place, obstacle in zip(*self._ground.touched(outlines), strict=True):
            found[place].add(int(obstacle))
        for place in np.flatnonzero(~shapely.covers(self._ground.fields_as_one, outlines)):
            found[place].add(OUTSIDE)
        return found

    def clear_of(self, number: int) -> Text | None:
        """Return the smallest shift that clears an obstacle and brings nothing else into the way, if there is one.

        Shifts that clear everything come first, then those that keep the side both paddocks use, then the fewest
        posts.
        """
        *places, now = self._in_the_way
        ranked = [
            (len(met), self._loses_share(place), int(self._posts[place]), int(self._direction[place]))
            for place, met in enumerate(places)
            if number not in met and met <= now
        ]
        if not ranked:
            return None
        _, _, posts, direction = min(ranked)
        east, north = self._directions[direction]
        return Text(
            "Set it {count} post {way}.", {"way": wind(east, north)}, plural="Set it {count} posts {way}.", count=posts
        )

    def _loses_share(self, place: int) -> bool:
        """Whether no side that stands closes any of it there, though one closes some of it where it is."""
        if not self._shared:
            return False
        if place not in self._lost:
            moved = shapely.Polygon(self._rectangle.corners + self._moves[place])
            self._lost[place] = not closing(moved, self._closers).shared
        return self._lost[place]
