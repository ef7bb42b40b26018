"""The card of a field: its size, what it is for and what follows from that, its ground, and what was before."""

from __future__ import annotations

from collections.abc import Iterator, Sequence
from datetime import date

from pigmap.builtin.panels.card_facts import CardFacts, Fact
from pigmap.builtin.panels.card_parts import corners_of, end_of_use, in_words, month_day_words, own_deeds, plain
from pigmap.builtin.panels.field_totals import total_facts
from pigmap.builtin.panels.told_jobs import job_words, jobs_on
from pigmap.builtin.panels.wet_facts import soil_facts
from pigmap.drawing.words import month_words
from pigmap.ground import Under
from pigmap.ground.purposes import Wanted, purposes_of, wanted_on
from pigmap.ground.told import records_begin, told_shares
from pigmap.qt.ground_why import rooting_why, wanted_rest_why, welcome_why
from pigmap.qt.stage import Stage
from pigmap.qt.why import Why, joined, listed, why
from pigmap.records import Field, GroundJob, GroundJobKind, Purpose, StayState
from pigmap.records.told_words import told_words
from pigmap.text import Quantity, Text, Value
from pigmap.text.source import COMMON_PRACTICE, OUR_FIT, OWN_RECORDS

MOST_WORK = 3
"""Pieces of work that a card lists, the last of them; all are under What was told."""
MOST_TOLD = 3
"""Pieces of what was before that a card lists; the rest is summed up."""
SHARE_WORTH_SAYING = 0.01
WHOLE = 0.985


def field_card(stage: Stage, field: Field) -> CardFacts:
    """Return the card of a field."""
    farm = stage.session.farm
    area = field.outline.area * farm.projection.ground_per_grid**2
    paddocks = sum(paddock.field_uid == field.uid for paddock in farm.paddocks.values())
    facts = [
        Fact(
            stage.say("Area"),
            in_words(stage, Quantity(area, "m²")),
            str(field.ground_cover),
            _outline_why(stage, field),
        ),
        Fact(stage.say("Paddocks"), str(paddocks), why=_paddocks_why(stage, field)),
        *_purpose(stage, field),
        *_ground(stage, field),
        *_before(stage, field),
        *_work(stage, field),
    ]
    facts += soil_facts(stage, field)
    facts += end_of_use(stage, field.retired_on)
    card = plain(stage, "fields", field.uid, field.name, stage.say("field"), "paddock", facts, field.note)
    told = ("told",) if jobs_on(stage, field) else ()
    deeds = own_deeds(stage, "purposes", "before", "work", *told, "soil", "rename", "end use", "remove")
    return card._replace(deeds=deeds, ends_on=field.retired_on)


def _purpose(stage: Stage, field: Field) -> Iterator[Fact]:
    """Yield what the field is for on the day that is shown, and what is wanted of it then."""
    parts = purposes_of(stage.session.farm, field.uid)
    now = [each for each in parts if each.covers(stage.day)]
    wanted = wanted_on(stage.session.farm, field, stage.day)
    if now:
        names = dict.fromkeys(stage.words(Text(str(each.purpose))) for each in now)
        uses = stage.say(" and ").join(names)
        all_year = any((each.from_month_day, each.to_month_day) == ("01-01", "12-31") for each in now)
        until = stage.say("until {day}", day=month_day_words(stage, now[0].to_month_day))
        yield Fact(stage.say("Purpose"), uses, stage.say("all year") if all_year else until, _purpose_why(stage, now))
    else:
        beside = stage.say("nothing is said of this part of the year") if parts else stage.say("all year")
        reason = why(stage, Text("Where nothing is said, a field counts as graze lightly."), COMMON_PRACTICE)
        yield Fact(stage.say("Purpose"), stage.words(Text(str(wanted.use))), beside, reason)
    rest = stage.say("{days} wanted", days=Quantity(wanted.rest_days, "d"))
    beside = stage.say("typed") if wanted.rest_typed else stage.say("as is usual")
    yield Fact(stage.say("Rest"), rest, beside, wanted_rest_why(stage, wanted, field))
    yield Fact(stage.say("Rooting"), *_welcome(stage, wanted), welcome_why(stage, wanted))


def _welcome(stage: Stage, wanted: Wanted) -> tuple[str, str]:
    from_whom = stage.say("typed") if wanted.rooting_typed else stage.say("as is usual")
    if wanted.rooting >= 1.0:
        return stage.say("welcome, all of it"), from_whom
    if wanted.rooting <= 0.0:
        return stage.say("none is welcome"), from_whom
    return stage.say("up to {share} welcome", share=Quantity(wanted.rooting, "1")), from_whom


def _ground(stage: Stage, field: Field) -> Iterator[Fact]:
    state = stage.session.ground.state(field.uid, stage.day, stage.today)
    under = state.by_field if state is not None else None
    if state is None or under is None:
        return
    yield Fact(
        stage.say("Green"),
        in_words(stage, Quantity(under.cover, "1")),
        stage.say("of the ground"),
        _green_why(stage, field, under),
    )
    yield from total_facts(stage, field, state, under)


def _before(stage: Stage, field: Field) -> Iterator[Fact]:
    """Yield what was told of the time before the records; two pieces told of in the same words are one."""
    farm = stage.session.farm
    shares: dict[str, float] = {}
    beside: dict[str, str] = {}
    south = farm.projection.lies_south
    for job, share in told_shares(farm, field):
        words = stage.words(told_words(job, south=south)) if job is not None else stage.say("not known")
        shares[words] = shares.get(words, 0.0) + share
        beside.setdefault(words, _on_whose_word(stage, field, job))
    label = stage.say("Before")
    for words, share in sorted(shares.items(), key=lambda each: -each[1])[:MOST_TOLD]:
        if share < SHARE_WORTH_SAYING:
            continue
        much = "" if share >= WHOLE else stage.say("{share} of it", share=Quantity(share, "1"))
        yield Fact(label, words, ", ".join(each for each in (much, beside[words]) if each), _said_why(stage))
    more = len(shares) - MOST_TOLD
    if more > 0:
        yield Fact(
            label,
            stage.words(Text("{count} more piece", plural="{count} more pieces", count=more)),
            why=_said_why(stage),
        )


def _work(stage: Stage, field: Field) -> Iterator[Fact]:
    """Yield the work of late: sown, harrowed, hay, other stock, manure."""
    done = [each for each in jobs_on(stage, field) if not each[0].kind.tells_what_was]
    done.sort(key=lambda each: each[0].happened_on or date.min, reverse=True)
    for job, share in done[:MOST_WORK]:
        much = "" if share >= WHOLE else stage.say("{share} of it", share=Quantity(share, "1"))
        yield Fact(stage.say("Work"), job_words(stage, job), much, _said_why(stage))


def _on_whose_word(stage: Stage, field: Field, job: GroundJob | None) -> str:
    if job is None or job.kind is GroundJobKind.UNKNOWN:
        first = records_begin(stage.session.farm, field.uid, stage.today)
        if first is None:
            return stage.say("nothing recorded") if job is None else stage.say("you said")
        month = month_words(first.month, language=stage.language)
        return stage.say("before {month} {year}", month=month, year=str(first.year))
    return stage.say("you said") if job.kind is GroundJobKind.NEVER_USED else ""


# What each figure rests on


def _own(stage: Stage, words: str, **values: Value) -> Why:
    return why(stage, Text(words, values), OWN_RECORDS)


def _said_why(stage: Stage) -> Why:
    return _own(stage, "As it was told on the card of the field, or brushed on the map.")


def _outline_why(stage: Stage, field: Field) -> Why:
    corners = corners_of(field.outline)
    return _own(stage, "Measured from the outline of the field, {corners} corners, on the ground.", corners=corners)


def _paddocks_why(stage: Stage, field: Field) -> Why:
    """Return how many of a field's paddocks pigs were on, are on, or are to come to."""
    farm = stage.session.farm
    its = {uid for uid, paddock in farm.paddocks.items() if paddock.field_uid == field.uid}
    used = {stay.paddock_uid for stay in farm.stays.values() if stay.state is not StayState.PLANNED} & its
    planned = {stay.paddock_uid for stay in farm.stays.values() if stay.state is StayState.PLANNED} & its - used
    return _own(
        stage,
        "Placed in it: {used} used or standing, {planned} planned, {bare} with no stay.",
        used=len(used),
        planned=len(planned),
        bare=len(its - used - planned),
    )


def _purpose_why(stage: Stage, now: Sequence[Purpose]) -> Why:
    parts = [
        Text(
            "{use} from {first} to {last}",
            {
                "use": Text(str(each.purpose)),
                "first": month_day_words(stage, each.from_month_day),
                "last": month_day_words(stage, each.to_month_day),
            },
        )
        for each in now
    ]
    return _own(stage, "As it was told on the card of the field: {parts}.", parts=listed(stage, parts))


def _green_why(stage: Stage, field: Field, under: Under) -> Why:
    green = why(stage, Text("{green}: what is not rooted.", {"green": Quantity(under.cover, "1")}), OUR_FIT)
    return joined(green, rooting_why(stage, field, under.rooting, under.seen_on, under.load_kg_d_m2))
