"""The rule that no more nets stand at once than the farm owns in good order."""

from __future__ import annotations

from collections.abc import Iterable, Iterator, Sequence
from datetime import date
from itertools import groupby

from pigmap.fence.books import BookedMove, Books, books_of
from pigmap.fence.needs import Moment, moments_of, sound_on
from pigmap.planning.names import group_called, paddock_called
from pigmap.planning.rule import Breach
from pigmap.records import Farm, NetKind
from pigmap.text import Text, Value


class NetsEnough:
    """Counts the nets of each kind that stand today, and at each move of the plan while its old sides still stand.

    A side of a permanent fence takes no net, and one that two paddocks share takes its nets once; a net that is only
    in part on a side that is still used stays up. Stays that are over are left out: what stood did stand.
    """

    api = 1
    name = "nets-enough"
    title = Text("No more nets stand than the farm owns in good order")

    def breaches(self, farm: Farm, today: date) -> Iterable[Breach]:
        """Yield the first moment of each time in which a kind falls short."""
        books = books_of(farm, today)
        for kind in farm.net_kinds.values():
            yield from _short(books, kind)


def _short(books: Books, kind: NetKind) -> Iterator[Breach]:
    """Yield today where too many stand; then the first of moves one after the other that all lack nets of a kind.

    What lacks today is a fact: groups whose new fence stands beside the old one leave nets free when they cross, and a
    later move that lacks some is told all the same.
    """
    farm = books.farm
    moments = [each for each in moments_of(books, kind) if each.move is None or _sets(each.move, kind)]
    sound = sound_on(books, kind, moments)
    if moments[0].nets > sound[moments[0].day]:
        yield _fact(books, kind, moments[0], sound[moments[0].day])

    def time(each: Moment) -> tuple[bool, str]:
        """Return whether a move is short, and with which reason it was planned all the same."""
        assert each.move is not None
        return each.nets > sound[each.day], farm.stays[each.move.new.stay_uid].why_planned

    for (is_short, _), group in groupby(moments[1:], time):
        if is_short:
            yield _planned(farm, kind, [(each, sound[each.day]) for each in group])


def _sets(move: BookedMove, kind: NetKind) -> int:
    return sum(piece.kind.uid == kind.uid for piece in move.to_set)


def _fact(books: Books, kind: NetKind, now: Moment, sound: int) -> Breach:
    farm = books.farm
    there = books.behind(now.day).get(kind.uid, ())
    newest = max(
        (farm.stays[ground.stay_uid] for ground in there), key=lambda stay: (stay.in_on, stay.uid), default=None
    )
    groups = sorted({str(group_called(farm, ground.group_uid)) for ground in there})
    words = Text(
        "{need} of the {kind} stand on {day}, for {groups}; the farm owns {owned} in good order.",
        {"need": now.nets, "kind": kind.name, "day": now.day, "groups": ", ".join(groups), "owned": sound},
    )
    remedy = Text("Count the nets again, or say which kind stands there.")
    if newest is None:
        return Breach("net_kinds", kind.uid, words, remedy, "fact", now.day)
    return Breach("stays", newest.uid, words, remedy, "fact", now.day)


def _planned(farm: Farm, kind: NetKind, moments: Sequence[tuple[Moment, int]]) -> Breach:
    """Return the breach of moves one after the other that lack nets: the first is named."""
    first, sound = moments[0]
    moves = [each.move for each, _ in moments if each.move is not None]
    sets = _sets(moves[0], kind)
    values: dict[str, Value] = {
        "group": group_called(farm, moves[0].new.group_uid),
        "paddock": paddock_called(farm, moves[0].new.paddock_uid),
        "day": first.day,
        "sets": sets,
        "kind": kind.name,
        "spare": max(0, sound - first.nets + sets),
        "short": min(sets, first.nets - sound),
    }
    words = Text(
        "{group} go to {paddock} on {day} with {sets} of the {kind} to set and {spare} spare: {short} too few.",
        values,
    )
    if len(moves) > 1:
        more = Text("1 later move is short, too.", plural="{count} later moves are short, too.", count=len(moves) - 1)
        words = Text("{words} {more}", {"words": words, "more": more})
    most = max(each.nets - owned for each, owned in moments)
    remedy = Text("Plan a smaller paddock or one that uses a standing fence, or mend or buy {short}.", {"short": most})
    also = tuple(move.new.stay_uid for move in moves[1:])
    return Breach("stays", moves[0].new.stay_uid, words, remedy, "plan", first.day, also)


rule = NetsEnough()
