from __future__ import annotations

from datetime import date

import pytest

from pigmap.fence.cautions.readings import earth_test, weak_reading
from pigmap.records import Check, Energizer, EnergizerReading
from tests.fence.cautions.invented import said

DAY = date(2026, 5, 20)
UNIT = Energizer(uid="unit", name="Wood unit")


def check(kv: float | None, day: int = 20) -> Check:
    return Check(checked_on=date(2026, 5, day), paddock_uid="p", fence_kv=kv)


def test_below_two_kilovolts_a_fence_is_seen_to_today() -> None:
    weak = weak_reading("North 3", [check(1.9)])
    assert weak is not None
    assert (weak.id, weak.level, weak.held) == ("W8", "stop", "reason")
    assert said(weak) == [
        (
            "North 3 read 1.9 kV on Wed 20 May 2026; do not rely on a fence below 2 kV.",
            "See to it today: read at the energizer, then walk the fence, and read again at the far end.",
        )
    ]


def test_below_three_it_wants_a_hand() -> None:
    weak = weak_reading("North 3", [check(2.9)])
    assert weak is not None
    assert (weak.level, weak.held) == ("warn", "care")
    assert said(weak) == [
        (
            "North 3 read 2.9 kV on Wed 20 May 2026, below 3 kV.",
            "Mow, clear the bottom strand, look at the clips, then read again at the far end.",
        )
    ]


@pytest.mark.parametrize(("kv", "level"), [(1.9, "stop"), (2.0, "warn"), (2.1, "warn"), (2.9, "warn"), (3.0, None)])
def test_on_a_limit_the_better_of_two_holds(kv: float, level: str | None) -> None:
    found = weak_reading("North 3", [check(kv)])
    assert (found.level if found is not None else None) == level


def test_only_the_last_reading_counts_and_one_that_was_not_taken_is_none() -> None:
    assert weak_reading("North 3", [check(1.0, 18), check(4.0, 19), check(None)]) is None
    assert weak_reading("North 3", [check(4.0, 18), check(1.0, 19)]) is not None
    assert weak_reading("North 3", []) is None


def test_of_two_on_one_day_the_one_written_down_last_counts() -> None:
    before, after = (
        Check(uid=uid, checked_on=DAY, paddock_uid="p", fence_kv=kv) for uid, kv in (("b", 5.0), ("a", 1.5))
    )
    assert weak_reading("North 3", [before, after]) is not None
    assert weak_reading("North 3", [after, before]) is None


def test_an_earth_test_that_reads_much_is_told_with_what_to_do() -> None:
    found = earth_test(UNIT, [EnergizerReading(energizer_uid="unit", read_on=DAY, earth_kv=0.4)], DAY)
    assert found is not None
    assert (found.id, found.held) == ("W9", "care")
    assert said(found) == [
        (
            "Wood unit: the earth test of Wed 20 May 2026 read 0.40 kV, more than 0.3 kV.",
            "Wet the ground round the earth stakes or set one more, then test again.",
        )
    ]


@pytest.mark.parametrize(
    ("kv", "held"), [(0.2, None), (0.3, None), (0.31, "care"), (0.4, "care"), (0.5, "care"), (0.6, "reason")]
)
def test_earth_stakes_are_much_or_too_much(kv: float, held: str | None) -> None:
    found = earth_test(UNIT, [EnergizerReading(energizer_uid="unit", read_on=DAY, earth_kv=kv)], DAY)
    assert (found.held if found is not None else None) == held


def test_a_test_of_tomorrow_and_one_that_was_put_right_say_nothing() -> None:
    readings = [
        EnergizerReading(energizer_uid="unit", read_on=date(2026, 5, day), earth_kv=kv)
        for day, kv in ((1, 0.9), (10, 0.1), (21, 0.9))
    ]
    assert earth_test(UNIT, readings, DAY) is None
    assert earth_test(UNIT, readings[:1], DAY) is not None
