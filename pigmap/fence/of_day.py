"""The nets in the morning of a day, and what its moves do with them one after the other: one road for all who tell it.

Up to today the nets are where they were written down, else where the sides of what stood asked for them; after today
they are where the books have them.
"""

from __future__ import annotations

from collections.abc import Iterator, Mapping
from datetime import date, timedelta
from functools import cached_property
from typing import NamedTuple

import shapely

from pigmap.fence.books import books_of
from pigmap.fence.pool import Ground, Piece, Pool
from pigmap.fence.recorded import met_by, pool_on
from pigmap.fence.standing import left_behind
from pigmap.fence.stock import Stock
from pigmap.geometry.sides import BESIDE_M, FLUSH_M, closes
from pigmap.records import AS_PLANNED, Farm, Lasting, NetKind, NetUse, Stay, StayState, lasting_on


class Played(NamedTuple):
    """The nets of one move."""

    new: Ground
    old: Ground | None
    to_set: tuple[Piece, ...]
    to_leave: tuple[Piece, ...]
    """Those that stand and close the new ground, too."""
    to_take_up: tuple[Piece, ...]
    stays: tuple[Piece, ...]
    """Those of the old ground that the new one does not use, and that other ground needs."""


class NetsOfDay:
    """The nets of a farm on a day, from before its moves on.

    Parameters
    ----------
    farm, day
        Whose, and when.
    pool
        The fences as they stand in the morning; it is changed.
    grounds
        The ground of each stay, by its uid.
    """

    def __init__(self, farm: Farm, day: date, pool: Pool, grounds: Mapping[str, Ground]) -> None:
        self.farm, self.day, self.pool, self.grounds = farm, day, pool, grounds
        self.placing_uid = ""
        """A group for which a place is sought; empty where there is none."""
        self._stock = Stock(farm)

    def again(self) -> NetsOfDay:
        """Return the same nets, on which moves can be played in another order."""
        return NetsOfDay(self.farm, self.day, self.pool.at(self.pool.step), self.grounds)

    def stand(self, stay_uid: str) -> None:
        """Have the fence of a stay stand, too."""
        ground = self.grounds.get(stay_uid)
        if ground is not None and not self.pool.is_up(ground):
            self.pool.stand(ground, self.day)

    def leave(self, group_uid: str) -> None:
        """Take up what only one group needs."""
        for ground in self.grounds.values():
            if ground.group_uid == group_uid and self.pool.is_up(ground):
                self.pool.leave(ground, self.day)

    def play(self, new_uid: str, old_uid: str | None) -> Played | None:
        """Return the nets of the move from one stay to the next; None where its ground is not known."""
        new, old = self.grounds.get(new_uid), self.grounds.get(old_uid or "")
        if new is None:
            return None
        laid, left = self.pool.stand(new, self.day, sound=self._stock.sound_on(self.day))
        if old is not None:
            self._keep_beside(old)
        round_old = self.pool.needed(old) if old is not None else []
        taken = self.pool.leave(old, self.day) if old is not None else []
        gone = {id(piece) for piece in (*taken, *left)}
        stays = tuple(piece for piece in round_old if id(piece) not in gone)
        return Played(new, old, tuple(laid), tuple(left), tuple(taken), stays)

    def _keep_beside(self, old: Ground) -> None:
        """Have the nets of ground that is left stay for what stands close behind them, as it was set down by eye."""
        near = shapely.buffer(shapely.box(*old.bounds), BESIDE_M)
        for ground in self.grounds.values():
            if ground is old or not self.pool.is_up(ground) or not near.intersects(shapely.box(*ground.bounds)):
                continue
            for piece in self.pool.alone(old):
                if closes(self.pool.line(piece), ground.outline):
                    self.pool.need(piece, ground)

    def knows(self, played: Played) -> bool:
        """Whether it is known of which nets the grounds of a move are, and all that stand beside them."""
        own = [played.new, *([played.old] if played.old is not None else [])]
        return all(ground.kind is not None or self.pool.needed(ground) for ground in own) and not any(
            shapely.dwithin(one.outline, ground.outline, FLUSH_M) for one in self.unknown() for ground in own
        )

    def unknown(self) -> Iterator[Ground]:
        """Yield the grounds that stand without anything to tell of which nets."""
        for ground in self.grounds.values():
            if ground.kind is None and self.pool.is_up(ground) and not self.pool.needed(ground):
                yield ground

    def free(self, kind: NetKind) -> int | None:
        """Return how many nets of a kind in good order are free; None where no net of it was ever entered.

        Those that stand where nobody needs them are free, but for those of pigs that did not cross yet. Fewer than
        none are free where more stand than there are.
        """
        sound = next((each.nets for each in self._stock.sound_on(self.day) if each.kind.uid == kind.uid), None)
        if sound is None:
            return None
        idle = sum(piece.kind_uid == kind.uid and not self._waits(piece) for piece in self.pool.nobodys())
        return sound - self.pool.counts.get(kind.uid, 0) + idle

    def _waits(self, piece: Piece) -> bool:
        """Whether a net that nobody needs waits for pigs that did not cross."""
        uses = [use for uid in piece.use_uids if (use := self.farm.net_uses.get(uid)) is not None]
        return any(use.paddock_uid in self._awaited for use in uses)

    @cached_property
    def _awaited(self) -> frozenset[str]:
        """The paddocks whose pigs should be there already, as it was planned."""
        late = (stay for stay in self.farm.stays.values() if stay.state is StayState.PLANNED and stay.in_on <= self.day)
        return frozenset(stay.paddock_uid for stay in late if stay.group_uid != self.placing_uid)

    def beyond_sides(self) -> list[shapely.LineString]:
        """Return the lines of what stands on no side of ground that is closed: a net that is used in part only."""
        up = {track for ground in self.grounds.values() if self.pool.is_up(ground) for track in ground.tracks}
        return [self.pool.line(piece) for piece in self.standing() if piece.track not in up]

    def standing(self) -> Iterator[Piece]:
        """Yield what stands now."""
        return (piece for piece in self.pool.pieces if piece.step <= self.pool.step < piece.until_step)


def nets_in_the_morning(farm: Farm, day: date, today: date) -> NetsOfDay:
    """Return the nets as they stand before the moves of a day.

    Parameters
    ----------
    farm, day
        Whose, and when.
    today
        The day up to which only what is recorded counts.
    """
    if day > today != AS_PLANNED:
        books = books_of(farm, today)
        return NetsOfDay(farm, day, books.pool_before_moves(day), books.grounds)
    stays = lasting_in_the_morning(farm, day, today)
    there = [each for each in stays.values() if each.covers(day - timedelta(days=1))]
    there.sort(key=lambda each: (each.first, each.stay.uid))
    uses = [use for use in farm.net_uses.values() if use.set_on < day and (use.taken_on is None or use.taken_on >= day)]
    met = met_by(farm, [*there, *(each for each in stays.values() if each.first == day)], uses)
    there = [each for each in there if each.stay.uid in met.grounds]
    return NetsOfDay(farm, day, pool_on(farm, met, there, uses), met.grounds)


def nets_while_placing(farm: Farm, day: date, group_uid: str, today: date) -> NetsOfDay:
    """Return the nets as they stand while a place is sought for a group on a day: all other moves of it are done.

    Parameters
    ----------
    farm, day
        Whose, and when.
    group_uid
        The group, whose old fence still stands then and of which nothing that is planned from that day on does; empty
        where it is for none.
    today
        The day up to which only what is recorded counts.
    """
    left = left_behind(farm, day, group_uid, today=today) if group_uid else None
    if day > today != AS_PLANNED:
        books = books_of(farm, today)
        nets = NetsOfDay(farm, day, books.pool_before_moves(day, group_uid), books.grounds)
        for move in books.moves:
            if move.day == day and move.new.group_uid != group_uid:
                nets.play(move.new.stay_uid, move.old.stay_uid if move.old is not None else None)
    else:
        nets = _in_the_evening(farm, day, group_uid, left, today)
    if left is not None:
        nets.stand(left.uid)
    nets.placing_uid = group_uid
    return nets


def _in_the_evening(farm: Farm, day: date, group_uid: str, left: Stay | None, today: date) -> NetsOfDay:
    """Return the nets of a day up to today when all moves but that of one group are done."""
    old = left.uid if left is not None else ""
    lasting = lasting_on(farm, today)
    there = [each for uid, each in lasting.items() if uid == old or _stands(each, day, group_uid)]
    there.sort(key=lambda each: (each.first, each.stay.uid))
    old_paddock = left.paddock_uid if left is not None else ""
    own = {stay.paddock_uid for stay in farm.stays.values() if stay.group_uid == group_uid} - {old_paddock}
    own -= {each.stay.paddock_uid for each in there}
    uses = [use for use in farm.net_uses.values() if use.paddock_uid not in own and _up(use, day, old_paddock)]
    met = met_by(farm, there, uses)
    there = [each for each in there if each.stay.uid in met.grounds]
    return NetsOfDay(farm, day, pool_on(farm, met, there, uses), met.grounds)


def _stands(each: Lasting, day: date, group_uid: str) -> bool:
    return each.covers(day) and each.stay.group_uid != group_uid


def _up(use: NetUse, day: date, old_paddock_uid: str) -> bool:
    """Whether a net stands on a day; round the paddock that is left also what was taken up on it."""
    return use.stands(day) or (use.paddock_uid == old_paddock_uid and use.taken_on == day and use.set_on < day)


def lasting_in_the_morning(farm: Farm, day: date, today: date) -> Mapping[str, Lasting]:
    """Return the stays as they lie for the moves of a day: in the morning, what is planned for today can still be."""
    return lasting_on(farm, today - timedelta(days=1) if day == today != AS_PLANNED else today)
