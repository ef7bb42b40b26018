"""Which grounds begin and end on which day, and in which order the moves of a day take the fewest nets."""

from __future__ import annotations

from collections.abc import Iterable, Iterator, Mapping, Sequence
from datetime import date
from typing import NamedTuple

from pigmap.fence.count import nets_along
from pigmap.fence.pool import Ground, Pool
from pigmap.records import Farm, Lasting
from pigmap.records.move_order import ORDER_OF_MOVES, order_of_moves

OVER_M2 = 1.0
"""Grounds that lie on each other by no more than this are beside each other [m²]. Own choice."""


class Going(NamedTuple):
    """A group that goes to new ground."""

    old: Ground | None
    new: Ground


class DayOfMoves(NamedTuple):
    """What happens on one day."""

    day: date
    over: tuple[Ground, ...]
    """Ground that pigs leave without going elsewhere."""
    going: tuple[Going, ...]


def days_of_moves(stays: Iterable[Lasting], grounds: Mapping[str, Ground], after: date) -> Iterator[DayOfMoves]:
    """Yield the days after a day on which a stay begins or ends, in order.

    Parameters
    ----------
    stays
        As they really lie in time.
    grounds
        Their ground, by the uid of the stay.
    after
        Only later days are told.
    """
    begins: dict[date, list[Ground]] = {}
    ends: dict[date, list[Ground]] = {}
    for each in sorted(stays, key=lambda each: (each.first, each.stay.uid)):
        ground = grounds[each.stay.uid]
        if each.first > after:
            begins.setdefault(each.first, []).append(ground)
        if each.end is not None and each.end > after:
            ends.setdefault(each.end, []).append(ground)
    for day in sorted({*begins, *ends}):
        yield _day(day, ends.get(day, []), begins.get(day, []))


def _day(day: date, ends: Sequence[Ground], begins: Sequence[Ground]) -> DayOfMoves:
    left = {ground.group_uid: ground for ground in ends}
    going = tuple(Going(left.pop(new.group_uid, None), new) for new in begins)
    gone = {each.old.stay_uid for each in going if each.old is not None}
    return DayOfMoves(day, tuple(ground for ground in ends if ground.stay_uid not in gone), going)


class MoveOrder:
    """Puts the moves of a day in order: as someone wanted them, else so that they take the fewest nets at a time."""

    def __init__(self, farm: Farm) -> None:
        self._farm = farm
        self._wanted = farm.setting(ORDER_OF_MOVES, {})
        self._over: dict[tuple[int, int], bool] = {}

    def of(self, today: DayOfMoves, pool: Pool) -> Sequence[Going]:
        """Return the moves of a day in order."""
        going = today.going
        if len(going) < 2:
            return going
        wanted = self._as_wanted(today)
        if wanted:
            return wanted
        left = sorted(going, key=lambda each: _gain_first(pool, each))
        ordered: list[Going] = []
        for_whom = {each.new.stay_uid: self._waits_for(each, going) for each in going}
        while any(for_whom.values()):
            there = {each.new.stay_uid for each in left}
            first = next((each for each in left if not for_whom[each.new.stay_uid] & there), left[0])
            for_whom.pop(first.new.stay_uid)
            left.remove(first)
            ordered.append(first)
        return [*ordered, *left]

    def _as_wanted(self, today: DayOfMoves) -> Sequence[Going]:
        if not self._wanted or today.day.isoformat() not in self._wanted:
            return ()
        wanted = order_of_moves(self._farm, today.day)
        by_group = {each.new.group_uid: each for each in today.going}
        if len(by_group) != len(today.going) or set(by_group) != set(wanted):
            return ()
        return [by_group[uid] for uid in dict.fromkeys(wanted)]

    def _waits_for(self, each: Going, going: Sequence[Going]) -> set[str]:
        """Return the moves, by their stays, whose pigs still are where the new ground of a move lies in part."""
        west, south, east, north = each.new.bounds
        found = set()
        for other in going:
            if other.old is None or other is each:
                continue
            other_west, other_south, other_east, other_north = other.old.bounds
            if other_west < east and west < other_east and other_south < north and south < other_north:
                pair = each.new.tracks[0], other.old.tracks[0]
                if pair not in self._over:
                    self._over[pair] = bool(each.new.outline.intersection(other.old.outline).area > OVER_M2)
                if self._over[pair]:
                    found.add(other.new.stay_uid)
        return found


def _gain_first(pool: Pool, each: Going) -> tuple[bool, int, str]:
    """Return what puts moves in order: first those that free as many nets as they bind, those that set least before.

    Then the others, those that free most before. With each move setting before it takes up, no other order of such
    moves needs fewer nets at a time.
    """
    kind = each.new.kind
    if kind is None:
        return False, 0, each.new.stay_uid
    common = pool.in_common(each.new, each.old) if each.old is not None else 0.0
    sets, shared = nets_along(round((each.new.around_m - common) * 1000), kind), nets_along(round(common * 1000), kind)
    takes = len(pool.alone(each.old)) - shared if each.old is not None else 0
    return takes < sets, -takes if takes < sets else sets, each.new.stay_uid
