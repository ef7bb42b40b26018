"""What a plan needs of each kind of net: its peak, the day it falls short, and what more nets would buy."""

from __future__ import annotations

from collections.abc import Iterator, Mapping, Sequence
from datetime import date
from typing import NamedTuple

from pigmap.fence.books import BookedMove, Books
from pigmap.fence.farm_nets import PER_PADDOCK, with_second_sets, with_spare_set
from pigmap.fence.stock import damaged_nets, sound_nets, stock_changes
from pigmap.records import Farm, NetKind


class Tally(NamedTuple):
    """How many nets of a kind there are on a day."""

    owned: int
    """In good order or not."""
    standing: int
    spare: int
    """In good order, and not standing."""
    damaged: int
    lacking: int
    """How many more stand than are owned in good order."""


class Moment(NamedTuple):
    """When so many nets of a kind stand at once: during a move, or today as it is."""

    day: date
    nets: int
    move: BookedMove | None


class Need(NamedTuple):
    """What a plan needs of one kind of net."""

    kind: NetKind
    peak: Moment
    """The most that stand at once, and when first."""
    sound: int
    """How many are in good order then."""
    short: Moment | None
    """When first more stand than are in good order; None where there are enough."""
    short_by: int
    """How many are lacking then."""
    later: Moment | None
    """Where some are lacking today: the first move after it that sets nets of the kind and lacks some, too."""
    later_by: int
    """How many are lacking at that move."""
    lacking: int
    """How many are lacking at the worst: so many more make the plan work."""
    with_one_more: Moment | None
    """When the plan falls short with one more net."""
    spare_set: int
    """The most that one move sets."""
    with_a_set_more: Moment | None
    """When it falls short with so many more."""


def tally(books: Books, kind: NetKind, day: date) -> Tally:
    """Return how many nets of a kind are owned, standing, spare and damaged in the evening of a day."""
    owned = [net for net in books.farm.nets.values() if net.net_kind_uid == kind.uid and net.owned_on(day)]
    damaged = damaged_nets(books.farm, day) & {net.uid for net in owned}
    sound, standing = len(owned) - len(damaged), books.counts(day).get(kind.uid, 0)
    uses = (use for use in books.farm.net_uses.values() if use.net_uid in damaged and use.stands(day))
    torn = len({use.net_uid for use in uses}) if day <= books.today else 0
    spare = max(0, sound - max(0, standing - torn))
    return Tally(len(owned), standing, spare, len(damaged), max(0, standing - sound))


def need(books: Books, kind: NetKind) -> Need | None:
    """Return what today and the plan need of a kind; None where none stands and none is to stand."""
    moments = [each for each in moments_of(books, kind) if each.nets]
    if not moments:
        return None
    sound = sound_on(books, kind, moments)
    short = _short(moments, sound, 0)
    later = [each for each in moments if each.move is not None and _sets(each.move, kind)]
    after = _short(later, sound, 0) if short is not None and short.move is None else None
    most = max((_sets(move, kind) for move in books.moves), default=0)
    peak = max(moments, key=lambda each: (each.nets, -each.day.toordinal()))
    return Need(
        kind,
        peak,
        sound[peak.day],
        short,
        short.nets - sound[short.day] if short is not None else 0,
        after,
        after.nets - sound[after.day] if after is not None else 0,
        max(0, *(each.nets - sound[each.day] for each in moments)),
        _short(moments, sound, 1),
        most,
        _short(moments, sound, most),
    )


def moments_of(books: Books, kind: NetKind) -> Iterator[Moment]:
    """Yield how many nets of a kind stand today, then during each move, in order."""
    yield Moment(books.today, books.at_first.get(kind.uid, 0), None)
    for move in books.moves:
        yield Moment(move.day, move.during.get(kind.uid, 0), move)


def _sets(move: BookedMove, kind: NetKind) -> int:
    return sum(piece.kind.uid == kind.uid for piece in move.to_set)


def sound_on(books: Books, kind: NetKind, moments: Sequence[Moment]) -> Mapping[date, int]:
    """Return how many nets of a kind are in good order on the day of each of some moments, the first of them first.

    Of the days to come those count, too, that are written down to be damaged and stay up until then: no other stands
    for them.
    """
    sound = _sound(books.farm, kind, moments)
    torn = books.torn(kind)
    if not torn:
        return sound
    return {
        day: count + (sum(day <= until for until in torn) if day > books.today else 0) for day, count in sound.items()
    }


def _sound(farm: Farm, kind: NetKind, moments: Sequence[Moment]) -> Mapping[date, int]:
    if not any(day is not None and day > moments[0].day for day in stock_changes(farm)):
        always = sound_nets(farm, kind, moments[0].day)
        return {each.day: always for each in moments}
    return {day: sound_nets(farm, kind, day) for day in {each.day for each in moments}}


def _short(moments: Sequence[Moment], sound: Mapping[date, int], more: int) -> Moment | None:
    return next((each for each in moments if each.nets > sound[each.day] + more), None)


class Sets(NamedTuple):
    """How many nets groups take whose paddocks are squares of one net a side, in one way of having spare ones."""

    one_set: int
    """One spare set of three for all."""
    to_jump: int
    """With a fourth: a group can also go to ground that touches nothing."""
    in_vehicle: int
    """And one more in the vehicle, for the day a net tears."""
    own_three: int
    """Three spare nets for each group."""
    own_four: int
    """A second paddock of nets for each group."""

    def saved(self, price: float) -> float:
        """Return what one spare set saves against three spare nets for each group, at the price of a net."""
        return (self.own_three - self.one_set) * price


def filled_in(books: Books, kind: NetKind) -> tuple[BookedMove, ...]:
    """Return the moves to ground of one kind of nets at which others fill in, since too few are spare."""
    own = (move for move in books.moves if move.new.kind is not None and move.new.kind.uid == kind.uid)
    return tuple(
        move for move in own if move.new.told is None and any(piece.kind.uid != kind.uid for piece in move.to_set)
    )


def spare_sets(groups: int) -> Sets:
    """Return how many nets so many groups take, in each way.

    Examples
    --------
    >>> spare_sets(6)
    Sets(one_set=27, to_jump=28, in_vehicle=29, own_three=42, own_four=48)
    >>> spare_sets(6).saved(100.0)
    1500.0
    """
    to_jump = with_spare_set(groups, carried=PER_PADDOCK)
    return Sets(
        with_spare_set(groups),
        to_jump,
        to_jump + 1,
        with_second_sets(groups, PER_PADDOCK - 1),
        with_second_sets(groups),
    )


def own_sets(books: Books, kind: NetKind) -> tuple[int, int, int]:
    """Return how many groups move, the nets of one spare set for all, and of one for each, of a kind.

    A spare set is what the largest move of the plan sets: of one group where each has its own.
    """
    largest: dict[str, int] = {}
    for move in books.moves:
        sets = sum(piece.kind.uid == kind.uid for piece in move.to_set)
        largest[move.new.group_uid] = max(sets, largest.get(move.new.group_uid, 0))
    kept = [nets for nets in largest.values() if nets]
    return len(kept), max(kept, default=0), sum(kept)
