from __future__ import annotations

from dataclasses import replace
from datetime import timedelta

import pytest
import shapely

from pigmap.document.edits import (
    begin_stay,
    place_paddock,
    plan_stay,
    record_net_use,
    record_stay,
    remove,
    stands_here,
    what_follows,
)
from pigmap.errors import EditError
from pigmap.geometry.rectangle import Rectangle
from pigmap.records import Farm, StayState, change
from tests.document.example_farm import DAY, FIELD, GROUP, KIND, OTHERS, PADDOCK, done, example, square

FIVE = timedelta(days=5)
SHIFTED = shapely.box(13, 8, 63, 58)


def with_row() -> Farm:
    """Return a farm with pigs in the first paddock, two planned in a row after it, and other pigs beside the row."""
    return done(
        example(),
        record_stay(GROUP, PADDOCK, DAY - 40 * timedelta(days=1), DAY - 30 * timedelta(days=1), uid="long ago"),
        record_stay(GROUP, PADDOCK, DAY, uid="now"),
        place_paddock(square(1), net_kind_uid=KIND, group_uid=GROUP, in_on=DAY + FIVE, uid="b", stay_uid="next"),
        place_paddock(square(2), net_kind_uid=KIND, group_uid=GROUP, in_on=DAY + 2 * FIVE, uid="c", stay_uid="later"),
        place_paddock(square(3), net_kind_uid=KIND, uid="others"),
        record_stay(OTHERS, "others", DAY, uid="others now"),
    )


def test_the_planned_row_follows_what_stands_and_the_ground_of_its_stays_too() -> None:
    farm = done(with_row(), stands_here(PADDOCK, SHIFTED))
    assert farm.paddocks[PADDOCK].outline.equals(SHIFTED)
    assert farm.stays["now"].ground.equals(SHIFTED)
    for uid, stay, west in (("b", "next", 63), ("c", "later", 113)):
        assert farm.paddocks[uid].outline.equals(shapely.box(west, 8, west + 50, 58))
        assert farm.stays[stay].ground.equals(farm.paddocks[uid].outline)


def test_history_and_other_pigs_stay_where_they_are() -> None:
    before = with_row()
    farm = done(before, stands_here(PADDOCK, SHIFTED))
    assert farm.stays["long ago"].ground.equals(before.stays["long ago"].ground)
    assert farm.paddocks["others"] == before.paddocks["others"]
    assert farm.stays["others now"] == before.stays["others now"]


def test_a_planned_paddock_with_other_pigs_in_it_ends_the_row() -> None:
    before = done(with_row(), record_stay(OTHERS, "b", DAY, uid="in the way"))
    farm = done(before, stands_here(PADDOCK, SHIFTED))
    assert farm.paddocks["b"] == before.paddocks["b"]
    assert farm.paddocks["c"] == before.paddocks["c"]


def test_what_shares_no_side_with_the_one_before_is_left_where_it_is_planned() -> None:
    before = done(
        with_row(),
        place_paddock(Rectangle(300, 60, 0, 50_000, 50_000), group_uid=GROUP, in_on=DAY + 3 * FIVE, uid="far"),
    )
    assert [paddock.uid for paddock, _ in what_follows(before, PADDOCK, SHIFTED)] == ["b", "c"]
    assert done(before, stands_here(PADDOCK, SHIFTED)).paddocks["far"] == before.paddocks["far"]


def test_the_row_goes_on_behind_a_return_to_the_same_paddock() -> None:
    farm = done(with_row(), remove("stays", "later"), plan_stay(GROUP, PADDOCK, DAY + 2 * FIVE, uid="back"))
    farm = done(farm, plan_stay(GROUP, "c", DAY + 3 * FIVE))
    found = done(farm, stands_here(PADDOCK, SHIFTED))
    assert found.stays["back"].ground.equals(SHIFTED)
    assert found.paddocks["c"].outline.equals(shapely.box(113, 8, 163, 58))


def test_stays_that_were_planned_before_these_pigs_came_here_lead_nowhere() -> None:
    stale = plan_stay(GROUP, "far", DAY - FIVE, DAY, uid="never was")
    far = place_paddock(Rectangle(300, 60, 0, 50_000, 50_000), uid="far")
    farm = done(with_row(), far, stale)
    assert [paddock.uid for paddock, _ in what_follows(farm, PADDOCK, SHIFTED)] == ["b", "c"]


def test_a_dragged_corner_turns_the_row_with_the_side_that_it_shares() -> None:
    crooked = shapely.Polygon([(10, 10), (66, 10), (60, 60), (10, 60)])
    farm = done(with_row(), stands_here(PADDOCK, crooked))
    follows = farm.paddocks["b"].outline
    assert farm.paddocks[PADDOCK].nets_long is None
    assert farm.paddocks["b"].nets_long == 1
    assert follows.area == pytest.approx(2500)
    assert follows.distance(shapely.Point(60, 60)) < 1e-9
    shared = follows.exterior.intersection(shapely.LineString([(66, 10), (60, 60)]).buffer(1e-6))
    assert shared.length == pytest.approx(50, abs=0.01)


def test_nets_that_stand_go_along_and_those_that_were_taken_up_do_not() -> None:
    west, south = shapely.LineString([(10, 60), (10, 10)]), shapely.LineString([(10, 10), (60, 10)])
    before = done(
        with_row(),
        record_net_use(PADDOCK, KIND, south, DAY, uid="south"),
        record_net_use("b", KIND, west, DAY, uid="left there"),
        record_net_use(PADDOCK, KIND, south, DAY - FIVE, taken_on=DAY, uid="taken up"),
        record_net_use("others", KIND, shapely.LineString([(160, 10), (160, 60)]), DAY, uid="others'"),
    )
    farm = done(before, stands_here(PADDOCK, SHIFTED))
    assert farm.net_uses["south"].run.equals(shapely.LineString([(13, 8), (63, 8)]))
    assert farm.net_uses["left there"].run.equals(shapely.LineString([(13, 58), (13, 8)]))
    for uid in ("taken up", "others'"):
        assert farm.net_uses[uid] == before.net_uses[uid]
    crooked = done(before, stands_here(PADDOCK, shapely.Polygon([(10, 10), (70, 10), (60, 60), (10, 60)])))
    assert crooked.net_uses["south"].run.equals(shapely.LineString([(10, 10), (70, 10)]))
    assert crooked.net_uses["left there"].run.equals(west)


def test_a_fact_is_taken_wherever_it_lies() -> None:
    farm = done(with_row(), stands_here(PADDOCK, shapely.box(170, -300, 220, -250)))
    assert farm.paddocks[PADDOCK].field_uid == FIELD
    assert farm.stays["now"].state is StayState.RUNNING
    on_others = done(with_row(), stands_here(PADDOCK, shapely.box(165, 15, 215, 65)))
    assert on_others.paddocks["b"].outline.equals(shapely.box(215, 15, 265, 65))


@pytest.mark.parametrize(
    ("uid", "ground", "said", "remedy"),
    [
        ("b", SHIFTED, "No pigs are in Long Field 2 now", "Choose a paddock with pigs in it"),
        (
            PADDOCK,
            shapely.Polygon([(0, 0), (50, 50), (50, 0), (0, 50)]),
            "The sides of Long Field 1 would cross",
            "go round it once",
        ),
        (PADDOCK, shapely.Polygon([(0, 0), (50, 0), (90, 0)]), "or close no ground", "Drag its corners"),
        ("gone", SHIFTED, "The paddock is not there any more", "Undo brings it back"),
    ],
)
def test_what_cannot_stand_is_said_with_the_remedy(uid: str, ground: shapely.Polygon, said: str, remedy: str) -> None:
    with pytest.raises(EditError, match=said) as caught:
        stands_here(uid, ground)(with_row())
    assert remedy in str(caught.value)


def test_when_they_moved_on_it_is_the_next_that_carries_the_row() -> None:
    farm = done(with_row(), begin_stay("next", DAY + FIVE), stands_here("b", shapely.box(60, 20, 110, 70)))
    assert farm.paddocks["c"].outline.equals(shapely.box(110, 20, 160, 70))
    assert farm.paddocks[PADDOCK].outline.equals(square().outline)


def test_what_was_told_of_its_sides_goes_along_with_a_paddock_that_was_moved_as_one() -> None:
    farm = with_row()
    paddock = farm.paddocks[PADDOCK]
    told = farm.after([change(paddock, replace(paddock, side_nets=(f"1 {KIND}", f"1 {KIND}")))])
    assert done(told, stands_here(PADDOCK, SHIFTED)).paddocks[PADDOCK].side_nets == (f"1 {KIND}", f"1 {KIND}")
    crooked = shapely.Polygon([(10, 10), (66, 10), (60, 60), (10, 60)])
    assert done(told, stands_here(PADDOCK, crooked)).paddocks[PADDOCK].side_nets == ()
