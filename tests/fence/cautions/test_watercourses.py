from __future__ import annotations

import shapely

from pigmap.fence.cautions.setbacks import near_water, setbacks_of
from pigmap.fence.cautions.watercourses import watercourses_crossed
from pigmap.records import Way, WayKind
from tests.fence.cautions.invented import HERE, farm_with, said, upright


def test_a_fence_across_a_watercourse_is_told_and_one_a_tenth_beside_it_is_not() -> None:
    (caution,) = watercourses_crossed(farm_with(upright(WayKind.WATERCOURSE, 49.9)), HERE)
    assert (caution.id, caution.held) == ("W12", "reason")
    assert said(caution) == [
        (
            "North 3 lies across the watercourse.",
            "Set it to one side: in water a net loses its power and is a danger to people, and rising water takes it "
            "along. Local rules come first.",
        )
    ]
    assert not [*watercourses_crossed(farm_with(upright(WayKind.WATERCOURSE, 50.1)), HERE)]


def test_water_that_ends_within_the_ground_counts_too_and_a_ditch_does_not() -> None:
    inside = Way(name="The brook", kind=WayKind.WATERCOURSE, line=shapely.LineString([(10, 10), (20, 20)]))
    (caution,) = watercourses_crossed(farm_with(inside), HERE)
    assert str(caution.words) == "North 3 lies across The brook."
    assert not [*watercourses_crossed(farm_with(upright(WayKind.DITCH, 25)), HERE)]


def test_what_goes_across_is_told_once() -> None:
    farm = farm_with(upright(WayKind.WATERCOURSE, 25))
    assert not [*near_water(farm, HERE, setbacks_of(farm))]
    beside = farm_with(upright(WayKind.WATERCOURSE, 55))
    assert [str(each.words) for each in near_water(beside, HERE, setbacks_of(beside))] == [
        "North 3 comes within 5.0 m of the watercourse; 10 m are usual."
    ]
