"""What a group's card says of what is coming and of what was written down last: withdrawal, due, booked, the latest."""

from __future__ import annotations

from collections.abc import Iterator
from datetime import date, timedelta

from pigmap.builtin.panels.card_facts import Fact
from pigmap.builtin.panels.happened_kept import kept_of
from pigmap.builtin.panels.plan_breaches import said_of
from pigmap.drawing.words import day_words
from pigmap.planning.arrivals import begins_group
from pigmap.qt.stage import Stage
from pigmap.qt.why import Why, why
from pigmap.records import Group, GroupEvent, Litter, SlaughterBooking, Treatment
from pigmap.text import Quantity, Text, Value
from pigmap.text.source import COMMON_PRACTICE, OWN_RECORDS, OWN_WORD

LATELY = timedelta(days=30)
"""So long something counts as having been lately. Own choice."""
LABEL_LATELY = timedelta(days=60)
"""So long it is said that the days of a label are missing. Own choice."""


def happened_facts(stage: Stage, group: Group) -> list[Fact]:
    """Return the rows of what is coming and of what was last; none where nothing is."""
    return [*_due(stage, group), *_booked(stage, group), *_latest(stage, group)]


def happened_cares(stage: Stage, group: Group) -> tuple[str, ...]:
    """Return what wants care: days of a label that nobody typed, and what the rules say of bookings and litters."""
    farm, day = stage.session.farm, stage.day
    booked = (row.uid for row in farm.slaughter_bookings.values() if row.group_uid == group.uid)
    litters = (row.uid for row in farm.litters.values() if row.group_uid == group.uid)
    treated = (row.uid for row in farm.treatments.values() if row.group_uid == group.uid)
    lately = (
        row.uid
        for row in farm.group_events.values()
        if row.group_uid == group.uid and row.happened_on <= day < row.happened_on + LABEL_LATELY
    )
    said = said_of(stage, group.uid, *booked, *litters, *treated, *lately)
    unknown = [
        stage.say("{medicine} of {day}: no days of withdrawal are typed.", medicine=each.product, day=_day(stage, on))
        for on, each in _untyped(stage, group)
    ]
    return *unknown, *said


def _untyped(stage: Stage, group: Group) -> list[tuple[date, Treatment]]:
    """Return what was given lately of which nobody typed the days of withdrawal, each with its last day."""
    given = [(each.last_on or each.given_on, each) for each in _treated(stage, group) if each.withdrawal_days is None]
    return [(on, each) for on, each in given if each.given_on <= stage.day < on + LABEL_LATELY]


def _day(stage: Stage, day: date) -> str:
    return day_words(day, "short", language=stage.language)


def _why(stage: Stage, words: str, source: Text, **values: Value) -> Why:
    return why(stage, Text(words, values), source)


def _treated(stage: Stage, group: Group) -> list[Treatment]:
    return [each for each in stage.session.farm.treatments.values() if each.group_uid == group.uid]


def held_facts(stage: Stage, group: Group) -> Iterator[Fact]:
    """Yield until when meat of the group is not free of what was given, by the label; and where that is not typed."""
    untyped = _untyped(stage, group)
    if untyped:
        _, last = max(untyped, key=lambda each: (each[0], each[1].uid))
        words = "The days of withdrawal stand on the label of {medicine}; nobody has typed them."
        rests = _why(stage, words, OWN_WORD, medicine=last.product)
        yield Fact(stage.say("Withdrawal"), stage.say("days not typed"), last.product, rests)
    holding = [
        (each.clear_on, each)
        for each in _treated(stage, group)
        if each.clear_on is not None and each.given_on <= stage.day < each.clear_on
    ]
    if holding:
        clear_on, last = max(holding, key=lambda each: (each[0], each[1].uid))
        words = (
            "{medicine}, last given on {last}; the label says {count} days, as typed. {clear} is the first day after."
        )
        values: dict[str, Value] = {"last": last.last_on or last.given_on, "clear": clear_on}
        rests = _why(stage, words, OWN_WORD, medicine=last.product, count=last.withdrawal_days or 0, **values)
        beside = (
            stage.say("{medicine}, {which}", medicine=last.product, which=last.which) if last.which else last.product
        )
        yield Fact(stage.say("Withdrawal"), stage.say("free on {day}", day=_day(stage, clear_on)), beside, rests)


def _due(stage: Stage, group: Group) -> Iterator[Fact]:
    """Yield who farrows next."""
    coming = [
        (each.due, each)
        for each in stage.session.farm.litters.values()
        if each.group_uid == group.uid and each.farrowed_on is None and each.weaned_on is None and each.due is not None
    ]
    if coming:
        due, first = min(coming, key=lambda each: (each[0], each[1].uid))
        more = len(coming) - 1
        beside = stage.say("{sow}, and {count} more", sow=first.sow, count=more) if more else first.sow
        yield Fact(stage.say("Farrows"), _day(stage, due), beside, _due_why(stage, first))


def _due_why(stage: Stage, litter: Litter) -> Why:
    if litter.due_on is not None or litter.served_on is None:
        return _why(stage, "The day {sow} is due, as it was typed.", OWN_WORD, sow=litter.sow)
    words = "{sow} was served on {day}; sows carry about 114 days."
    return _why(stage, words, COMMON_PRACTICE, sow=litter.sow, day=litter.served_on)


def _booked(stage: Stage, group: Group) -> Iterator[Fact]:
    coming = [
        each
        for each in stage.session.farm.slaughter_bookings.values()
        if each.group_uid == group.uid and each.gone is None
    ]
    if coming:
        first = min(coming, key=lambda each: (each.goes_on, each.uid))
        rests = _why(stage, "Booked for slaughter, as it was typed.", OWN_WORD)
        yield Fact(stage.say("Booked"), _day(stage, first.goes_on), _booked_beside(stage, first), rests)


def _booked_beside(stage: Stage, row: SlaughterBooking) -> str:
    pigs = stage.say("how many is open")
    if row.pigs is not None:
        pigs = stage.words(Text("{count} pig", plural="{count} pigs", count=row.pigs))
    if row.least_kg is None:
        return pigs
    return stage.say("{pigs} from {weight}", pigs=pigs, weight=Quantity(row.least_kg, "kg", 0))


def _latest(stage: Stage, group: Group) -> Iterator[Fact]:
    """Yield what was written down last, where it was lately; that a group began is not told."""
    farm = stage.session.farm
    found = [
        each
        for each in kept_of(farm, group.uid)
        if each.day <= stage.day < each.day + LATELY
        and not (isinstance(each.row, SlaughterBooking) and not each.row.gone)
        and not (isinstance(each.row, GroupEvent) and begins_group(farm, each.row))
    ]
    if found:
        last = found[0]
        beside = stage.words(last.words)
        if len(found) > 1:
            beside = stage.say("{what}, and {count} more", what=last.words, count=len(found) - 1)
        rests = _why(stage, "{count} entries of the 30 days up to {day}.", OWN_RECORDS, count=len(found), day=stage.day)
        yield Fact(stage.say("Lately"), _day(stage, last.day), beside, rests)
