from __future__ import annotations

from datetime import date, timedelta

import shapely

from pigmap.document.edits import (
    add_nets,
    place_paddock,
    plan_stay,
    record_net_use,
    record_stay,
    set_net_condition,
)
from pigmap.fence.books import Books
from pigmap.fence.needs import tally
from pigmap.fence.of_day import nets_while_placing
from pigmap.fence.standing import left_behind, standing_on
from pigmap.fence.stock import Stock, sound_nets
from pigmap.records import Farm, NetCondition
from tests.document.example_farm import DAY, GROUP, KIND, OTHERS, PADDOCK, done, example, square


def day(number: int) -> date:
    return DAY + timedelta(days=number)


def farm_with_row() -> Farm:
    return done(
        example(),
        place_paddock(square(1), net_kind_uid=KIND, uid="b"),
        place_paddock(square(2), net_kind_uid=KIND, uid="c"),
        record_stay(GROUP, PADDOCK, DAY, uid="now"),
        plan_stay(GROUP, "b", day(5), day(10), uid="next"),
    )


def names(farm: Farm, on: date, moving: str | None = None) -> list[str]:
    return [paddock.paddock_uid for paddock in standing_on(farm, on, moving)]


def test_what_a_group_is_on_stands_and_what_it_leaves_stands_until_it_has_moved() -> None:
    farm = farm_with_row()
    assert names(farm, day(2)) == [PADDOCK]
    assert names(farm, day(5)) == ["b"]
    assert names(farm, day(5), GROUP) == [PADDOCK]
    assert names(farm, day(10), GROUP) == ["b"]


def test_other_groups_stand_too() -> None:
    farm = done(farm_with_row(), record_stay(OTHERS, "c", day(-3)))
    assert names(farm, day(5), GROUP) == [PADDOCK, "c"]
    assert names(farm, day(5), OTHERS) == ["c", "b"]


def test_nets_of_a_stay_that_was_over_before_are_taken_up() -> None:
    farm = done(example(), record_stay(GROUP, PADDOCK, day(-9), day(-4)))
    assert left_behind(farm, DAY, GROUP) is None
    assert left_behind(farm, day(-4), GROUP) is not None
    assert left_behind(farm, day(-20), GROUP) is None


def test_a_side_that_two_share_stands_once() -> None:
    farm = done(farm_with_row(), record_stay(OTHERS, "b", DAY))
    assert tally(Books(farm, DAY), farm.net_kinds[KIND], DAY)[1:3] == (7, 9)


def test_recorded_places_of_nets_count_before_what_follows_from_the_outline() -> None:
    farm = farm_with_row()
    for at in range(6):
        run = shapely.LineString([(10, 10 + 5 * at), (60, 10 + 5 * at)])
        farm = done(farm, record_net_use(PADDOCK, KIND, run, DAY))
    last = shapely.LineString([(10, 60), (60, 60)])
    farm = done(farm, record_net_use(PADDOCK, KIND, last, DAY, taken_on=day(1)))
    assert Books(farm, day(2)).counts(day(2)) == {KIND: 6}
    assert Books(farm, DAY).counts(DAY) == {KIND: 7}


def test_damaged_nets_and_nets_not_bought_yet_are_no_stock() -> None:
    farm = example()
    kind = farm.net_kinds[KIND]
    assert sound_nets(farm, kind, DAY) == 16
    farm = done(
        farm, set_net_condition(next(iter(farm.nets)), NetCondition.DAMAGED), add_nets(KIND, 4, first_used_on=day(9))
    )
    assert sound_nets(farm, kind, DAY) == 15
    assert sound_nets(farm, kind, day(9)) == 19


def test_a_kind_without_nets_entered_has_no_known_stock() -> None:
    farm = example()
    other = farm.net_kinds[KIND].__class__(name="25 m nets", bays_mm=(25_000,))
    assert [each.kind.uid for each in Stock(farm).sound_on(DAY)] == [KIND]
    nets = nets_while_placing(farm, DAY, "", DAY)
    assert (nets.free(other), nets.free(farm.net_kinds[KIND])) == (None, 16)


def test_one_spare_set_of_three_keeps_a_row_of_squares_going() -> None:
    # Squares of one net a side: always 4 standing, 3 spare (derived: 4G + 3 for G = 1).
    farm = farm_with_row()
    assert Books(farm, DAY).counts(day(2)) == {KIND: 4}


def test_nets_stand_until_someone_records_that_the_pigs_left() -> None:
    farm = farm_with_row()  # the running stay is to end on the fifth day, when the next is planned
    stands = [paddock.paddock_uid for paddock in standing_on(farm, day(8), today=day(8))]
    assert stands == [PADDOCK]
    left = left_behind(farm, day(8), GROUP, today=day(8))
    assert left is not None
    assert left.paddock_uid == PADDOCK
    tomorrow = [paddock.paddock_uid for paddock in standing_on(farm, day(9), today=day(8))]
    assert tomorrow == ["b"]
