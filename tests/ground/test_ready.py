from __future__ import annotations

from datetime import date

import numpy as np
import pytest

from pigmap.ground import FieldGround, prepare
from pigmap.ground.ready import ReadyRange, ready_range
from pigmap.records import Record
from tests.ground.invented import WARM_C, check, farm, field, herd, on, paddock, setting, square, stay

CORNER = square(0, 0)
TIMES = float(np.exp(0.37))


def ground(*rows: Record) -> FieldGround:
    return prepare(farm(*herd(), field(), *rows), "f")


def found(made: FieldGround, day: int) -> ReadyRange:
    its = ready_range(made.on(on(day)), CORNER)
    assert its is not None
    return its


def grown_in(cover: float, regrowth: float) -> int:
    """Return the days from a cover to that of ready ground."""
    wanted = np.log((1 / cover - 1 / 0.95) / (1 / 0.75 - 1 / 0.95))
    return int(np.ceil(wanted / regrowth / (WARM_C - 5) - 1e-9))


def test_bare_ground_that_was_seen_is_ready_sooner_or_later_by_its_regrowth_alone() -> None:
    its = found(ground(paddock(), stay("s", 0, 1), check("c", 1, 4)), 1)
    expected = [grown_in(0.02, 0.0065 * times) for times in (TIMES, 1, 1 / TIMES)]
    assert its == ReadyRange(*expected)
    assert expected == [46, 67, 96]


def test_the_ends_are_what_the_settings_of_the_farm_one_deviation_off_give() -> None:
    rows = stay("s", 0, 35), stay("t", 5, 30, square(20, 20))
    tried = []
    for loss, regrowth in ((TIMES, 1), (1 / TIMES, 1), (1, TIMES), (1, 1 / TIMES), (1, 1)):
        changed = setting("cover loss", str(0.113 * loss)), setting("cover regrowth", str(0.0065 * regrowth))
        tried.append(found(ground(*rows, *changed), 35).middle)
    its = found(ground(*rows), 35)
    assert its == ReadyRange(min(tried), tried[-1], max(tried))
    assert its.soonest < its.middle < its.latest


def test_ground_that_waits_for_its_rest_alone_is_ready_on_one_day() -> None:
    assert found(ground(stay("s", 0, 1)), 1) == ReadyRange(30, 30, 30)


def test_where_growth_is_so_slow_that_no_end_is_in_sight_the_latest_is_not_told() -> None:
    slow = setting("cover regrowth", "0.00018")
    its = found(ground(paddock(), slow, stay("s", 0, 1), check("c", 1, 2)), 1)
    assert (its.soonest, its.middle, its.latest) == (grown_in(0.5, 0.00018 * TIMES), grown_in(0.5, 0.00018), -1)


def test_under_pigs_no_day_is_told() -> None:
    assert found(ground(stay("s", 0, 9)), 4) == ReadyRange(-1, -1, -1)


def test_the_whole_field_is_ready_when_its_last_part_is() -> None:
    made = ground(stay("s", 0, 1, CORNER), stay("t", 5, 8, square(50, 0)))
    whole = ready_range(made.on(on(10)))
    assert whole is not None
    assert whole.middle == 28
    assert ready_range(made.on(on(10)), square(900, 900)) is None


@pytest.mark.parametrize("day", [3, 20, 60])
def test_a_range_asked_for_twice_is_the_same(day: int) -> None:
    made = ground(stay("s", 0, 3))
    assert found(made, day) == found(made, day)
    assert date.fromordinal(on(day).toordinal() + max(found(made, day).latest, 0)) >= on(day)
