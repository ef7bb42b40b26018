"""A paddock that really stands elsewhere than it is drawn: it is put there, and the row that hangs on it follows."""

from __future__ import annotations

from collections.abc import Iterator, Sequence
from dataclasses import replace

import shapely

from pigmap.document.edits.find import row_of, rows_with
from pigmap.document.edits.naming import field_under
from pigmap.errors import EditError
from pigmap.geometry.carrying import carried_as_one
from pigmap.geometry.row_behind import along_new_edge, row_behind
from pigmap.geometry.sides import stands_along
from pigmap.records import Edit, Farm, Paddock, RowChange, Stay, StayState, change
from pigmap.text import Text


def stands_here(paddock_uid: str, ground: shapely.Polygon) -> Edit:
    """Return the edit that says where a paddock with pigs in it really stands.

    The ground of the stay that runs, and the nets that stand round it, go with it. What is planned for the same pigs
    in paddocks that share a side with it, one after the other, follows as `row_behind` says. Stays that are over keep
    their ground, and other groups their paddocks. It is a fact: where it lies, or on what, refuses nothing.

    Parameters
    ----------
    paddock_uid
        The paddock.
    ground
        Where it stands [grid m].
    """

    def changes(farm: Farm) -> Sequence[RowChange]:
        paddock = row_of(farm, Paddock, paddock_uid)
        running = _running(farm, paddock)
        _need_ground(paddock, ground)
        before = running[0].ground
        carry = carried_as_one(before, ground)
        nets = (paddock.nets_long, paddock.nets_wide) if carry is not None else (None, None)
        sides = paddock.side_nets if carry is not None else ()
        after = replace(paddock, nets_long=nets[0], nets_wide=nets[1], side_nets=sides)
        rows = list(_moved(farm, paddock, after, ground))
        rows += _nets_after(farm, paddock, before, ground)
        for each, outline in what_follows(farm, paddock_uid, ground):
            rows += _moved(farm, each, each, outline)
        return rows

    return Edit(Text("Set where it stands."), changes)


def what_follows(farm: Farm, paddock_uid: str, ground: shapely.Polygon) -> tuple[tuple[Paddock, shapely.Polygon], ...]:
    """Return the planned paddocks that follow when a paddock stands elsewhere, and where they come to lie [grid m].

    Parameters are those of `stands_here`.
    """
    paddock = row_of(farm, Paddock, paddock_uid)
    found: dict[str, tuple[Paddock, shapely.Polygon]] = {}
    for stay in _running(farm, paddock):
        row = _row_of(farm, stay)
        carried = row_behind(stay.ground, ground, [each.outline for each in row]).outlines
        found |= {each.uid: (each, outline) for each, outline in zip(row, carried, strict=False)}
    return tuple(found.values())


def _running(farm: Farm, paddock: Paddock) -> list[Stay]:
    stays = [stay for stay in rows_with(farm, Stay, "paddock_uid", paddock.uid) if stay.state is StayState.RUNNING]
    if not stays:
        raise EditError(
            "No pigs are in {name} now, so nothing of it stands.",
            remedy="Choose a paddock with pigs in it, or record first that they are in this one.",
            name=paddock.name,
        )
    return sorted(stays, key=lambda stay: (stay.in_on, stay.uid))


def _need_ground(paddock: Paddock, ground: shapely.Polygon) -> None:
    if ground.is_empty or ground.area <= 0.0 or not shapely.is_valid(ground):
        raise EditError(
            "The sides of {name} would cross, or close no ground.",
            remedy="Drag its corners so that the sides go round it once.",
            name=paddock.name,
        )


def _row_of(farm: Farm, stay: Stay) -> list[Paddock]:
    """Return the paddocks that are planned for a group after a stay, in order, as far as no other pigs are in them."""
    planned = [
        each
        for each in rows_with(farm, Stay, "group_uid", stay.group_uid)
        if each.state is StayState.PLANNED and (each.out_on is None or each.out_on > stay.in_on)
    ]
    used = {each.paddock_uid for each in farm.stays.values() if each.state is StayState.RUNNING}
    row: dict[str, Paddock] = {}
    for each in sorted(planned, key=lambda each: (each.in_on, each.uid)):
        paddock = farm.paddocks.get(each.paddock_uid)
        if paddock is None or (paddock.uid in used and paddock.uid != stay.paddock_uid):
            break
        if paddock.uid != stay.paddock_uid:
            row.setdefault(paddock.uid, paddock)
    return list(row.values())


def _moved(farm: Farm, before: Paddock, after: Paddock, outline: shapely.Polygon) -> Iterator[RowChange]:
    """Yield a paddock with other ground, and its stays that are not over."""
    field = field_under(farm, outline)
    yield change(before, replace(after, outline=outline, field_uid=field.uid if field is not None else after.field_uid))
    for stay in rows_with(farm, Stay, "paddock_uid", before.uid):
        if stay.state is not StayState.PAST:
            yield change(stay, replace(stay, ground=outline))


def _nets_after(farm: Farm, paddock: Paddock, before: shapely.Polygon, after: shapely.Polygon) -> Iterator[RowChange]:
    """Yield the nets that stand round a paddock, those left there by the one before it included, where they go."""
    carry = carried_as_one(before, after)
    others = {stay.paddock_uid for stay in farm.stays.values() if stay.state is StayState.RUNNING} - {paddock.uid}
    for use in farm.net_uses.values():
        if use.taken_on is not None or use.paddock_uid in others:
            continue
        beside = stands_along(use.run, before)
        if carry is not None and (beside or use.paddock_uid == paddock.uid):
            yield change(use, replace(use, run=carry.shape(use.run)))
        elif beside:
            yield change(use, replace(use, run=along_new_edge(use.run, before, after)))
