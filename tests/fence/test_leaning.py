from __future__ import annotations

from datetime import timedelta

import pytest

from pigmap.document.edits import place_paddock, plan_stay
from pigmap.fence.books import Books
from pigmap.fence.leaning import Leaning, leaning_on, lines_beside
from pigmap.fence.of_move import KindGround, nets_of_move
from pigmap.fence.walked import walked_fence
from tests.document.example_farm import GROUP, KIND, PADDOCK, done, square
from tests.document.leaning_farm import MOVE, OWN, leaning_farm


@pytest.mark.parametrize(
    ("fence", "wanted", "closes"),
    [
        ({}, Leaning.DEAD, True),
        ({"electric": True, "energizer_uid": "shed"}, Leaning.JOINED, True),
        ({"electric": True, "energizer_uid": "barn"}, Leaning.OTHER, False),
        ({"electric": True}, Leaning.UNKNOWN, False),
        ({"note": "barbed"}, Leaning.BARBED, False),
    ],
)
def test_what_a_permanent_fence_is_to_nets(fence: dict[str, object], wanted: Leaning, closes: bool) -> None:
    on = leaning_farm(**fence)
    assert leaning_on(on, on.ways["fence"], OWN) is wanted
    assert wanted.closes is closes
    lines = lines_beside(on, square(1).outline, "", GROUP)
    assert bool(lines) is closes
    assert not lines_beside(on, square(1).shifted(0, 1_000).outline, "", GROUP)


@pytest.mark.parametrize(("fence", "set_", "taken"), [({}, 2, 2), ({"electric": True, "energizer_uid": "barn"}, 3, 3)])
def test_a_move_sets_no_nets_where_the_new_paddock_leans(fence: dict[str, object], set_: int, taken: int) -> None:
    on = leaning_farm(**fence)
    kind = on.net_kinds[KIND]
    old = KindGround(on.paddocks[PADDOCK].outline, kind, PADDOCK, GROUP)
    nets = nets_of_move(on, KindGround(square(1).outline, kind, "", GROUP), old, (), MOVE)
    assert [each.count for each in nets.to_set] == [set_]
    assert [each.count for each in nets.to_leave] == [1]
    assert [each.count for each in nets.to_take_up] == [taken]
    assert sum(run.length_mm for run in nets.sides.shared) == pytest.approx(50_000, abs=50)


def test_nets_that_stand_are_counted_without_the_side_that_a_fence_closes() -> None:
    on = done(
        leaning_farm(),
        place_paddock(square(3), net_kind_uid=KIND, uid="far"),
        plan_stay(GROUP, "far", MOVE, MOVE + timedelta(days=3)),
    )
    assert Books(on, MOVE - timedelta(days=1)).counts(MOVE) == {KIND: 3}


@pytest.mark.parametrize(
    ("fence", "nets"),
    [({}, 3), ({"electric": True, "energizer_uid": "shed"}, 3), ({"electric": True, "energizer_uid": "barn"}, 4)],
)
def test_what_stands_against_a_fence_has_nets_of_its_own_where_the_two_may_not_be_joined(
    fence: dict[str, object], nets: int
) -> None:
    on = leaning_farm(**fence)
    outline = square(1).outline
    found = walked_fence(on, [(x, y) for x, y, *_ in outline.exterior.coords][:-1], GROUP, MOVE, today=MOVE)
    assert len(found.nets) == nets
