from __future__ import annotations

from datetime import timedelta

from pigmap.document.edits import add_group, add_net_kind, place_paddock, record_stay
from pigmap.geometry.rectangle import Rectangle
from pigmap.planning.moves_of_day import moves_of_day
from pigmap.qt.nets import carried, carried_on
from pigmap.qt.whereabouts import Book
from pigmap.records import Stay
from tests.document.example_farm import DAY, GROUP, KIND, done, example

MOVE = DAY + timedelta(days=5)


def _move(old_kind: str, old_sides: tuple[int, int]) -> tuple[int, int] | None:
    """Return the nets of a move to the middle of the long side of the paddock before."""
    on = done(
        example(),
        add_net_kind("25 m nets", (3572,) * 6 + (3568,), uid="short"),
        place_paddock(Rectangle(10.0, 10.0, 0.0, *old_sides), net_kind_uid=old_kind, uid="long"),
        record_stay(GROUP, "long", DAY),
        place_paddock(
            Rectangle(35.0, 60.0, 0.0, 50_000, 50_000), net_kind_uid=KIND, group_uid=GROUP, in_on=MOVE, uid="next"
        ),
    )
    before, after = sorted(on.stays.values(), key=lambda stay: stay.in_on)
    return carried(on, before, after)


def test_a_planned_move_leaves_every_net_that_it_uses_too() -> None:
    assert _move(KIND, (100_000, 50_000)) == (3, 2)


def test_nets_that_are_left_are_those_of_the_paddock_before() -> None:
    assert _move("short", (100_000, 50_000)) == (3, 2)
    assert _move("short", (90_000, 50_000)) == (3, 3)


def test_without_a_paddock_before_nothing_is_left() -> None:
    on = done(
        example(),
        place_paddock(Rectangle(35.0, 60.0, 0.0, 50_000, 50_000), net_kind_uid=KIND, group_uid=GROUP, in_on=MOVE),
    )
    (stay,) = on.stays.values()
    assert isinstance(stay, Stay)
    assert carried(on, None, stay) == (4, 0)


def test_the_nets_of_a_neighbour_beside_the_new_ground_are_not_carried_either() -> None:
    on = done(
        example(),
        place_paddock(Rectangle(10.0, 10.0, 0.0, 50_000, 50_000), net_kind_uid=KIND, uid="old"),
        record_stay(GROUP, "old", DAY),
        add_group("Neighbours", uid="others"),
        place_paddock(Rectangle(60.0, 60.0, 0.0, 50_000, 50_000), net_kind_uid=KIND, uid="theirs"),
        record_stay("others", "theirs", DAY),
        place_paddock(
            Rectangle(10.0, 60.0, 0.0, 50_000, 50_000), net_kind_uid=KIND, group_uid=GROUP, in_on=MOVE, uid="next"
        ),
    )
    own = [stay for stay in on.stays.values() if stay.group_uid == GROUP]
    before, after = sorted(own, key=lambda stay: stay.in_on)
    assert carried(on, before, after, DAY) == (2, 2)
    assert carried_on(Book(on, DAY), before, after) == (2, 2)
    (move,) = moves_of_day(on, MOVE, DAY)
    assert sum(each.count for each in move.nets.to_set) == 2
