"""What a card says of an energizer: what it gives, its earth stakes, its battery, what was read."""

from __future__ import annotations

from pigmap.builtin.panels.card_facts import Fact
from pigmap.builtin.panels.energizer_typed import SOIL_WORDS, SOURCE_WORDS
from pigmap.drawing.words import day_words
from pigmap.fence.electric.earth import level_words, reckoned_words, stakes_of, stakes_words
from pigmap.fence.electric.supply import supply_of
from pigmap.qt.stage import Stage
from pigmap.qt.why import Why, joined, why
from pigmap.records import Energizer, EnergizerReading, Group, Place
from pigmap.text import Quantity, Text, Value
from pigmap.text.source import METER_DECIDES, OWN_RECORDS, OWN_WORD


def energizer_of(stage: Stage, owner: Place | Group) -> Energizer | None:
    """Return the energizer at a place or of a group, None where nothing was told of it."""
    of_group = isinstance(owner, Group)
    return next(
        (
            each
            for each in stage.session.farm.energizers.values()
            if (each.group_uid if of_group else each.place_uid) == owner.uid
        ),
        None,
    )


def energizer_facts(stage: Stage, told: Energizer) -> list[Fact]:
    """Return the rows of a card."""
    by_word = why(stage, Text("As it was told of this energizer."), OWN_WORD)
    facts = []
    if told.output_j is not None:
        output = stage.say("{joules} J", joules=f"{told.output_j:.3g}")
        facts.append(Fact(stage.say("Gives"), output, stage.say("a pulse, into 500 Ω"), _output_why(stage, told)))
    facts.append(Fact(stage.say("Runs on"), stage.words(SOURCE_WORDS[told.source]), _swap(stage, told), by_word))
    if told.rods is not None:
        many = stage.words(Text("1 stake", plural="{count} stakes", count=told.rods))
        facts.append(Fact(stage.say("Earth"), many, _stakes(stage, told), _earth_why(stage, told, by_word)))
    return [*facts, *_read(stage, told)]


def _output_why(stage: Stage, told: Energizer) -> Why:
    words = "As it was told: what a pulse gives into 500 Ω, not what the unit stores."
    return why(stage, Text(words), OWN_WORD)


def _earth_why(stage: Stage, told: Energizer, by_word: Why) -> Why:
    """Return what was told of the stakes, and how many the rule and the estimate ask for."""
    supply, stakes = supply_of(told), stakes_of(told)
    if supply is None or stakes is None or not told.output_j:
        return by_word
    return joined(by_word, why(stage, stakes_words(supply, told.output_j, stakes), METER_DECIDES))


def _earth_test(stage: Stage, told: Energizer, fact: Fact, reading: EnergizerReading) -> Fact:
    """Return the row of the earth test with what its reading is, and what it should be."""
    words = level_words(reading.earth_kv or 0.0)
    beside = stage.words(Text("{words}, {read}", {"words": words, "read": fact.rests_on}))
    supply, stakes = supply_of(told), stakes_of(told)
    if supply is None or stakes is None or fact.why is None:
        return fact._replace(rests_on=beside)
    return fact._replace(
        rests_on=beside, why=joined(fact.why, why(stage, reckoned_words(supply, stakes), METER_DECIDES))
    )


def _swap(stage: Stage, told: Energizer) -> str:
    if told.swap_on is None:
        return ""
    return stage.say("next one {day}", day=day_words(told.swap_on, "short", language=stage.language))


def _stakes(stage: Stage, told: Energizer) -> str:
    soil = stage.words(SOIL_WORDS[told.soil]) if told.soil is not None else ""
    if not told.rod_m:
        return soil
    long = stage.words(Text("of {length}", {"length": Quantity(told.rod_m, "m", 1)}))
    return f"{long}, {soil}" if soil else long


def _read(stage: Stage, told: Energizer) -> list[Fact]:
    """Return the last reading of the battery and of the earth, up to the day that is shown."""
    read = [
        each
        for each in stage.session.farm.energizer_readings.values()
        if each.energizer_uid == told.uid and each.read_on <= stage.day
    ]
    facts = []
    battery = _last([each for each in read if each.battery_v is not None])
    if battery is not None:
        figure = stage.say("{volts} V", volts=f"{battery.battery_v:.1f}")
        facts.append(_fact(stage, stage.say("Battery"), figure, battery))
    earth = _last([each for each in read if each.earth_kv is not None])
    if earth is not None:
        figure = stage.say("{volts} kV", volts=f"{earth.earth_kv:.1f}")
        facts.append(_earth_test(stage, told, _fact(stage, stage.say("Earth test"), figure, earth), earth))
    return facts


def _last(readings: list[EnergizerReading]) -> EnergizerReading | None:
    return max(readings, key=lambda each: (each.read_on, each.uid), default=None)


def _fact(stage: Stage, label: str, figure: str, reading: EnergizerReading) -> Fact:
    values: dict[str, Value] = {"day": reading.read_on}
    day = day_words(reading.read_on, "short", language=stage.language)
    reason = why(stage, Text("Read at the energizer on {day}.", values), OWN_RECORDS)
    return Fact(label, figure, stage.say("read {day}", day=day), reason)
