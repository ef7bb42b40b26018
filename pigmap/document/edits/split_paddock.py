"""A planned paddock in two: a line across it, and the stays on it go to the one half first, then to the other."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import replace
from datetime import date, timedelta
from itertools import product
from typing import cast

import shapely
from shapely import affinity

from pigmap.document.edits.find import row_of, rows_with
from pigmap.document.edits.naming import free_names
from pigmap.document.edits.stays import usual_days
from pigmap.errors import EditError
from pigmap.geometry.four_sides import corners_of_four, lengths_m
from pigmap.geometry.quadrangle import rectangle_in
from pigmap.geometry.sides import FLUSH_M
from pigmap.records import Edit, Farm, NetKind, Paddock, RowChange, Stay, StayState, add, change, new_uid
from pigmap.records.side_nets import SideNets, kinds_told, written
from pigmap.text import Quantity, Text

LEAST_HALF_M2 = 25.0
"""A half that is smaller is no paddock [m² of ground]. Own choice."""
Halves = tuple[shapely.Polygon, shapely.Polygon]


def halves_of(farm: Farm, paddock_uid: str, line: shapely.LineString) -> Halves:
    """Return both halves of a paddock, the one first in which the pigs come first.

    That is the half beside the ground that its group comes from; where it comes from nowhere near, the larger.

    Parameters
    ----------
    farm, paddock_uid
        Which paddock.
    line
        Across it; it goes on to both sides [grid m].

    Raises
    ------
    EditError
        If the line does not part it in two, or one of them would be too small.
    """
    paddock = row_of(farm, Paddock, paddock_uid)
    from shapely.ops import split  # needed on use alone

    far = paddock.outline.length / max(line.length, 1e-6)
    across = affinity.scale(line, far, far, origin="centroid")
    parts = [cast(shapely.Polygon, part) for part in split(paddock.outline, across).geoms]
    if len(parts) != 2:
        raise EditError(
            "The line does not part {name} in two.",
            remedy="Lay it across, from one side to another, once.",
            name=paddock.name,
        )
    per_m2 = farm.projection.ground_per_grid**2
    least = min(part.area for part in parts) * per_m2
    if least < LEAST_HALF_M2:
        raise EditError(
            "One of the two parts of {name} would have {area}.",
            remedy="Lay the line nearer to the middle.",
            name=paddock.name,
            area=Quantity(least, "m²"),
        )
    came_from = _came_from(farm, _planned_on(farm, paddock_uid))

    def rank(part: shapely.Polygon) -> tuple[float, float]:
        beside = -part.buffer(0.5).intersection(came_from.boundary).length if came_from is not None else 0.0
        far = part.distance(came_from) if came_from is not None else 0.0
        return round(far, 1), round(beside if beside else -part.area, 1)

    first, second = sorted(parts, key=rank)
    return first, second


def split_paddock(uid: str, line: shapely.LineString, *, second_uid: str = "") -> Edit:
    """Return the edit that splits a planned paddock in two along a line [grid m].

    Planned stays on it become two: the first half, then the second, with their days shared. Past stays keep their
    ground.

    Parameters
    ----------
    uid
        The paddock; it keeps the half that comes first.
    line
        Across it.
    second_uid
        Name of the other half, where the caller needs to know it.
    """
    other_uid = second_uid or new_uid()
    stay_uids: dict[str, str] = {}

    def changes(farm: Farm) -> Sequence[RowChange]:
        paddock = row_of(farm, Paddock, uid)
        if any(stay.state is StayState.RUNNING for stay in rows_with(farm, Stay, "paddock_uid", uid)):
            raise EditError(
                "Pigs are in {name} now.",
                remedy="Split the one that is planned next, or say with 'It stands here' how this one stands.",
                name=paddock.name,
            )
        halves = [
            _half(farm, paddock, outline, own, name)
            for outline, own, name in zip(
                halves_of(farm, uid, line),
                (uid, other_uid),
                (paddock.name, free_names(farm, paddock.field_uid)[0]),
                strict=True,
            )
        ]
        rows = [change(paddock, halves[0]), add(halves[1])]
        for stay in _planned_on(farm, uid):
            rows += _shared(farm, stay, halves, stay_uids.setdefault(stay.uid, new_uid()))
        return rows

    return Edit(Text("{name} split in two.", {"name": Text("Paddock")}), changes, names=uid)


def turn_of(farm: Farm, stay: Stay) -> date:
    """Return the day on which pigs go from the first half to the second: the first has the odd day.

    Raises
    ------
    EditError
        If there is one day alone to share.
    """
    days = (stay.out_on - stay.in_on).days if stay.out_on is not None else 2 * usual_days(farm, stay.group_uid)
    if days < 2:
        raise EditError(
            "The stay from {day} is one day long: two halves need a day each.",
            remedy="Give it a day more first.",
            day=stay.in_on,
        )
    return stay.in_on + timedelta(days=(days + 1) // 2)


def _shared(farm: Farm, stay: Stay, halves: Sequence[Paddock], uid: str) -> list[RowChange]:
    """Return a stay on the first half, and one on the second after it."""
    turn = turn_of(farm, stay)
    first = replace(stay, ground=halves[0].outline, out_on=turn)
    second = replace(stay, uid=uid, paddock_uid=halves[1].uid, ground=halves[1].outline, in_on=turn)
    return [change(stay, first), add(second)]


def _half(farm: Farm, paddock: Paddock, outline: shapely.Polygon, uid: str, name: str) -> Paddock:
    """Return one half as a paddock, with its whole nets where it has such."""
    kind = farm.net_kinds.get(paddock.net_kind_uid or "")
    made = None
    if kind is not None:
        made = rectangle_in(outline, kind.length_mm, ground_per_grid=farm.projection.ground_per_grid)
    nets = (made.long_mm // kind.length_mm, made.wide_mm // kind.length_mm) if made and kind else (None, None)
    half = replace(paddock, uid=uid, name=name, outline=outline, nets_long=nets[0], nets_wide=nets[1])
    return replace(half, side_nets=_told_of_half(farm, paddock, outline) if made is None else ())


def _told_of_half(farm: Farm, paddock: Paddock, outline: shapely.Polygon) -> tuple[str, ...]:
    """Return the nets of the sides of one half, of the kinds that were told for the whole; nothing where none fit."""
    corners = corners_of_four(outline)
    kinds = [farm.net_kinds[uid] for uid in kinds_told(paddock.side_nets) if uid in farm.net_kinds]
    if corners is None or not kinds:
        return ()
    kinds.sort(key=lambda kind: (-kind.length_mm, kind.uid))
    lengths = (lengths_m(corners, farm.projection.ground_per_grid) * 1000).tolist()
    sides = [_nets_as_long(length, kinds) for length in lengths]
    return written(sides) if all(sides) else ()


def _nets_as_long(length_mm: float, kinds: Sequence[NetKind]) -> SideNets:
    """Return the fewest nets that are as long as a side, but for the play of a net; nothing where none are."""
    most = [int((length_mm + FLUSH_M * 1000) // kind.length_mm) for kind in kinds]
    found = (
        counts
        for counts in product(*(range(each + 1) for each in most))
        if abs(sum(kind.length_mm * nets for kind, nets in zip(kinds, counts, strict=True)) - length_mm)
        <= FLUSH_M * 1000
    )
    best = min(found, key=sum, default=())
    return tuple((kind.uid, nets) for kind, nets in zip(kinds, best, strict=False) if nets)


def _planned_on(farm: Farm, paddock_uid: str) -> list[Stay]:
    stays = (stay for stay in rows_with(farm, Stay, "paddock_uid", paddock_uid) if stay.state is StayState.PLANNED)
    return sorted(stays, key=lambda stay: (stay.in_on, stay.uid))


def _came_from(farm: Farm, planned: Sequence[Stay]) -> shapely.Polygon | None:
    """Return the ground on which the group is before the first of some stays; None where it is nowhere."""
    if not planned:
        return None
    first = planned[0]
    before = (
        stay
        for stay in rows_with(farm, Stay, "group_uid", first.group_uid)
        if stay.uid != first.uid and stay.in_on < first.in_on
    )
    last = max(before, key=lambda stay: (stay.in_on, stay.uid), default=None)
    return last.ground if last is not None else None
