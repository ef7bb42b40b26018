"""The state of the ground in a keeper's words, for cards."""

from __future__ import annotations

from collections.abc import Sequence
from datetime import date, timedelta

import numpy as np
from shapely.geometry.base import BaseGeometry

from pigmap.builtin.panels.card_facts import Fact
from pigmap.builtin.panels.purpose_words import allowed_words
from pigmap.builtin.panels.ready_facts import ready_why, seed_facts
from pigmap.drawing.tokens import ROOTING_WORDS, rooting_class
from pigmap.drawing.words import day_words
from pigmap.geometry.steep import steep_under
from pigmap.ground import GroundState, Under
from pigmap.ground.advice import weak_readings
from pigmap.ground.purposes import wanted_on
from pigmap.ground.ready import ReadyRange, ready_range
from pigmap.ground.rest import rest_wanted
from pigmap.qt.ground_why import rest_why, rooting_why, wanted_rest_why, welcome_why
from pigmap.qt.pigs_why import laid_on, laid_words
from pigmap.qt.stage import Stage
from pigmap.qt.why import Why, joined, listed, why
from pigmap.records import Field
from pigmap.session.placing.setbacks import steep_words
from pigmap.text import Quantity, Text, Value
from pigmap.text.source import OUR_FIT, OWN_RECORDS, STEEP_SOURCE
from pigmap.units import PIG_KG

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
    day = stage.day
    if state is not None and coming_on is not None:
        # The evening before: on the day itself they are there already.
        day = coming_on - timedelta(days=1)
        state = state.ground.on(day)
    under = state.under(outline) if state is not None else None
    if state is None or under is None:
        return ()
    if coming_on is not None and under.rest_days >= 0:
        under = under._replace(rest_days=under.rest_days + 1)
    weak = weak_readings(state, outline, south=stage.session.farm.projection.lies_south)
    facts = [
        _rest(stage, field_uid, under, coming_on or day),
        _rooting(stage, field_uid, under, coming_on or day, weak),
    ]
    if under.load_kg_d_m2 > 0:
        load = stage.words(Text("{load}", {"load": Quantity(under.load_kg_d_m2, "kg·d/m²")}))
        reason = _stocking_why(stage, outline, under.load_kg_d_m2, day)
        facts.append(Fact(stage.say("Stocking"), load, stage.say("in 12 months"), reason))
    facts.append(_ready(stage, state, outline, under, rest_wanted(stage.session.farm, field_uid, day)))
    facts += [*seed_facts(stage, state, field_uid, outline), *_slope(stage, state, field_uid, outline)]
    return tuple(fact for fact in facts if fact.figure)


def _slope(stage: Stage, state: GroundState, field_uid: str, outline: BaseGeometry) -> list[Fact]:
    """Return how steep it is, where a terrain image tells it and enough of it slopes."""
    if not stage.session.farm.terrains:
        return []
    frame = state.ground.frame
    slopes = stage.session.seen.slopes.of(field_uid, frame)
    steep = steep_under(frame, slopes, outline) if slopes is not None else None
    said = steep_words(steep) if steep is not None else None
    if steep is None or said is None:
        return []
    reason = joined(*(why(stage, each, STEEP_SOURCE) for each in said))
    figure = stage.words(Text("up to {most}", {"most": Quantity(steep.most_deg, "°", 0)}))
    return [Fact(stage.say("Slope"), figure, stage.say("steep") if steep.is_steep else "", reason)]


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
    beside, label = _rest_beside(stage, field_uid, day), stage.say("Rest")
    reason = _rest_why(stage, stage.session.farm.fields[field_uid], under, day)
    if under.occupied > SHARE_WORTH_SAYING:
        return Fact(label, stage.say("pigs on it"), beside, reason)
    if under.rest_days < 0:
        known = under.unknown <= SHARE_WORTH_SAYING
        return Fact(label, stage.say("never used") if known else stage.say("not known"), beside, reason)
    figure = stage.words(Text("{days}", {"days": Quantity(under.rest_days, "d")}))
    if under.never_used + under.unknown > SHARE_WORTH_SAYING:
        figure = stage.say("from {days}", days=figure)
    return Fact(label, figure, beside, reason)


def _rooting(stage: Stage, field_uid: str, under: Under, day: date, weak: Sequence[Text]) -> Fact:
    words = ROOTING_WORDS[int(rooting_class(np.array([under.rooting]))[0])]
    if under.seen_on is None or day > stage.today:  # as on the map: on a day to come nothing was seen
        beside = stage.say("computed, rough") if weak else stage.say("computed")
    else:
        _, number, month = day_words(under.seen_on, "short", language=stage.language).split(" ")
        beside = stage.say("seen {day} {month}", day=number, month=month)
    field = stage.session.farm.fields[field_uid]
    wanted = wanted_on(stage.session.farm, field, day)
    return Fact(
        stage.say("Ground"),
        stage.say("{share} rooted", share=words),
        stage.say("{known}; {allowed}", known=beside, allowed=stage.words(allowed_words(wanted))),
        joined(
            rooting_why(stage, field, under.rooting, under.seen_on, under.load_kg_d_m2),
            welcome_why(stage, wanted),
            *(why(stage, words, OUR_FIT) for words in weak),
        ),
    )


def _ready(stage: Stage, state: GroundState, outline: BaseGeometry, under: Under, wanted: int | None) -> Fact:
    label = stage.say("Ready")
    if (under.rest_days < 0 and under.ready_in_days == 0) or under.occupied > SHARE_WORTH_SAYING:
        return Fact(label, "")
    range_ = ready_range(state, outline) or ReadyRange(*[under.ready_in_days] * 3)
    reason = ready_why(stage, state, outline, under, wanted)
    if under.ready_in_days == 0:
        return Fact(label, stage.say("now"), stage.say("computed"), reason)
    if under.ready_in_days < 0:
        return Fact(label, stage.say("not within sight"), stage.say("computed"), reason)
    words = _in_days(stage, state.day, under.ready_in_days)
    return Fact(label, stage.say("about {day}", day=words), _range_words(stage, state.day, range_), reason)


def _range_words(stage: Stage, day: date, days: ReadyRange) -> str:
    """Return from when to when it may be: '3 May to 20 Jun'."""
    if days.soonest == days.latest:
        return stage.say("if it stays mild")
    first = _in_days(stage, day, days.soonest) if days.soonest else stage.say("now")
    if days.latest < 0:
        return stage.say("{first} at the soonest", first=first)
    return stage.say("{first} to {last}", first=first, last=_in_days(stage, day, days.latest))


def _in_days(stage: Stage, day: date, days: int) -> str:
    return day_words(day + timedelta(days=days), "short", language=stage.language).split(" ", 1)[1]


# What each figure rests on


def _rest_why(stage: Stage, field: Field, under: Under, day: date) -> Why:
    """Return what the rest of some ground rests on, and that which is wanted of it."""
    rest = rest_why(stage, under.rest_days, day, occupied=under.occupied > SHARE_WORTH_SAYING)
    return joined(rest, wanted_rest_why(stage, wanted_on(stage.session.farm, field, day), field))


def _stocking_why(stage: Stage, outline: BaseGeometry, load: float, day: date) -> Why:
    sums = laid_words(laid_on(stage.session.farm, outline, day, stage.today))
    values: dict[str, Value] = {
        "load": Quantity(load, "kg·d/m²"),
        "pig": Quantity(PIG_KG, "kg"),
        "bare": f"{load:.1f}",
        "sums": listed(stage, sums),
        "day": day,
    }
    words = Text(
        "{load} in the twelve months before {day}: pigs times days, {pig} of them counted as one pig "
        "({bare} kg·d/m²). {sums}.",
        values,
    )
    bare = Text("{load} before {day}: pigs times days, {pig} of them counted as one pig ({bare} kg·d/m²).", values)
    return why(stage, words if sums else bare, OWN_RECORDS)
