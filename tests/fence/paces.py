"""The pool of nets told again, without any of the program: fences are sets of paces of 10 m."""

from __future__ import annotations

from typing import NamedTuple

from tests.fence.plans import Box, Visit

PACE_M, NET_PACES = 10, 5
Pace = tuple[int, int, str]
"""West and south end of a pace, and whether it runs east or north."""


class Told(NamedTuple):
    """What one move does."""

    set: int
    taken: int
    during: int
    after: int
    nets: frozenset[frozenset[Pace]]
    """Those that stand afterwards."""


def paces_round(box: Box) -> list[Pace]:
    """Return the paces round a box from its south-western corner anticlockwise."""
    west, south, east, north = box
    along, up = range(west, east, PACE_M), range(south, north, PACE_M)
    return [
        *((x, south, "east") for x in along),
        *((east, y, "north") for y in up),
        *((x, north, "east") for x in reversed(along)),
        *((west, y, "north") for y in reversed(up)),
    ]


def told(visits: list[Visit]) -> tuple[int, list[Told]]:
    """Return how many nets stand at first, and what each move does; there is one move a day at most."""
    nets: list[tuple[frozenset[Pace], set[str]]] = []
    here: dict[str, Box] = {}
    found, at_first = [], 0
    for visit in sorted(visits, key=lambda visit: visit.first):
        ring = paces_round(visit.box)
        name = f"{visit.group} {visit.first}"
        closed = {pace for box in here.values() for pace in paces_round(box)} | {p for net, _ in nets for p in net}
        for net, needed in nets:
            if net & set(ring):
                needed.add(name)
        new = [(net, {name}) for net in _laid([pace in closed for pace in ring], ring)]
        nets += new
        during = len(nets)
        old = here.pop(visit.group, None)
        if old is not None:
            for _, needed in nets:
                needed -= {each for each in needed if each.startswith(visit.group + " ") and each != name}
        here[visit.group] = visit.box
        nets = [each for each in nets if each[1]]
        if visit.first <= 0:
            at_first = len(nets)
        else:
            stand = frozenset(net for net, _ in nets)
            found.append(Told(len(new), during - len(nets), during, len(nets), stand))
    return at_first, found


def _laid(closed: list[bool], ring: list[Pace]) -> list[frozenset[Pace]]:
    if not any(closed):
        runs = [ring]
    else:
        first = closed.index(True)
        turned = [*zip(closed, ring, strict=True)][first:] + [*zip(closed, ring, strict=True)][:first]
        runs, run = [], []
        for is_closed, pace in [*turned, (True, (0, 0, ""))]:
            if not is_closed:
                run.append(pace)
            elif run:
                runs.append(run)
                run = []
    return [frozenset(run[at : at + NET_PACES]) for run in runs for at in range(0, len(run), NET_PACES)]
