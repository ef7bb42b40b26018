from __future__ import annotations

from typing import cast

import shapely
from shapely.ops import substring

from pigmap.document.edits import begin_stay
from pigmap.fence.books import Books
from pigmap.records import Farm, NetUse
from tests.fence.plans import Box, Visit, on, plan
from tests.planning.invented import TODAY


def _farm() -> Farm:
    """Return sows in 60 by 40 m, in four nets from the south-eastern corner on, that go north on the fourth day."""
    old = Box(0, 0, 60, 40)
    ring = shapely.LineString([(60, 0), (60, 40), (0, 40), (0, 0), (60, 0)])
    uses = [
        NetUse(
            uid=f"use {at}",
            net_kind_uid="kind",
            paddock_uid="paddock 0",
            run=cast(shapely.LineString, substring(ring, 50 * at, 50 * at + 50)),
            set_on=on(-3),
        )
        for at in range(4)
    ]
    visits = [Visit("sows", old, -3, 4), Visit("sows", Box(0, 40, 60, 80), 4, 8)]
    return plan(visits, *uses, nets=9)


def test_a_net_that_is_only_in_part_on_the_side_that_both_use_stays_up_as_a_whole() -> None:
    farm = _farm()
    moved = farm.after(begin_stay("stay 1", on(4)).changes(farm))
    assert [use.taken_on for use in moved.net_uses.values()] == [None, None, on(4), on(4)]


def test_what_is_written_down_of_a_move_is_what_the_books_foretold() -> None:
    farm = _farm()
    (move,) = Books(farm, TODAY).moves
    assert {piece.use_uids for piece in move.to_leave} == {("use 0",), ("use 1",)}
    assert {piece.use_uids for piece in move.to_take_up} == {("use 2",), ("use 3",)}
    moved = farm.after(begin_stay("stay 1", on(4)).changes(farm))
    assert Books(moved, on(4)).at_first == move.after == {"kind": 5}
