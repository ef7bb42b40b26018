"""From when to when each net stood in one place: records that go on where others end are one net that stayed."""

from __future__ import annotations

from collections.abc import Iterable, Iterator
from datetime import date

import shapely

from pigmap.fence.pool import Piece
from pigmap.geometry.sides import FLUSH_M
from pigmap.records import Farm, NetUse

NEVER = 1 << 62
"""Later than all that happens."""
_TAKEN, _SET, _PLANNED = 0, 1, 2


def when(day: date, what: int, step: int = 0) -> int:
    """Return a number that rises with time.

    On one day comes first what is recorded as taken up, then as set, then what the plan does, step by step.
    """
    return (day.toordinal() << 36) + (what << 34) + step


def ordinal_of(moment: int) -> int:
    """Return the ordinal of the day of a moment."""
    return moment >> 36


class Stand:
    """One net in one place."""

    __slots__ = ("begin", "end", "holders", "kind_uid", "net_uid")

    def __init__(self, kind_uid: str, net_uid: str | None, begin: int, end: int) -> None:
        self.kind_uid = kind_uid
        self.net_uid = net_uid
        """Which net, where someone wrote that down."""
        self.begin, self.end = begin, end
        self.holders: tuple[tuple[int, str | None], ...] = ()
        """Which net it is from which day on, by its ordinal; None where there is none left for it."""


def stands_of(farm: Farm, pieces: Iterable[Piece], today: date) -> tuple[list[Stand], dict[str, Stand]]:
    """Return all stands of the records and of a plan; and by what they are found.

    They are found by the uid of a record, and those of the plan by `key_of` their piece.
    """
    stands, found = _recorded(farm)
    for piece in pieces:
        known = found.get(piece.use_uids[0]) if piece.use_uids else None
        end = when(piece.taken_on, _PLANNED, piece.until_step) if piece.taken_on != date.max else NEVER
        if known is not None:
            known.end = end
            continue
        begin = when(piece.set_on, _SET) if piece.set_on <= today else when(piece.set_on, _PLANNED, piece.step)
        stand = Stand(piece.kind.uid, None, begin, end)
        stands.append(stand)
        found[key_of(piece)] = stand
    return stands, found


def key_of(piece: Piece) -> str:
    """Return by what the stand of a piece is found."""
    return piece.use_uids[0] if piece.use_uids else f"piece {id(piece)}"


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
