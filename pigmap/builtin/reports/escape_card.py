"""The card for helper and neighbour: what to do when pigs are out, whom to ring, how many pigs there are."""

from __future__ import annotations

from collections.abc import Generator, Iterator

from pigmap.animals.weight import live_weight
from pigmap.builtin.reports.escape_spots import escape_spots
from pigmap.builtin.reports.move_card import INNER_MM, MARGIN_MM, WIDE_MM, Say, card_head
from pigmap.builtin.reports.sheet_blocks import LINE
from pigmap.drawing.letters import shortened, wrapped
from pigmap.drawing.page import Item, Rule, SheetRequest, Words
from pigmap.drawing.words import day_words
from pigmap.records import Farm
from pigmap.records.phones import phones_of
from pigmap.text import Text

STEPS = (
    Text("Pigs near a road: ring the police, and warn drivers from the verge, with lamp and bright vest. Stay off it."),
    Text("Do not chase them: they run on. Walk, keep quiet, dogs stay at home."),
    Text("Go ahead with a rattling feed bucket: where one goes, the others follow."),
    Text("Behind them two people with boards, slowly, and the way in front open."),
    Text("Switch the fence off before anyone opens or touches it."),
    Text("Keep away from a boar, and from a sow with piglets: leave them to the keeper."),
    Text("All in: close, fence on, read the volts, feed and count. Look for what let them out, and stay a while."),
)
"""Common practice."""
LAST = Text("Common practice. Police, vet and local rules come before this card.")
BLANK = (Text("Keeper"), Text("Who helps"), Text("Neighbour"), Text("Vet"), Text("Police"))
"""Lines to fill in where the farm has none."""
_MOST_PHONES, _PHONE_MM = 5, 6.6
_LAST_MM = 143.5
_RIGHT = WIDE_MM - MARGIN_MM
_SIZE, _LINE_MM = 3.1, 3.7


def escape_card(farm: Farm, request: SheetRequest, say: Say) -> Iterator[Item]:
    """Yield the card, from its own upper left corner."""
    day = day_words(request.day, language=request.language)
    below = say(Text("for whoever helps"))
    yield from card_head("gate", say(Text("Pigs are out")), farm.name, day, below)
    y = 26.0
    for number, step in enumerate(STEPS, 1):
        yield Words(MARGIN_MM + 2.0, y, str(number), 4.2, 700, align="centre")
        for line in wrapped(say(step), INNER_MM - 7.0, _SIZE):
            yield Words(MARGIN_MM + 7.0, y, line, _SIZE)
            y += _LINE_MM
        y += 1.6
    y = yield from _counts(farm, request, y + 1.2, say)
    for spot in escape_spots(farm, request.day, request.language):
        words = say(Text("Got out before: {spot}", {"spot": spot}))
        yield Words(MARGIN_MM, y, shortened(words, INNER_MM, 2.8), 2.8)
        y += 3.5
    yield from _whom_to_ring(farm, y + 1.2, say)
    yield Words(MARGIN_MM, _LAST_MM, shortened(say(LAST), INNER_MM, 2.5), 2.5)


def _counts(farm: Farm, request: SheetRequest, y: float, say: Say) -> Generator[Item, None, float]:
    """Yield how many pigs each group is; return where the card goes on."""
    there = [
        say(Text("{group} {count}", {"group": group.name, "count": live_weight(farm, uid, request.day).pigs}))
        for uid, group in farm.groups.items()
        if group.closed_on is None or group.closed_on > request.day
    ]
    words = say(Text("Pigs on the farm: {groups}", {"groups": ", ".join(there)})) if there else ""
    for line in wrapped(words, INNER_MM, 2.8, 700)[:2]:
        yield Words(MARGIN_MM, y, shortened(line, INNER_MM, 2.8, 700), 2.8, 700)
        y += 3.5
    return y


def _whom_to_ring(farm: Farm, y: float, say: Say) -> Iterator[Item]:
    """Yield the numbers that were typed; else lines that someone fills in once."""
    yield Words(MARGIN_MM, y + 1.6, say(Text("Whom to ring")), _SIZE, 700)
    y += 3.4
    room = min(_MOST_PHONES, int((_LAST_MM - y) / _PHONE_MM))
    phones = phones_of(farm)
    for words in (phones or [say(each) for each in BLANK])[:room]:
        yield Words(MARGIN_MM, y + 4.2, shortened(words, INNER_MM, 2.9), 2.9, 700 if phones else 400)
        yield Rule(MARGIN_MM + (0.0 if phones else 24.0), y + 5.2, _RIGHT, y + 5.2, 0.2, LINE)
        y += _PHONE_MM
