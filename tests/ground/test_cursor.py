from __future__ import annotations

from dataclasses import dataclass
from datetime import timedelta
from typing import NamedTuple

import numpy as np
import pytest
import shapely
from hypothesis import HealthCheck, assume, given, settings
from hypothesis import strategies as st
from shapely import affinity

from pigmap.ground import FieldGround, GroundState, prepare
from pigmap.ground.tables import COVER_BY_SCORE
from pigmap.records import Check, Farm, Stay
from tests.benchmarks.ground_case import FIELD_UID, FIRST_DAY, big_ground
from tests.ground.invented import WARM_C, check, farm, field, herd, on, square, stay

NAMES = ("occupied", "used", "seen", "rest_days", "cover", "rooting", "load_kg_d_m2", "n_kg_ha", "ready_in_days")


def assert_same(one: GroundState, other: GroundState) -> None:
    assert set(one.layers) == set(other.layers)
    for name in NAMES:
        np.testing.assert_allclose(
            one.layers[name], other.layers[name], rtol=2e-6, atol=3e-6, err_msg=f"{name} on {one.day}"
        )


class Drawn(NamedTuple):
    rows: list[Stay | Check]
    days: list[int]

    @property
    def farm(self) -> Farm:
        """The farm: made when it is asked for, so that a failing example stays short in print."""
        return farm(*herd("g"), *herd("h", pigs=7, kg=180.0), field(outline=square(0, 0, 20)), *self.rows)


@st.composite
def histories(draw: st.DrawFn) -> Drawn:
    """Draw a farm of 20 by 20 m with stays of two groups, checks, and days to look at."""
    place = st.integers(-4, 18)
    rows: list[Stay | Check] = []
    for number in range(draw(st.integers(0, 7))):
        ground = square(draw(place), draw(place), draw(st.integers(3, 14)), draw(st.integers(3, 14)))
        turned = affinity.rotate(ground, draw(st.sampled_from([0.0, 0.0, 30.0, 77.0])))
        assert isinstance(turned, shapely.Polygon)
        begin = draw(st.integers(0, 60))
        group = draw(st.sampled_from(["g", "h"]))
        rows.append(
            stay(f"s{number}", begin, begin + draw(st.integers(0, 9)), turned, group=group, paddock=f"p{number}")
        )
        if draw(st.booleans()):
            seen = begin + draw(st.integers(0, 20))
            rows.append(check(f"c{number}", seen, draw(st.integers(0, 4)), f"p{number}"))
    days = draw(st.lists(st.integers(-5, 450), min_size=1, max_size=8))
    return Drawn(rows, days)


@settings(max_examples=40, suppress_health_check=[HealthCheck.too_slow], deadline=None)
@given(histories())
def test_every_cell_is_what_its_own_diary_says(drawn: Drawn) -> None:
    """Go through each cell day by day with nothing but the records, and compare."""
    drawn_farm = drawn.farm
    ground = prepare(drawn_farm, "f")
    cells = [(row, column) for row in (0, 4, 9) for column in (1, 5, 9)]
    diaries = [Diary.of(ground, drawn_farm, row, column) for row, column in cells]
    for day in drawn.days:
        state = ground.on(on(day))
        for (row, column), diary in zip(cells, diaries, strict=True):
            told = diary.on(day)
            found = {name: state.cells(name)[row, column].item() for name in told}
            assert found == pytest.approx(told, abs=2e-5, rel=1e-6), (row, column, day)


@dataclass
class Diary:
    """One cell's history by plain means: no regions, no closed form over more than a day."""

    stays: list[tuple[int, int, float]]
    """First day, first day after, live weight per area."""
    checks: list[tuple[int, int]]
    """Day and score."""

    @staticmethod
    def of(ground: FieldGround, farm: Farm, row: int, column: int) -> Diary:
        x, y = ground.frame.to_metres(np.array([[column + 0.5, row + 0.5]]))[0]
        weights = {"g": 20 * 60.0, "h": 7 * 180.0}

        def holds(each: Stay) -> bool:
            # A middle on a side belongs to the right or upper neighbour.
            slanted = shapely.box(*each.ground.bounds).area > each.ground.area + 1e-3
            # On a slanted side rounding decides.
            assume(not slanted or shapely.distance(each.ground.exterior, shapely.Point(x, y)) > 1e-3)
            return bool(shapely.contains_xy(each.ground, x + 1e-5, y + 2e-5))

        stays = [
            ((each.in_on - on(0)).days, (each.out_on - on(0)).days, weights[each.group_uid] / each.ground.area)
            for each in farm.stays.values()
            if each.out_on is not None and holds(each)
        ]
        checks = []
        for each in sorted(farm.checks.values(), key=lambda check: (check.checked_on, check.uid)):
            (looked_at,) = (stay for stay in farm.stays.values() if stay.paddock_uid == each.paddock_uid)
            if looked_at.in_on < looked_at.out_on and holds(looked_at):  # type: ignore[operator]
                checks.append(((each.checked_on - on(0)).days, each.rooting_score or 0))
        return Diary([each for each in stays if each[0] < each[1]], checks)

    def on(self, day: int) -> dict[str, float]:
        here = any(first <= day < last for first, last, _ in self.stays)
        left = max((last for _, last, _ in self.stays if last <= day), default=None)
        rest = 0 if here else -1 if left is None else day - left
        return {
            "occupied": here,
            "used": here or left is not None,
            "rest_days": rest,
            "seen": self._seen(day),
            "cover": self._cover(day),
            "load_kg_d_m2": sum(kg for back in range(day - 365, day) for kg in self._weights(back)),
        }

    def _weights(self, day: int) -> list[float]:
        return [kg for first, last, kg in self.stays if first <= day < last]

    def _seen(self, day: int) -> bool:
        looked = max((seen for seen, _ in self.checks if seen <= day), default=None)
        if looked is None or day - looked >= 42:
            return False
        return not any(looked < first <= day for first, _, _ in self.stays)

    def _cover(self, day: int) -> float:
        y = 1 / 0.95
        for each in range(-5, day + 1):
            for seen, score in self.checks:
                if seen == each:
                    y = 1 / max(COVER_BY_SCORE[score], 0.02)
            if each < day:
                growth, loss = 0.0065 * (WARM_C - 5), 0.113 * sum(self._weights(each))
                x = growth - loss
                y = min(y * np.exp(-x) + growth / 0.95 * (1 - np.exp(-x)) / x, 50.0)
        return float(1 / y)


@pytest.mark.parametrize("snapped", [True, False])
def test_on_a_large_farm_the_cursor_agrees_with_a_look_from_nothing(
    snapped: bool, monkeypatch: pytest.MonkeyPatch
) -> None:
    monkeypatch.setattr("tests.benchmarks.ground_case.STAYS", 300)
    monkeypatch.setattr("tests.benchmarks.ground_case.SIDE_M", 300.0)
    ground = prepare(big_ground(1, snapped), FIELD_UID)
    cursor = ground.cursor()
    for day in (0, 1, 2, 40, 41, 90, 60, 59, 58, 108, 0, 400, 30):
        assert_same(cursor.move_to(FIRST_DAY + timedelta(days=day)), ground.on(FIRST_DAY + timedelta(days=day)))


def test_a_state_stays_what_it_was_when_the_cursor_moves_on() -> None:
    ground = prepare(farm(*herd(), field(), stay("s", 0, 5), stay("t", 9, 12)), "f")
    cursor = ground.cursor()
    before = cursor.move_to(on(3))
    cursor.move_to(on(11))
    cursor.move_to(on(60))
    assert_same(before, ground.on(on(3)))


def test_a_cursor_goes_back_and_on_over_several_turns_of_the_same_ground() -> None:
    # With many regions elsewhere a step of some days is not looked up from nothing.
    elsewhere = [stay(f"e{n}", n % 3, 3 + n % 3, square(2 * n, 60, 2), group=f"e{n}") for n in range(40)]
    here = [stay(f"s{n}", 20 + 4 * n, 22 + 4 * n) for n in range(5)]
    ground = prepare(farm(*herd(), field(), *elsewhere, *here), "f")
    assert ground.regions > 40
    cursor = ground.cursor()
    for day in (10, 19, 27, 39, 45, 33, 25, 21, 19, 31, 60):
        assert_same(cursor.move_to(on(day)), ground.on(on(day)))
