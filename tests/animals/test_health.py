from __future__ import annotations

from datetime import date, timedelta
from typing import Any

import pytest
import shapely

from pigmap.animals.health import (
    APART_DAYS,
    ROUNDWORM_YEARS,
    STANDSTILL_DAYS,
    PigsHere,
    Withdrawal,
    apart_until,
    pigs_within,
    standstill_until,
    withdrawal_on,
)
from pigmap.animals.health_words import apart_words, roundworm_words, standstill_words
from pigmap.records import GroundJob, GroundJobKind, GroupEvent, GroupEventKind, Stay, StayState, Treatment
from tests.animals.invented import CAME, farm, pigs

DAY = date(2026, 7, 1)
HERE = shapely.box(0, 0, 50, 50)
BESIDE = shapely.box(50, 0, 100, 50)


def stay(uid: str, first: date, last: date | None, ground: Any = HERE, state: StayState = StayState.PAST) -> Stay:
    return Stay(uid=uid, group_uid="g", paddock_uid="p", ground=ground, state=state, in_on=first, out_on=last)


def told(kind: GroundJobKind, ground: Any = HERE, on: date | None = None) -> GroundJob:
    return GroundJob(uid=f"{kind}{on}", kind=kind, shape=shapely.MultiPolygon([ground]), happened_on=on)


def test_pigs_that_were_here_within_nine_years_are_told_with_their_last_day() -> None:
    made = farm(*pigs(), stay("a", date(2019, 5, 1), date(2019, 5, 6)), stay("b", date(2016, 5, 1), date(2016, 5, 6)))
    assert pigs_within(made, HERE, DAY) == PigsHere(date(2019, 5, 6), True, True)
    assert pigs_within(made, HERE, date(2029, 1, 1)) == PigsHere(date(2019, 5, 6), False, True)
    assert pigs_within(made, BESIDE, DAY) == PigsHere(None, False, True)
    assert pigs_within(made, HERE, DAY, years=3).within is False


def test_plans_do_not_count_and_pigs_that_are_here_do() -> None:
    planned = stay("a", DAY - timedelta(days=9), None, state=StayState.PLANNED)
    running = stay("b", DAY - timedelta(days=3), None, state=StayState.RUNNING)
    assert pigs_within(farm(*pigs(), planned), HERE, DAY).last_on is None
    assert pigs_within(farm(*pigs(), running), HERE, DAY).last_on == DAY


def test_what_somebody_told_of_before_the_records_counts() -> None:
    used = told(GroundJobKind.USED_BEFORE, on=date(2020, 10, 1))
    assert pigs_within(farm(used), HERE, DAY) == PigsHere(date(2020, 10, 1), True, False)
    never = told(GroundJobKind.NEVER_USED)
    assert pigs_within(farm(never), HERE, DAY) == PigsHere(None, False, True)
    assert pigs_within(farm(never), shapely.box(0, 0, 100, 50), DAY) == PigsHere(None, False, False)


def test_records_that_do_not_reach_back_leave_it_open() -> None:
    made = farm(*pigs(), stay("a", date(2025, 5, 1), date(2025, 5, 6), BESIDE))
    assert pigs_within(made, HERE, DAY) == PigsHere(None, False, False)


@pytest.mark.parametrize(
    ("found", "words"),
    [
        (
            PigsHere(date(2026, 5, 6), True, True),
            "Pigs were here last on 2026-05-06. Eggs of roundworm can live in ground for 9 years and more, and infect "
            "pigs after 4 to 6 warm weeks: rest brings back the grass, not clean ground. Young pigs come first.",
        ),
        (
            PigsHere(None, False, True),
            "No pigs are known here within 9 years. Eggs of roundworm can live longer, and come with boots and gear.",
        ),
        (
            PigsHere(None, False, False),
            "No pigs are recorded here, but the records do not reach back 9 years, for which eggs of roundworm can "
            "live.",
        ),
    ],
)
def test_ground_is_never_said_to_be_free_of_parasites(found: PigsHere, words: str) -> None:
    assert str(roundworm_words(found)) == words
    assert "free" not in words
    assert ROUNDWORM_YEARS == 9


def given(uid: str, on: date, days: int | None, group: str = "g") -> Treatment:
    return Treatment(uid=uid, group_uid=group, given_on=on, product="Wormer", withdrawal_days=days)


def test_the_longest_withdrawal_that_runs_holds_a_group() -> None:
    treated = GroupEvent(uid="t", group_uid="g", happened_on=DAY, kind=GroupEventKind.TREATED, withdrawal_days=10)
    made = farm(*pigs(), *pigs("h"), given("a", DAY - timedelta(days=1), 5), given("b", DAY, 40, "h"), treated)
    assert withdrawal_on(made, "g", DAY) == Withdrawal(DAY + timedelta(days=11), False)
    assert withdrawal_on(made, "g", DAY - timedelta(days=1)) == Withdrawal(DAY + timedelta(days=5), False)
    assert withdrawal_on(made, "g", DAY + timedelta(days=11)) == Withdrawal(None, False)


def test_days_that_nobody_typed_are_not_made_up() -> None:
    made = farm(*pigs(), given("a", DAY, None))
    assert withdrawal_on(made, "g", DAY) == Withdrawal(None, True)
    assert withdrawal_on(farm(*pigs()), "g", DAY) == Withdrawal(None, False)


def test_newcomers_are_kept_apart_for_thirty_days_and_then_no_more() -> None:
    made = farm(*pigs(), *pigs("h", on=CAME + timedelta(days=100)))
    until = CAME + timedelta(days=APART_DAYS)
    assert APART_DAYS == 30
    assert apart_until(made, "g", CAME) == apart_until(made, "g", until - timedelta(days=1)) == until
    assert apart_until(made, "g", until) is None
    assert apart_until(made, "g", CAME - timedelta(days=1)) is None
    assert str(apart_words(until)) == "Newcomers: keep them apart until 2026-01-31, 30 days at the least."


def test_the_standstill_counts_from_the_last_pigs_that_came_to_any_group_and_is_advice() -> None:
    late = CAME + timedelta(days=10)
    made = farm(*pigs(), *pigs("h", on=late))
    assert STANDSTILL_DAYS == 20
    assert standstill_until(made, late) == late + timedelta(days=20)
    assert standstill_until(made, late + timedelta(days=20)) is None
    assert str(standstill_words(date(2026, 1, 31))) == (
        "Pigs came on: in England none leave before 2026-01-31, 20 days. Ask what holds where you are: local rules "
        "come first."
    )
