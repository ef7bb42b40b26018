"""The card of a field: its size, what it is for and what follows from that, its ground, and what was before."""

from __future__ import annotations

from collections.abc import Iterator

from pigmap.builtin.panels.card_facts import CardFacts, Fact, Why
from pigmap.builtin.panels.card_parts import end_of_use, in_words, month_day_words, own_deeds, plain
from pigmap.drawing.before import told_words
from pigmap.drawing.words import month_words
from pigmap.ground.purposes import Wanted, purposes_of, wanted_on
from pigmap.ground.told import records_begin, told_shares
from pigmap.qt.stage import Stage
from pigmap.records import Field, GroundJob, GroundJobKind, Use
from pigmap.text import Quantity, Text
from pigmap.text.source import COMMON_PRACTICE, COVER_ABOVE_75, OUR_FIT, OWN_RECORDS, OWN_WORD, REST_30_TO_90

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
        Fact(stage.say("Area"), in_words(stage, Quantity(area, "m²")), str(field.ground_cover), _outline_why(stage)),
        Fact(stage.say("Paddocks"), str(paddocks), why=_paddocks_why(stage)),
        *_purpose(stage, field),
        *_ground(stage, field),
        *_before(stage, field),
    ]
    if field.soil:
        facts.append(Fact(stage.say("Soil"), field.soil, why=_said_why(stage)))
    facts += end_of_use(stage, field.retired_on)
    card = plain(stage, "fields", field.uid, field.name, stage.say("field"), "paddock", facts, field.note)
    deeds = own_deeds(stage, "purposes", "before", "rename", "end use", "remove")
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
        yield Fact(stage.say("Purpose"), uses, stage.say("all year") if all_year else until, _said_why(stage))
    else:
        beside = stage.say("nothing is said of this part of the year") if parts else stage.say("all year")
        words = stage.say("Where nothing is said, a field counts as graze lightly.")
        why = Why(words, stage.words(COMMON_PRACTICE))
        yield Fact(stage.say("Purpose"), stage.words(Text(str(wanted.use))), beside, why)
    rest = stage.say("{days} wanted", days=Quantity(wanted.rest_days, "d"))
    beside = stage.say("typed") if wanted.rest_typed else stage.say("as is usual")
    yield Fact(stage.say("Rest"), rest, beside, _rest_why(stage, wanted))
    yield Fact(stage.say("Rooting"), *_welcome(stage, wanted), _welcome_why(stage, wanted))


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
    if under is None:
        return
    yield Fact(
        stage.say("Green"), in_words(stage, Quantity(under.cover, "1")), stage.say("of the ground"), _green_why(stage)
    )
    unused = under.never_used + under.unknown
    beside = stage.say("of the ground")
    if under.unknown > SHARE_WORTH_SAYING:
        some = under.never_used > SHARE_WORTH_SAYING
        share = Quantity(under.unknown, "1")
        beside = stage.say("{share} is not known", share=share) if some else stage.say("as far as is known")
    yield Fact(stage.say("Not used"), in_words(stage, Quantity(unused, "1")), beside, _unused_why(stage))


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


def _on_whose_word(stage: Stage, field: Field, job: GroundJob | None) -> str:
    if job is None or job.kind is GroundJobKind.UNKNOWN:
        first = records_begin(stage.session.farm, field.uid, stage.today)
        if first is None:
            return stage.say("nothing recorded") if job is None else stage.say("you said")
        month = month_words(first.month, language=stage.language)
        return stage.say("before {month} {year}", month=month, year=str(first.year))
    return stage.say("you said") if job.kind is GroundJobKind.NEVER_USED else ""


# What each figure rests on


def _own(stage: Stage, words: str) -> Why:
    return Why(words, stage.words(OWN_RECORDS))


def _said_why(stage: Stage) -> Why:
    return _own(stage, stage.say("As it was told on the card of the field, or brushed on the map."))


def _outline_why(stage: Stage) -> Why:
    return _own(stage, stage.say("Measured from the outline of the field, on the ground."))


def _paddocks_why(stage: Stage) -> Why:
    return _own(stage, stage.say("Paddocks that were placed in it, used, standing or planned."))


def _unused_why(stage: Stage) -> Why:
    return _own(stage, stage.say("Ground in the field on which no stay lies, and of which no pigs were told."))


def _green_why(stage: Stage) -> Why:
    words = stage.say("Computed from weight and days of pigs, what grows there, warmth, and what was seen at checks.")
    return Why(words, stage.words(OUR_FIT))


def _rest_why(stage: Stage, wanted: Wanted) -> Why:
    words = stage.say("What it is for on this day ({use}), and what grows there, ask for it.", use=str(wanted.use))
    return Why(words, stage.words(OWN_WORD if wanted.rest_typed else REST_30_TO_90))


def _welcome_why(stage: Stage, wanted: Wanted) -> Why:
    words = stage.say("What it is for on this day ({use}) decides how much may be rooted.", use=str(wanted.use))
    usual = COVER_ABOVE_75 if wanted.use in (Use.GRAZE_LIGHTLY, Use.CLOSED) else COMMON_PRACTICE
    return Why(words, stage.words(OWN_WORD if wanted.rooting_typed else usual))
