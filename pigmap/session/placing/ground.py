"""The ground on which a paddock is placed: made once for a farm, a day and a group, then asked many times."""

from __future__ import annotations

from collections.abc import Mapping, Sequence
from datetime import date, timedelta
from functools import cached_property

import numpy as np
import shapely
from numpy.typing import NDArray
from shapely.geometry.base import BaseGeometry

from pigmap.document.edits.stays import usual_days
from pigmap.fence.as_played import number_of
from pigmap.fence.cautions.setbacks import Setback, setbacks_of
from pigmap.fence.electric.feeding import feeds
from pigmap.fence.extents import Fenced, StandingNet, laid_round
from pigmap.fence.fitted import Spare
from pigmap.fence.leaning import fences_to_lean_on
from pigmap.fence.of_day import NetsOfDay, nets_while_placing
from pigmap.fence.standing import StandingPaddock, left_behind, standing_on
from pigmap.geometry.sides import FLUSH_M, Sides, edges_of, sides_of
from pigmap.geometry.steep import SlopeCells
from pigmap.records import AS_PLANNED, Farm, Field, NetKind, Way, WayKind
from pigmap.session.placing.closed import Closed, closed_during
from pigmap.session.placing.obstacles import Obstacle, obstacles


class PlacingGround:
    """What stands, what is in the way and which fields there are, on one day, ready for quick questions.

    Parameters
    ----------
    farm, day
        Of which revision, and the day the paddock is to be used from.
    group_uid
        The group it is for: its present paddock still stands then.
    out_on
        Day the group leaves again; after its usual days if not given.
    fences
        Whether permanent fences close sides too, where nets may lean on them or be joined to them.
    today
        The day up to which only what is recorded counts.
    """

    def __init__(
        self,
        farm: Farm,
        day: date,
        group_uid: str | None = None,
        *,
        out_on: date | None = None,
        fences: bool = False,
        today: date = AS_PLANNED,
    ) -> None:
        self.farm = farm
        self.day = day
        self.today = today
        self.group_uid = group_uid
        days = usual_days(farm, group_uid or "", day)
        self.out_on = out_on or day + timedelta(days=days)
        self.fences = fences
        self.standing: tuple[StandingPaddock, ...] = standing_on(farm, day, group_uid, today=today)
        self.fields: tuple[Field, ...] = tuple(
            field for field in farm.fields.values() if field.retired_on is None or day < field.retired_on
        )
        self.slopes: Mapping[str, SlopeCells] = {}
        """Slopes of the cells of each field, where a terrain image tells them."""
        self._spare: dict[str, int | None] = {}
        self._nets: dict[str, tuple[StandingNet, ...]] = {}
        self._closed: dict[str, Closed | None] = {}
        self.mixed: dict[tuple[int, ...], tuple[Spare, ...]] = {}
        """Nets of all kinds that close runs, by their lengths [mm], as they were found."""
        self.unsure: set[tuple[int, ...]] = set()
        """Lengths of runs for which another choice may leave less over."""

    @property
    def ground_per_grid(self) -> float:
        """Ground metres in one grid metre."""
        return self.farm.projection.ground_per_grid

    @cached_property
    def setbacks(self) -> tuple[Setback, ...]:
        """What pigs are usually kept off."""
        return setbacks_of(self.farm)

    @cached_property
    def sides(self) -> Sides:
        """The sides that close a paddock: those that stand, and permanent fences if they are to count."""
        return self.standing_sides.joined(self.fence_sides) if self.fences else self.standing_sides

    @cached_property
    def standing_sides(self) -> Sides:
        """The sides of the paddocks that stand, and nets that stay up beside them since they close one in part."""
        found = sides_of(paddock.ground for paddock in self.standing)
        lines = edges_of(self.in_place.beyond_sides())
        return found.joined(Sides(np.concatenate([lines, lines[:, ::-1]]))) if len(lines) else found

    @cached_property
    def fence_sides(self) -> Sides:
        """Both sides of the permanent fences that may take the place of nets."""
        lines = edges_of(way.line for way in self.to_lean_on)
        return Sides(np.concatenate([lines, lines[:, ::-1]]))

    @cached_property
    def ride_sides(self) -> Sides:
        """Both sides of the rides along which nets stand in a wood."""
        lines = edges_of(way.line for way in self.farm.ways.values() if way.kind is WayKind.RIDE)
        return Sides(np.concatenate([lines, lines[:, ::-1]]))

    @cached_property
    def to_lean_on(self) -> tuple[Way, ...]:
        """The permanent fences that may take the place of nets of the group it is for."""
        return fences_to_lean_on(self.farm, feeds(self.farm, "", self.group_uid or ""))

    def snap_sides(self, *, standing: bool = True, fences: bool = False, field_edges: bool = False) -> Sides:
        """Return the sides that a ghost may rest on, those of the group's present paddock first."""
        left = None
        if self.group_uid is not None:
            left = left_behind(self.farm, self.day, self.group_uid, today=self.today)
        first = [left.ground] if left is not None else []
        grounds = [*first, *(paddock.ground for paddock in self.standing if paddock.ground not in first)]
        found = sides_of(grounds if standing else [])
        if fences:
            found = found.joined(self.fence_sides, self.ride_sides)
        if field_edges:
            inward = edges_of(field.outline for field in self.fields)[:, ::-1]
            found = found.joined(Sides(inward))
        return found

    @cached_property
    def fence_lines(self) -> tuple[shapely.LineString, ...]:
        """The permanent fences, if they are to count."""
        return tuple(way.line for way in self.to_lean_on) if self.fences else ()

    @cached_property
    def in_place(self) -> NetsOfDay:
        """The nets as the books have them while the paddock is placed."""
        return nets_while_placing(self.farm, self.day, self.group_uid or "", self.today)

    @cached_property
    def _known_nets(self) -> tuple[StandingNet, ...]:
        pool = self.in_place.pool
        return tuple(
            StandingNet(pool.line(piece), piece.kind, number_of(self.farm, piece)) for piece in self.in_place.standing()
        )

    def nets(self, kind: NetKind) -> tuple[StandingNet, ...]:
        """Return where each net stands; a paddock whose nets are not known is taken to stand in nets of the kind."""
        if kind.uid not in self._nets:
            unknown = [Fenced(ground.outline, kind, ground.paddock_uid) for ground in self.in_place.unknown()]
            closed = [*self.fence_lines, *(net.line for net in self._known_nets)] if unknown else []
            self._nets[kind.uid] = (*self._known_nets, *laid_round(unknown, closed, self.ground_per_grid))
        return self._nets[kind.uid]

    def spare(self, kind: NetKind) -> int | None:
        """Return how many sound nets of a kind are free to carry on that day; None where none is entered."""
        if kind.uid not in self._spare:
            self._spare[kind.uid] = self.in_place.free(kind)
        return self._spare[kind.uid]

    @cached_property
    def obstacles(self) -> tuple[Obstacle, ...]:
        """All that a paddock must not touch."""
        return tuple(obstacles(self.farm, self.day, self.out_on, self.standing, self.group_uid, self.today))

    @cached_property
    def _obstacle_tree(self) -> shapely.STRtree:
        shapes = [obstacle.shape for obstacle in self.obstacles]
        shapely.prepare(shapes)
        return shapely.STRtree(shapes)

    def touched(self, outlines: Sequence[BaseGeometry] | NDArray[np.object_]) -> tuple[NDArray[np.int64], ...]:
        """Return which outlines touch which obstacles, as pairs of numbers (outline, obstacle)."""
        pairs = self._obstacle_tree.query(np.asarray(outlines, dtype=np.object_), predicate="intersects")
        return pairs[0], pairs[1]

    @cached_property
    def fields_as_one(self) -> BaseGeometry:
        """All fields together, widened by the play of a net, so that a side on a field's edge lies inside."""
        whole = shapely.union_all([shapely.buffer(field.outline, FLUSH_M, join_style="mitre") for field in self.fields])
        shapely.prepare(whole)
        return whole

    @cached_property
    def _field_tree(self) -> shapely.STRtree:
        return shapely.STRtree([field.outline for field in self.fields])

    def fields_under(self, outline: shapely.Polygon) -> tuple[Field, ...]:
        """Return the fields that an outline lies in, that with most of it first; none where it touches none.

        A second field counts where more than the play of a net lies in it.
        """
        touched = self._field_tree.query(outline, predicate="intersects").tolist()
        near: list[Field] = [self.fields[number] for number in sorted(touched)]
        if len(near) <= 1:
            return tuple(near)
        shares = [shapely.intersection(field.outline, outline).area for field in near]
        first, *others = sorted(range(len(near)), key=lambda number: -shares[number])
        core = shapely.buffer(outline, -FLUSH_M, join_style="mitre")
        return near[first], *(near[number] for number in others if near[number].outline.intersects(core))

    def closed(self, field: Field) -> Closed | None:
        """Return when a field is closed on days of the stay."""
        if field.uid not in self._closed:
            purposes = [each for each in self.farm.purposes.values() if each.field_uid == field.uid]
            self._closed[field.uid] = closed_during(field, purposes, self.day, self.out_on)
        return self._closed[field.uid]
