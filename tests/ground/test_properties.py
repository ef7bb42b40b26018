"""What holds of any history: small steps come to the same, and it does not matter how or in what order it is told."""

from __future__ import annotations

import math
from collections.abc import Sequence
from dataclasses import dataclass, replace
from datetime import timedelta
from functools import cache
from types import MappingProxyType

import numpy as np
import pytest
import shapely
from hypothesis import HealthCheck, given, settings
from hypothesis import strategies as st

from pigmap.ground import GroundState, prepare
from pigmap.ground.tables import COVER_BY_SCORE
from pigmap.records import (
    Check,
    Farm,
    GroundJob,
    GroundJobKind,
    GroupEvent,
    GroupEventKind,
    KeepOut,
    PigClass,
    Reason,
    Stay,
    StayState,
    WeatherDay,
)
from tests.ground.invented import farm, field, herd, on, square, stay

LAYERS = (
    "occupied",
    "used",
    "unknown",
    "seen",
    "seen_on",
    "rest_days",
    "cover",
    "rooting",
    "load_kg_d_m2",
    "n_kg_ha",
    "p_kg_ha",
    "ready_in_days",
)
SIDE_M = 20
DAYS = 400
Row = Stay | Check | GroundJob | KeepOut
usual = settings(max_examples=25, suppress_health_check=[HealthCheck.too_slow], deadline=None)


@cache
def seasons() -> tuple[WeatherDay, ...]:
    """Return days whose mean goes up and down with the year, and a little from day to day."""
    means = [10 + 9 * math.sin(2 * math.pi * (day - 15) / 365) + 3 * math.sin(2.4 * day) for day in range(-5, DAYS)]
    return tuple(
        WeatherDay(uid=f"w{day}", day=on(day), min_c=mean - 5, max_c=mean + 5)
        for day, mean in zip(range(-5, DAYS), means, strict=True)
    )


@dataclass
class Drawn:
    rows: list[Row]
    days: list[int]

    @property
    def farm(self) -> Farm:
        return told(self.rows)


def told(rows: Sequence[Row]) -> Farm:
    """Return the farm with rows: sows, whose weight stays, and finishers, which grow."""
    grown = GroupEvent(uid="grown", group_uid="h", happened_on=on(80), kind=GroupEventKind.WEIGHED, mean_kg=95.0)
    pigs = *herd("g", pigs=2), *herd("h", pigs=3, kg=40.0, pig_class=PigClass.FINISHING), grown
    made = farm(*pigs, field(outline=square(0, 0, SIDE_M)), *rows)
    return replace(made, weather_days=MappingProxyType({row.uid: row for row in seasons()}))


@st.composite
def histories(draw: st.DrawFn, *, checks: bool = True, work: bool = True) -> Drawn:
    """Draw stays of two groups that may meet, checks, work and flood months on 20 by 20 m, and days to look at."""
    place, size = st.integers(-4, 16), st.integers(6, 18)
    rows: list[Row] = []
    for number in range(draw(st.integers(0, 5))):
        ground = square(draw(place), draw(place), draw(size), draw(size))
        begin, length = draw(st.integers(0, 90)), draw(st.integers(1, 6))
        group = draw(st.sampled_from(["g", "h"]))
        rows.append(stay(f"s{number}", begin, begin + length, ground, group=group, paddock=f"p{number}"))
        if checks and draw(st.booleans()):
            day, score = begin + draw(st.integers(0, 20)), draw(st.integers(0, 4))
            rows.append(Check(uid=f"c{number}", checked_on=on(day), paddock_uid=f"p{number}", rooting_score=score))
    for number in range(draw(st.integers(0, 3)) if work else 0):
        ground = square(draw(place), draw(place), draw(size), draw(size))
        day = draw(st.integers(0, 90))
        rows.append(
            GroundJob(
                uid=f"j{number}",
                kind=draw(st.sampled_from([each for each in GroundJobKind if each is not GroundJobKind.UNKNOWN])),
                shape=shapely.MultiPolygon([ground]),
                position=number,
                happened_on=on(day),
                until_on=on(day + draw(st.integers(0, 3))),
                rooting_score=draw(st.none() | st.integers(0, 4)),
                n_kg_ha=draw(st.none() | st.floats(0, 80)),
            )
        )
    if work and draw(st.booleans()):
        ground = square(draw(place), draw(place), draw(size), draw(size))
        rows.append(KeepOut(uid="k", reason=Reason.WET, shape=ground, from_month_day="05-20", to_month_day="07-10"))
    return Drawn(rows, draw(st.lists(st.integers(-5, 250), min_size=1, max_size=5)))


def same(one: GroundState, other: GroundState) -> None:
    for name in LAYERS:
        np.testing.assert_allclose(one.cells(name), other.cells(name), rtol=2e-6, atol=3e-6, err_msg=name)


@usual
@given(histories())
def test_a_cursor_shows_what_a_look_from_nothing_shows(drawn: Drawn) -> None:
    ground = prepare(drawn.farm, "f")
    cursor = ground.cursor()
    for day in drawn.days:
        same(cursor.move_to(on(day)), ground.on(on(day)))


@usual
@given(histories(), st.randoms(use_true_random=False))
def test_the_order_in_which_records_are_read_does_not_matter(drawn: Drawn, chance: st.Random) -> None:  # type: ignore[name-defined]
    one = prepare(drawn.farm, "f")
    shuffled = list(drawn.rows)
    chance.shuffle(shuffled)
    other = prepare(told(shuffled), "f")
    for day in drawn.days:
        same(one.on(on(day)), other.on(on(day)))


@usual
@given(histories(), st.data())
def test_a_stay_and_two_that_touch_are_the_same(drawn: Drawn, data: st.DataObject) -> None:
    rows: list[Row] = []
    for row in drawn.rows:
        if not isinstance(row, Stay) or row.out_on is None or data.draw(st.booleans()):
            rows.append(row)
            continue
        length = (row.out_on - row.in_on).days
        cut = row.in_on + timedelta(days=data.draw(st.integers(1, max(length - 1, 1))))
        if cut >= row.out_on:
            rows.append(row)
            continue
        again = shapely.Polygon(np.roll(shapely.get_coordinates(row.ground)[:-1], 1, axis=0))  # begun at another corner
        rows += [replace(row, out_on=cut), replace(row, uid=f"{row.uid} on", in_on=cut, ground=again)]
    whole, parted = prepare(drawn.farm, "f"), prepare(told(rows), "f")
    for day in (*drawn.days, 30, 60, 97):
        same(whole.on(on(day)), parted.on(on(day)))


@pytest.mark.parametrize("today", [4, 8, 30])
def test_a_stay_that_runs_on_in_the_same_place_is_one(today: int) -> None:
    one = stay("a", 0, None, square(0, 0, 10), group="h", state=StayState.RUNNING)
    two = [replace(one, out_on=on(3), state=StayState.PAST), replace(one, uid="b", in_on=on(3))]
    whole, parted = (prepare(told(rows), "f", today=on(today)) for rows in ([one], two))
    for day in (1, 3, 4, 8, 20, 30):
        same(whole.on(on(day)), parted.on(on(day)))


SMALL_KG = 4.5
"""Of each of two pigs, so that a stay brings up to a quarter of a kilogram to a square metre, and two that meet twice
that: the form takes the mean warmth of a stay, and heavier loads in changing warmth differ more."""


@settings(max_examples=20, suppress_health_check=[HealthCheck.too_slow], deadline=None)
@given(histories(work=False))
def test_the_closed_form_agrees_with_small_steps_of_the_equation(drawn: Drawn) -> None:
    made = drawn.farm
    stays = {uid: replace(row, group_uid="g") for uid, row in made.stays.items()}
    weighed = {uid: replace(row, mean_kg=SMALL_KG) for uid, row in made.group_events.items()}
    made = replace(made, stays=MappingProxyType(stays), group_events=MappingProxyType(weighed))
    ground = prepare(made, "f")
    for row, column in ((2, 3), (5, 5)):
        x, y = ground.frame.to_metres(np.array([[column + 0.5, row + 0.5]]))[0]
        course = small_steps(made, float(x), float(y), max(drawn.days))
        for day in drawn.days:
            cover = ground.on(on(day)).cells("cover")[row, column]
            assert cover == pytest.approx(course.get(day, 0.95), abs=3e-4), (row, column, day)


def small_steps(made: Farm, x: float, y: float, last: int) -> dict[int, float]:
    """Return the cover of one spot at the start of each day, by steps of a tenth of a day, and nothing else."""
    stays = [row for row in made.stays.values() if shapely.contains_xy(row.ground, x + 1e-5, y + 2e-5)]
    paddocks = {row.paddock_uid: row for row in stays}
    looks = sorted(
        (row for row in made.checks.values() if row.paddock_uid in paddocks), key=lambda row: (row.checked_on, row.uid)
    )
    warm = {row.day: max((row.min_c + row.max_c) / 2 - 5.0, 0.0) for row in made.weather_days.values()}  # type: ignore[operator]
    cover, course, steps = 0.95, {}, 10
    for number in range(-5, last + 1):
        day = on(number)
        for look in looks:
            if look.checked_on == day:
                cover = max(COVER_BY_SCORE[look.rooting_score or 0], 0.02)
        course[number] = cover
        kg_m2 = sum(2 * SMALL_KG / row.ground.area for row in stays if row.in_on <= day and day < (row.out_on or day))
        growth, loss = 0.0065 * min(warm.get(day, 0.0), 20.0) / steps, 0.113 * kg_m2 / steps
        for _ in range(steps):
            half = cover + (growth * cover * (1 - cover / 0.95) - loss * cover) / 2
            cover = max(cover + growth * half * (1 - half / 0.95) - loss * half, 0.02)
    return course
