"""From when to when each net stood in one place: records that go on where others end are one net that stayed."""

from __future__ import annotations

from collections.abc import Iterable, Iterator
from datetime import date

import shapely

from pigmap.fence.pool import Piece
from pigmap.fence.stand import NEVER, Stand, when
from pigmap.geometry.sides import FLUSH_M
from pigmap.records import Farm, NetUse

_TAKEN, _SET, _PLANNED = 0, 1, 2


def stands_of(farm: Farm, pieces: Iterable[Piece], today: date) -> tuple[list[Stand], dict[str, Stand]]:
    """Return all stands of the records and of a plan, and those of the records by the uid of each record.

    A piece of the plan is its own stand; what stands today and is written down ends when the plan takes it up.
    """
    stands, found = _recorded(farm)
    for piece in pieces:
        end = NEVER if piece.taken_on == date.max else when(piece.taken_on, _PLANNED, piece.until_step)
        if piece.use_uids:
            found[piece.use_uids[0]].end = end
            continue
        piece.begin = when(piece.set_on, _PLANNED, piece.step) if piece.set_on > today else when(piece.set_on, _SET)
        piece.end = end
        piece.holders = ()
        stands.append(piece)
    return stands, found


def _recorded(farm: Farm) -> tuple[list[Stand], dict[str, Stand]]:
    stands: list[Stand] = []
    found: dict[str, Stand] = {}
    last: dict[tuple[str, int, int], list[tuple[NetUse, Stand]]] = {}
    for use in sorted(farm.net_uses.values(), key=lambda use: (use.set_on, use.uid)):
        end = when(use.taken_on, _TAKEN) if use.taken_on is not None else NEVER
        x, y = (float(each) for each in shapely.get_coordinates(use.run).mean(axis=0))
        there = (each for cell in _cells(use.net_kind_uid, x, y, FLUSH_M) for each in last.get(cell, ()))
        stand = next((stand for other, stand in there if _goes_on(other, stand, use)), None)
        if stand is None:
            stand = Stand(use.net_kind_uid, use.net_uid, when(use.set_on, _SET), end)
            stands.append(stand)
        else:
            stand.end = max(stand.end, end)
            stand.net_uid = stand.net_uid or use.net_uid
        found[use.uid] = stand
        (own,) = _cells(use.net_kind_uid, x, y, 0.0)
        kept = last.setdefault(own, [])
        kept[:] = [each for each in kept if each[1].end >= when(use.set_on, _TAKEN)]
        kept.append((use, stand))
    return stands, found


def _cells(kind_uid: str, x: float, y: float, around: float) -> Iterator[tuple[str, int, int]]:
    """Yield the squares of 1 m within a distance of a place."""
    for east in {int((x - around) // 1), int((x + around) // 1)}:
        for north in {int((y - around) // 1), int((y + around) // 1)}:
            yield kind_uid, east, north


def _goes_on(other: NetUse, stand: Stand, use: NetUse) -> bool:
    """Whether a record is of a net that stands there already, or was taken up there on that day."""
    if stand.end < when(use.set_on, _TAKEN) or (use.net_uid and stand.net_uid and use.net_uid != stand.net_uid):
        return False
    return bool(shapely.hausdorff_distance(other.run, use.run) <= FLUSH_M)
