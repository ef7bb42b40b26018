"""Days that follow from what is recorded of pigs: clear of medicine, due, and how long ground lasts."""

from __future__ import annotations

from datetime import date

from pigmap.records import Litter, OwnDays, Treatment


def test_pigs_are_clear_on_the_day_after_the_days_of_withdrawal_from_the_last_dose() -> None:
    given = Treatment(group_uid="g", product="Drench", given_on=date(2026, 5, 1), withdrawal_days=14)
    assert given.clear_on == date(2026, 5, 16)
    longer = Treatment(
        group_uid="g", product="Drench", given_on=date(2026, 5, 1), last_on=date(2026, 5, 3), withdrawal_days=0
    )
    assert longer.clear_on == date(2026, 5, 4)
    assert Treatment(group_uid="g", product="Drench", given_on=date(2026, 5, 1)).clear_on is None


def test_a_sow_is_due_114_days_after_service_or_when_somebody_says() -> None:
    # 114 days ("three months, three weeks and three days"): common practice.
    assert Litter(group_uid="g", sow="A", served_on=date(2026, 1, 1)).due == date(2026, 4, 25)
    said = Litter(group_uid="g", sow="A", served_on=date(2026, 1, 1), due_on=date(2026, 4, 27))
    assert said.due == date(2026, 4, 27)
    assert Litter(group_uid="g", sow="A").due is None


def test_own_days_hold_for_a_part_of_the_year_that_may_pass_over_new_year() -> None:
    winter = OwnDays(days=2.0, from_month_day="11-01", to_month_day="03-31")
    assert [winter.covers(date(2026, month, 15)) for month in (1, 3, 4, 10, 12)] == [True, True, False, False, True]
    assert OwnDays(days=2.0).covers(date(2026, 7, 1))
    assert not OwnDays(days=2.0, from_month_day="08-01").covers(date(2026, 7, 31))
