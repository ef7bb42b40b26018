from __future__ import annotations

from datetime import date, timedelta

import pytest

from pigmap.animals.left import feeder_left, tank_left
from pigmap.animals.needs import needs
from tests.animals.invented import farm, pigs

DAY = date(2026, 7, 2)


def test_what_is_left_goes_down_by_the_most_of_each_day_since_it_was_filled() -> None:
    told = farm(*pigs(count=10, kg=80.0, tank_l=300.0, tank_filled_on=DAY, feeder_kg=100.0, feed_kg=2.5))
    need = needs(told, "g", DAY)
    assert feeder_left(told, need, DAY) is None  # nobody told when it was filled
    left = [tank_left(told, need, DAY + timedelta(days=ahead)) for ahead in range(6)]
    amounts = [each.amount for each in left if each is not None]
    assert amounts == pytest.approx([max(300.0 - ahead * need.drink_l, 0.0) for ahead in range(6)], rel=0.02)
    assert left[0] is not None
    assert left[0].days == pytest.approx(300.0 / need.drink_l)
    assert left[0].hot_days == pytest.approx(150.0 / need.drink_l, rel=0.01)
    last = left[5]
    assert last is not None
    assert last.days == pytest.approx(300.0 / need.drink_l - 5, abs=0.1)
    assert tank_left(told, need, DAY - timedelta(days=1)) is None
    assert tank_left(told, need, DAY + timedelta(days=90)) is None
