"""When ground is ready and whether it wants seed, for cards: the figures, and what each rests on."""

from __future__ import annotations

from datetime import date

from shapely.geometry.base import BaseGeometry

from pigmap.builtin.panels.card_facts import Fact
from pigmap.drawing.words import day_words
from pigmap.ground import GroundState, Under
from pigmap.ground.advice import seed_advice
from pigmap.ground.ready import HeldOff, held_off
from pigmap.ground.tables import SOWING_SOIL_C
from pigmap.qt.stage import Stage
from pigmap.qt.why import Why, joined, why
from pigmap.text import Quantity, Text, Value
from pigmap.text.source import COVER_ABOVE_75, OUR_FIT, OWN_RECORDS, OWN_WORD, SEED_BELOW_30, SEED_GUIDE, SOIL_WATER


def ready_why(stage: Stage, state: GroundState, outline: BaseGeometry, under: Under, wanted: int | None) -> Why:
    """Return what the day on which ground is ready rests on, and what keeps pigs off it beside rest and green."""
    values: dict[str, Value] = {
        "rest": Quantity(max(under.rest_days, 0), "d"),
        "wanted": Quantity(wanted or 0, "d"),
        "green": Quantity(under.cover, "1"),
        "enough": Quantity(state.ground.model.ready_cover, "1"),
    }
    words = Text(
        "Rest: {rest} of the {wanted} that are wanted. Green: {green} now, {enough} wanted of every part. "
        "Both must be reached, in usual weather. From the first day to the last: green may go or come half as fast "
        "again as in print, or a third slower.",
        values,
    )
    return joined(
        why(stage, words, COVER_ABOVE_75, OUR_FIT), *_drought(stage, state), *_held_off(stage, held_off(state, outline))
    )


def _drought(stage: Stage, state: GroundState) -> list[Why]:
    """Return how drought counts, where the soil and the rain are known; the slope of the ground never does."""
    slope = Text("How steep it is does not count: nothing printed says by how much steep ground comes back slower.")
    if state.ground.watered is None:
        words = Text("Drought does not count: the soil of the field, or its rain, is not told.")
        return [why(stage, words, OUR_FIT), why(stage, slope, OUR_FIT)]
    words = Text(
        "In a drought green comes back by the share of water that it can still take up. Days to come are as in a usual "
        "year; the first day is for rain enough from now on, and in a dry year it is later than the last."
    )
    return [why(stage, words, SOIL_WATER), why(stage, slope, OUR_FIT)]


def _held_off(stage: Stage, held: HeldOff) -> list[Why]:
    found = []
    if held.work_until is not None:
        words = Text("What was sown or done on it keeps pigs off until {day}.", {"day": _day(stage, held.work_until)})
        found.append(why(stage, words, OWN_RECORDS))
    if held.open_from is not None and held.open_from > date.max.toordinal():
        found.append(why(stage, Text("Its purpose or its months keep pigs off all year."), OWN_WORD))
    elif held.open_from is not None:
        words = Text("Its purpose or its months keep pigs off until {day}.", {"day": _day(stage, held.open_from)})
        found.append(why(stage, words, OWN_WORD))
    return found


def _day(stage: Stage, ordinal: int) -> str:
    return day_words(date.fromordinal(ordinal), "short year", language=stage.language)


def seed_facts(stage: Stage, state: GroundState, field_uid: str, outline: BaseGeometry) -> list[Fact]:
    """Return the advice to sow under an outline; nothing where there is none to give."""
    field = stage.session.farm.fields[field_uid]
    advice = seed_advice(state, field, outline)
    if advice is None:
        return []
    figure = stage.say("sow again") if advice.anew else stage.say("sow over")
    beside = stage.say("{ground} of it", ground=Quantity(advice.ground_m2, "m²"))
    reason = joined(why(stage, advice.words, SEED_BELOW_30), _when_sown(stage))
    return [Fact(stage.say("Seed"), figure, beside, reason)]


def _when_sown(stage: Stage) -> Why:
    least: dict[str, Value] = {"least": Quantity(SOWING_SOIL_C, "°C")}
    if stage.session.farm.projection.lies_south:
        words = Text("Mixes go in from mid October to early March, in soil of {least} or more.", least)
    else:
        words = Text("Mixes go in from mid April to early September, in soil of {least} or more.", least)
    return why(stage, words, SEED_GUIDE)
