from __future__ import annotations

from dataclasses import replace
from datetime import date

import pytest
import shapely

from pigmap.drawing.words import render
from pigmap.ground import GroundState, prepare
from pigmap.ground.advice import seed_advice, seed_wanted, weak_readings
from pigmap.records import Field, GroundCover, GroundJob, GroundJobKind, Record
from tests.ground.invented import START, check, farm, field, herd, on, paddock, setting, square, stay

CORNER = square(0, 0)
CELLS_M2 = 2500.0


def state(day: int, *rows: Record, cover: GroundCover = GroundCover.PASTURE, pigs: int = 20) -> GroundState:
    return prepare(farm(*herd(pigs=pigs), field(cover=cover), *rows), "f").on(on(day))


def left(score: int, day: int = 5) -> tuple[Record, ...]:
    return paddock(), stay("s", 0, day), check("c", day, score)


def its_field(cover: GroundCover = GroundCover.PASTURE) -> Field:
    return field(cover=cover)


def test_ground_that_was_mostly_rooted_when_its_rest_began_is_sown_again() -> None:
    made = state(8, *left(3))
    assert seed_wanted(made, its_field(), CORNER) == (CELLS_M2, 0.0)
    words = seed_advice(made, its_field(), CORNER)
    assert words is not None
    assert render(words.words) == "Sow 0.25 ha again: more than 70 % of it was rooted when its rest began."


def test_ground_that_was_half_rooted_and_is_long_in_coming_back_is_sown_over() -> None:
    slow = setting("cover regrowth", "0.001")
    made = state(8, *left(2), slow)
    assert seed_wanted(made, its_field(), CORNER) == (0.0, CELLS_M2)
    words = seed_advice(made, its_field(), CORNER)
    assert words is not None
    assert render(words.words) == (
        "Sow over 0.25 ha: more than 40 % of it was rooted when its rest began, and it takes more than 60 days to come "
        "back."
    )
    assert seed_advice(state(8, *left(2)), its_field(), CORNER) is None  # back in a month


@pytest.mark.parametrize("score", [0, 1])
def test_ground_that_was_a_quarter_rooted_wants_no_seed(score: int) -> None:
    assert seed_advice(state(8, *left(score), setting("cover regrowth", "0.001")), its_field(), CORNER) is None


def test_nothing_is_said_under_pigs_of_ground_that_came_back_and_of_ground_that_is_sown() -> None:
    assert seed_advice(state(4, stay("s", 0, 9, square(0, 0, 20))), its_field()) is None
    assert seed_advice(state(200, *left(4)), its_field(), CORNER) is None
    sown = GroundJob(uid="j", kind=GroundJobKind.SEEDED, shape=shapely.MultiPolygon([CORNER]), happened_on=on(7))
    assert seed_advice(state(20, *left(4), sown), its_field(), CORNER) is None


@pytest.mark.parametrize("cover", [GroundCover.WOODLAND, GroundCover.SCRUB])
def test_nobody_sows_under_trees(cover: GroundCover) -> None:
    assert seed_advice(state(8, *left(4), cover=cover), its_field(cover), CORNER) is None


def test_a_few_squares_are_not_worth_a_word() -> None:
    made = state(8, paddock("p", square(0, 0, 10)), stay("s", 0, 5, square(0, 0, 10)), check("c", 5, 4))
    assert seed_advice(made, its_field()) is None
    assert seed_advice(made, its_field(), square(0, 0, 20)) is not None


def winter(day: date, *, south: bool = False, pigs: int = 20) -> list[str]:
    first = (day - START).days - 20
    made = state(first + 20, stay("s", first, first + 15), pigs=pigs)
    return [render(words) for words in weak_readings(made, CORNER, south=south)]


IN_WINTER = "In the dark months computed rooting is mostly too much: look yourself."
DENSE = (
    "With more than 4500 kg/ha of pigs on the ground computed rooting is mostly too much: it counts their number too "
    "strongly and their moving on too weakly."
)


@pytest.mark.parametrize(("month", "said"), [(10, 0), (11, 1), (12, 1), (1, 1), (2, 1), (3, 0)])
def test_computed_rooting_is_said_to_be_weak_from_november_to_february(month: int, said: int) -> None:
    assert winter(date(2027, month, 28), pigs=16) == [IN_WINTER] * said
    assert winter(date(2027, (month + 5) % 12 + 1, 28), south=True, pigs=16) == [IN_WINTER] * said
    assert winter(date(2027, (month + 5) % 12 + 1, 28), pigs=16) == []


def test_computed_rooting_is_said_to_be_weak_where_many_pigs_stood() -> None:
    assert winter(date(2027, 6, 10), pigs=18) == []  # 0.43 kg on a square metre
    assert winter(date(2027, 6, 10), pigs=20) == [DENSE]
    assert winter(date(2027, 12, 10), pigs=20) == [IN_WINTER, DENSE]


def test_what_was_seen_or_is_hardly_rooted_leaves_nothing_to_doubt() -> None:
    assert weak_readings(state(8, *left(3)), CORNER) == []
    assert weak_readings(state(300, stay("s", 0, 5)), CORNER) == []
    assert weak_readings(state(5, stay("s", 0, 4)), square(60, 60, 20)) == []
    assert weak_readings(state(5, stay("s", 0, 4)), square(600, 60, 20)) == []


def test_a_field_of_another_name_changes_no_advice() -> None:
    other = replace(its_field(), name="Another")
    assert seed_advice(state(8, *left(3)), other, CORNER) == seed_advice(state(8, *left(3)), its_field(), CORNER)
