from __future__ import annotations

from dataclasses import replace
from datetime import timedelta
from types import MappingProxyType

import pytest
import shapely

from pigmap.document.edits import add_group, order_moves, own_nets, place_paddock, record_stay
from pigmap.geometry.rectangle import Rectangle
from pigmap.planning.moves_of_day import Move, ground_taken, moves_of_day, next_move_day, to_load
from pigmap.records import Edit, Farm
from tests.document.example_farm import DAY, GROUP, KIND, OTHERS, PADDOCK, done, example, square

MOVE = DAY + timedelta(days=5)


def _farm(new: Rectangle, *edits: Edit) -> Farm:
    """Return a farm in which the sows go from their square to a new paddock."""
    return done(
        example(),
        record_stay(GROUP, PADDOCK, DAY),
        place_paddock(new, net_kind_uid=KIND, group_uid=GROUP, in_on=MOVE, uid="next"),
        *edits,
    )


def _others(first: Rectangle, then: Rectangle) -> tuple[Edit, ...]:
    return (
        place_paddock(first, net_kind_uid=KIND, uid="others-1"),
        record_stay(OTHERS, "others-1", DAY),
        place_paddock(then, net_kind_uid=KIND, group_uid=OTHERS, in_on=MOVE, uid="others-2"),
    )


def _only(farm: Farm) -> Move:
    (move,) = moves_of_day(farm, MOVE, DAY)
    return move


def _counts(move: Move) -> list[int]:
    return [sum(nets.count for nets in each) for each in (move.nets.to_set, move.nets.to_leave, move.nets.to_take_up)]


def test_of_four_nets_three_are_carried_where_a_side_is_shared() -> None:
    move = _only(_farm(square(1)))
    assert _counts(move) == [3, 1, 3]
    assert (move.group.uid, move.old and move.old.uid, move.new.uid) == (GROUP, PADDOCK, "next")


def test_the_side_that_both_use_opens_at_a_corner_of_both() -> None:
    move = _only(_farm(square(1)))
    assert move.opens_at_corner
    assert move.opening in ((60.0, 10.0), (60.0, 60.0))


def test_a_side_that_ends_at_no_common_corner_opens_in_its_middle() -> None:
    move = _only(_farm(Rectangle(60.0, 20.0, 0.0, 25_000, 25_000)))
    assert not move.opens_at_corner
    assert move.opening == pytest.approx((60.0, 32.5))


def test_without_a_shared_side_nothing_is_opened_and_all_nets_are_carried() -> None:
    move = _only(_farm(square(3)))
    assert (move.shared_line, move.opening, _counts(move)) == (None, None, [4, 0, 4])


def test_the_nets_taken_up_at_one_move_are_set_at_the_next() -> None:
    moves = moves_of_day(_farm(square(1), *_others(square(4), square(5))), MOVE, DAY)
    assert [_counts(move)[0] for move in moves] == [3, 3]
    assert [nets.count for nets in to_load(moves)] == [3]


def test_a_second_move_that_takes_more_nets_than_the_first_frees_has_the_rest_loaded() -> None:
    moves = moves_of_day(_farm(square(1), *_others(square(4), square(6))), MOVE, DAY)
    freed = _counts(moves[0])[2]
    needed = [_counts(move)[0] for move in moves]
    assert [nets.count for nets in to_load(moves)] == [max(needed[0], needed[0] + needed[1] - freed)]


def test_nobody_goes_where_another_group_still_stands() -> None:
    moves = moves_of_day(_farm(square(4), *_others(square(4), square(5))), MOVE, DAY)
    assert [move.group.uid for move in moves] == [OTHERS, GROUP]


def test_a_side_is_shared_with_the_paddock_that_another_group_was_given_the_same_day() -> None:
    moves = moves_of_day(_farm(square(3), *_others(square(5), square(4))), MOVE, DAY)
    later = moves[1]
    assert sum(nets.count for nets in later.nets.to_set) == 3


def test_the_way_is_counted_from_the_move_before() -> None:
    first, second = moves_of_day(_farm(square(1), *_others(square(4), square(5))), MOVE, DAY)
    assert first.drive_m is None
    assert first.old_outline is not None
    away = first.old_outline.representative_point().distance(second.new_outline)
    assert second.drive_m == pytest.approx(away)


def test_a_group_that_was_nowhere_comes_from_elsewhere() -> None:
    farm = done(example(), place_paddock(square(1), net_kind_uid=KIND, group_uid=OTHERS, in_on=MOVE, uid="next"))
    move = _only(farm)
    assert (move.old, move.old_outline, move.shared_line, _counts(move)) == (None, None, None, [4, 0, 0])


def test_the_next_day_with_a_move_is_found() -> None:
    farm = _farm(square(1))
    assert moves_of_day(farm, DAY + timedelta(days=1), DAY) == ()
    assert next_move_day(farm, DAY + timedelta(days=1), DAY) == MOVE
    assert next_move_day(farm, MOVE, DAY) is None


def test_crooked_ground_is_moved_to_as_well() -> None:
    farm = _farm(square(1))
    crooked = shapely.Polygon([(60, 10), (108, 14), (101, 66), (60, 60)])
    paddocks = {**farm.paddocks, "next": replace(farm.paddocks["next"], outline=crooked)}
    farm = replace(farm, paddocks=MappingProxyType(paddocks))
    move = _only(farm)
    assert move.opens_at_corner
    assert _counts(move)[1:] == [1, 3]


def test_a_side_too_short_to_open_is_none_to_walk_through() -> None:
    move = _only(_farm(Rectangle(60.0, 55.0, 0.0, 50_000, 50_000)))
    assert (move.shared_line, move.opening) == (None, None)


def test_a_side_of_both_that_has_the_outside_beyond_it_is_never_opened() -> None:
    move = _only(_farm(Rectangle(35.0, 10.0, 0.0, 50_000, 50_000)))
    assert move.overlaps
    assert (move.shared_line, move.opening) == (None, None)


def test_of_many_moves_those_wait_whose_ground_is_still_used() -> None:
    made = [done(example())]
    for number in range(7):
        made.append(
            done(
                made[-1],
                add_group(f"Group {number}", since=DAY, uid=f"g{number}"),
                place_paddock(square(number + 10), net_kind_uid=KIND, uid=f"p{number}"),
                record_stay(f"g{number}", f"p{number}", DAY),
                place_paddock(square(number + 11), net_kind_uid=KIND, group_uid=f"g{number}", in_on=MOVE),
            )
        )
    moves = moves_of_day(made[-1], MOVE, DAY)
    assert [move.group.uid for move in moves] == [f"g{number}" for number in reversed(range(7))]


@pytest.mark.parametrize(("owned", "first"), [(16, GROUP), (11, OTHERS)])
def test_where_the_spare_nets_are_few_the_move_that_frees_some_comes_first(owned: int, first: str) -> None:
    others = _others(square(3), Rectangle(135.0, 10.0, 0.0, 25_000, 50_000))
    farm = _farm(Rectangle(300.0, 10.0, 0.0, 50_000, 50_000), *others, own_nets(KIND, owned, DAY))
    moves = moves_of_day(farm, MOVE, DAY)
    assert moves[0].group.uid == first
    assert sum(nets.count for nets in to_load(moves)) <= owned - 8


def test_the_order_that_someone_gave_a_day_is_kept_as_long_as_the_same_groups_move() -> None:
    farm = _farm(square(1), *_others(square(4), square(5)))
    usual = [move.group.uid for move in moves_of_day(farm, MOVE, DAY)]
    turned = done(farm, order_moves(MOVE, usual[::-1]))
    assert [move.group.uid for move in moves_of_day(turned, MOVE, DAY)] == usual[::-1]
    alone = done(farm, order_moves(MOVE, [GROUP]))
    assert [move.group.uid for move in moves_of_day(alone, MOVE, DAY)] == usual


def test_an_order_in_which_a_group_comes_to_ground_where_another_stands_is_found() -> None:
    farm = _farm(square(1), *_others(square(1), square(5)))
    assert ground_taken(moves_of_day(farm, MOVE, DAY)) is None
    blocked = moves_of_day(done(farm, order_moves(MOVE, [GROUP, OTHERS])), MOVE, DAY)
    taken = ground_taken(blocked)
    assert taken is not None
    assert [move.group.uid for move in taken] == [GROUP, OTHERS]
