"""How far is walked with the nets of a move, and in which order gear goes."""

from __future__ import annotations

from dataclasses import replace
from datetime import timedelta

import pytest
import shapely

from pigmap.drawing.words import render
from pigmap.planning.gear_order import gear_there, gear_words
from pigmap.planning.moves_of_day import Move, moves_of_day
from pigmap.planning.walk_of_move import walk_of
from pigmap.records import Farm, GearKind, GearPlace, NetKind, add, change
from tests.planning.invented import TODAY, farm_with, stay

CORNER_M = (25.0**2 + 25.0**2) ** 0.5
"""From the middle of a square of 50 m to its corner [m]."""


def farm() -> Farm:
    return farm_with(*stay("sows", (0, 0), -2, 3), *stay("sows", (50, 0), 3, 9))


def move(on: Farm) -> Move:
    (found,) = moves_of_day(on, TODAY + timedelta(days=3), TODAY)
    return found


@pytest.mark.parametrize(
    ("a_trip", "trips", "two", "corners"),
    [(1, 6, 4, 12), (2, 4, 2, 8), (3, 2, 2, 4)],
)
def test_three_nets_are_set_and_three_taken_up_from_the_middle_of_each_paddock(
    a_trip: int, trips: int, two: int, corners: int
) -> None:
    walk = walk_of(farm(), move(farm()), a_trip)
    assert walk is not None
    assert (walk.trips, walk.trips_two) == (trips, two)
    assert walk.walk_m == pytest.approx(300 + corners * CORNER_M)


def test_nets_of_an_unknown_kind_are_not_walked_with() -> None:
    on = farm().after([add(NetKind(uid="half", name="25 m nets", bays_mm=(5_000,) * 5))])
    rows = [change(paddock, replace(paddock, net_kind_uid=None)) for paddock in on.paddocks.values()]
    assert walk_of(on.after(rows), move(on.after(rows)), 2) is None


def test_gear_goes_in_the_order_of_the_trade() -> None:
    every = [GearKind.HUT, GearKind.SHADE, GearKind.DRINKER, GearKind.FEEDER, GearKind.WALLOW]
    assert (
        render(gear_words(every))
        == "Through the opening: feeder, shade, wallow; drinker once all have crossed; hut last."
    )
    assert render(gear_words([GearKind.HUT])) == "Through the opening: hut last."
    assert render(gear_words(())) == "Gear through the opening; a hut, if there is one, last."


def test_the_gear_of_a_group_is_that_which_stands_with_it() -> None:
    hut = GearPlace(kind=GearKind.HUT, group_uid="sows", set_on=TODAY - timedelta(days=1), point=shapely.Point(20, 20))
    others = replace(hut, uid="other", kind=GearKind.SHADE, group_uid="weaners")
    on = farm().after([add(hut), add(others)])
    assert gear_there(on, "sows", TODAY + timedelta(days=3), TODAY) == {GearKind.HUT}
    assert gear_there(on, "sows", TODAY - timedelta(days=5), TODAY) == frozenset()
