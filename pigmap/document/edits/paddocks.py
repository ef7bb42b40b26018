"""Paddocks: place one or a row of them, move and reshape them."""

from __future__ import annotations

from collections.abc import Iterable, Sequence
from dataclasses import replace
from datetime import date, timedelta

import shapely
from shapely import affinity

from pigmap.document.edits.find import row_of, rows_with
from pigmap.document.edits.naming import field_under, free_names
from pigmap.document.edits.stays import planned, usual_days
from pigmap.errors import EditError
from pigmap.geometry.four_sides import corners_of_four, first_of_told, lengths_m
from pigmap.geometry.rectangle import Rectangle
from pigmap.records import Edit, Farm, Group, NetKind, Paddock, RowChange, Stay, StayState, add, change, new_uid
from pigmap.records.side_nets import SideNets, read, written
from pigmap.text import Quantity, Text


def place_paddock(
    ground: Rectangle | shapely.Polygon,
    *,
    net_kind_uid: str | None = None,
    side_nets: Sequence[SideNets] = (),
    field_uid: str | None = None,
    name: str = "",
    note: str = "",
    group_uid: str | None = None,
    in_on: date | None = None,
    out_on: date | None = None,
    why: str = "",
    uid: str = "",
    stay_uid: str = "",
) -> Edit:
    """Return the edit that places a paddock and, for a group with a day in, plans its stay there.

    Parameters
    ----------
    ground
        A rectangle of nets, or corners as someone walked them [grid m].
    net_kind_uid
        The nets it is made from.
    side_nets
        Nets of its four sides, anticlockwise from the first corner, where they are of more than one kind.
    field_uid
        The field it belongs to; if not given, the one that most of it lies in, if any.
    name
        If empty, the field's name and the next free number.
    group_uid, in_on, out_on
        Who goes there, from when to when; without a day out, for the group's usual days.
    why
        Why it is placed in spite of a warning.
    uid, stay_uid
        Names of the new rows, where the caller needs to know them.
    """
    paddock_uid, planned_uid = uid or new_uid(), stay_uid or new_uid()

    def changes(farm: Farm) -> Sequence[RowChange]:
        paddock = _paddock(farm, ground, (net_kind_uid, side_nets), field_uid, name, note, paddock_uid)
        rows = [add(paddock)]
        if group_uid is not None and in_on is not None:
            row_of(farm, Group, group_uid)
            rows += planned(farm, paddock, group_uid, in_on, out_on, why=why, uid=planned_uid)
        return rows

    return Edit(Text("{name} placed.", {"name": name or Text("Paddock")}), changes, names=paddock_uid)


def lay_row(
    rectangles: Sequence[Rectangle],
    *,
    net_kind_uid: str | None = None,
    side_nets: Sequence[SideNets] = (),
    field_uid: str | None = None,
    group_uid: str | None = None,
    in_on: date | None = None,
    days_each: int | None = None,
    why: str = "",
    note: str = "",
    uids: Sequence[str] = (),
) -> Edit:
    """Return the edit that lays paddocks in a row and, for a group, plans its stays one after another.

    Parameters are those of `place_paddock`; `days_each` is the length of each stay, the group's usual days if not
    given, and `uids` name the paddocks.
    """
    if not rectangles:
        raise EditError("The row has no paddock in it.", remedy="Drag on until the next paddock shows.")
    paddock_uids = list(uids) or [new_uid() for _ in rectangles]
    stay_uids = [new_uid() for _ in rectangles]

    def changes(farm: Farm) -> Sequence[RowChange]:
        if group_uid is not None:
            row_of(farm, Group, group_uid)
        rows: list[RowChange] = []
        day = in_on
        for rectangle, uid, stay_uid in zip(rectangles, paddock_uids, stay_uids, strict=True):
            paddock = _paddock(farm.after(rows), rectangle, (net_kind_uid, side_nets), field_uid, "", note, uid)
            rows.append(add(paddock))
            if group_uid is not None and day is not None:
                out = day + timedelta(days=days_each or usual_days(farm, group_uid, day, paddock.field_uid))
                first = planned(farm, paddock, group_uid, day, out, why=why, uid=stay_uid)
                rows += first if day == in_on else first[-1:]
                day = out
        return rows

    count = len(rectangles)
    return Edit(Text("A paddock placed.", plural="A row of {count} paddocks laid.", count=count), changes)


def _paddock(
    farm: Farm,
    ground: Rectangle | shapely.Polygon,
    of_nets: tuple[str | None, Sequence[SideNets]],
    field_uid: str | None,
    name: str,
    note: str,
    uid: str,
) -> Paddock:
    outline = ground.outline if isinstance(ground, Rectangle) else _walked(ground)
    if field_uid is None:
        under = field_under(farm, outline)
        field_uid = under.uid if under is not None else None
    net_kind_uid, sides = of_nets
    kind = row_of(farm, NetKind, net_kind_uid) if net_kind_uid is not None else None
    if sides:
        _need_closing(farm, outline, sides)
    nets = _whole_nets(ground, kind) if not sides else (None, None)
    return Paddock(
        uid=uid,
        name=name or free_names(farm, field_uid)[0],
        field_uid=field_uid,
        outline=outline,
        net_kind_uid=net_kind_uid,
        nets_long=nets[0],
        nets_wide=nets[1],
        note=note,
        side_nets=written(sides),
    )


def _need_closing(farm: Farm, outline: shapely.Polygon, sides: Sequence[SideNets]) -> None:
    """Refuse nets of sides that do not go round the ground they are told for."""
    per_grid = farm.projection.ground_per_grid
    told = [sum(row_of(farm, NetKind, uid).length_mm * nets for uid, nets in side) for side in sides]
    if first_of_told(outline, told, per_grid) is None:
        corners = corners_of_four(outline)
        raise EditError(
            "The nets told for its sides do not close it: they are {nets}, the sides {sides}.",
            remedy="Give each side nets that are as long as it; opposite sides have one length.",
            nets=_metres(length / 1000 for length in told),
            sides=_metres(lengths_m(corners, per_grid).tolist() if corners is not None else ()),
        )


def _metres(lengths: Iterable[float]) -> Text:
    """Return some lengths as they are said one after the other."""
    found: Text | None = None
    for length in lengths:
        said = Text("{length}", {"length": Quantity(length, "m", 0 if abs(length - round(length)) < 0.05 else 1)})
        found = said if found is None else Text("{before}, {next}", {"before": found, "next": said})
    return found or Text("none")


def _whole_nets(ground: Rectangle | shapely.Polygon, kind: NetKind | None) -> tuple[int | None, int | None]:
    if kind is None or not isinstance(ground, Rectangle):
        return None, None
    counts = [
        side // kind.length_mm if side % kind.length_mm == 0 else None for side in (ground.long_mm, ground.wide_mm)
    ]
    return counts[0], counts[1]


def _walked(ground: shapely.Polygon) -> shapely.Polygon:
    if ground.is_empty or ground.area <= 0.0 or not shapely.is_valid(ground):
        raise EditError(
            "The corners of the paddock close no ground, or its sides cross.",
            remedy="Go round it once, from corner to corner.",
        )
    return ground


def move_paddock(uid: str, east_m: float, north_m: float) -> Edit:
    """Return the edit that moves a paddock [grid m]; running and planned stays follow, past ones do not."""

    def changes(farm: Farm) -> Sequence[RowChange]:
        paddock = row_of(farm, Paddock, uid)
        moved = affinity.translate(paddock.outline, east_m, north_m)
        assert isinstance(moved, shapely.Polygon)
        return with_outline(farm, paddock, replace(paddock, outline=moved))

    return Edit(Text("{name} moved.", {"name": Text("Paddock")}), changes, names=uid)


def reshape_paddock(uid: str, ground: Rectangle | shapely.Polygon) -> Edit:
    """Return the edit that gives a paddock another outline; running and planned stays follow, past ones do not."""

    def changes(farm: Farm) -> Sequence[RowChange]:
        paddock = row_of(farm, Paddock, uid)
        kind = farm.net_kinds.get(paddock.net_kind_uid or "")
        nets = _whole_nets(ground, kind)
        outline = ground.outline if isinstance(ground, Rectangle) else _walked(ground)
        after = replace(paddock, outline=outline, nets_long=nets[0], nets_wide=nets[1])
        return with_outline(farm, paddock, nets_still_told(farm, after))

    return Edit(Text("{name} reshaped.", {"name": Text("Paddock")}), changes, names=uid)


def nets_still_told(farm: Farm, paddock: Paddock) -> Paddock:
    """Return a paddock without what was told of the nets of its sides, where that does not close it any more."""
    sides = read(paddock.side_nets)
    kinds = farm.net_kinds
    told = [sum(kinds[uid].length_mm * nets for uid, nets in side if uid in kinds) for side in sides]
    closes = first_of_told(paddock.outline, told, farm.projection.ground_per_grid) is not None
    return paddock if closes else replace(paddock, side_nets=())


def with_outline(farm: Farm, before: Paddock, after: Paddock) -> list[RowChange]:
    """Return what a paddock with another outline changes: running and planned stays follow, past ones do not."""
    rows = [change(before, after)]
    for stay in rows_with(farm, Stay, "paddock_uid", before.uid):
        if stay.state is not StayState.PAST:
            rows.append(change(stay, replace(stay, ground=after.outline)))
    return rows
