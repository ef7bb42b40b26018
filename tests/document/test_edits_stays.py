from __future__ import annotations

from datetime import date, timedelta

import pytest
import shapely

from pigmap.document.edits import (
    begin_stay,
    change_stay,
    end_stay,
    place_paddock,
    plan_stay,
    record_stay,
    remove,
    usual_days,
)
from pigmap.errors import EditError
from pigmap.records import Farm, StayState
from tests.document.example_farm import DAY, GROUP, OTHERS, PADDOCK, done, example, square


def day(number: int) -> date:
    return DAY + timedelta(days=number)


def with_second() -> Farm:
    return done(example(), place_paddock(square(1), uid="b"))


def test_a_planned_stay_ends_the_running_one_on_its_first_day() -> None:
    farm = done(with_second(), record_stay(GROUP, PADDOCK, DAY, uid="now"), plan_stay(GROUP, "b", day(6), uid="next"))
    assert farm.stays["now"].out_on == day(6)
    assert farm.stays["now"].state is StayState.RUNNING
    assert farm.stays["next"].out_on == day(11)


def test_the_usual_days_are_the_median_of_the_last_five_stays() -> None:
    farm = example()
    assert usual_days(farm, GROUP) == 5
    start = -100
    for length in (30, 7, 7, 3, 8, 4):
        farm = done(farm, record_stay(GROUP, PADDOCK, day(start), day(start + length)))
        start += length
    assert usual_days(farm, GROUP) == 7


def test_dragging_the_end_of_a_planned_stay_shifts_what_follows_without_a_day_between() -> None:
    farm = with_second()
    for number, uid in enumerate(("p", "q", "r")):
        farm = done(farm, plan_stay(GROUP, "b", day(5 * number), day(5 * number + 5), uid=uid))
    farm = done(farm, plan_stay(GROUP, "b", day(30), day(35), uid="apart"), change_stay("p", day(0), day(7)))
    assert [(farm.stays[uid].in_on - DAY).days for uid in ("p", "q", "r", "apart")] == [0, 7, 12, 30]
    assert farm.stays["r"].out_on == day(17)


def test_a_planned_stay_that_begins_later_keeps_the_pigs_where_they_are_until_then() -> None:
    farm = done(with_second(), record_stay(GROUP, PADDOCK, DAY, uid="now"), plan_stay(GROUP, "b", day(6), uid="next"))
    farm = done(farm, change_stay("next", day(8), day(11)))
    assert farm.stays["now"].out_on == day(8)


def test_a_planned_stay_of_no_day_is_refused() -> None:
    farm = done(with_second(), plan_stay(GROUP, "b", day(6), uid="next"))
    with pytest.raises(EditError) as refused:
        done(farm, change_stay("next", day(6), day(6)))
    assert str(refused.value) == (
        "The stay would go out on 2026-05-07 and come in on 2026-05-07. Give it at least one day."
    )


def test_recording_the_next_stay_ends_the_running_one() -> None:
    farm = done(with_second(), record_stay(GROUP, PADDOCK, DAY, uid="a"), record_stay(GROUP, "b", day(4), uid="b"))
    assert (farm.stays["a"].state, farm.stays["a"].out_on) == (StayState.PAST, day(4))
    assert farm.stays["b"].state is StayState.RUNNING


def test_a_planned_stay_that_begins_is_running_and_the_one_before_is_past() -> None:
    farm = done(
        with_second(),
        record_stay(GROUP, PADDOCK, DAY, uid="now"),
        plan_stay(GROUP, "b", day(6), day(12), uid="next"),
        begin_stay("next", day(7)),
    )
    assert (farm.stays["now"].state, farm.stays["now"].out_on) == (StayState.PAST, day(7))
    next_stay = farm.stays["next"]
    assert (next_stay.state, next_stay.in_on, next_stay.out_on) == (StayState.RUNNING, day(7), day(12))
    farm = done(farm, end_stay("next", day(9)))
    assert (farm.stays["next"].state, farm.stays["next"].out_on) == (StayState.PAST, day(9))


def test_a_fact_is_recorded_as_it_was_and_changes_no_other_stay() -> None:
    farm = done(example(), record_stay(GROUP, PADDOCK, DAY, day(5), uid="a"))
    both = done(farm, record_stay(OTHERS, PADDOCK, day(3), ground=shapely.box(-5, 0, 60, 60), uid="b"))
    assert both.stays["a"] is farm.stays["a"]
    assert done(both, remove("stays", "b")).stays["a"] is farm.stays["a"]


def test_what_is_gone_is_said_to_be_gone() -> None:
    for edit, kind in (
        (plan_stay("x", PADDOCK, DAY), "group"),
        (record_stay(GROUP, "x", DAY), "paddock"),
        (change_stay("x", DAY, None), "stay"),
        (begin_stay("x", DAY), "stay"),
        (end_stay("x", DAY), "stay"),
    ):
        with pytest.raises(EditError, match=f"The {kind} is not there any more"):
            done(example(), edit)
