from __future__ import annotations

from collections.abc import Iterator
from dataclasses import replace
from pathlib import Path

import pytest
from pytestqt.qtbot import QtBot

from pigmap.builtin.panels.energizer_facts import energizer_facts
from pigmap.qt.stage import Stage
from pigmap.records import Edit, Energizer, EnergizerReading, Record, Soil, add
from pigmap.text import Text
from pigmap.text.source import METER_DECIDES, OWN_RECORDS, OWN_WORD
from tests.qt.window_farm import day, made_stage

UNIT = Energizer(uid="unit", name="Yard unit", output_j=1.0, rods=2, rod_m=1.0, soil=Soil.LOAM)


@pytest.fixture
def stage(qtbot: QtBot, tmp_path: Path) -> Iterator[Stage]:
    with made_stage(tmp_path) as made:
        yield made


def tell(stage: Stage, *rows: Record) -> None:
    stage.session.do(Edit(Text("Told."), lambda farm: [add(row) for row in rows])).result()


def row(stage: Stage, label: str, energizer: Energizer = UNIT) -> tuple[str, str, str]:
    """Return what a row says more quietly, and what it rests on with the source."""
    (fact,) = [each for each in energizer_facts(stage, energizer) if each.label == label]
    assert fact.why is not None
    return fact.rests_on, fact.why.words, fact.why.source


def test_the_stakes_say_what_the_rule_asks_and_what_the_estimate_says(stage: Stage) -> None:
    _, words, source = row(stage, "Earth")
    assert words == (
        "As it was told of this energizer. By rule 1 earth stake of 1.0 m. The estimate says 7 for a reading of at "
        "most 0.3 kV. The two agree in wet clay alone: set what the rule asks, then let the test with the meter decide."
    )
    assert source == f"{OWN_WORD}; {METER_DECIDES}"


def test_without_an_output_nothing_is_reckoned_of_the_stakes(stage: Stage) -> None:
    _, words, source = row(stage, "Earth", replace(UNIT, output_j=None))
    assert words == "As it was told of this energizer."
    assert source == str(OWN_WORD)


@pytest.mark.parametrize(("kilovolts", "level"), [(0.2, "good"), (0.4, "much"), (0.8, "too much")])
def test_a_reading_beside_the_stakes_is_good_or_much(stage: Stage, kilovolts: float, level: str) -> None:
    tell(stage, UNIT, EnergizerReading(uid="test", energizer_uid="unit", read_on=day(-1), earth_kv=kilovolts))
    beside, words, source = row(stage, "Earth test")
    assert beside == f"{level}, read Tue 12 May"
    assert words == (
        "Read at the energizer on Tue 12 May 2026. About 0.8 kV is reckoned for these earth stakes; above 0.3 kV is "
        "much, above 0.5 kV too much: wet the ground round them, or set one more."
    )
    assert source == f"{OWN_RECORDS}; {METER_DECIDES}"


def test_a_reading_without_stakes_told_is_judged_all_the_same(stage: Stage) -> None:
    bare = replace(UNIT, rods=None)
    tell(stage, bare, EnergizerReading(uid="test", energizer_uid="unit", read_on=day(-1), earth_kv=0.9))
    beside, words, source = row(stage, "Earth test", bare)
    assert beside == "too much, read Tue 12 May"
    assert words == "Read at the energizer on Tue 12 May 2026."
    assert source == str(OWN_RECORDS)
