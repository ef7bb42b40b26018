"""Nets in figures a keeper asks for: owned, standing, spare, and what a move carries."""

from __future__ import annotations

from datetime import date
from typing import TYPE_CHECKING, NamedTuple

from pigmap.qt.whereabouts import Book, book_of
from pigmap.records import AS_PLANNED, Farm, Stay

if TYPE_CHECKING:
    from pigmap.fence.needs import Tally
    from pigmap.fence.of_move import MoveNets
    from pigmap.planning.moves_of_day import Move


class Carried(NamedTuple):
    """Nets of one move."""

    carry: int
    leave: int


def tallies(farm: Farm, day: date, today: date) -> dict[str, Tally]:
    """Return the nets of each kind on a day, by the kind's uid; worked out once for a farm and a day."""
    kept = book_of(farm, today).kept
    key = ("nets", day.isoformat())
    if key not in kept:
        from pigmap.fence.books import books_of  # figures of nets wait for the first frame
        from pigmap.fence.needs import tally

        books = books_of(farm, today)
        kept[key] = {uid: tally(books, kind, day) for uid, kind in farm.net_kinds.items()}
    found = kept[key]
    return found if isinstance(found, dict) else {}


def carried_on(book: Book, before: Stay | None, after: Stay) -> Carried | None:
    """Return the nets of a move as `carried` does, worked out once for a farm."""
    key = (before.uid if before is not None else "", after.uid)
    if key not in book.kept:
        move = next((each for each in _moves_on(book, after.in_on) if each.new.uid == after.paddock_uid), None)
        if move is not None and move.group.uid == after.group_uid:
            book.kept[key] = _counts(move.nets)
        else:
            book.kept[key] = carried(book.farm, before, after, book.today)
    found = book.kept[key]
    return found if isinstance(found, Carried) else None


def _moves_on(book: Book, day: date) -> tuple[Move, ...]:
    """Return the moves of a day, worked out once for all groups that move on it."""
    key = ("moves", day.isoformat())
    if key not in book.kept:
        from pigmap.planning.moves_of_day import moves_of_day

        book.kept[key] = moves_of_day(book.farm, day, book.today)
    found = book.kept[key]
    return found if isinstance(found, tuple) else ()


def carried(farm: Farm, before: Stay | None, after: Stay, today: date = AS_PLANNED) -> Carried | None:
    """Return the nets that a move carries, and those it leaves where they stand; None where nothing tells.

    They are those of the moves of its day, which count what stands of other groups too.

    Parameters
    ----------
    before, after
        The stays it goes between; no stay before means that nothing stands yet.
    today
        The day up to which only what is recorded counts.
    """
    from pigmap.fence.of_move import KindGround, nets_of_move
    from pigmap.planning.moves_of_day import move_into

    paddock = farm.paddocks.get(after.paddock_uid)
    kind = farm.net_kinds.get(paddock.net_kind_uid or "") if paddock else None
    if paddock is None or kind is None:
        return None
    move = move_into(farm, after.uid, today)
    if move is not None:
        return _counts(move.nets)
    old = None
    if before is not None:
        row = farm.paddocks.get(before.paddock_uid)
        its = farm.net_kinds.get(row.net_kind_uid or "", kind) if row is not None else kind
        old = KindGround(before.ground, its, before.paddock_uid)
    return _counts(nets_of_move(farm, KindGround(paddock.outline, kind, paddock.uid), old, (), after.in_on))


def _counts(nets: MoveNets) -> Carried:
    return Carried(sum(each.count for each in nets.to_set), sum(each.count for each in nets.to_leave))
