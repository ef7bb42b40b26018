from __future__ import annotations

import math

import pytest
import shapely

from pigmap.document.edits import change_setting
from pigmap.fence.cautions.caution import Caution, Level
from pigmap.fence.cautions.energizers import beside_live_fences, fed_otherwise, two_energizers
from pigmap.records import Energizer, Place, PlaceKind, WayKind
from tests.document.example_farm import done
from tests.fence.cautions.invented import farm_with, fed_by, said, upright

YARD = Energizer(uid="yard", name="Yard energizer", place_uid="shed")
WOOD = Energizer(uid="wood", name="Battery unit", group_uid="porkers")
SHED = Place(uid="shed", kind=PlaceKind.ENERGIZER, name="Shed", point=shapely.Point(-80, 0))
BARE = farm_with(YARD, WOOD, SHED)


def beside(off_m: float, other: Energizer | None = WOOD) -> Caution | None:
    ground = shapely.box(50 + off_m, 0, 100 + off_m, 50)
    return two_energizers(BARE, fed_by(YARD), fed_by(other, ground, "North 4"))


@pytest.mark.parametrize(("off_m", "found"), [(0.0, True), (1.0, True), (2.4, True), (2.5, False), (2.6, False)])
def test_fences_of_two_energizers_stand_two_and_a_half_metres_apart(off_m: float, found: bool) -> None:
    assert (beside(off_m) is not None) is found


def test_a_side_that_two_energizers_share_is_told_with_both_names() -> None:
    shared = beside(0.0)
    assert shared is not None
    assert (shared.id, shared.level, shared.held) == ("W1", Level.STOP, "never")
    assert said(shared) == [
        (
            "North 3 and North 4 touch, and two energizers feed them: Yard energizer and Battery unit.",
            "Keep them 2.5 m apart, or feed both from one energizer.",
        )
    ]
    assert "24 September 2014" in str(shared.source)


def test_how_near_they_come_never_reads_as_far_enough() -> None:
    near = beside(2.49)
    assert near is not None
    assert str(near.words).startswith("North 3 is 2.4 m from North 4, and two energizers feed them")


def test_one_energizer_may_feed_both_and_of_one_that_is_not_known_nothing_is_said() -> None:
    assert beside(0.0, YARD) is None
    assert beside(0.0, None) is None


def test_corner_to_corner_the_distance_counts_aslant() -> None:
    for off in (1.7, 1.8):
        far = shapely.box(50 + off, 50 + off, 90, 90)
        assert (two_energizers(BARE, fed_by(YARD), fed_by(WOOD, far)) is not None) is (math.hypot(off, off) < 2.5)


def test_distances_are_those_on_the_ground() -> None:
    stretched = farm_with(YARD, WOOD, ground_per_grid=1.1)
    other = fed_by(WOOD, shapely.box(52.3, 0, 90, 50))
    assert two_energizers(BARE, fed_by(YARD), other) is not None
    assert two_energizers(stretched, fed_by(YARD), other) is None


def test_a_place_that_asks_for_more_is_heard() -> None:
    asked = done(BARE, change_setting("energizers apart", 3.0, unit="m"))
    ground = shapely.box(52.9, 0, 90, 50)
    found = two_energizers(asked, fed_by(YARD), fed_by(WOOD, ground))
    assert found is not None
    assert str(found.remedy).startswith("Keep them 3 m apart")
    for nonsense in ("much", -1.0, True):
        odd = done(BARE, change_setting("energizers apart", nonsense))
        assert two_energizers(odd, fed_by(YARD), fed_by(WOOD, ground)) is None


def fence(off_m: float, **more: object) -> list[Caution]:
    way = upright(WayKind.PERMANENT_FENCE, 50 + off_m, **{"electric": True, "energizer_uid": "shed", **more})
    return [*beside_live_fences(farm_with(YARD, WOOD, SHED, way), fed_by(WOOD))]


def test_nets_joined_to_a_permanent_fence_of_another_energizer_are_told_of() -> None:
    (joined,) = fence(0.0)
    assert (joined.id, joined.level, joined.held) == ("W2", Level.STOP, "never")
    assert said(joined) == [
        (
            "North 3 touches the permanent fence, which is live from another energizer.",
            "Keep it 2.5 m off, or feed both from one energizer.",
        )
    ]


@pytest.mark.parametrize(("off_m", "id"), [(0.05, "W2"), (0.15, "W1"), (2.4, "W1"), (2.5, ""), (2.6, "")])
def test_beside_such_a_fence_the_same_distance_is_kept(off_m: float, id: str) -> None:
    assert [each.id for each in fence(off_m)] == ([id] if id else [])


def test_a_fence_of_the_same_energizer_may_be_joined_and_a_dead_one_too() -> None:
    way = upright(WayKind.PERMANENT_FENCE, 50, electric=True, energizer_uid="shed")
    assert not [*beside_live_fences(farm_with(YARD, WOOD, SHED, way), fed_by(YARD))]
    assert not fence(0.0, electric=False)


def test_a_live_fence_of_which_nothing_tells_what_feeds_it_is_not_joined() -> None:
    (joined,) = fence(0.0, energizer_uid=None)
    assert (joined.id, joined.level, joined.held) == ("W2", Level.STOP, "never")
    assert said(joined) == [
        (
            "North 3 touches the permanent fence, which is live; nothing tells from which energizer.",
            "Keep it 2.5 m off. If one energizer feeds both, draw that fence again and say so.",
        )
    ]
    (near,) = fence(1.0, energizer_uid=None)
    assert near.id == "W1"
    assert said(near)[0][0] == (
        "North 3 is 1.0 m from the permanent fence, which is live; nothing tells from which energizer."
    )
    assert not fence(2.5, energizer_uid=None)


def test_where_nothing_tells_what_feeds_the_nets_any_other_energizer_may() -> None:
    way = upright(WayKind.PERMANENT_FENCE, 50, electric=True, energizer_uid="shed")
    alone = farm_with(SHED, way)
    assert not fed_otherwise(alone, way, None)
    barn = Place(uid="barn", kind=PlaceKind.ENERGIZER, point=shapely.Point(90, 90))
    assert fed_otherwise(farm_with(SHED, way, barn), way, None)
