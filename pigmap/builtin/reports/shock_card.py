"""The card for the pocket: first steps after a shock from the fence, where its switch is, where the farm is."""

from __future__ import annotations

from collections.abc import Generator, Iterator

import shapely

from pigmap.builtin.reports.move_card import INNER_MM, MARGIN_MM, WIDE_MM, Say, card_head
from pigmap.builtin.reports.sheet_blocks import LINE
from pigmap.drawing.letters import shortened, wrapped
from pigmap.drawing.page import Item, Rule, SheetRequest, Words
from pigmap.drawing.words import day_words
from pigmap.geometry.degrees import degrees_at
from pigmap.records import Energizer, Farm, Place, PlaceKind, PowerSource
from pigmap.text import Text, Value

STEPS = (
    Text("Switch off before you touch anyone: plug out, or one lead off the battery."),
    Text("No switch in reach: move the wire or the person with dry wood or plastic. Do not stand in water."),
    Text("No answer and no breath: call for help, press the chest, use a defibrillator if one is near."),
    Text("Breathing, but no answer: lay the person on the side, and stay."),
    Text(
        "See a doctor, even if all seems well: after a shock to head, neck or chest, after being caught, after a fall, "
        "in pregnancy, with a heart device."
    ),
)
"""General first aid, as courses teach it; the order follows from a live fence. The last step is from memory."""
LAST = Text("A first aid course and what is said where you live come before this card.")
_MOST_SWITCHES = 4
_RIGHT = WIDE_MM - MARGIN_MM
_SIZE, _LINE_MM = 3.1, 3.7


def shock_card(farm: Farm, request: SheetRequest, say: Say) -> Iterator[Item]:
    """Yield the card, from its own upper left corner."""
    day = day_words(request.day, language=request.language)
    yield from card_head("energizer", say(Text("After a shock")), farm.name, day, say(Text("keep it in the pocket")))
    y = 26.0
    for number, step in enumerate(STEPS, 1):
        yield Words(MARGIN_MM + 2.0, y, str(number), 4.2, 700, align="centre")
        for line in wrapped(say(step), INNER_MM - 7.0, _SIZE):
            yield Words(MARGIN_MM + 7.0, y, line, _SIZE)
            y += _LINE_MM
        y += 2.1
    y = yield from _switches(farm, y + 2.0, say)
    yield from _to_fill_in(farm, y + 3.0, say)
    yield Words(MARGIN_MM, 141.5, shortened(say(LAST), INNER_MM, 2.5), 2.5)


def _switches(farm: Farm, y: float, say: Say) -> Generator[Item, None, float]:
    """Yield where each energizer is; return where the card goes on."""
    yield Words(MARGIN_MM, y, say(Text("Where the switch is")), _SIZE, 700)
    y += _LINE_MM + 0.6
    told = [say(words) for words in _where_switches_are(farm)]
    more = len(told) - _MOST_SWITCHES
    if more > 0:
        told = [*told[:_MOST_SWITCHES], say(Text("and {count} more on the field map", {"count": more}))]
    for words in told or [say(Text("No energizer is told of: write it here."))]:
        yield Words(MARGIN_MM, y, shortened(words, INNER_MM, 2.8), 2.8)
        y += _LINE_MM
    return y


def _where_switches_are(farm: Farm) -> Iterator[Text]:
    at_places = {each.place_uid for each in farm.energizers.values()}
    for energizer in farm.energizers.values():
        yield _switch(farm, energizer, farm.places.get(energizer.place_uid or ""))
    for place in farm.places.values():
        if place.kind is PlaceKind.ENERGIZER and place.uid not in at_places:
            yield Text("{name}: {where}", {"name": place.name or Text("Energizer"), "where": _at(farm, place.point)})


_OFF = {
    PowerSource.MAINS: Text("mains, plug out"),
    PowerSource.BATTERY: Text("one lead off the battery"),
    PowerSource.SOLAR: Text("its own switch, or one lead off the battery"),
}


def _switch(farm: Farm, energizer: Energizer, place: Place | None) -> Text:
    values: dict[str, Value] = {"name": energizer.name, "off": _OFF[energizer.source]}
    group = farm.groups.get(energizer.group_uid or "")
    if place is not None:
        return Text("{name}: {off}; {where}", {**values, "where": _at(farm, place.point)})
    if group is not None:
        return Text("{name}: {off}; at the fence of {group}", {**values, "group": group.name})
    return Text("{name}: {off}", values)


def _at(farm: Farm, point: shapely.Point) -> Text:
    found = degrees_at(farm.projection, point)
    if found is None:
        return Text("on the field map")
    return Text("{latitude}, {longitude}", {"latitude": f"{found[0]:.5f}", "longitude": f"{found[1]:.5f}"})


def _to_fill_in(farm: Farm, y: float, say: Say) -> Iterator[Item]:
    """Yield the lines that someone fills in once, with where the fields are."""
    fields = [field.outline for field in farm.fields.values()]
    middle = shapely.union_all(fields).representative_point() if fields else None
    found = degrees_at(farm.projection, middle) if middle is not None else None
    where = _at(farm, middle) if middle is not None and found is not None else Text("")
    for words, known in (
        (Text("Emergency number"), ""),
        (Text("Where we are"), say(where)),
        (Text("Who has the switch"), ""),
    ):
        yield Words(MARGIN_MM, y + 4.6, say(words), 2.8, 700)
        if known:
            yield Words(_RIGHT, y + 4.6, known, 2.8, align="right")
        yield Rule(MARGIN_MM + 32.0, y + 5.6, _RIGHT, y + 5.6, 0.2, LINE)
        y += 8.4
