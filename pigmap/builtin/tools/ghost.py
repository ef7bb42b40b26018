"""Where the ghost of a paddock stands: under the pointer, drawn to what stands, turned and nudged by keys."""

from __future__ import annotations

from functools import cached_property

import numpy as np
import shapely
from shapely.geometry.base import BaseGeometry

from pigmap.fence.electric.ahead import FencesAhead
from pigmap.fence.told import ToldSides, bays_of, length_mm, sides_with_kinds
from pigmap.geometry.rectangle import Rectangle
from pigmap.geometry.sides import Sides, edges_of, sides_of
from pigmap.geometry.snap import snap
from pigmap.qt.placing_choice import Choice
from pigmap.records import Field, NetKind
from pigmap.session.placing import PlacingGround

Bounds = tuple[float, float, float, float]
MOST_OF_A_SIDE = 0.35
"""The ghost is drawn no further than this share of its shorter side."""


class Ghost:
    """The ground, nets and sides of one placing; asked again for every move of the pointer.

    Parameters
    ----------
    ground
        The farm on the day from which the paddock is to be used.
    kind, choice
        The nets and what the person chose.
    """

    def __init__(self, ground: PlacingGround, kind: NetKind, choice: Choice) -> None:
        self.ground = ground
        self.kind = kind
        self.choice = choice
        self.days: dict[str | None, int] = {}
        """Days that the group usually stays, by the field; each is found when it is first asked for."""

    @cached_property
    def sides(self) -> Sides:
        """What the ghost may rest on."""
        return self.ground.snap_sides(
            standing=self.choice.snap_side, fences=self.choice.snap_fence, field_edges=self.choice.snap_edge
        )

    @cached_property
    def fences(self) -> FencesAhead:
        """The fences that it could have, by how many nets go round it."""
        ground = self.ground
        return FencesAhead(ground.farm, ground.day, ground.group_uid or "", ground.standing, self.kind)

    @cached_property
    def told(self) -> ToldSides:
        """The nets of its four sides where they are of more than one kind."""
        return sides_with_kinds(self.ground.farm, self.choice.side_nets)

    @cached_property
    def sides_mm(self) -> tuple[int, int]:
        """How long its long and its wide sides are [mm of ground]."""
        if self.told:
            return length_mm(self.told[0]), length_mm(self.told[1])
        return self.choice.nets_long * self.kind.length_mm, self.choice.nets_wide * self.kind.length_mm

    @cached_property
    def bays_mm(self) -> tuple[int, ...]:
        """Bays of its nets from its first corner on, which go on round it [mm]."""
        told = (each.kind for side in self.told for each in side for _ in range(each.nets))
        return bays_of(told) or self.kind.bays_mm

    def free_at(self, x_m: float, y_m: float) -> Rectangle:
        """Return the ghost with its middle at a point, drawn to nothing but the direction [grid m]."""
        field = self._field_at(x_m, y_m)
        turned = self.choice.turned_deg if self.choice.turned_deg is not None else field.turned_deg if field else 0.0
        return Rectangle(0.0, 0.0, turned, *self.sides_mm, self.ground.ground_per_grid).centred_at(x_m, y_m)

    def at(self, x_m: float, y_m: float, reach_m: float) -> Rectangle:
        """Return where the ghost comes to rest for a pointer, drawn to sides within reach [grid m].

        With the pointer in a paddock that stands it rests on that paddock's nearest side, since nothing can be
        placed on it. Elsewhere it is never drawn further than `MOST_OF_A_SIDE` of its own shorter side.
        """
        free = self.free_at(x_m, y_m)
        inside = self._paddock_at(x_m, y_m) if reach_m > 0.0 and self.choice.snap_side else None
        if inside is not None:
            return snap(free, sides_of([inside]), sum(free.sides_m), bays_mm=self.kind.bays_mm).rectangle
        reach = min(reach_m, MOST_OF_A_SIDE * min(free.sides_m))
        return snap(free, self.sides, reach, bays_mm=self.kind.bays_mm).rectangle

    def beside(self, ground: shapely.Polygon, number: int) -> Rectangle:
        """Return it flush beside some ground, at its longest side for number 0, the next longest for 1, and so on."""
        edges = edges_of([ground])
        order = np.argsort(-np.hypot(*(edges[:, 1] - edges[:, 0]).T), kind="stable")
        begin, end = edges[order[number % len(order)]]
        middle, way = (begin + end) / 2, end - begin
        out = np.array([way[1], -way[0]]) / np.hypot(*way)  # the ground outside lies to the right of each side
        x, y = (middle + out * min(self.free_at(*middle).sides_m) / 2).tolist()
        free = self.free_at(x, y)
        return snap(
            free, Sides(edges[order[number % len(order)]][None]), sum(free.sides_m), bays_mm=self.kind.bays_mm
        ).rectangle

    def beside_group(self, number: int) -> Rectangle | None:
        """Return it flush beside where the group stands, as `beside` does; None where the group stands nowhere."""
        group = self.ground.group_uid
        there = next((each.ground for each in self.ground.standing if each.group_uid == group), None)
        return self.beside(there, number) if there is not None else None

    def nudged(self, rectangle: Rectangle, along: int, across: int, *, nets: bool = False) -> Rectangle:
        """Return it moved by posts, or by whole nets, along and across its own long side."""
        step = self.kind.length_mm if nets else max(self.kind.bays_mm)
        return rectangle.shifted(along * step, across * step)

    def _paddock_at(self, x_m: float, y_m: float) -> shapely.Polygon | None:
        return next((each for bounds, each in self._grounds if _within(each, bounds, x_m, y_m)), None)

    def _field_at(self, x_m: float, y_m: float) -> Field | None:
        return next((field for bounds, field in self._fields if _within(field.outline, bounds, x_m, y_m)), None)

    @cached_property
    def _grounds(self) -> list[tuple[Bounds, shapely.Polygon]]:
        return [(paddock.ground.bounds, paddock.ground) for paddock in self.ground.standing]

    @cached_property
    def _fields(self) -> list[tuple[Bounds, Field]]:
        return [(field.outline.bounds, field) for field in self.ground.fields]


def _within(area: BaseGeometry, bounds: Bounds, x_m: float, y_m: float) -> bool:
    west, south, east, north = bounds
    return west <= x_m <= east and south <= y_m <= north and bool(shapely.contains_xy(area, x_m, y_m))
