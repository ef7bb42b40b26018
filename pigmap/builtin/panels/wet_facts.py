"""Rows of a field's card on its soil, and on how wet that is on the day that is shown."""

from __future__ import annotations

import math
from collections.abc import Iterator

from pigmap.builtin.panels.card_facts import Fact
from pigmap.builtin.panels.card_parts import in_words
from pigmap.builtin.panels.soil_form import CLASSES
from pigmap.qt.stage import Stage
from pigmap.qt.why import Why, why
from pigmap.records import Field
from pigmap.text import Quantity, Text, Value
from pigmap.text.source import OWN_RECORDS, WET_BELOW_3
from pigmap.weather.daily import daily, filled_days
from pigmap.weather.soil_water import CAREFUL_MM, TOO_WET_MM, is_too_wet, wants_care
from pigmap.weather.soils import LAYERS, soil_class

LATELY_DAYS = 14
"""Days up to the one shown that are looked through for days without a reading. Own choice."""


def soil_facts(stage: Stage, field: Field) -> Iterator[Fact]:
    """Yield the soil where it was told, and how wet it is where that follows."""
    if not field.soil:
        return
    kind = soil_class(field.soil)
    told = why(stage, Text("As it was told on the card of the field."), OWN_RECORDS)
    counts = stage.say("counts as {soil}", soil=CLASSES[kind]) if kind is not None else stage.say("of no known sort")
    yield Fact(stage.say("Soil"), field.soil, "" if kind is not None and field.soil == str(kind) else counts, told)
    lacks = stage.session.seen.waters.lacks_mm(stage.session.farm, field, stage.day)
    if kind is None or math.isnan(lacks):
        return
    wet, care = bool(is_too_wet(lacks)), bool(wants_care(lacks))
    words = "too wet for pigs" if wet else "wet, take care" if care else "dry enough"
    filled = _filled(stage)
    beside = stage.say("{lacks} below full", lacks=in_words(stage, Quantity(lacks, "mm", 0)))
    if filled:
        beside = stage.say("by usual weather") if filled == LATELY_DAYS else beside
    yield Fact(stage.say("Ground"), stage.say(words), beside, _wet_why(stage, field, lacks, filled))


def _filled(stage: Stage) -> int:
    """Return on how many of the last days no rain or no temperature was written down."""
    last = stage.day.toordinal()
    farm = stage.session.farm
    lately = daily(farm.weather_days.values(), last - LATELY_DAYS + 1, last, south=farm.projection.lies_south)
    return len(filled_days(lately))


def _wet_why(stage: Stage, field: Field, lacks: float, filled: int) -> Why:
    kind = soil_class(field.soil)
    assert kind is not None
    values: dict[str, Value] = {
        "lacks": Quantity(lacks, "mm", 0),
        "holds": Quantity(LAYERS[kind].holds_mm, "mm", 0),
        "soil": CLASSES[kind],
        "wet": Quantity(TOO_WET_MM, "mm", 0),
        "care": Quantity(CAREFUL_MM, "mm", 0),
        "filled": filled,
        "days": LATELY_DAYS,
    }
    rule = Text(
        "The roots' {soil} holds {holds} and lacks {lacks}: rain filled it, grass and sun dried it. Up to {wet} it "
        "counts as too wet, up to {care} it wants care. Of the last {days} days {filled} count as usual, not written "
        "down.",
        values,
    )
    return why(stage, rule, WET_BELOW_3)
