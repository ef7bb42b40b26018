"""The books of the nets: where each stands on each day of the records and of the plan, and what every move takes."""

from __future__ import annotations

from bisect import bisect_right
from collections.abc import Iterator, Mapping
from datetime import date
from functools import cached_property
from typing import NamedTuple

import shapely

from pigmap.fence.extents import is_one_net
from pigmap.fence.identities import Identities
from pigmap.fence.pool import Ground, Piece, Pool
from pigmap.fence.recorded import met_by, pool_on
from pigmap.fence.stock import Stock, damaged_nets
from pigmap.fence.timetable import MoveOrder, days_of_moves
from pigmap.records import Farm, Lasting, Net, NetKind, lasting_on


class BookedMove(NamedTuple):
    """What one move of the plan does with nets."""

    day: date
    old: Ground | None
    """Where the group comes from; None where it comes from elsewhere."""
    new: Ground
    to_set: tuple[Piece, ...]
    to_leave: tuple[Piece, ...]
    """Those that stand and close the new ground, too."""
    to_take_up: tuple[Piece, ...]
    during: Mapping[str, int]
    """Nets of each kind, by its uid, that stand on the farm while the new sides are set and the old still stand."""
    after: Mapping[str, int]
    """Those that stand when the move is done."""


class NetThere(NamedTuple):
    """One net where it stands on a day."""

    kind: NetKind
    net: Net | None
    """Which of the farm's nets; None where the farm has none left for it."""
    line: shapely.LineString
    paddock_uid: str
    """The paddock it is set for."""
    group_uid: str
    """Who is in it, or did not cross yet; empty where it was left standing and nobody is."""
    since: date
    recorded: bool
    """Whether it is written down; else it follows from the plan, or from the sides of a paddock that stands."""


class Books:
    """Where the nets of a farm stand, day by day.

    What is written down stands as it is. After today the plan is followed: a group sets its new sides from the nets
    that are spare, then takes up what no ground that stands needs.

    Parameters
    ----------
    farm
        Whose nets.
    today
        The day up to which only what is recorded counts.
    """

    def __init__(self, farm: Farm, today: date) -> None:
        self.farm, self.today = farm, today
        stays = lasting_on(farm, today)
        coming = [each for each in stays.values() if each.end is None or each.end > today]
        self._pool, grounds = _standing(farm, coming, today)
        self._coming = [each for each in coming if each.stay.uid in grounds]
        self.at_first: Mapping[str, int] = dict(self._pool.counts)
        """Nets of each kind that stand today, by its uid."""
        self.grounds: Mapping[str, Ground] = grounds
        """The ground of each stay that goes on or is to come, by its uid."""
        self._fenced = self._fenced_already()
        self.moves: tuple[BookedMove, ...] = tuple(self._moves())
        """All moves that are planned, in the order in which they take the fewest nets at a time."""

    def standing(self, day: date) -> tuple[NetThere, ...]:
        """Return every net that stands in the evening of a day."""
        pool = self._pool if day >= self.today else self._before(day)
        return tuple(self._there(pool, piece, day) for piece in pool.pieces if piece.stands(day))

    def behind(self, day: date) -> Mapping[str, tuple[Ground, ...]]:
        """Return the grounds that the nets of each kind, by its uid, close in the evening of a day from today on."""
        found: dict[str, dict[str, Ground]] = {}
        for piece in self._pool.pieces:
            if piece.stands(day):
                needs = (ground for ground in piece.set_for if self._lasts(ground, day))
                found.setdefault(piece.kind.uid, {}).update((ground.stay_uid, ground) for ground in needs)
        return {uid: tuple(grounds.values()) for uid, grounds in found.items()}

    def counts(self, day: date) -> Mapping[str, int]:
        """Return how many nets of each kind stand in the evening of a day, by the kind's uid."""
        if day < self.today:
            return dict(self._before(day).counts)
        at = bisect_right(self._ends, day)
        return self._after[at - 1] if at else self.at_first

    def torn(self, kind: NetKind) -> tuple[date, ...]:
        """Return until when each net of a kind stays up that stands today and is written down to be damaged."""
        damaged = damaged_nets(self.farm, self.today)
        uses = self.farm.net_uses
        return tuple(
            piece.taken_on
            for piece in self._pool.pieces
            if piece.kind.uid == kind.uid and any(uses[uid].net_uid in damaged for uid in piece.use_uids)
        )

    @cached_property
    def identities(self) -> Identities:
        """Which net each piece is."""
        return Identities(self.farm, self._pool.pieces, self.today)

    def _moves(self) -> Iterator[BookedMove]:
        pool, order = self._pool, MoveOrder(self.farm)
        self._ends: list[date] = []
        self._after: list[Mapping[str, int]] = []
        self._mornings: dict[date, tuple[int, tuple[Ground, ...]]] = {}
        self._evenings = [pool.step]
        stock, several = Stock(self.farm), len(self.farm.net_kinds) > 1  # of one kind alone none can fill in
        for today in days_of_moves(self._coming, self.grounds, self.today):
            pool.step += 1
            for piece in pool.nobodys():
                coming = self._fenced.get(self._written_for(piece))
                if coming is None or coming.first < today.day:
                    pool.take_up(piece, today.day)
            self._mornings[today.day] = pool.step, today.over
            for ground in today.over:
                pool.leave(ground, today.day)
            for going in order.of(today, pool):
                laid, left = pool.stand(going.new, today.day, sound=stock.sound_on(today.day) if several else ())
                during = dict(pool.counts)
                taken = pool.leave(going.old, today.day) if going.old is not None else []
                yield BookedMove(
                    today.day, going.old, going.new, tuple(laid), tuple(left), tuple(taken), during, dict(pool.counts)
                )
            self._evenings.append(pool.step)
            self._ends.append(today.day)
            self._after.append(dict(pool.counts))

    def pool_before_moves(self, day: date, staying: str = "") -> Pool:
        """Return the fences of a day after today as they stand before its moves: free to go on from there.

        What pigs leave on that day without going elsewhere is taken up already, but for that of one group, if any.
        """
        step, over = self._mornings.get(day, (self._evenings[bisect_right(self._ends, day)], ()))
        pool = self._pool.at(step)
        for ground in over:
            if ground.group_uid != staying:
                pool.leave(ground, day)
        return pool

    def _fenced_already(self) -> Mapping[str, Lasting]:
        """Return the stays, by their paddocks, whose fence is written down to stand: their pigs did not cross."""
        written = {use.paddock_uid for use in self.farm.net_uses.values() if use.stands(self.today)}
        return {
            each.stay.paddock_uid: each
            for each in reversed(self._coming)
            if each.stay.in_on <= self.today < each.first and each.stay.paddock_uid in written
        }

    def fence_of(self, stay_uid: str) -> tuple[NetThere, ...]:
        """Return the nets that close the ground of a stay that is yet to begin: those to set, and those to leave.

        There are none where it begins with no move of the plan. Nets of which only the number is known, not where each
        stands, are not among them.
        """
        move = next((move for move in self.moves if move.new.stay_uid == stay_uid), None)
        if move is None:
            return ()
        return tuple(
            self._there(self._pool, piece, move.day)
            for piece in (*move.to_set, *move.to_leave)
            if all(is_one_net(self.farm, self.farm.net_uses[uid]) for uid in piece.use_uids)
        )

    def _before(self, day: date) -> Pool:
        there = [each for each in lasting_on(self.farm, self.today).values() if each.covers(day)]
        return _standing(self.farm, there, day)[0]

    def _there(self, pool: Pool, piece: Piece, day: date) -> NetThere:
        of_day = [ground for ground in piece.set_for if self._lasts(ground, day)]
        ground = of_day[0] if of_day else None
        written_for = self._written_for(piece) if ground is None else ground.paddock_uid
        coming = self._fenced.get(written_for) if ground is None and day >= self.today else None
        uid = self.identities.of_piece(piece, day)
        return NetThere(
            piece.kind,
            self.farm.nets.get(uid or ""),
            pool.line(piece),
            written_for,
            ground.group_uid if ground is not None else coming.stay.group_uid if coming is not None else "",
            piece.set_on,
            bool(piece.use_uids),
        )

    def _lasts(self, ground: Ground, day: date) -> bool:
        stay = lasting_on(self.farm, self.today).get(ground.stay_uid)
        return stay is not None and stay.covers(day)

    def _written_for(self, piece: Piece) -> str:
        use = self.farm.net_uses.get(piece.use_uids[0]) if piece.use_uids else None
        return use.paddock_uid if use is not None else ""


def _standing(farm: Farm, stays: list[Lasting], day: date) -> tuple[Pool, Mapping[str, Ground]]:
    uses = [use for use in farm.net_uses.values() if use.stands(day)]
    met = met_by(farm, stays, uses)
    there = [each for each in stays if each.covers(day) and each.stay.uid in met.grounds]
    there.sort(key=lambda each: (each.first, each.stay.uid))
    return pool_on(farm, met, there, uses), met.grounds


_last: Books | None = None


def books_of(farm: Farm, today: date) -> Books:
    """Return the books of a farm; those asked for last are kept as long as nothing changes that they rest on."""
    global _last
    kept = _last
    if kept is None or kept.today != today or not _same_nets(kept.farm, farm):
        kept = _last = Books(farm, today)
    return kept


def _same_nets(one: Farm, other: Farm) -> bool:
    """Whether all that books rest on is the same in two farms."""
    return one.projection == other.projection and all(one.rows(table) is other.rows(table) for table in _RESTS_ON)


_RESTS_ON = ("stays", "paddocks", "groups", "nets", "net_kinds", "net_uses", "net_repairs", "ways", "energizers",
             "places", "settings")  # fmt: skip
