"""Invented plans for the books of the nets: rows of paddocks, and groups that wander over a lattice of 10 m."""

from __future__ import annotations

import random
from collections.abc import Iterable, Iterator, Sequence
from dataclasses import replace
from datetime import date, timedelta
from typing import NamedTuple

import shapely
from shapely.affinity import rotate

from pigmap.records import (
    Farm,
    Group,
    Net,
    NetUse,
    Paddock,
    Record,
    Stay,
    StayState,
    add,
    change,
)
from tests.planning.invented import KIND, PROJECTION, TODAY


class Box(NamedTuple):
    """A rectangle along the axes [m]."""

    west: int
    south: int
    east: int
    north: int

    @property
    def outline(self) -> shapely.Polygon:
        """Its outline from the south-western corner anticlockwise."""
        west, south, east, north = self
        return shapely.Polygon([(west, south), (east, south), (east, north), (west, north)])

    def overlaps(self, other: Box) -> bool:
        """Whether two lie on each other in part."""
        return (
            self.west < other.east and other.west < self.east and self.south < other.north and other.south < self.north
        )


class Visit(NamedTuple):
    """A group on some ground from one day to another, both counted from today."""

    group: str
    box: Box
    first: int
    end: int | None


def plan(
    visits: Iterable[Visit], *more: Record, nets: int = 0, owned: Sequence[Net] = (), turned_deg: float = 0
) -> Farm:
    """Return a farm with these visits, turned round a place far off: those that begin by today run."""
    rows: list[Record] = [KIND, *owned, *(Net(uid=f"net {at:03}", net_kind_uid="kind") for at in range(nets)), *more]
    groups: dict[str, Group] = {}
    for at, visit in enumerate(visits):
        groups.setdefault(visit.group, Group(uid=visit.group, name=visit.group.capitalize()))
        outline = rotate(visit.box.outline, turned_deg, origin=(-40_000, 7_000))
        rows.append(Paddock(uid=f"paddock {at}", name=f"Paddock {at}", outline=outline, net_kind_uid="kind"))
        rows.append(
            Stay(
                uid=f"stay {at}",
                group_uid=visit.group,
                paddock_uid=f"paddock {at}",
                ground=outline,
                state=StayState.RUNNING if visit.first <= 0 else StayState.PLANNED,
                in_on=on(visit.first),
                out_on=None if visit.end is None else on(visit.end),
            )
        )
    return Farm(document_uid="farm", projection=PROJECTION).after(add(row) for row in (*groups.values(), *rows))


def on(days: int) -> date:
    """Return a day counted from today."""
    return TODAY + timedelta(days=days)


def row(shared_m: int, deep_m: int, moves: int, *, group: str = "sows", west: int = 0) -> Iterator[Visit]:
    """Yield the visits of a row of rectangles, each with a side in common with the one before."""
    for at in range(moves + 1):
        box = Box(west, at * deep_m, west + shared_m, (at + 1) * deep_m)
        yield Visit(group, box, 4 * at, 4 * at + 4)


def use(uid: str, box: Box, side: int, paddock: int, set_on: int = 0, **more: object) -> NetUse:
    """Return the record of a net along one side of a box: 0 south, 1 east, 2 north, 3 west."""
    corners = shapely.get_coordinates(box.outline)
    line = shapely.LineString(corners[side : side + 2])
    values = {"net_kind_uid": "kind", "paddock_uid": f"paddock {paddock}", "set_on": on(set_on), **more}
    return NetUse(uid=uid, run=line, **values)  # type: ignore[arg-type]


def not_crossed(nets: int) -> Farm:
    """Return a farm whose sows were to move today and did not cross: their new fence stands, and so does the old.

    They move twice more, and others once.
    """
    boxes = [Box(0, 50 * at, 50, 50 * at + 50) for at in range(3)]
    visits = [
        Visit("sows", boxes[0], -4, None),
        Visit("sows", boxes[1], 0, 4),
        Visit("sows", boxes[2], 4, 8),
        Visit("weaners", Box(300, 0, 350, 50), -4, 6),
        Visit("weaners", Box(300, 50, 350, 100), 6, 9),
    ]
    old = [use(f"old {side}", boxes[0], side, 0, -4) for side in range(4)]
    new = [use(f"new {side}", boxes[1], side, 1) for side in (1, 2, 3)]
    farm = plan(visits, *old, *new, nets=nets)
    due = farm.stays["stay 1"]
    return farm.after([change(due, replace(due, state=StayState.PLANNED))])


def wandering(seed: int, moves: int, groups: int = 4) -> list[Visit]:
    """Return visits of groups that go, one a day, to ground beside that on which they are, or elsewhere."""
    rng = random.Random(seed)
    names = [f"group {at}" for at in range(groups)]
    where = {name: Box(200 * at, 0, 200 * at + 50, 50) for at, name in enumerate(names)}
    since = dict.fromkeys(names, 0)
    found = []
    for day in range(1, moves + 1):
        name = rng.choice(names)
        others = [box for other, box in where.items() if other != name]
        box = next(box for box in _tries(rng, where[name]) if not any(box.overlaps(other) for other in others))
        found.append(Visit(name, where[name], since[name], day))
        where[name], since[name] = box, day
    return [*found, *(Visit(name, where[name], since[name], moves + 5) for name in names)]


def _tries(rng: random.Random, old: Box) -> Iterator[Box]:
    while True:
        wide, high = rng.choice((20, 30, 40, 50, 50, 60, 80, 100)), rng.choice((20, 30, 40, 50, 50, 70, 100))
        shift = rng.choice((0, 0, 0, 10, -20))
        sides = (
            Box(old.west + shift, old.north, old.west + shift + wide, old.north + high),
            Box(old.west + shift, old.south - high, old.west + shift + wide, old.south),
            Box(old.east, old.south + shift, old.east + wide, old.south + shift + high),
            Box(old.west - wide, old.south + shift, old.west, old.south + shift + high),
            Box(west := rng.randrange(0, 800, 10), south := rng.randrange(0, 400, 10), west + wide, south + high),
        )
        box = rng.choice(sides)
        if not box.overlaps(old) and box.west >= 0 and box.east <= 900 and box.south >= 0 and box.north <= 500:
            yield box
