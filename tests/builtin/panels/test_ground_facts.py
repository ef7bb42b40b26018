from __future__ import annotations

from collections.abc import Iterator
from dataclasses import replace
from pathlib import Path

import pytest
import shapely
from pytestqt.qtbot import QtBot

from pigmap.builtin.panels.card_facts import Fact
from pigmap.builtin.panels.ground_facts import ground_facts
from pigmap.qt.stage import Stage
from pigmap.records import Check, Edit, GroundJob, GroundJobKind, GroupEventKind, KeepOut, Reason, Record, add
from pigmap.text import Text
from tests.qt.window_farm import day, made_stage


@pytest.fixture
def stage(qtbot: QtBot, tmp_path: Path) -> Iterator[Stage]:
    with made_stage(tmp_path) as made:
        yield made


def facts(stage: Stage, *rows: Record, paddock: str = "group0p0") -> dict[str, Fact]:
    if rows:
        stage.session.do(Edit(Text("Some rows"), lambda _: [add(row) for row in rows])).result()
    outline = stage.session.farm.paddocks[paddock].outline
    return {fact.label: fact for fact in ground_facts(stage, "field", outline)}


def looked(score: int) -> Check:
    return Check(uid="look", checked_on=day(-5), paddock_uid="group0p0", rooting_score=score)


def test_ground_that_was_seen_bare_is_ready_between_two_days_and_wants_seed(stage: Stage) -> None:
    found = facts(stage, looked(4))
    assert found["Ground"].figure == "all rooted"
    assert found["Ready"].figure.startswith("about ")
    assert found["Ready"].rests_on == "5 Jul to 16 Aug"  # 60 days of rest end on 5 July
    assert (found["Seed"].figure, found["Seed"].rests_on) == ("sow again", "0.25 ha of it")
    reason = found["Seed"].why
    assert reason is not None
    assert reason.words == (
        "Sow 0.25 ha again: more than 70 % of it was rooted when its rest began. "
        "Mixes go in from mid April to early September, in soil of 7 °C or more."
    )
    assert "extension column" in reason.source


def test_ground_that_only_waits_for_its_rest_has_one_day_and_wants_no_seed(stage: Stage) -> None:
    found = facts(stage, looked(0))
    assert found["Ready"].rests_on == "if it stays mild"
    assert "Seed" not in found


def test_computed_rooting_that_is_little_to_be_trusted_says_so_and_why(stage: Stage) -> None:
    sows = stage.session.farm.group_events["group0in"]
    assert facts(stage)["Ground"].rests_on.startswith("computed; ")
    weighed = replace(sows, uid="heavy", happened_on=day(-60), kind=GroupEventKind.WEIGHED, mean_kg=180.0)
    found = facts(stage, weighed)
    assert found["Ground"].rests_on.startswith("computed, rough; ")
    reason = found["Ground"].why
    assert reason is not None
    assert "computed rooting is mostly too much: it counts their number too strongly" in reason.words


def test_what_keeps_pigs_off_is_told_where_ready_says_why(stage: Stage) -> None:
    ground = shapely.MultiPolygon([stage.session.farm.paddocks["group0p0"].outline])
    sown = GroundJob(uid="seed", kind=GroundJobKind.SEEDED, shape=ground, happened_on=day(-1))
    bog = KeepOut(uid="bog", reason=Reason.WET, shape=ground, from_month_day="05-01", to_month_day="06-30")
    reason = facts(stage, sown, bog)["Ready"].why
    assert reason is not None
    assert "What was sown or done on it keeps pigs off until Tue 4 Aug 2026." in reason.words
    assert "Its purpose or its months keep pigs off until Wed 1 Jul 2026." in reason.words
    always = KeepOut(uid="always", reason=Reason.WET, shape=ground, from_month_day="01-01", to_month_day="12-31")
    found = facts(stage, always)["Ready"]
    assert found.figure == "not within sight"
    assert found.why is not None
    assert "Its purpose or its months keep pigs off all year." in found.why.words
