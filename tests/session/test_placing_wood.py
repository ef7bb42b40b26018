"""What the ghost says in a wood: single trees with a radius, and rides that are to be cleared for nets."""

from __future__ import annotations

from datetime import timedelta

import pytest
import shapely

from pigmap.builtin.rules.ground_inside import rule
from pigmap.document.edits import add_place, add_way, amend, place_paddock, plan_stay, record_stay
from pigmap.drawing.words import render
from pigmap.geometry.free_outline import FreeOutline
from pigmap.geometry.kept_out import kept_out, round_trees
from pigmap.geometry.rectangle import Rectangle
from pigmap.records import Farm, PlaceKind, WayKind
from pigmap.session.placing import Judgement, PlacingGround, judge
from tests.document.example_farm import DAY, GROUP, KIND, PADDOCK, done, example

MOVE = DAY + timedelta(days=5)
BESIDE = Rectangle(60.0, 10.0, 0.0, 50_000, 50_000)


def wood(*, east: float, north: float = 35.0, radius: float = 8.0, name: str = "Old oak") -> Farm:
    tree = add_place(PlaceKind.TREE, shapely.Point(east, north), name=name, uid="tree")
    return done(example(), record_stay(GROUP, PADDOCK, DAY), tree, amend("places", "tree", radius_m=radius))


def judged(on: Farm, placed: Rectangle | FreeOutline = BESIDE) -> Judgement:
    return judge(on, {}, placed, on.net_kinds[KIND], MOVE, group_uid=GROUP)


def said(found: Judgement) -> list[str]:
    return [render(warning.text) for warning in found.warnings]


def test_a_tree_with_a_radius_is_kept_off_and_the_shift_is_said() -> None:
    found = judged(wood(east=115.0))
    assert said(found) == ["The east side comes within 5.0 m of Old oak. Keep 8 m off."]
    assert render(found.warnings[0].remedy) == "Set it 9 posts north."
    assert not found.hard
    assert [render(each) for each in found.warnings[0].reasons] == [
        "the trees have a fence of their own",
        "the trees are felled",
        "seen on the spot, it fits",
    ]


@pytest.mark.parametrize(("east", "clear"), [(118.0, True), (117.9, False)])
def test_a_tenth_of_a_metre_decides(east: float, clear: bool) -> None:
    assert judged(wood(east=east)).fits is clear


def test_a_tree_that_is_enclosed_is_said_and_one_without_a_radius_is_not() -> None:
    assert said(judged(wood(east=85.0))) == ["It encloses Old oak. Keep 8 m off."]
    assert said(judged(wood(east=85.0, name=""))) == ["It encloses the roots of trees. Keep 8 m off."]
    assert judged(wood(east=85.0, radius=0.0)).fits


def test_free_corners_go_round_a_tree() -> None:
    on = wood(east=110.0)
    round_it = ((60.0, 10.0), (110.0, 10.0), (110.0, 26.0), (101.0, 26.0), (101.0, 44.0), (110.0, 44.0), (110.0, 60.0),
                (60.0, 60.0))  # fmt: skip
    assert judged(on, FreeOutline(round_it)).fits
    assert not judged(on, FreeOutline((round_it[0], round_it[1], round_it[6], round_it[7]))).fits


def test_a_plan_that_reaches_to_a_tree_is_found_when_it_is_verified() -> None:
    placed = place_paddock(BESIDE, net_kind_uid=KIND, uid="b")
    on = done(wood(east=115.0), placed, plan_stay(GROUP, "b", MOVE))
    (breach,) = rule.breaches(on, DAY)
    assert str(breach.words).endswith("reaches into the keep-out Old oak, from which nets stay 8 m away.")
    assert str(breach.remedy) == "Set the paddock farther off, or correct the keep-out if it is drawn too wide."
    clear = done(wood(east=118.0), placed, plan_stay(GROUP, "b", MOVE))
    assert not list(rule.breaches(clear, DAY))


def test_only_trees_with_a_radius_are_kept_off() -> None:
    on = wood(east=115.0, radius=3.0)
    (ground,) = round_trees(on.places.values())
    assert kept_out(ground, ground.net_m).area == pytest.approx(28.3, abs=0.2)
    assert not round_trees([each for each in on.places.values() if each.kind is not PlaceKind.TREE])


def with_ride(minutes: float | None) -> Farm:
    ride = add_way(WayKind.RIDE, shapely.LineString([(60, 60), (160, 60)]), name="Main ride", uid="ride")
    return done(example(), record_stay(GROUP, PADDOCK, DAY), ride, amend("ways", "ride", minutes_to_clear=minutes))


def test_a_side_along_a_ride_wants_clearing() -> None:
    found = judged(with_ride(20.0))
    assert found.fits
    (care,) = (each for each in found.warnings if "Main ride" in render(each.text) and "clear" in render(each.text))
    assert render(care.text) == "50 m of it runs along Main ride: about 10 minutes to clear."
    assert render(care.remedy) == "Clear it the day before."
    (care,) = (each for each in judged(with_ride(None)).warnings if "clear" in render(each.text))
    assert render(care.remedy) == "Pick the ride and say how many minutes all of it takes."


def test_a_ghost_rests_on_both_sides_of_a_ride() -> None:
    ground = PlacingGround(with_ride(20.0), MOVE, GROUP)
    assert len(ground.ride_sides) == 2
    assert len(ground.snap_sides(standing=False, fences=True)) == len(ground.fence_sides) + 2
