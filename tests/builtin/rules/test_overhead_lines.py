from __future__ import annotations

import shapely

from pigmap.builtin.rules.overhead_lines import rule
from pigmap.records import StayState, Way, WayKind
from tests.planning.invented import TODAY, farm_with, stay


def _line(east: float, voltage_kv: float | None = 11.0) -> Way:
    line = shapely.LineString([(east, -100), (east, 300)])
    return Way(kind=WayKind.OVERHEAD_LINE, line=line, voltage_kv=voltage_kv)


def test_a_plan_under_a_line_is_held_whatever_the_reason() -> None:
    (breach,) = rule.breaches(farm_with(_line(25), *stay("sows", (0, 0), 2, 5)), TODAY)
    assert (breach.weight, breach.reason_helps, breach.caution, breach.table) == ("plan", "never", "W3", "stays")
    assert str(breach.words) == "0 0 lies under the overhead line, and nothing tells how high that hangs."
    assert str(breach.remedy).startswith("Set it 4 m or more to one side.")
    assert "annex BB.1" in str(breach.source)


def test_what_stood_or_stands_there_is_a_fact_that_is_flagged_once_for_each() -> None:
    rows = [*stay("sows", (0, 0), -30, -25), *stay("sows", (0, 0), -20, -15), *stay("weaners", (0, 0), -2, 5)]
    farm = farm_with(_line(53.9), *rows)
    past, running = rule.breaches(farm, TODAY)
    assert (past.weight, running.weight) == ("fact", "fact")
    assert past.is_about("sows 0 0 -30")
    assert past.is_about("sows 0 0 -20")
    assert str(past.remedy) == "That is over. Keep the next one clear, or put right what is drawn wrong."
    assert str(running.remedy).startswith("Set it clear of the line.")
    assert farm.stays["weaners 0 0 -2"].state is StayState.RUNNING


def test_ten_centimetres_more_keep_the_distance() -> None:
    assert len(list(rule.breaches(farm_with(_line(53.9), *stay("sows", (0, 0), 2, 5)), TODAY))) == 1
    assert not [
        each
        for each in rule.breaches(farm_with(_line(54.1), *stay("sows", (0, 0), 2, 5)), TODAY)
        if each.weight != "care"
    ]


def test_a_side_along_a_line_wants_care_and_one_of_the_past_is_not_told_of() -> None:
    (care,) = rule.breaches(farm_with(_line(60), *stay("sows", (0, 0), 2, 5)), TODAY)
    assert care.weight == "care"
    assert not list(rule.breaches(farm_with(_line(60), *stay("sows", (0, 0), -9, -5)), TODAY))
