from __future__ import annotations

from dataclasses import replace
from datetime import date, timedelta
from types import MappingProxyType

import pytest
import shapely

from pigmap.document.edits import add_net_kind, begin_stay, place_paddock, plan_stay, record_net_use, record_stay
from pigmap.drawing.words import render
from pigmap.fence.behind import leave_up, stays_because
from pigmap.geometry.rectangle import Rectangle
from pigmap.planning.moves_of_day import Move, moves_of_day
from pigmap.records import Edit, Farm
from tests.document.example_farm import DAY, GROUP, KIND, OTHERS, PADDOCK, done, example

MOVE = DAY + timedelta(days=5)
OLD = Rectangle(100.0, 60.0, 0.0, 50_000, 50_000)
EAST = Rectangle(150.0, 60.0, 0.0, 50_000, 50_000)
SOUTH = Rectangle(100.0, 10.0, 0.0, 50_000, 50_000)
FAR = Rectangle(300.0, 10.0, 0.0, 50_000, 50_000)


def neighboured(*edits: Edit, south: Rectangle = SOUTH, old_kind: str | None = KIND) -> Farm:
    """Return a farm where the sows go east, and the weaners stand behind the south side of what they leave."""
    return done(
        example(),
        place_paddock(OLD, net_kind_uid=old_kind, uid="old"),
        record_stay(GROUP, "old", DAY),
        place_paddock(south, net_kind_uid=KIND, uid="south"),
        record_stay(OTHERS, "south", DAY),
        place_paddock(EAST, net_kind_uid=KIND, group_uid=GROUP, in_on=MOVE, uid="next"),
        *edits,
    )


def move_of(farm: Farm, group: str = GROUP, today: date = DAY) -> Move:
    (move,) = (each for each in moves_of_day(farm, MOVE, today) if each.group.uid == group)
    return move


def counts(move: Move) -> tuple[int, int, int, int]:
    nets = move.nets
    stays = sum(each.nets.count for each in nets.stays)
    found = [sum(each.count for each in some) for some in (nets.to_set, nets.to_leave, nets.to_take_up)]
    return found[0], found[1], stays, found[2]


def said(farm: Farm, move: Move) -> list[str]:
    return [render(stays_because(farm, each)) for each in move.nets.stays]


def test_the_side_of_a_neighbour_stays_and_is_named() -> None:
    farm = neighboured()
    move = move_of(farm)
    assert counts(move) == (3, 1, 1, 2)
    assert said(farm, move) == ["south side, Weaners stand behind it"]
    step = leave_up(farm, move.nets)
    assert step is not None
    assert render(step) == "Leave up the south side: Weaners stand behind it."


def test_without_a_neighbour_nothing_stays() -> None:
    farm = neighboured(south=FAR)
    assert counts(move_of(farm)) == (3, 1, 0, 3)
    assert leave_up(farm, move_of(farm).nets) is None


@pytest.mark.parametrize("off", [0.3, -0.3, 0.8])
def test_ground_that_was_set_down_by_eye_keeps_its_side_too(off: float) -> None:
    farm = neighboured(south=Rectangle(100.0, 10.0 - off, 0.0, 50_000, 50_000))
    assert "south side, Weaners stand behind it" in said(farm, move_of(farm))
    assert counts(move_of(farm))[3] <= 2


def test_a_neighbour_behind_a_part_of_a_net_keeps_the_whole_of_it() -> None:
    farm = neighboured(south=Rectangle(60.0, 10.0, 0.0, 50_000, 50_000))
    assert counts(move_of(farm))[2:] == (1, 2)


def test_ground_that_only_meets_a_corner_keeps_nothing() -> None:
    farm = neighboured(south=Rectangle(50.0, 10.0, 0.0, 50_000, 50_000))
    assert counts(move_of(farm))[2:] == (0, 3)


def test_the_side_stays_as_long_as_the_neighbour_has_not_moved_that_day() -> None:
    farm = neighboured(place_paddock(FAR, net_kind_uid=KIND, group_uid=OTHERS, in_on=MOVE, uid="far"))
    first, second = moves_of_day(farm, MOVE, DAY)
    assert counts(first)[2] == 1
    assert counts(second)[2] == 0
    assert sum(counts(each)[3] for each in (first, second)) == 6
    behind = {GROUP: "Weaners", OTHERS: "Sows"}[first.group.uid]
    assert said(farm, first)[0].endswith(f"side, {behind} stand behind it")


def test_a_group_that_comes_along_the_old_ground_on_that_day_before_keeps_its_side() -> None:
    farm = neighboured(place_paddock(SOUTH, net_kind_uid=KIND, group_uid=OTHERS, in_on=MOVE, uid="back"), south=FAR)
    moves = moves_of_day(farm, MOVE, DAY)
    if moves[0].group.uid == OTHERS:
        assert counts(moves[1])[2] == 1
    else:
        assert counts(moves[0])[2:] == (0, 3)
        assert counts(moves[1])[0] == 4


def test_a_neighbour_that_should_have_left_but_has_nowhere_to_go_keeps_its_side() -> None:
    farm = neighboured()
    stays = {
        uid: replace(s, out_on=MOVE - timedelta(days=2)) if s.group_uid == OTHERS else s
        for uid, s in farm.stays.items()
    }
    farm = replace(farm, stays=MappingProxyType(stays))
    assert counts(move_of(farm))[2:] == (1, 2)


def test_nets_that_are_written_down_stay_by_their_own_kind() -> None:
    run = shapely.LineString([(100.0, 60.0), (150.0, 60.0)])
    farm = neighboured(
        add_net_kind("red", (3572,) * 13 + (3564,), tape="red", uid="red"), record_net_use("old", "red", run, DAY)
    )
    (staying,) = move_of(farm).nets.stays
    assert (staying.nets.count, staying.nets.kind and staying.nets.kind.tape) == (1, "red")
    assert staying.lines[0].equals(run)


def test_where_kinds_are_unknown_the_side_stays_by_its_length() -> None:
    farm = neighboured(add_net_kind("red", (3572,) * 13 + (3564,), tape="red", uid="red"), old_kind=None)
    (staying,) = move_of(farm).nets.stays
    assert (staying.nets.kind, staying.nets.length_m) == (None, 50.0)
    assert said(farm, move_of(farm)) == ["south side, Weaners stand behind it"]


def test_a_move_that_is_recorded_leaves_the_net_of_the_neighbour_standing() -> None:
    sides = {
        "south": shapely.LineString([(100.0, 60.0), (150.0, 60.0)]),
        "north": shapely.LineString([(100.0, 110.0), (150.0, 110.0)]),
        "east": shapely.LineString([(150.0, 60.0), (150.0, 110.0)]),
    }
    farm = neighboured(*(record_net_use("old", KIND, line, DAY) for line in sides.values()))
    (coming,) = (stay.uid for stay in farm.stays.values() if stay.paddock_uid == "next")
    after = done(farm, begin_stay(coming, MOVE))
    taken = {
        name for name, line in sides.items() for use in after.net_uses.values() if use.run.equals(line) and use.taken_on
    }
    assert taken == {"north"}


def test_when_the_neighbour_goes_too_its_net_goes_with_it() -> None:
    south = shapely.LineString([(100.0, 60.0), (150.0, 60.0)])
    farm = neighboured(record_net_use("old", KIND, south, DAY), plan_stay(OTHERS, PADDOCK, MOVE))
    for group in (GROUP, OTHERS):
        (coming,) = (s.uid for s in farm.stays.values() if s.group_uid == group and s.state.value == "planned")
        farm = done(farm, begin_stay(coming, MOVE))
        (use,) = (each for each in farm.net_uses.values() if each.run.equals(south))
        assert (use.taken_on is None) == (group == GROUP)
