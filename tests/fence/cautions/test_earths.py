from __future__ import annotations

import pytest
import shapely

from pigmap.document.edits import change_setting
from pigmap.fence.cautions.caution import Caution
from pigmap.fence.cautions.earths import earths_too_near
from pigmap.records import Place, PlaceKind
from tests.document.example_farm import done
from tests.fence.cautions.invented import farm_with, said


def place(kind: PlaceKind, east: float, name: str = "", north: float = 0.0) -> Place:
    return Place(uid=f"{kind} {east}", kind=kind, name=name, point=shapely.Point(east, north))


def found(*places: Place) -> list[Caution]:
    return [each.caution for each in earths_too_near(farm_with(*places))]


YARD = place(PlaceKind.ENERGIZER, 0, "Yard unit")
STAKES = place(PlaceKind.EARTH_ROD, 5, "Yard stakes")


@pytest.mark.parametrize(("off_m", "many"), [(9.9, 1), (10.0, 0), (10.1, 0)])
def test_earths_of_two_energizers_stay_ten_metres_apart(off_m: float, many: int) -> None:
    far = place(PlaceKind.ENERGIZER, 60, "Wood unit")
    theirs = place(PlaceKind.EARTH_ROD, 50, "Wood stakes")
    near = place(PlaceKind.EARTH_ROD, 50 - off_m, "Yard stakes")
    yard = place(PlaceKind.ENERGIZER, 35, "Yard unit")
    cautions = found(far, theirs, yard, near)
    assert len(cautions) == many
    for each in cautions:
        assert (each.id, each.level, each.held) == ("W7", "stop", "reason")
        assert said(each) == [
            (
                "Wood stakes: 9.9 m from Yard stakes, and the two are earths of two energizers.",
                "Set the earth stakes of one 10 m or more from those of the other.",
            )
        ]


def test_stakes_of_one_energizer_stand_as_near_as_they_like() -> None:
    assert not found(YARD, STAKES, place(PlaceKind.EARTH_ROD, 8))


def test_an_energizer_without_stakes_has_its_earth_where_it_stands_as_far_as_anybody_knows() -> None:
    (two,) = found(YARD, place(PlaceKind.ENERGIZER, 9.9))
    assert (two.level, two.held) == ("warn", "care")
    assert said(two) == [
        (
            "Yard unit: 9.9 m from an energizer, and nothing tells where the earth stakes of both are.",
            "Set the earth stakes of one 10 m or more from those of the other.",
        )
    ]
    assert not found(YARD, place(PlaceKind.ENERGIZER, 10.1))


@pytest.mark.parametrize("kind", [PlaceKind.SHED, PlaceKind.WATER_POINT])
def test_stakes_near_a_building_or_a_tap_want_care(kind: PlaceKind) -> None:
    (near,) = found(YARD, STAKES, place(kind, 14.9))
    assert (near.level, near.held) == ("warn", "care")
    thing = "the shed" if kind is PlaceKind.SHED else "the water point"
    assert said(near) == [
        (
            f"Yard stakes: 9.9 m from {thing}, which may have mains, metal or pipes.",
            "Set earth stakes 10 m or more from the earth of a building, from metal and from pipes.",
        )
    ]
    assert not found(YARD, STAKES, place(kind, 15.1))


def test_how_far_is_a_setting() -> None:
    far = farm_with(YARD, STAKES, place(PlaceKind.SHED, 24.9))
    assert not [*earths_too_near(far)]
    assert [*earths_too_near(done(far, change_setting("earths apart", 20.0, unit="m")))]
