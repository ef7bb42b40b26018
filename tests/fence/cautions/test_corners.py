from __future__ import annotations

import pytest
import shapely

from pigmap.fence.cautions.corners import corners_off
from pigmap.records import NetKind
from tests.fence.cautions.invented import said

EVEN = NetKind(name="50 m nets", bays_mm=(5_000,) * 10)
ODD = NetKind(name="39 m nets", bays_mm=(3_000,) * 13)


@pytest.mark.parametrize(("east", "found"), [(50.0, False), (50.2, False), (50.4, True), (47.5, True), (45.0, False)])
def test_a_corner_more_than_a_foot_from_every_post_wants_a_stake(east: float, found: bool) -> None:
    off = corners_off("North 3", shapely.box(0, 0, east, 50), EVEN, [shapely.box(-50, 0, 0, 50)], 1.0)
    assert (off is not None) is found


def test_it_says_how_many_and_how_far() -> None:
    off = corners_off("North 3", shapely.box(0, 0, 47.5, 50), EVEN, [shapely.box(-50, 0, 0, 50)], 1.0)
    assert off is not None
    assert (off.id, off.level, off.held) == ("W10", "note", "care")
    assert said(off) == [
        (
            "2 corners of North 3 are more than 0.3 m from the nearest post, 2.5 m at most.",
            "Have stakes at hand, or move the corners.",
        )
    ]


def test_distances_are_those_on_the_ground() -> None:
    ground, before = shapely.box(0, 0, 50.4, 50.4), shapely.box(-50, 0, 0, 50.4)
    assert corners_off("North 3", ground, EVEN, [before], 1.0) is not None
    assert corners_off("North 3", ground, EVEN, [before], 50 / 50.4) is None


def test_an_odd_number_of_bays_makes_no_rectangle() -> None:
    off = corners_off("North 3", shapely.box(0, 0, 10.5, 9), ODD, [], 1.0)
    assert off is not None
    assert said(off) == [
        (
            "The nets of North 3 have 13 bays, an odd number: no rectangle has all its corners at posts.",
            "Have a stake at hand for the corner between two posts, or fold one bay back.",
        )
    ]
    assert corners_off("North 3", shapely.box(0, 0, 30, 9), ODD, [], 1.0) is None  # two nets, 26 bays
