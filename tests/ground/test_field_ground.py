from __future__ import annotations

from dataclasses import replace
from itertools import pairwise
from typing import Any

import numpy as np
import pytest

from pigmap.animals.tables import DROPPED
from pigmap.ground import FieldGround, GroundState, Stopped, prepare
from pigmap.ground.rest import WantedRest
from pigmap.ground.stays import PIECE_DAYS
from pigmap.records import (
    Farm,
    GroundCover,
    GroupEvent,
    GroupEventKind,
    PigClass,
    Purpose,
    Record,
    StayState,
    Use,
    new_uid,
)
from tests.conftest import published
from tests.ground.invented import check, farm, field, herd, on, paddock, setting, square, stay

CORNER = square(0, 0)
BESIDE = square(50, 0)


def ground(*rows: Record, **changes: float) -> FieldGround:
    return prepare(farm(*herd(), *rows, **changes), "f")


def at_corner(state: GroundState, name: str) -> Any:
    return state.cells(name)[3, 3].item()


def test_ground_rests_from_the_day_pigs_left() -> None:
    found = ground(field(), stay("s", 0, 5))
    assert [at_corner(found.on(on(day)), "rest_days") for day in (-1, 0, 4, 5, 6, 100)] == [-1, 0, 0, 0, 1, 95]
    assert [at_corner(found.on(on(day)), "occupied") for day in (-1, 0, 4, 5)] == [False, True, True, False]


def test_ground_never_used_has_no_rest_and_full_cover() -> None:
    state = ground(field(), stay("s", 0, 5)).on(on(50))
    assert state.cells("rest_days")[40, 40] == -1
    assert state.cells("rest_days").dtype == np.int32
    assert not state.cells("used")[40, 40]
    assert state.cells("cover")[40, 40] == pytest.approx(0.95)
    assert state.cells("ready_in_days")[40, 40] == 0


def test_a_field_without_stays_is_one_region_that_was_never_used() -> None:
    found = ground(field())
    assert found.regions == 1
    assert found.first_day is None
    assert found.on(on(0)).layers["rest_days"].tolist() == [-1]
    assert found.cursor().move_to(on(10)).layers["rest_days"].tolist() == [-1]


def test_cells_of_equal_history_are_one_region() -> None:
    found = ground(field(), stay("a", 0, 5), stay("b", 5, 9, BESIDE), stay("c", 20, 22))
    assert found.regions == 3
    assert found.region_of.shape == (50, 50)
    assert not found.region_of.flags.writeable


def test_cells_outside_the_field_belong_to_no_region() -> None:
    found = ground(field(outline=square(10, 10, 40)), stay("s", 0, 5))
    assert found.region_of.shape == (20, 20)
    found = prepare(farm(*herd(), field(outline=square(10, 10, 40).buffer(5)), stay("s", 0, 5)), "f")
    state = found.on(on(9))
    outside = found.region_of < 0
    assert outside.any()
    assert (state.cells("rest_days")[outside] == -1).all()
    assert np.isnan(state.cells("cover")[outside]).all()
    assert not state.cells("used")[outside].any()


def test_a_stay_is_on_every_field_it_lies_on() -> None:
    both = farm(*herd(), field("f"), field("h", square(100, 0, 100)), stay("s", 0, 5, square(80, 0, 40)))
    assert (prepare(both, "f").on(on(9)).cells("rest_days") == 4).sum() == 10 * 20
    assert (prepare(both, "h").on(on(9)).cells("rest_days") == 4).sum() == 10 * 20


def test_load_and_dung_of_a_stay_are_spread_over_its_ground() -> None:
    (row,) = published("ground_manure.csv")
    dropped = DROPPED[PigClass.FINISHING]
    assert (dropped.nitrogen_g, dropped.phosphorus_g) == (float(row["n_g_per_pig_day"]), float(row["p_g_per_pig_day"]))
    finishers = herd(pigs=int(row["pigs"]), pig_class=PigClass.FINISHING)
    recalled = setting("manure source", '"ASABE D384.2"')
    state = prepare(farm(*finishers, field(), stay("s", 0, int(row["days"])), recalled), "f").on(on(9))
    assert at_corner(state, "n_kg_ha") == pytest.approx(float(row["n_kg_ha"]), abs=0.005)
    assert at_corner(state, "p_kg_ha") == pytest.approx(float(row["p_kg_ha"]), abs=0.005)
    sows = prepare(farm(*herd(), field(), stay("s", 0, 5)), "f").on(on(9))
    assert at_corner(sows, "load_kg_d_m2") == pytest.approx(20 * 60 * 5 / 2500, rel=1e-5)


def test_nitrogen_is_that_of_the_schedule_by_weight_where_nothing_else_is_set() -> None:
    light, heavy = (prepare(farm(*grown(kg), field(), stay("s", 0, 5)), "f").on(on(9)) for kg in (60.0, 80.0))
    assert at_corner(light, "n_kg_ha") == pytest.approx(20 * 24 * 5 / 1000 / 0.25)
    assert at_corner(heavy, "n_kg_ha") == pytest.approx(20 * 33 * 5 / 1000 / 0.25)


def grown(kg: float) -> list[Record]:
    """Return finishing pigs that weigh so much while they are on the ground."""
    weighed = [
        GroupEvent(uid=f"w{day}", group_uid="g", happened_on=on(day), kind=GroupEventKind.WEIGHED, pigs=20, mean_kg=kg)
        for day in (0, 5)
    ]
    return [*herd(pig_class=PigClass.FINISHING), *weighed]


def test_pigs_that_grow_lie_heavier_on_the_ground_after_their_last_weighing() -> None:
    running = stay("s", 0, None, state=StayState.RUNNING)
    sows, hogs = (prepare(farm(*herd(kg=40.0, pig_class=each), field(), running), "f") for each in CLASSES)
    assert at_corner(hogs.on(on(60)), "load_kg_d_m2") > 1.5 * at_corner(sows.on(on(60)), "load_kg_d_m2")


CLASSES = (PigClass.GESTATING, PigClass.FINISHING)


def test_load_counts_ground_metres_not_those_of_the_grid() -> None:
    plain = ground(field(), stay("s", 0, 5)).on(on(9))
    utm = ground(field(), stay("s", 0, 5), ground_per_grid=1 / 0.9996).on(on(9))
    assert at_corner(utm, "load_kg_d_m2") == pytest.approx(at_corner(plain, "load_kg_d_m2") * 0.9996**2, rel=1e-5)


def test_load_of_a_running_stay_grows_day_by_day_and_is_gone_after_twelve_months() -> None:
    found = ground(field(), stay("s", 0, 5))
    loads = [at_corner(found.on(on(day)), "load_kg_d_m2") for day in (0, 2, 5, 365, 367, 370)]
    assert loads == pytest.approx([0, 0.96, 2.4, 2.4, 1.44, 0], abs=1e-5)


def test_cover_falls_while_pigs_are_there_and_comes_back_afterwards() -> None:
    found = ground(field(), stay("s", 0, 7))
    covers = [at_corner(found.on(on(day)), "cover") for day in range(60)]
    assert all(before > after for before, after in pairwise(covers[:8]))
    assert all(before < after for before, after in pairwise(covers[7:]))
    # 20 pigs of 60 kg for 7 days at 12 degree-days each, by hand from the closed form.
    loss, growth = 0.113 * 20 * 60 * 7 / 2500, 0.0065 * 84
    y = np.exp(loss - growth) / 0.95 + growth / 0.95 * (1 - np.exp(loss - growth)) / (growth - loss)
    assert covers[7] == pytest.approx(1 / y, abs=1e-6)
    assert at_corner(found.on(on(7)), "rooting") == pytest.approx(1 - 1 / y, abs=1e-6)


def test_stays_that_overlap_in_time_add_up() -> None:
    together = prepare(farm(*herd("g"), *herd("h"), field(), stay("a", 0, 6), stay("b", 2, 9, group="h")), "f")
    parts = prepare(
        farm(*herd("g"), *herd("d", pigs=40), field(), stay("a", 0, 2), stay("b", 2, 6, group="d"), stay("c", 6, 9)),
        "f",
    )
    for day in (1, 2, 4, 6, 7, 9, 30, 200):
        for name in ("cover", "load_kg_d_m2", "rest_days", "occupied", "n_kg_ha"):
            assert at_corner(together.on(on(day)), name) == pytest.approx(at_corner(parts.on(on(day)), name), rel=1e-5)


def test_a_stay_with_no_day_out_lasts_until_the_group_comes_elsewhere() -> None:
    running = stay("a", 0, None, state=StayState.RUNNING)
    alone = ground(field(), running)
    moved = ground(field(), running, stay("b", 4, 8, BESIDE, state=StayState.PLANNED))
    assert at_corner(alone.on(on(500)), "occupied") is True
    assert at_corner(moved.on(on(4)), "rest_days") == 0
    assert at_corner(moved.on(on(9)), "rest_days") == 5


def test_what_was_planned_gives_way_to_what_happened() -> None:
    planned = stay("b", 3, 8, BESIDE, state=StayState.PLANNED)
    state = ground(field(), stay("a", 0, 6), planned).on(on(5))
    assert not state.cells("occupied")[3, 30]
    state = ground(field(), stay("a", 0, 6), planned).on(on(7))
    assert state.cells("occupied")[3, 30]
    assert state.cells("load_kg_d_m2")[3, 30] == pytest.approx(20 * 60 / 2500, rel=1e-5)


def test_a_stay_that_ends_on_the_day_it_began_leaves_nothing() -> None:
    assert not ground(field(), stay("s", 3, 3)).on(on(9)).layers["used"].any()


def test_a_stay_of_a_group_that_is_gone_still_was_there() -> None:
    state = prepare(farm(field(), stay("s", 0, 5, group="sold")), "f").on(on(9))
    assert at_corner(state, "rest_days") == 4
    assert at_corner(state, "load_kg_d_m2") == 0.0


@pytest.mark.parametrize(("score", "rooting"), [(0, 0.0), (1, 0.25), (2, 0.5), (3, 0.75), (4, 0.98)])
def test_a_daily_check_sets_the_rooting_to_what_was_seen(score: int, rooting: float) -> None:
    state = ground(field(), paddock(), stay("s", 0, 5), check("c", 5, score)).on(on(5))
    assert at_corner(state, "rooting") == pytest.approx(rooting, abs=1e-6)
    assert at_corner(state, "seen") is True
    assert state.cells("rooting")[40, 40] == pytest.approx(0.05)
    assert not state.cells("seen")[40, 40]


def test_after_a_check_the_ground_goes_on_from_what_was_seen() -> None:
    found = ground(field(), paddock(), stay("s", 0, 5), check("c", 5, 2))
    growth = 0.0065 * 12 * 10
    assert at_corner(found.on(on(15)), "cover") == pytest.approx(
        1 / (1 / 0.95 + (2 - 1 / 0.95) * np.exp(-growth)), abs=1e-6
    )


def test_a_check_without_a_score_says_nothing_about_the_ground() -> None:
    found = ground(field(), paddock(), stay("s", 0, 5), check("c", 5, None))
    assert not found.on(on(5)).layers["seen"].any()


def test_the_last_of_several_checks_on_one_day_counts() -> None:
    found = ground(field(), paddock(), stay("s", 0, 5), check("c1", 5, 4), check("c2", 5, 1))
    assert at_corner(found.on(on(5)), "rooting") == pytest.approx(0.25)


@pytest.mark.parametrize("turned", [False, True])
def test_of_checks_of_one_day_the_one_that_was_made_last_counts_in_whatever_order_they_are_read(turned: bool) -> None:
    first, second = check(new_uid(), 5, 4), check(new_uid(), 5, 1)
    if first.uid > second.uid:  # within one thousandth of a second chance decides
        first, second = replace(second, rooting_score=4), replace(first, rooting_score=1)
    found = ground(field(), paddock(), stay("s", 0, 5), *((second, first) if turned else (first, second)))
    assert at_corner(found.on(on(5)), "rooting") == pytest.approx(0.25)


def test_what_was_seen_is_old_after_six_weeks_or_when_pigs_come_again() -> None:
    found = ground(field(), paddock(), stay("s", 0, 5), check("c", 5, 2), stay("t", 20, 22, square(0, 0, 20)))
    assert [bool(found.on(on(day)).cells("seen")[20, 20]) for day in (4, 5, 46, 47)] == [False, True, True, False]
    assert [bool(found.on(on(day)).cells("seen")[3, 3]) for day in (5, 19, 20, 25)] == [True, True, False, False]


def test_for_how_long_something_counts_as_seen_is_a_setting() -> None:
    found = ground(field(), paddock(), stay("s", 0, 5), check("c", 5, 2), setting("seen days", "3"))
    assert [at_corner(found.on(on(day)), "seen") for day in (5, 7, 8)] == [True, True, False]


def test_a_check_during_a_stay_looks_at_the_ground_of_the_stay() -> None:
    redrawn = paddock(outline=square(60, 60, 10))
    state = ground(field(), redrawn, stay("s", 0, 5), check("c", 3, 3)).on(on(3))
    assert at_corner(state, "rooting") == pytest.approx(0.75)
    assert not state.cells("seen")[32, 32]


def test_a_check_of_a_paddock_that_was_never_used_looks_at_the_paddock() -> None:
    state = ground(field(), paddock(), check("c", 3, 3)).on(on(3))
    assert at_corner(state, "rooting") == pytest.approx(0.75)
    assert at_corner(state, "rest_days") == -1


def test_a_check_of_a_paddock_that_is_gone_is_left_out() -> None:
    assert not ground(field(), check("c", 3, 3)).on(on(3)).layers["seen"].any()


def test_ground_is_ready_when_it_is_green_again_but_not_before_its_least_rest() -> None:
    lightly = ground(field(), stay("s", 0, 1)).on(on(1))
    assert at_corner(lightly, "ready_in_days") == 30
    bare = ground(field(), paddock(), stay("s", 0, 1), check("c", 1, 4))
    assert at_corner(bare.on(on(1)), "ready_in_days") == int(np.ceil(794.03 / 12))
    assert at_corner(bare.on(on(20)), "ready_in_days") == int(np.ceil(794.03 / 12)) - 19
    assert at_corner(bare.on(on(300)), "ready_in_days") == 0
    assert at_corner(ground(field(), stay("s", 0, 5)).on(on(3)), "ready_in_days") == -1


@pytest.mark.parametrize("day", [-2, -40, -5000])
def test_ground_is_ready_on_any_day_before_all_that_is_recorded(day: int) -> None:
    for rows in ([field()], [field(), stay("s", 0, 5)]):
        assert at_corner(ground(*rows).on(on(day)), "ready_in_days") == 0


def test_the_rest_that_a_purpose_asks_for_leads() -> None:
    for days in (12, 85):
        wants = Purpose(
            uid="p",
            field_uid="f",
            from_month_day="01-01",
            to_month_day="12-31",
            purpose=Use.GRAZE_LIGHTLY,
            rest_days_wanted=days,
        )
        assert at_corner(ground(field(), wants, stay("s", 0, 1)).on(on(1)), "ready_in_days") == days


def test_looking_at_ground_does_not_put_off_the_end_of_its_least_rest() -> None:
    found = ground(field(), paddock(), stay("s", 0, 5), check("c", 20, 0))
    assert at_corner(found.on(on(20)), "ready_in_days") == 15


def test_how_green_ready_ground_is_is_a_setting() -> None:
    bare = ground(field(), paddock(), stay("s", 0, 1), check("c", 1, 4), setting("ready cover", "0.5"))
    wanted = np.log((50 - 1 / 0.95) / (2 - 1 / 0.95)) / 0.0065 / 12
    assert at_corner(bare.on(on(1)), "ready_in_days") == int(np.ceil(wanted))


@pytest.mark.parametrize("value", ['"most"', "true", "null", "[1]"])
def test_a_setting_that_is_no_number_leaves_the_default(value: str) -> None:
    rows = (field(), stay("s", 0, 5))
    plain, odd = ground(*rows), ground(*rows, setting("ready cover", value))
    assert plain.model == odd.model


@pytest.mark.parametrize(
    ("cover", "lost", "back", "least_rest"),
    [(GroundCover.PASTURE, 1.0, 1.0, 30), (GroundCover.LEY, 2.39, 1.0, 30), (GroundCover.WOODLAND, 0.68, 0.25, 90)],
)
def test_what_grows_decides_how_fast_cover_goes_and_comes(
    cover: GroundCover, lost: float, back: float, least_rest: int
) -> None:
    model = ground(field(cover=cover)).model
    assert model.loss == pytest.approx(0.113 * lost)
    assert model.regrowth == pytest.approx(0.0065 * back)
    assert model.rest == WantedRest((101,), (least_rest,))


def test_under_an_outline_the_least_rest_and_the_means_count() -> None:
    found = ground(field(), paddock(), stay("a", 0, 5), stay("b", 5, 9, BESIDE), check("c", 5, 2))
    under = found.on(on(12)).under(square(25, 0, 100, 100))
    assert under is not None
    assert under.cells == 38 * 50  # the middle of the cell at 25 m lies on the side, and belongs to the right
    assert under.rest_days == 3
    assert under.never_used == 0.0
    assert under.unknown == pytest.approx(0.5)
    assert under.occupied == 0.0
    assert under.seen_on == on(5)
    assert under.rooting == pytest.approx(1 - under.cover, abs=1e-6)
    assert under.cover == pytest.approx(found.on(on(12)).cells("cover")[:, 12:].mean(), abs=1e-6)
    assert under.load_kg_d_m2 == pytest.approx(found.on(on(12)).cells("load_kg_d_m2")[:, 12:].mean(), rel=1e-5)


def test_under_pigs_nothing_rests_and_nothing_is_ready() -> None:
    under = ground(field(), stay("a", 0, 5)).on(on(2)).under(square(10, 10, 80))
    assert under is not None
    assert (under.rest_days, under.ready_in_days, under.seen_on) == (0, -1, None)
    assert under.occupied == pytest.approx(0.25)


def test_beside_the_field_there_is_no_ground_to_tell_about() -> None:
    assert ground(field()).on(on(2)).under(square(500, 500)) is None


def test_the_whole_field_and_its_paddocks_are_told_apart() -> None:
    state = ground(field(), stay("a", 0, 5)).on(on(9))
    whole = state.by_field
    assert whole is not None
    assert whole.cells == 2500
    assert whole.never_used == 0.0
    assert whole.unknown == pytest.approx(0.75)
    rows = state.by_paddock([paddock(), paddock("q", BESIDE), paddock("far", square(500, 500))])
    assert {uid: under.rest_days for uid, under in rows.items()} == {"p": 4, "q": -1}


def test_a_preparation_that_is_not_wanted_any_more_stops() -> None:
    asked = iter([False, False, True])
    with pytest.raises(Stopped):
        prepare(farm(*herd(), field(), stay("s", 0, 5)), "f", stop=lambda: next(asked))


def test_arrays_that_are_handed_out_cannot_be_written_to() -> None:
    state = ground(field(), stay("s", 0, 5)).cursor().move_to(on(3))
    for name in state.layers:
        assert not state.layers[name].flags.writeable, name


def test_a_field_that_is_not_there_is_a_fault_of_the_program() -> None:
    with pytest.raises(KeyError):
        prepare(Farm(document_uid="d", projection=farm().projection), "f")


def seen_from(today: int, *rows: Record) -> FieldGround:
    return prepare(farm(*herd(), *rows), "f", today=on(today))


def test_pigs_past_their_day_out_are_still_on_the_ground() -> None:
    late = stay("a", 0, 5, state=StayState.RUNNING)
    assert [at_corner(seen_from(9, field(), late).on(on(day)), "occupied") for day in (4, 5, 9)] == [True] * 3
    assert at_corner(seen_from(9, field(), late).on(on(9)), "load_kg_d_m2") == pytest.approx(20 * 60 * 9 / 2500)
    assert at_corner(seen_from(3, field(), late).on(on(9)), "rest_days") == 4


def test_a_plan_that_never_began_leaves_no_trace_and_ends_nothing() -> None:
    rows = field(), stay("a", 0, None, state=StayState.RUNNING), stay("b", 3, 8, BESIDE, state=StayState.PLANNED)
    state = seen_from(20, *rows).on(on(20))
    assert at_corner(state, "occupied") is True
    assert not state.cells("used")[3, 30]
    tomorrow = seen_from(5, *rows).on(on(6))
    assert (at_corner(tomorrow, "occupied"), bool(tomorrow.cells("occupied")[3, 30])) == (False, True)


def growing(days: int, kg: float) -> GroupEvent:
    return GroupEvent(uid=f"w{days}", group_uid="g", happened_on=on(days), kind=GroupEventKind.WEIGHED, mean_kg=kg)


@pytest.mark.parametrize("out", [None, 100])
def test_pigs_that_stay_long_weigh_what_they_weigh_on_the_days_they_stay(out: int | None) -> None:
    # From 60 kg on day 0 they gain 0.5 kg a day until day 80.
    rows = field(), growing(0, 60.0), growing(80, 100.0)
    state = StayState.RUNNING if out is None else StayState.PAST
    found = seen_from(90, *rows, stay("a", 0, out, state=state))
    for day in (7, 28, 30, 70, 80, 90):
        kg = [60 + 0.5 * min(back, 80) for back in range(day)]
        weight = sum(kg) * 20 / 2500
        assert at_corner(found.on(on(day)), "load_kg_d_m2") == pytest.approx(weight, rel=4e-3)
        if day % PIECE_DAYS == 0 or day >= 80:
            assert at_corner(found.on(on(day)), "load_kg_d_m2") == pytest.approx(weight, rel=1e-5)


def test_pigs_that_are_sold_in_a_long_stay_weigh_on_the_ground_no_more() -> None:
    sold = GroupEvent(uid="sold", group_uid="g", happened_on=on(10), kind=GroupEventKind.SOLD, pigs=15)
    found = seen_from(40, field(), sold, stay("a", 0, None, state=StayState.RUNNING))
    loads = [at_corner(found.on(on(day)), "load_kg_d_m2") for day in (10, 20, 40)]
    assert loads == pytest.approx([60 * pigs_days / 2500 for pigs_days in (200, 250, 350)], rel=1e-5)


def test_a_check_counts_though_the_pigs_grow_on() -> None:
    rows = field(), paddock(), growing(0, 60.0), growing(80, 100.0), stay("a", 0, None, state=StayState.RUNNING)
    found = seen_from(60, *rows, check("c", 10, 2))
    assert [at_corner(found.on(on(day)), "seen") for day in (9, 10, 30, 51, 52)] == [False, True, True, True, False]
    assert all(at_corner(found.on(on(day)), "occupied") for day in range(61))
    assert at_corner(found.on(on(60)), "rest_days") == 0


def test_pieces_of_a_stay_are_the_same_cursor_or_not() -> None:
    rows = field(), growing(0, 60.0), growing(80, 100.0), stay("a", 0, 100), stay("b", 50, 90, BESIDE, group="h")
    found = seen_from(200, *rows, *herd("h"))
    cursor = found.cursor()
    for day in (0, 7, 14, 60, 59, 120, 3):
        assert cursor.move_to(on(day)).layers["cover"] == pytest.approx(found.on(on(day)).layers["cover"], abs=1e-6)


def test_a_check_looks_at_the_ground_of_a_stay_that_had_begun_and_not_of_a_late_plan() -> None:
    late = stay("b", 2, 30, BESIDE, state=StayState.PLANNED)
    found = seen_from(9, field(), paddock(), stay("a", 0, None, state=StayState.RUNNING), late, check("c", 5, 3))
    state = found.on(on(5))
    assert at_corner(state, "seen") is True
    assert not state.cells("seen")[3, 30]
