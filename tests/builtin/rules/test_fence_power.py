from __future__ import annotations

from datetime import timedelta

from pigmap.builtin.rules.fence_power import rule
from pigmap.records import Check, Energizer, EnergizerReading, WeatherDay
from tests.planning.invented import TODAY, farm_with, stay


def _check(kv: float, days_ago: int = 0, paddock: str = "paddock 0 0") -> Check:
    return Check(checked_on=TODAY - timedelta(days=days_ago), paddock_uid=paddock, fence_kv=kv)


def test_a_fence_that_reads_too_little_is_a_fact_and_one_that_reads_little_wants_care() -> None:
    for kv, weight in ((1.9, "fact"), (2.9, "care")):
        (breach,) = rule.breaches(farm_with(_check(kv), *stay("sows", (0, 0), -2, 5)), TODAY)
        assert (breach.weight, breach.caution, breach.uid) == (weight, "W8", "sows 0 0 -2")
        assert f"{kv} kV" in str(breach.words)
        assert "read" in str(breach.remedy)
    assert not list(rule.breaches(farm_with(_check(3.0), *stay("sows", (0, 0), -2, 5)), TODAY))


def test_only_readings_of_this_stay_up_to_today_count() -> None:
    here = [*stay("sows", (0, 0), -2, 5)]
    assert not list(rule.breaches(farm_with(_check(1.0, 3), *here), TODAY))
    assert not list(rule.breaches(farm_with(_check(1.0, -1), *here), TODAY))
    assert not list(rule.breaches(farm_with(_check(1.0, 0, "elsewhere"), *here), TODAY))
    assert not list(rule.breaches(farm_with(_check(1.0), *stay("sows", (0, 0), -9, -5)), TODAY))


def test_an_earth_test_is_told_of_at_its_energizer() -> None:
    unit = Energizer(uid="unit", name="Yard unit")
    for kv, weight in ((0.4, "care"), (0.6, "fact")):
        reading = EnergizerReading(energizer_uid="unit", read_on=TODAY, earth_kv=kv)
        (breach,) = rule.breaches(farm_with(unit, reading), TODAY)
        assert (breach.table, breach.uid, breach.weight, breach.caution) == ("energizers", "unit", weight, "W9")
    assert not list(rule.breaches(farm_with(unit), TODAY))


def test_frost_is_told_of_each_fence_that_stands() -> None:
    frost = [WeatherDay(day=TODAY - timedelta(days=days), min_c=-9.0, max_c=-1.0) for days in range(3)]
    rows = [*stay("sows", (0, 0), -2, 5), *stay("weaners", (100, 0), -2, 5), *stay("weaners", (200, 0), 5, 9)]
    found = list(rule.breaches(farm_with(*frost, *rows), TODAY))
    assert [(each.caution, each.uid) for each in found] == [("W14", "sows 0 0 -2"), ("W14", "weaners 100 0 -2")]


def test_a_fence_that_nobody_read_is_told_of_where_the_estimate_is_weak() -> None:
    for joules, weak in ((0.01, True), (2.0, False)):
        unit = Energizer(uid="unit", name="Small unit", output_j=joules)
        found = list(rule.breaches(farm_with(unit, *stay("sows", (0, 0), -2, 5)), TODAY))
        assert [(each.caution, each.weight) for each in found] == ([("W8", "care")] if weak else [])
        for each in found:
            assert str(each.words).startswith("0 0 was not read yet. Under 2 kV is reckoned at the far end")
            assert str(each.remedy) == "Read it at the far end: the meter decides."
        read = farm_with(unit, _check(5.0), *stay("sows", (0, 0), -2, 5))
        assert not list(rule.breaches(read, TODAY))
