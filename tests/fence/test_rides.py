"""Sides along rides, and how long clearing takes."""

from __future__ import annotations

from dataclasses import replace

import pytest
import shapely

from pigmap.drawing.words import render
from pigmap.fence.rides import BESIDE_M, along_rides, clearing_remedy, clearing_words
from pigmap.records import Farm, Projection, Way, WayKind, add, change

RIDE = Way(
    uid="ride", kind=WayKind.RIDE, name="Main ride", line=shapely.LineString([(0, 0), (250, 0)]), minutes_to_clear=25.0
)
BARE = Farm(document_uid="", projection=Projection(name="", authority="NONE", code=0, definition=""))
FARM = BARE.after([add(RIDE)])


def test_a_side_on_a_ride_takes_its_share_of_the_minutes() -> None:
    (along,) = along_rides(FARM, shapely.box(50, 0, 100, 50))
    assert along.length_m == pytest.approx(50)
    assert along.minutes == pytest.approx(5)
    assert render(clearing_words(along)) == "50 m of it runs along Main ride: about 5 minutes to clear."
    assert render(clearing_remedy(along)) == "Clear it the day before."


def test_a_side_a_tenth_beyond_its_edge_is_not_on_it() -> None:
    assert along_rides(FARM, shapely.box(50, BESIDE_M - 0.1, 100, 50))
    assert not along_rides(FARM, shapely.box(50, BESIDE_M + 0.1, 100, 50))


def test_sides_that_cross_a_ride_do_not_run_along_it() -> None:
    assert not along_rides(FARM, shapely.box(50, -30, 100, 50))


def test_other_ways_are_no_rides() -> None:
    track = BARE.after([add(replace(RIDE, kind=WayKind.TRACK))])
    assert not along_rides(track, shapely.box(50, 0, 100, 50))


def test_both_sides_of_a_narrow_paddock_are_cleared_once_at_most() -> None:
    (along,) = along_rides(FARM, shapely.box(0, -2, 250, 2))
    assert along.minutes == pytest.approx(25)


def test_where_nobody_told_the_minutes_it_is_asked_for() -> None:
    farm = FARM.after([change(RIDE, replace(RIDE, minutes_to_clear=None))])
    (along,) = along_rides(farm, shapely.box(50, 0, 100, 50))
    assert render(clearing_words(along)) == "50 m of it runs along Main ride; how long it takes to clear is not told."
    assert render(clearing_remedy(along)) == "Pick the ride and say how many minutes all of it takes."
