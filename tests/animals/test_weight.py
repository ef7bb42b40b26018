from __future__ import annotations

from dataclasses import replace
from datetime import date, timedelta
from itertools import pairwise
from types import MappingProxyType

import numpy as np
import pytest

from pigmap.animals.tables import DROPPED, USUAL_KG
from pigmap.animals.target import fall_words, falls_of, reaches
from pigmap.animals.weight import Weight, growth_in, live_weight, pace_on, weight_band
from pigmap.records import Farm, Group, GroupEvent, GroupEventKind, PigClass, Projection, WeighedBy

PROJECTION = Projection(name="flat", authority="NONE", code=1, definition="")


def farm_with(
    *happened: tuple[str, GroupEventKind, int | None, float | None],
    pig_class: PigClass = PigClass.GROWING,
    weighed_by: WeighedBy = WeighedBy.SCALE,
) -> Farm:
    group = Group(uid="g", name="Tamsin's gilts", pig_class=pig_class)
    events = [
        GroupEvent(
            uid=f"e{n}",
            group_uid="g",
            happened_on=date.fromisoformat(on),
            kind=kind,
            pigs=pigs,
            mean_kg=kg,
            weighed_by=weighed_by,
        )
        for n, (on, kind, pigs, kg) in enumerate(happened)
    ]
    return Farm(
        document_uid="d",
        projection=PROJECTION,
        groups=MappingProxyType({"g": group}),
        group_events=MappingProxyType({event.uid: event for event in events}),
    )


K = GroupEventKind


def test_counts_follow_what_happened_to_the_group() -> None:
    farm = farm_with(
        ("2026-01-01", K.BOUGHT, 20, 30.0),
        ("2026-02-01", K.DIED, 1, None),
        ("2026-03-01", K.JOINED, 5, None),
        ("2026-03-01", K.SPLIT, 4, None),
        ("2026-04-01", K.SOLD, 12, None),
        ("2026-05-01", K.BORN, 9, None),
        ("2026-06-01", K.SERVED, 3, None),
    )
    days = ["2026-01-01", "2026-02-01", "2026-03-01", "2026-04-01", "2026-05-01", "2026-06-01"]
    assert [live_weight(farm, "g", date.fromisoformat(day)).pigs for day in days] == [20, 19, 20, 8, 17, 17]


def weights(farm: Farm, *days: str) -> list[float]:
    return [live_weight(farm, "g", date.fromisoformat(day)).mean_kg for day in days]


def test_weight_goes_along_the_curve_through_every_weighing_and_on_from_the_last() -> None:
    farm = farm_with(
        ("2026-01-01", K.BOUGHT, 10, 30.0), ("2026-01-11", K.WEIGHED, 10, 36.0), ("2026-01-21", K.WEIGHED, 10, 46.0)
    )
    assert weights(farm, "2025-12-01", "2026-01-01", "2026-01-11", "2026-01-21") == pytest.approx([30, 30, 36, 46])
    between = weights(farm, "2026-01-06", "2026-01-16")
    assert between == pytest.approx([32.93, 40.87], abs=0.01)  # by hand: half way in -ln(ln(230/W))
    later = weights(farm, "2026-01-22", "2026-03-01", "2027-01-01", "2028-01-01")
    assert 46.0 < later[0] < 47.5
    assert later[1] > 60.0
    assert later[2] == later[3] == pytest.approx(0.55 * 230)


def test_weight_is_continuous_from_day_to_day_though_it_fell() -> None:
    farm = farm_with(
        ("2026-01-01", K.BOUGHT, 10, 60.0), ("2026-02-01", K.WEIGHED, 10, 52.0), ("2026-03-01", K.WEIGHED, 10, 75.0)
    )
    days = [(date(2026, 1, 1) + timedelta(days=day)).isoformat() for day in range(120)]
    kg = weights(farm, *days)
    assert max(abs(after - before) for before, after in pairwise(kg)) < 1.2
    assert kg[31] == pytest.approx(52.0)


def test_sows_and_boars_go_in_even_steps_and_stay_level_before_and_after() -> None:
    for pig_class in (PigClass.GESTATING, PigClass.LACTATING, PigClass.BOAR):
        farm = farm_with(
            ("2026-01-11", K.WEIGHED, 10, 200.0), ("2026-01-21", K.WEIGHED, 10, 220.0), pig_class=pig_class
        )
        days = ("2025-12-01", "2026-01-16", "2026-01-21", "2026-09-01")
        assert weights(farm, *days) == [200.0, 210.0, 220.0, 220.0]


def test_before_its_first_weighing_a_group_was_lighter_back_to_the_day_it_came() -> None:
    farm = farm_with(("2026-01-01", K.BOUGHT, 10, None), ("2026-03-01", K.WEIGHED, 10, 60.0))
    came, before, weighed = weights(farm, "2026-01-01", "2025-10-01", "2026-03-01")
    assert 20.0 < came < 40.0
    assert before == came
    assert weighed == pytest.approx(60.0)


def test_pigs_that_come_into_an_emptied_group_are_a_lot_of_their_own() -> None:
    farm = farm_with(
        ("2026-01-01", K.BOUGHT, 10, 30.0),
        ("2026-04-01", K.WEIGHED, 10, 105.0),
        ("2026-04-01", K.SOLD, 10, None),
        ("2026-04-01", K.BOUGHT, 12, 28.0),
        ("2026-05-01", K.WEIGHED, 12, 45.0),
    )
    kg = weights(farm, "2026-03-31", "2026-04-01", "2026-04-16", "2026-05-01")
    assert kg[0] > 103.0
    assert kg[1:] == pytest.approx([28.0, 36.2, 45.0], abs=0.3)
    assert not falls_of(farm, "g")


def test_pigs_heavier_than_the_curve_ends_still_have_one() -> None:
    farm = farm_with(("2026-01-01", K.WEIGHED, 4, 220.0), ("2026-06-01", K.WEIGHED, 4, 260.0))
    kg = weights(farm, "2026-01-01", "2026-03-15", "2026-06-01", "2026-12-01")
    assert kg[0] == pytest.approx(220.0)
    assert 220.0 < kg[1] < 260.0
    assert kg[2] == pytest.approx(260.0)
    assert kg[3] == pytest.approx(260.0)


def test_two_weighings_on_one_day_count_by_their_pigs() -> None:
    farm = farm_with(("2026-01-01", K.WEIGHED, 3, 50.0), ("2026-01-01", K.WEIGHED, 1, 70.0))
    assert live_weight(farm, "g", date(2026, 1, 1)).mean_kg == pytest.approx(55.0)


def test_pigs_bought_into_a_group_do_not_count_as_its_weighing() -> None:
    farm = farm_with(("2026-01-01", K.BOUGHT, 10, 60.0), ("2026-02-01", K.BOUGHT, 2, 10.0))
    weight = live_weight(farm, "g", date(2026, 2, 1))
    assert weight.pigs == 12
    assert weight.mean_kg > 60.0
    assert weight.total_kg == 12 * weight.mean_kg


def test_before_anything_was_written_down_there_are_as_many_as_afterwards() -> None:
    farm = farm_with(("2026-01-01", K.BOUGHT, 10, 60.0))
    assert live_weight(farm, "g", date(2025, 1, 1)).pigs == 10


def test_a_group_that_was_only_weighed_has_the_pigs_on_the_scale() -> None:
    farm = farm_with(("2026-01-01", K.WEIGHED, 7, 60.0))
    assert live_weight(farm, "g", date(2026, 1, 1)) == pytest.approx((7, 60.0, 420.0, True))


def test_a_group_of_which_nothing_is_known_has_no_pigs_of_the_usual_weight() -> None:
    assert live_weight(farm_with(), "g", date(2026, 1, 1)) == Weight(0, USUAL_KG[PigClass.GROWING], 0.0, weighed=False)


def test_no_more_pigs_leave_than_there_were() -> None:
    farm = farm_with(("2026-01-01", K.BOUGHT, 3, 60.0), ("2026-02-01", K.SOLD, 5, None))
    assert live_weight(farm, "g", date(2026, 2, 1)).pigs == 0


def test_a_group_that_is_not_there_is_a_fault_of_the_program() -> None:
    with pytest.raises(KeyError):
        live_weight(farm_with(), "nobody", date(2026, 1, 1))


@pytest.mark.parametrize("pig_class", list(PigClass))
def test_every_class_has_its_figures(pig_class: PigClass) -> None:
    assert DROPPED[pig_class].nitrogen_g > DROPPED[pig_class].phosphorus_g > 0
    assert USUAL_KG[pig_class] > 0


def width(farm: Farm, day: str) -> float:
    band = weight_band(farm, "g", date.fromisoformat(day))
    return band.most_kg - band.least_kg


def test_the_band_is_narrow_by_scale_wide_by_eye_and_wider_the_longer_ago() -> None:
    told = [("2026-01-01", K.BOUGHT, 10, 30.0), ("2026-02-01", K.WEIGHED, 10, 50.0)]
    scale, tape, eye = (farm_with(*told, weighed_by=how) for how in WeighedBy)
    assert width(scale, "2026-02-01") < width(tape, "2026-02-01") < width(eye, "2026-02-01")
    assert width(scale, "2026-02-01") < width(scale, "2026-03-01") < width(scale, "2026-04-01")
    assert width(scale, "2026-02-01") < 6.0
    for farm in (scale, tape, eye):
        for day in ("2026-01-01", "2026-01-16", "2026-03-01"):
            band = weight_band(farm, "g", date.fromisoformat(day))
            assert band.least_kg < weights(farm, day)[0] < band.most_kg


def test_the_band_of_sows_and_of_pigs_nobody_weighed() -> None:
    sows = farm_with(("2026-01-01", K.WEIGHED, 8, 200.0), pig_class=PigClass.GESTATING)
    assert weight_band(sows, "g", date(2026, 1, 1)) == pytest.approx((190.1, 209.9), abs=0.1)
    assert width(sows, "2027-01-01") > width(sows, "2026-01-01")
    assert weight_band(farm_with(), "g", date(2026, 1, 1)) == pytest.approx((28.0, 52.0))


def test_a_weight_by_eye_counts_less_than_one_by_scale_on_the_same_day() -> None:
    farm = farm_with(("2026-01-01", K.WEIGHED, 10, 60.0))
    eye = GroupEvent(
        uid="x",
        group_uid="g",
        happened_on=date(2026, 1, 1),
        kind=K.WEIGHED,
        pigs=10,
        mean_kg=80.0,
        weighed_by=WeighedBy.EYE,
    )
    both = replace(farm, group_events=MappingProxyType({**farm.group_events, "x": eye}))
    assert weights(both, "2026-01-01")[0] == pytest.approx(60.77, abs=0.01)  # 1 : 1/25 by the squares of 3 and 15 %


def test_a_fall_of_the_weight_is_named_with_group_and_day_and_used() -> None:
    farm = farm_with(("2026-01-01", K.BOUGHT, 10, 60.0), ("2026-02-01", K.WEIGHED, 10, 52.0))
    (fall,) = falls_of(farm, "g")
    assert str(fall_words(farm, fall)) == (
        "Tamsin's gilts weighed 52.0 kg on 2026-02-01, less than the 60.0 kg of 2026-01-01. Both count as they are "
        "written: look at the two."
    )
    assert weights(farm, "2026-02-01") == pytest.approx([52.0])


def test_sows_that_lose_weight_in_milk_are_no_fall() -> None:
    farm = farm_with(
        ("2026-01-01", K.WEIGHED, 8, 220.0), ("2026-03-01", K.WEIGHED, 8, 190.0), pig_class=PigClass.LACTATING
    )
    assert not falls_of(farm, "g")


def test_the_day_on_which_a_weight_is_reached_is_a_range() -> None:
    farm = farm_with(
        ("2026-01-01", K.BOUGHT, 10, 25.0), ("2026-02-01", K.WEIGHED, 10, 42.0), ("2026-03-01", K.WEIGHED, 10, 61.0)
    )
    found = reaches(farm, "g", 110.0)
    assert found is not None
    assert found.latest is not None
    assert date(2026, 4, 1) < found.earliest < found.likely < found.latest < date(2026, 9, 1)
    assert not found.past_curve
    assert live_weight(farm, "g", found.likely).mean_kg == pytest.approx(110.0, abs=0.7)
    beyond = reaches(farm, "g", 150.0)
    assert beyond is not None
    assert beyond.past_curve


def test_a_weight_that_is_reached_already_is_reached_on_the_day_of_the_weighing() -> None:
    found = reaches(farm_with(("2026-01-01", K.WEIGHED, 10, 115.0)), "g", 110.0)
    assert found is not None
    assert found.likely == date(2026, 1, 1)


def test_sows_and_pigs_nobody_weighed_reach_nothing() -> None:
    sows = farm_with(("2026-01-01", K.WEIGHED, 8, 200.0), pig_class=PigClass.GESTATING)
    assert reaches(sows, "g", 220.0) is None
    assert reaches(farm_with(), "g", 110.0) is None
    assert reaches(farm_with(("2026-01-01", K.WEIGHED, 8, 80.0)), "g", 240.0) is None
    assert pace_on(sows, "g", date(2026, 1, 1)) is None
    assert pace_on(farm_with(), "g", date(2026, 1, 1)) is None


def test_growth_is_kept_until_the_groups_change() -> None:
    farm = farm_with(("2026-01-01", K.BOUGHT, 10, 30.0))
    assert growth_in(farm, "g") is growth_in(replace(farm, revision=9), "g")
    assert growth_in(farm, "g") is not growth_in(replace(farm, group_events=MappingProxyType({})), "g")


def test_nothing_changes_after_the_last_change() -> None:
    growth = growth_in(farm_with(("2026-01-01", K.BOUGHT, 10, 30.0), ("2026-02-01", K.WEIGHED, 10, 45.0)), "g")
    later = growth.mean_kg(np.arange(growth.last_change, growth.last_change + 500))
    assert later.tolist() == [later[0]] * 500
    before = growth.mean_kg(np.array([growth.last_change - 3, growth.last_change]))
    assert before[0] < before[1]
