"""What rules the days of a group: withdrawal, a sow that is due, pigs that are booked."""

from __future__ import annotations

from datetime import timedelta

from pigmap.document.edits import book_slaughter, farrow, serve, treat
from pigmap.planning.coming import Sort, coming_of, ruling
from tests.document.example_farm import DAY, GROUP, OTHERS, done, example

FARM = done(
    example(),
    treat(GROUP, DAY, "Wormer", withdrawal_days=7),
    serve(GROUP, "Berta", None, due_on=DAY + timedelta(days=20)),
    book_slaughter(DAY + timedelta(days=12), group_uid=GROUP, pigs=3),
)


def said(day: int) -> list[str]:
    return [str(each.words) for each in ruling(FARM, GROUP, DAY + timedelta(days=day))]


def test_what_rules_the_days_of_a_group_is_told_in_order() -> None:
    found = coming_of(FARM, GROUP)
    assert [each.sort for each in found] == [Sort.HELD, Sort.BOOKED, Sort.DUE]
    assert [str(each.words) for each in found] == [
        "Wormer: free on 2026-05-09",
        "3 pigs booked for 2026-05-13",
        "Berta due on 2026-05-21",
    ]
    assert not coming_of(FARM, OTHERS)


def test_a_day_is_ruled_by_what_runs_or_is_close_ahead() -> None:
    assert said(0) == ["Wormer: free on 2026-05-09"]
    assert said(7) == ["Wormer: free on 2026-05-09", "3 pigs booked for 2026-05-13"]
    assert said(8) == ["3 pigs booked for 2026-05-13"]
    assert said(12) == ["3 pigs booked for 2026-05-13", "Berta due on 2026-05-21"]
    assert said(-1) == []
    assert said(21) == []


def test_a_sow_that_farrowed_and_an_answer_of_no_days_rule_nothing() -> None:
    farm = done(FARM, farrow(GROUP, "Berta", DAY + timedelta(days=19)), treat(OTHERS, DAY, "Iron", withdrawal_days=0))
    assert Sort.DUE not in [each.sort for each in coming_of(farm, GROUP)]
    assert not coming_of(farm, OTHERS)
