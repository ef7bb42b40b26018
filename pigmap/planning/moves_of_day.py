"""The moves of one day in the order in which a crew drives them, with their nets and the way from one to the next."""

from __future__ import annotations

import math
from collections.abc import Iterator, Mapping, Sequence
from datetime import date, timedelta
from itertools import pairwise, permutations

import numpy as np
import shapely
from numpy.typing import NDArray

from pigmap.fence.as_played import nets_played
from pigmap.fence.of_day import NetsOfDay, Played, lasting_in_the_morning, nets_in_the_morning
from pigmap.fence.of_move import KindGround, MoveNets, Nets, nets_of_move
from pigmap.planning.opening import opening_of, overlap, shared_line
from pigmap.records import Farm, Group, Paddock, PlaceKind, StayState, lasting_on
from pigmap.records.frozen import dataclass
from pigmap.records.lasting import Lasting
from pigmap.records.move_order import order_of_moves

_ALL_ORDERS_UP_TO = 6
"""Moves up to which every order is tried; more are put in order by the nearest next. Own choice."""

_MOST_ORDERS = 12
"""Orders of moves for which the nets are counted, those with the least driving first. Own choice."""


@dataclass(frozen=True, slots=True, eq=False)
class Move:
    """One group that goes to new ground."""

    group: Group
    old: Paddock | None
    """Where it comes from; None where it comes from elsewhere, or that is not known any more."""
    old_outline: shapely.Polygon | None
    new: Paddock
    new_outline: shapely.Polygon
    nets: MoveNets
    shared_line: NDArray[np.float64] | None
    """The side that both use, its longest if there are several: points from end to end, (n, 2) [grid m]."""
    opening: tuple[float, float] | None
    """Where the side that both use is opened: a corner of both if there is one, else its middle [grid m]."""
    opens_at_corner: bool
    drive_m: float | None
    """Straight distance from the move before, of the first from the shed [ground m]; None if there is no such."""
    beside: tuple[KindGround, ...] = ()
    """What other groups stand on, or may still stand on, while this one moves."""
    why: str = ""
    """The reason with which the new paddock was placed in spite of what is against it."""

    @property
    def overlaps(self) -> bool:
        """Whether the new ground lies on the old in part."""
        return self.old_outline is not None and overlap(self.new_outline, self.old_outline)


def moves_of_day(farm: Farm, day: date, today: date) -> tuple[Move, ...]:
    """Return the moves of a day in order.

    No group goes to ground where another one still stands, and the spare nets last: what is taken up at one move is
    set at the next. Of the orders that do it is the one with the least driving. The order that
    someone gave the moves of the day goes before, as long as it is of the same groups. Those of today that are not
    recorded yet are among them, and so are those of days before that nobody has recorded.
    """
    lasting = lasting_in_the_morning(farm, day, today)
    going = [each for each in lasting.values() if each.first == day and _moves(farm, lasting, each)]
    if not going:
        return ()
    nets = nets_in_the_morning(farm, day, today)
    wanted = _as_wanted(farm, day, going)
    if wanted:
        return _in_order(nets, lasting, wanted)
    best: tuple[Move, ...] = ()
    least = math.inf
    for order in _orders(farm, lasting, sorted(going, key=lambda each: each.stay.uid)):
        moves = _in_order(nets, lasting, order)
        short = _short(nets, moves) if len(moves) > 1 else 0
        if short < least:
            best, least = moves, short
        if not short:
            break
    return best


def _as_wanted(farm: Farm, day: date, going: Sequence[Lasting]) -> Sequence[Lasting]:
    wanted = order_of_moves(farm, day)
    by_group = {each.stay.group_uid: each for each in going}
    if len(by_group) != len(going) or set(wanted) != set(by_group):
        return ()
    return [by_group[uid] for uid in dict.fromkeys(wanted)]


def ground_taken(moves: Sequence[Move]) -> tuple[Move, Move] | None:
    """Return the first move to ground on which a group of a later move still stands, and that one."""
    for at, move in enumerate(moves):
        for later in moves[at + 1 :]:
            if later.old_outline is not None and overlap(move.new_outline, later.old_outline):
                return move, later
    return None


def _in_order(morning: NetsOfDay, lasting: Mapping[str, Lasting], order: Sequence[Lasting]) -> tuple[Move, ...]:
    farm, day, nets = morning.farm, morning.day, morning.again()
    standing = {uid: _ground(farm, each) for uid, each in lasting.items() if each.covers(day - timedelta(days=1))}
    arrives = {uid: _ground(farm, each) for uid, each in lasting.items() if _arrives(lasting, each, day, order)}
    perhaps = [each for each in _with_nowhere_to_go(farm, lasting, day) if each.stay.uid not in standing]
    for uid in (*arrives, *(each.stay.uid for each in perhaps)):
        nets.stand(uid)
    standing |= arrives
    moves: list[Move] = []
    at = _start(farm)
    for each in order:
        before = _before(lasting, each)
        old = standing.pop(before.stay.uid, None) if before is not None else None
        others = [*standing.values()]
        played = nets.play(each.stay.uid, before.stay.uid if before is not None and old is not None else None)
        moves.append(_move(nets, each, old, others, [_ground(farm, one) for one in perhaps], at, played))
        standing[each.stay.uid] = _ground(farm, each)
        at = (moves[-1].old_outline or moves[-1].new_outline).representative_point()
    return tuple(moves)


def move_into(farm: Farm, stay_uid: str, today: date) -> Move | None:
    """Return the move with which a stay begins, None where it begins with none."""
    each = lasting_on(farm, today).get(stay_uid)
    if each is None:
        return None
    moves = moves_of_day(farm, each.first, today)
    return next((move for move in moves if move.new.uid == each.stay.paddock_uid), None)


def nets_short(farm: Farm, moves: Sequence[Move], day: date, today: date) -> int:
    """Return how many nets more than the spare ones these moves take in this order."""
    return _short(nets_in_the_morning(farm, day, today), moves)


def _short(nets: NetsOfDay, moves: Sequence[Move]) -> int:
    short = 0
    for each in to_load(moves):
        free = nets.free(each.kind) if each.kind is not None else None
        short += max(0, each.count - max(0, free)) if free is not None else 0
    return short


def next_move_day(farm: Farm, day: date, today: date) -> date | None:
    """Return the first day after a day on which a group moves, None if none is planned."""
    lasting = lasting_on(farm, today)
    days = [each.first for each in lasting.values() if each.first > day and _moves(farm, lasting, each)]
    return min(days, default=None)


def to_load(moves: Sequence[Move]) -> tuple[Nets, ...]:
    """Return the nets to have on the vehicle at the start: what is taken up at one move is set at the next."""
    spare: dict[str, int] = {}
    load: dict[str, Nets] = {}
    for move in moves:
        for nets in move.nets.to_set:
            if nets.kind is None:
                continue
            uid = nets.kind.uid
            short = max(0, nets.count - spare.get(uid, 0))
            known = load.get(uid)
            count = (known.count if known is not None else 0) + short
            load[uid] = Nets(nets.kind, count, count * nets.kind.length_m)
            spare[uid] = spare.get(uid, 0) + short - nets.count
        for nets in move.nets.to_take_up:
            if nets.kind is not None:
                spare[nets.kind.uid] = spare.get(nets.kind.uid, 0) + nets.count
    return tuple(nets for nets in load.values() if nets.count)


def _moves(farm: Farm, lasting: Mapping[str, Lasting], each: Lasting) -> bool:
    """Whether a stay begins with a walk to a paddock that is known.

    One that only goes on there is no move, and neither is one that was recorded of pigs that came from nowhere known:
    someone told where they stand.
    """
    stay, before = each.stay, _before(lasting, each)
    if stay.group_uid not in farm.groups or stay.paddock_uid not in farm.paddocks:
        return False
    if before is None:
        return stay.state is StayState.PLANNED
    return before.stay.paddock_uid != stay.paddock_uid


def _before(lasting: Mapping[str, Lasting], each: Lasting) -> Lasting | None:
    """Return the stay that a group comes from: the one that ends on the day the next begins."""
    own = (other for other in lasting.values() if other.stay.group_uid == each.stay.group_uid)
    return next((other for other in own if other.end == each.first and other.stay.uid != each.stay.uid), None)


def _with_nowhere_to_go(farm: Farm, lasting: Mapping[str, Lasting], day: date) -> Iterator[Lasting]:
    """Yield the running stays that should be over, of groups for which no other ground is planned: they may be there.

    One of a group that is closed by then is over.
    """
    last: dict[str, Lasting] = {}
    for each in lasting.values():
        known = last.get(each.stay.group_uid)
        if known is None or (known.first, known.stay.uid) < (each.first, each.stay.uid):
            last[each.stay.group_uid] = each
    for uid, each in last.items():
        group = farm.groups.get(uid)
        gone = group is None or (group.closed_on is not None and group.closed_on <= day)
        if each.stay.state is StayState.RUNNING and each.end is not None and each.end < day and not gone:
            yield each


def _arrives(lasting: Mapping[str, Lasting], each: Lasting, day: date, going: Sequence[Lasting]) -> bool:
    """Whether nets stand on the day itself though none of its moves sets them."""
    return each.first == day and not any(each is other for other in going)


def _outline(farm: Farm, each: Lasting) -> shapely.Polygon:
    paddock = farm.paddocks.get(each.stay.paddock_uid)
    return paddock.outline if paddock is not None and each.stay.state is StayState.PLANNED else each.stay.ground


def _ground(farm: Farm, each: Lasting) -> KindGround:
    paddock = farm.paddocks.get(each.stay.paddock_uid)
    kind = farm.net_kinds.get(paddock.net_kind_uid or "") if paddock is not None else None
    return KindGround(_outline(farm, each), kind, each.stay.paddock_uid, each.stay.group_uid)


def _move(
    nets: NetsOfDay,
    each: Lasting,
    old: KindGround | None,
    others: Sequence[KindGround],
    perhaps: Sequence[KindGround],
    at: shapely.Point | None,
    played: Played | None,
) -> Move:
    farm, coming = nets.farm, _ground(nets.farm, each)
    line = shared_line(coming, old, farm.projection.ground_per_grid)
    opening, at_corner = (None, False) if line is None or old is None else opening_of(line, coming.outline, old.outline)
    drive = None if at is None else at.distance(coming.outline) * farm.projection.ground_per_grid
    standing = [*([] if old is None else [old]), *others]
    if played is not None and nets.knows(played):
        own = nets_played(nets, coming, standing, played)
    else:
        own = nets_of_move(farm, coming, old, others, nets.day, perhaps)
    return Move(
        farm.groups[each.stay.group_uid],
        farm.paddocks.get(old.paddock_uid) if old is not None else None,
        old.outline if old is not None else None,
        farm.paddocks[each.stay.paddock_uid],
        coming.outline,
        own,
        line,
        opening,
        at_corner,
        drive,
        (*others, *perhaps),
        each.stay.why_planned,
    )


def _start(farm: Farm) -> shapely.Point | None:
    sheds = sorted((place for place in farm.places.values() if place.kind is PlaceKind.SHED), key=lambda p: p.uid)
    return sheds[0].point if sheds else None


def _orders(farm: Farm, lasting: Mapping[str, Lasting], going: Sequence[Lasting]) -> Iterator[Sequence[Lasting]]:
    """Yield orders, the one with the least driving first; in none a group goes where another stands, if that can be."""
    ends: dict[str, _Ends] = {}
    for each in going:
        before = _before(lasting, each)
        ends[each.stay.uid] = (_outline(farm, before) if before is not None else None, _outline(farm, each))
    start = _start(farm)
    if len(going) > _ALL_ORDERS_UP_TO:
        yield _nearest_next(going, ends, start)
    elif going:
        costs = [(_cost([ends[each.stay.uid] for each in order], start), order) for order in permutations(going)]
        costs.sort(key=lambda each: each[0])
        (fewest, _), _ = costs[0]
        yield from (order for (blocked, _), order in costs[:_MOST_ORDERS] if blocked == fewest)


def _nearest_next(
    going: Sequence[Lasting], ends: Mapping[str, _Ends], start: shapely.Point | None
) -> Sequence[Lasting]:
    left, order, at = list(going), list[Lasting](), start
    while left:
        free = [each for each in left if not _waits(each, left, ends)] or left
        nearest = min(free, key=lambda each: 0.0 if at is None else at.distance(ends[each.stay.uid][1]))
        left.remove(nearest)
        order.append(nearest)
        at = (ends[nearest.stay.uid][0] or ends[nearest.stay.uid][1]).representative_point()
    return order


def _waits(each: Lasting, left: Sequence[Lasting], ends: Mapping[str, _Ends]) -> bool:
    """Whether others of those left have to go before one can."""
    others = [other for other in left if other is not each]
    return _blocked([ends[other.stay.uid] for other in (each, *others)]) > 0


_Ends = tuple[shapely.Polygon | None, shapely.Polygon]


def _cost(order: Sequence[_Ends], start: shapely.Point | None) -> tuple[int, float]:
    blocked = sum(_blocked(order[number:]) for number in range(len(order)))
    way = 0.0 if start is None else start.distance(order[0][1])
    for (old, new), (_, coming) in pairwise(order):
        way += (old or new).representative_point().distance(coming)
    return blocked, round(way, 3)


def _blocked(order: Sequence[_Ends]) -> int:
    """Return on how many old paddocks of moves still to come the first move's new one would lie."""
    new = order[0][1]
    return sum(old is not None and overlap(new, old) for old, _ in order[1:])
