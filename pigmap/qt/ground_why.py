"""What figures of the ground rest on, in words: its rest, its rooting, what is wanted of it."""

from __future__ import annotations

from datetime import date, timedelta

from pigmap.drawing.words import day_words
from pigmap.ground.purposes import Wanted
from pigmap.ground.tables import REST_FLOOR_DAYS, REST_LEAST_DAYS
from pigmap.qt.stage import Stage
from pigmap.qt.why import Why, why
from pigmap.records import Field, Use
from pigmap.text import Quantity, Text, Value
from pigmap.text.source import COMMON_PRACTICE, COVER_ABOVE_75, OUR_FIT, OWN_RECORDS, OWN_WORD, REST_30_TO_90


def rest_why(stage: Stage, rest_days: int, day: date, *, occupied: bool = False) -> Why:
    """Return what the rest of some ground on a day rests on; -1 days where no use of it is known."""
    on = day_words(day, "short", language=stage.language)
    if occupied:
        return why(stage, Text("A stay covers {day}. Rest begins on the day they leave.", {"day": on}), OWN_RECORDS)
    if rest_days < 0:
        words = Text("No stay lies on it up to {day}, and nothing was told of pigs before.", {"day": on})
        return why(stage, words, OWN_RECORDS)
    values: dict[str, Value] = {
        "days": Quantity(rest_days, "d"),
        "first": day_words(day - timedelta(days=rest_days), "short year", language=stage.language),
        "day": on,
    }
    return why(stage, Text("{days}: from {first}, when pigs last left any of it, to {day}.", values), OWN_RECORDS)


def wanted_rest_why(stage: Stage, wanted: Wanted, field: Field) -> Why:
    """Return what the rest that is wanted of a field rests on."""
    use, days = Text(str(wanted.use)), Quantity(wanted.rest_days, "d")
    if wanted.rest_typed:
        return why(stage, Text("{days} wanted, typed for its purpose ({use}).", {"days": days, "use": use}), OWN_WORD)
    floor, least = REST_FLOOR_DAYS[field.ground_cover], REST_LEAST_DAYS[wanted.use]
    values: dict[str, Value] = {
        "days": days,
        "use": use,
        "cover": Text(str(field.ground_cover)),
        "floor": Quantity(floor, "d"),
        "least": Quantity(least, "d"),
    }
    if not least:
        return why(
            stage,
            Text("{days} wanted, as is usual on {cover}; its purpose ({use}) asks no more.", values),
            REST_30_TO_90,
        )
    words = Text("{days} wanted: {cover} asks for {floor}, its purpose ({use}) for {least}; the longer holds.", values)
    return why(stage, words, REST_30_TO_90)


def welcome_why(stage: Stage, wanted: Wanted) -> Why:
    """Return what the rooting that is welcome on a field rests on."""
    values: dict[str, Value] = {"use": Text(str(wanted.use)), "share": Quantity(wanted.rooting, "1")}
    if wanted.rooting_typed:
        return why(stage, Text("{share}, typed for its purpose ({use}).", values), OWN_WORD)
    words = Text("What it is for on this day ({use}) lets {share} of it be rooted.", values)
    return why(stage, words, COVER_ABOVE_75 if wanted.use in (Use.GRAZE_LIGHTLY, Use.CLOSED) else COMMON_PRACTICE)


def rooting_why(stage: Stage, field: Field | None, rooting: float, seen_on: date | None, load: float) -> Why:
    """Return what the rooting of some ground rests on.

    Parameters
    ----------
    field
        The ground's; None where it lies in none.
    rooting
        Share that is turned over or bare, 0 to 1.
    seen_on
        Day of the daily check that still counts for it.
    load
        Live weight times days over twelve months [kg·d/m²].
    """
    values: dict[str, Value] = {
        "share": Quantity(rooting, "1"),
        "load": Quantity(load, "kg·d/m²"),
        "cover": Text(str(field.ground_cover)) if field is not None else Text("open ground"),
    }
    if seen_on is not None:
        seen: dict[str, Value] = {"seen": day_words(seen_on, "short year", language=stage.language)}
        words = Text("{share}: from what was seen on {seen}, and pigs and growth on {cover} since.", values | seen)
        return why(stage, words, OWN_RECORDS, OUR_FIT)
    if load > 0:
        words = Text("{share}: computed from {load} in 12 months, what grows there ({cover}) and warmth.", values)
    else:
        words = Text(
            "{share}: computed with no pigs on it in 12 months, from what grows there ({cover}) and warmth.", values
        )
    return why(stage, words, OUR_FIT)
