"""The state of the ground in a keeper's words, for cards."""

from __future__ import annotations

from datetime import date, timedelta

import numpy as np
from shapely.geometry.base import BaseGeometry

from pigmap.builtin.panels.card_facts import Fact, Why
from pigmap.drawing.tokens import ROOTING_WORDS, rooting_class
from pigmap.drawing.words import day_words
from pigmap.ground import Under
from pigmap.ground.purposes import wanted_on
from pigmap.ground.rest import rest_wanted
from pigmap.qt.stage import Stage
from pigmap.text import Quantity, Text
from pigmap.text.source import COVER_ABOVE_75, OUR_FIT, OWN_RECORDS

SHARE_WORTH_SAYING = 0.02


def ground_facts(
    stage: Stage, field_uid: str | None, outline: BaseGeometry, *, coming_on: date | None = None
) -> tuple[Fact, ...]:
    """Return rest and rooting under an outline on the day that is shown; nothing where they are not known yet.

    Where pigs are only to come, the figures are those that they will find on that day.
    """
    if field_uid is None or field_uid not in stage.session.farm.fields:
        return ()
    state = stage.session.ground.state(field_uid, stage.day, stage.today)
    day, under = stage.day, None
    if state is not None and coming_on is not None:
        # The evening before: on the day itself they are there already.
        day = coming_on - timedelta(days=1)
        under = state.ground.on(day).under(outline)
        if under is not None and under.rest_days >= 0:
            under = under._replace(rest_days=under.rest_days + 1)
    elif state is not None:
        under = state.under(outline)
    if under is None:
        return ()
    facts = [_rest(stage, field_uid, under, coming_on or day), _rooting(stage, field_uid, under, coming_on or day)]
    if under.load_kg_d_m2 > 0:
        load = stage.words(Text("{load}", {"load": Quantity(under.load_kg_d_m2, "kg·d/m²")}))
        facts.append(Fact(stage.say("Stocking"), load, stage.say("in 12 months"), _stocking_why(stage)))
    facts.append(_ready(stage, under, day))
    return tuple(fact for fact in facts if fact.figure)


def _rest_beside(stage: Stage, field_uid: str, day: date) -> str:
    """Return the rest that is wanted; on another day than the one shown, that day with it."""
    wanted = rest_wanted(stage.session.farm, field_uid, day)
    if day == stage.day:
        return stage.say("{days} wanted", days=wanted) if wanted is not None else ""
    on = day_words(day, "short", language=stage.language)
    if wanted is None:
        return stage.say("on {day}", day=on)
    return stage.say("on {day}, {days} wanted", day=on, days=wanted)


def _rest(stage: Stage, field_uid: str, under: Under, day: date) -> Fact:
    beside = _rest_beside(stage, field_uid, day)
    label = stage.say("Rest")
    if under.occupied > SHARE_WORTH_SAYING:
        return Fact(label, stage.say("pigs on it"), beside, rest_why(stage, under, day))
    if under.rest_days < 0:
        known = under.unknown <= SHARE_WORTH_SAYING
        return Fact(
            label, stage.say("never used") if known else stage.say("not known"), beside, rest_why(stage, under, day)
        )
    figure = stage.words(Text("{days}", {"days": Quantity(under.rest_days, "d")}))
    if under.never_used + under.unknown > SHARE_WORTH_SAYING:
        figure = stage.say("from {days}", days=figure)
    return Fact(label, figure, beside, rest_why(stage, under, day))


def _rooting(stage: Stage, field_uid: str, under: Under, day: date) -> Fact:
    words = ROOTING_WORDS[int(rooting_class(np.array([under.rooting]))[0])]
    if under.seen_on is None:
        beside = stage.say("computed")
    else:
        _, number, month = day_words(under.seen_on, "short", language=stage.language).split(" ")
        beside = stage.say("seen {day} {month}", day=number, month=month)
    welcome = wanted_on(stage.session.farm, stage.session.farm.fields[field_uid], day).rooting
    all_of_it = stage.say("{known}; all of it may be", known=beside)
    share = stage.say("{known}; up to {share} may be", known=beside, share=Quantity(welcome, "1"))
    return Fact(
        stage.say("Ground"),
        stage.say("{share} rooted", share=words),
        share if welcome < 1 else all_of_it,
        _rooting_why(stage, under),
    )


def _ready(stage: Stage, under: Under, today: date) -> Fact:
    label = stage.say("Ready")
    if under.rest_days < 0 or under.occupied > SHARE_WORTH_SAYING:
        return Fact(label, "")
    if under.ready_in_days == 0:
        return Fact(label, stage.say("now"), stage.say("computed"), _ready_why(stage))
    if under.ready_in_days < 0:
        return Fact(label, stage.say("not within sight"), stage.say("computed"), _ready_why(stage))
    day = today + timedelta(days=under.ready_in_days)
    words = day_words(day, "short", language=stage.language).split(" ", 1)[1]
    return Fact(label, stage.say("about {day}", day=words), stage.say("if it stays mild"), _ready_why(stage))


# What each figure rests on


def rest_why(stage: Stage, under: Under, day: date) -> Why:
    """Return what the rest of the ground rests on."""
    source = stage.words(OWN_RECORDS)
    on = day_words(day, "short", language=stage.language)
    if under.occupied > SHARE_WORTH_SAYING:
        return Why(stage.say("A stay covers {day}. Rest begins on the day they leave.", day=on), source)
    if under.rest_days < 0:
        return Why(stage.say("No stay lies on it up to {day}, and nothing was told of pigs before.", day=on), source)
    first = day_words(day - timedelta(days=under.rest_days), "short year", language=stage.language)
    days = Quantity(under.rest_days, "d")
    words = stage.say("{days}: from {first}, when pigs last left any of it, to {day}.", days=days, first=first, day=on)
    return Why(words, source)


def _rooting_why(stage: Stage, under: Under) -> Why:
    share = Quantity(under.rooting, "1")
    if under.seen_on is not None:
        seen = day_words(under.seen_on, "short year", language=stage.language)
        words = stage.say("{share}: from what was seen on {day}, and pigs and growth since.", share=share, day=seen)
        return Why(words, stage.say("{own}; {fit}", own=OWN_RECORDS, fit=OUR_FIT))
    words = stage.say("{share}: computed from weight and days of pigs, what grows there, and warmth.", share=share)
    return Why(words, stage.words(OUR_FIT))


def _stocking_why(stage: Stage) -> Why:
    words = stage.say("Weight of the pigs times their days, by the square metre, over twelve months.")
    return Why(words, stage.words(OWN_RECORDS))


def _ready_why(stage: Stage) -> Why:
    words = stage.say("The rest that is wanted is over and three quarters of it are green, in usual weather.")
    return Why(words, stage.say("{cover}; {fit}", cover=COVER_ABOVE_75, fit=OUR_FIT))
