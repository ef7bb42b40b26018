"""The title block of a sheet: what, when, who is where; the farm, the scale, when it was made."""

from __future__ import annotations

from collections.abc import Iterator

from pigmap.builtin.reports.sheet_frame import Frame
from pigmap.builtin.reports.sheet_layout import MARGIN_MM, Sheet
from pigmap.builtin.reports.sheet_map import Subject
from pigmap.drawing.letters import breadth, shortened
from pigmap.drawing.on_day import short_name
from pigmap.drawing.page import Item, Rule, SheetRequest, Words
from pigmap.drawing.plates import day_of
from pigmap.drawing.words import day_words
from pigmap.text import Text, Value


def document_title(subject: Subject, request: SheetRequest) -> str:
    """Return what the document is called in its own description."""
    name = subject.fields[0].name if len(subject.fields) == 1 else subject.farm.name
    return f"{name}, {day_words(request.day, 'full', language=request.language)}"


def title_block(subject: Subject, sheet: Sheet, frame: Frame, request: SheetRequest) -> Iterator[Item]:
    """Yield the title block: what, when, who is where; farm, scale, when made."""
    right, say = sheet.width_mm - MARGIN_MM, subject.say
    day = day_words(request.day, "full", language=request.language)
    name = subject.fields[0].name if request.field_uid is not None else subject.farm.name or say(Text("Whole farm"))
    name = shortened(name, sheet.width_mm * 0.42, 8.6, 700)
    beside = MARGIN_MM + breadth(name, 8.6, 700) + 5
    scale_words = say(_made(frame, request))
    yield Words(MARGIN_MM, MARGIN_MM + 8.2, name, 8.6, 700)
    yield Words(beside, MARGIN_MM + 3.4, say(Text("Field map for {day}", {"day": day})), 3.6, 600)
    room = right - beside - breadth(scale_words, 3.0) - 4
    yield Words(beside, MARGIN_MM + 8.4, _who_in(subject, request, room), 3.1)
    yield Words(right, MARGIN_MM + 3.4, subject.farm.name, 3.6, 600, align="right")
    yield Words(right, MARGIN_MM + 8.4, scale_words, 3.0, align="right")
    yield Rule(MARGIN_MM, MARGIN_MM + 11.4, right, MARGIN_MM + 11.4, 0.5)


def _made(frame: Frame, request: SheetRequest) -> Text:
    """Return scale, paper and time, and which of several sheets it is."""
    values: dict[str, Value] = {
        "scale": str(frame.scale),
        "paper": request.paper,
        "day": day_words(request.printed_at.date(), "short year", language=request.language),
        "time": f"{request.printed_at:%H:%M}",
        "sheet": request.sheet,
        "sheets": request.sheets,
    }
    if request.sheets == 1:
        return Text("Scale 1:{scale} on {paper}. Made {day}, {time}.", values)
    return Text("Scale 1:{scale} on {paper}. Made {day}, {time}; sheet {sheet} of {sheets}.", values)


def _who_in(subject: Subject, request: SheetRequest, room_mm: float) -> str:
    """Return who is where and when the next move is; of many groups the move first and each in few words."""
    next_move = _next_move(subject, request)
    whole = " ".join([*_who(subject, request, brief=False), *next_move])
    if breadth(whole, 3.1) <= room_mm:
        return whole
    brief = ", ".join(_who(subject, request, brief=True))
    return shortened(" ".join([*next_move, f"{brief}."]), room_mm, 3.1)


def _who(subject: Subject, request: SheetRequest, *, brief: bool) -> Iterator[str]:
    """Yield who is where."""
    pattern = "{group} in {paddock}" if brief else "{group} in paddock {paddock}, {day}."
    for each in subject.shown.running:
        if subject.here(each) and each.group is not None and each.stay is not None:
            values: dict[str, Value] = {
                "group": each.group.name,
                "paddock": short_name(each, subject.farm),
                "day": day_of(each, request.day),
            }
            yield subject.say(Text(pattern, values))


def _next_move(subject: Subject, request: SheetRequest) -> list[str]:
    coming = subject.next_move
    if coming is None or coming.stay is None:
        return []
    day = day_words(coming.stay.in_on, "long", language=request.language)
    return [subject.say(Text("Next move {day}.", {"day": day}))]
