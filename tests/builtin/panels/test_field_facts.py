from __future__ import annotations

from collections.abc import Iterator
from datetime import timedelta
from pathlib import Path

import pytest
import shapely
from pytestqt.qtbot import QtBot

from pigmap.builtin.panels.card import Card
from pigmap.builtin.panels.other_facts import card_of
from pigmap.document.edits import Before, amend, remove, set_purpose, tell_before, tell_before_of_field
from pigmap.qt.stage import Picked, Stage
from pigmap.records import Edit, GroundCover, GroundJob, GroundJobKind, Use, add
from pigmap.records.season import Season, about_season
from pigmap.text import Text
from tests.qt.window_farm import day, made_panel, made_stage

NEVER = Before(kind=GroundJobKind.NEVER_USED)
AUTUMN = about_season(Season.AUTUMN, 2024)
HARD = Before(kind=GroundJobKind.USED_BEFORE, happened_on=AUTUMN.day, within_days=AUTUMN.within_days, rooting_score=3)


@pytest.fixture
def stage(qtbot: QtBot, tmp_path: Path) -> Iterator[Stage]:
    with made_stage(tmp_path) as made:
        yield made


def facts(stage: Stage, label: str) -> list[tuple[str, str]]:
    card = card_of(stage, Picked("fields", "field"))
    assert card is not None
    return [(fact.figure, fact.rests_on) for fact in card.facts if fact.label == label]


def test_what_nobody_told_of_is_not_known_before_the_records(stage: Stage) -> None:
    assert facts(stage, "Before") == [("not known", "before May 2026")]


def test_never_used_is_what_someone_said(stage: Stage) -> None:
    stage.session.do(tell_before_of_field("field", NEVER)).result()
    assert facts(stage, "Before") == [("never used", "you said")]


def test_pieces_told_of_are_listed_with_their_share_the_largest_first(stage: Stage) -> None:
    stage.session.do(tell_before_of_field("field", NEVER)).result()
    for west in (0, 200):
        stage.session.do(tell_before(shapely.box(west, -20, west + 44, 130), HARD)).result()
    assert facts(stage, "Before") == [
        ("never used", "80 % of it, you said"),
        ("pigs about autumn 2024, hard", "20 % of it"),
    ]


def test_more_pieces_than_fit_are_counted(stage: Stage) -> None:
    for number in range(5):
        before = Before(kind=GroundJobKind.USED_BEFORE, happened_on=AUTUMN.day.replace(year=2015 + number))
        stage.session.do(tell_before(shapely.box(number * 80 - 20, -20, number * 80 + 60, 130), before)).result()
    assert len(facts(stage, "Before")) == 4
    assert facts(stage, "Before")[-1] == ("3 more pieces", "")


def test_how_much_was_never_used_and_how_much_is_not_known_are_told_apart(stage: Stage) -> None:
    def shares() -> list[float]:
        told = (facts(stage, label) for label in ("Never used", "Not known"))
        return [int(found[0][1].split(" ")[0]) / 100 if found else 0.0 for found in told]

    # 440 by 150 m, of which three paddocks of 50 by 50 m for each of two groups were used.
    assert shares() == [0.0, 0.77]
    stage.session.do(tell_before(shapely.box(-20, -20, 200, 130), NEVER)).result()
    never, unknown = shares()
    assert never + unknown == pytest.approx(0.77, abs=0.011)
    assert never > 0.2
    stage.session.do(tell_before_of_field("field", NEVER)).result()
    assert shares() == [0.77, 0.0]
    assert facts(stage, "Never used")[0][0] == "5.1 ha"


def test_pig_days_count_each_pig_for_each_day_on_the_field(stage: Stage) -> None:
    # Two groups of 8 pigs, each 5 days on two paddocks and 2 days on the third.
    assert facts(stage, "Pig-days") == [("192", "in 12 months")]
    stage.show_day(stage.today + timedelta(days=800))
    assert facts(stage, "Pig-days") == [("0", "in 12 months")]


def test_nitrogen_says_how_much_of_the_field_is_above_the_cap(stage: Stage) -> None:
    assert facts(stage, "Nitrogen")[0][1] == "in 12 months"
    ground = shapely.MultiPolygon([shapely.box(-20, -20, 200, 130)])
    manure = GroundJob(kind=GroundJobKind.MANURE, shape=ground, happened_on=day(-10), n_kg_ha=180.0)
    stage.session.do(Edit(Text("Made for a test."), lambda farm: [add(manure)])).result()
    assert facts(stage, "Nitrogen")[0][1] == "50 % of it above 170 kg/ha"


def test_ready_ground_grows_with_rest(stage: Stage) -> None:
    today = facts(stage, "Ready now")[0]
    stage.show_day(day(300))
    later = facts(stage, "Ready now")[0]
    assert today[1] == "77 % of it"
    assert later[1] == "100 % of it"


def test_a_field_says_what_it_is_for_and_what_follows(stage: Stage) -> None:
    assert facts(stage, "Purpose") == [("graze lightly", "all year")]
    assert facts(stage, "Rest") == [("60 days wanted", "typed")]
    assert facts(stage, "Rooting") == [("up to 25 % welcome", "as is usual")]
    stage.session.do(amend("purposes", "purpose", purpose=Use.TURN_OVER, rest_days_wanted=None)).result()
    assert facts(stage, "Rest") == [("30 days wanted", "as is usual")]
    assert facts(stage, "Rooting") == [("welcome, all of it", "as is usual")]
    stage.session.do(amend("purposes", "purpose", rooting_wanted=0.0)).result()
    assert facts(stage, "Rooting") == [("none is welcome", "typed")]


def test_a_field_of_which_nothing_is_said_is_grazed_lightly_all_year(stage: Stage) -> None:
    stage.session.do(remove("purposes", "purpose")).result()
    assert facts(stage, "Purpose") == [("graze lightly", "all year")]
    assert facts(stage, "Rest") == [("30 days wanted", "as is usual")]


def test_a_part_of_the_year_and_days_left_out(stage: Stage) -> None:
    stage.session.do(amend("purposes", "purpose", from_month_day="03-16", to_month_day="11-30")).result()
    assert facts(stage, "Purpose") == [("graze lightly", "until 30 Nov")]
    stage.session.do(amend("purposes", "purpose", from_month_day="09-01")).result()
    assert facts(stage, "Purpose") == [("graze lightly", "nothing is said of this part of the year")]


def test_two_purposes_on_one_day_are_both_named(stage: Stage) -> None:
    stage.session.do(set_purpose("field", "05-01", "05-31", Use.TURN_OVER)).result()
    (shown,) = facts(stage, "Purpose")
    assert set(shown[0].split(" and ")) == {"graze lightly", "turn over"}


def test_the_deed_takes_up_the_history_brush_with_the_field_picked(stage: Stage) -> None:
    with made_panel(stage, "card", (360, 600)) as card:
        assert isinstance(card, Card)
        stage.pick(Picked("fields", "field"))
        (button,) = (each for each in card._deeds.buttons if each.text() == "What was before")
        button.click()
        assert stage.verb == "before"
        assert stage.picked == Picked("fields", "field")


def test_a_wood_says_which_share_of_it_was_used_within_the_year(stage: Stage) -> None:
    assert facts(stage, "Wood used") == []
    stage.session.do(amend("fields", "field", ground_cover=GroundCover.WOODLAND)).result()
    assert facts(stage, "Wood used") == [("1.5 ha", "23 % of it, in 12 months")]  # six paddocks of 50 by 50 m
    stage.show_day(day(380))
    assert facts(stage, "Wood used")[0][1] != "23 % of it, in 12 months"
