"""What a plan needs of a kind of net, in sentences: at most how many, the day it falls short, what mends that."""

from __future__ import annotations

from collections.abc import Iterator
from datetime import date

from pigmap.fence.books import BookedMove, Books
from pigmap.fence.needs import Moment, Need, filled_in
from pigmap.fence.stock import damaged_nets
from pigmap.records import Farm
from pigmap.text import Text, Value


def need_sentences(books: Books, need: Need) -> Iterator[Text]:
    """Yield what is needed of a kind, one sentence after the other, the most important first."""
    farm = books.farm
    sound = need.short.nets - need.short_by if need.short is not None else need.sound
    if need.short is None:
        yield _at_most(farm, need.peak, sound)
        yield from _filling(books, need)
        return
    yield _short(farm, need.short, sound, need.short_by)
    if need.later is not None:
        yield _short(farm, need.later, need.later.nets - need.later_by, need.later_by)
    if need.peak.nets > need.short.nets:
        yield Text("At most it takes {nets} at once, {when}.", {"nets": need.peak.nets, "when": _when(farm, need.peak)})
    yield from _filling(books, need)
    yield remedy(farm, need)
    if need.lacking > 1 and need.with_one_more != need.short:
        yield _with_more(farm, 1, need.with_one_more)
    if need.lacking > need.spare_set > 1:
        yield _with_more(farm, need.spare_set, need.with_a_set_more)


def _filling(books: Books, need: Need) -> Iterator[Text]:
    moves = filled_in(books, need.kind)
    if moves:
        first = Moment(moves[0].day, 0, moves[0])
        yield Text(
            "Nets of another length fill in at {count} move, {when}.",
            {"when": _when(books.farm, first)},
            plural="Nets of another length fill in at {count} moves, first {when}.",
            count=len(moves),
        )


def remedy(farm: Farm, need: Need) -> Text:
    """Return what mends that a kind falls short; at the keeper's price where there is one."""
    damaged = damaged_on(farm, need.kind.uid, need.short.day if need.short is not None else need.peak.day)
    rest = need.lacking - damaged
    if rest <= 0:
        lacking: dict[str, Value] = {"lacking": need.lacking}
        mend = Text("Mend the damaged one", lacking, plural="Mend {lacking} of the damaged ones", count=damaged)
    elif damaged:
        mend = Text("Mend what is damaged and buy or borrow {rest}", {"rest": rest})
    else:
        mend = Text("Buy or borrow {rest}", {"rest": rest})
    values: dict[str, Value] = {"mend": mend}
    if rest > 0 and need.kind.price is not None:
        values["cost"] = f"{need.kind.price * rest:,.0f}"
        return Text(
            "{mend} ({cost} at your price), or plan a smaller paddock or one beside a fence that stands.", values
        )
    return Text("{mend}, or plan a smaller paddock or one beside a fence that stands.", values)


def damaged_on(farm: Farm, kind_uid: str, day: date) -> int:
    """Return how many nets of a kind are damaged and owned on a day."""
    nets = (farm.nets.get(uid) for uid in damaged_nets(farm, day))
    return sum(net is not None and net.net_kind_uid == kind_uid and net.owned_on(day) for net in nets)


def move_words(farm: Farm, move: BookedMove) -> Text:
    """Return which group goes where."""
    group, paddock = farm.groups.get(move.new.group_uid), farm.paddocks.get(move.new.paddock_uid)
    values: dict[str, Value] = {
        "group": group.name if group is not None else Text("pigs of a group that is gone"),
        "paddock": paddock.name if paddock is not None else Text("a paddock that is gone"),
    }
    return Text("{group} go to {paddock}", values)


def _when(farm: Farm, moment: Moment) -> Text:
    if moment.move is None:
        return Text("today")
    return Text("on {day}, when {move}", {"day": moment.day, "move": move_words(farm, moment.move)})


def _at_most(farm: Farm, peak: Moment, sound: int) -> Text:
    values: dict[str, Value] = {"nets": peak.nets, "sound": sound}
    if peak.move is None:
        return Text(
            "No move of the plan takes more than the {nets} that stand today. {sound} are in good order.", values
        )
    return Text(
        "The plan takes at most {nets} at once, first {when}. {sound} are in good order, so there are enough.",
        {**values, "when": _when(farm, peak)},
    )


def _short(farm: Farm, short: Moment, sound: int, by: int) -> Text:
    values: dict[str, Value] = {"nets": short.nets, "sound": sound, "short": by, "when": _when(farm, short)}
    if short.move is None:
        return Text("{nets} stand today, and {sound} are owned in good order: {short} too few.", values)
    return Text("The plan takes {nets} {when}, and {sound} are in good order: {short} too few.", values)


def _with_more(farm: Farm, more: int, short: Moment | None) -> Text:
    values: dict[str, Value] = {"more": more}
    if short is None:
        return Text("With {more} more it lasts to the end of the plan.", values)
    if short.move is None:
        return Text("With {more} more there are still too few today.", values)
    return Text("With {more} more it falls short {when}.", {**values, "when": _when(farm, short)})
