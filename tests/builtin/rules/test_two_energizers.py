from __future__ import annotations

import pytest
import shapely

from pigmap.builtin.rules.two_energizers import rule
from pigmap.planning.rule import Breach
from pigmap.records import Energizer, Place, PlaceKind, Record, Way, WayKind, change
from tests.planning.invented import TODAY, farm_with, stay

YARD = Energizer(uid="yard", name="Yard energizer", place_uid="shed")
WOOD = Energizer(uid="wood", name="Battery unit", group_uid="weaners")
SHED = Place(uid="shed", kind=PlaceKind.ENERGIZER, name="Shed", point=shapely.Point(-80, 0))
BOTH = (YARD, WOOD, SHED)


def _found(*rows: Record) -> list[Breach]:
    return list(rule.breaches(farm_with(*BOTH, *rows), TODAY))


def test_two_groups_on_two_energizers_share_no_side() -> None:
    (breach,) = _found(*stay("sows", (0, 0), -2, 6), *stay("weaners", (50, 0), 2, 6))
    assert (breach.weight, breach.reason_helps, breach.caution) == ("plan", "never", "W1")
    assert str(breach.words) == ("0 0 and 50 0 touch, and two energizers feed them: Yard energizer and Battery unit.")
    assert str(breach.remedy) == "Keep them 2.5 m apart, or feed both from one energizer."
    assert breach.is_about("sows 0 0 -2")
    assert breach.uid == "weaners 50 0 2"


@pytest.mark.parametrize(("off", "many"), [(2.4, 1), (2.6, 0)])
def test_they_stand_two_and_a_half_metres_apart(off: float, many: int) -> None:
    assert len(_found(*stay("sows", (0, 0), -2, 6), *stay("weaners", (50 + off, 0), 2, 6))) == many


def test_not_at_the_same_time_is_no_matter() -> None:
    assert not _found(*stay("sows", (0, 0), 2, 4), *stay("weaners", (50, 0), 4, 6))
    assert not _found(*stay("sows", (0, 0), -9, -5), *stay("weaners", (50, 0), -9, -5))


def test_both_that_stand_now_are_a_fact() -> None:
    (breach,) = _found(*stay("sows", (0, 0), -2, 6), *stay("weaners", (50, 0), -1, 6))
    assert breach.weight == "fact"


def test_on_the_day_of_a_move_both_paddocks_of_a_group_stand() -> None:
    rows = [*stay("sows", (0, 0), -2, 3), *stay("sows", (50, 0), 3, 6)]
    assert not _found(*rows)
    farm = farm_with(*BOTH, *rows)
    paddock = farm.paddocks["paddock 50 0"]
    fed = type(paddock)(uid=paddock.uid, name="50 0", outline=paddock.outline, energizer_uid="wood")
    (breach,) = rule.breaches(farm.after([change(paddock, fed)]), TODAY)
    assert breach.caution == "W1"


def test_a_permanent_fence_of_another_energizer_is_not_joined() -> None:
    fence = Way(
        kind=WayKind.PERMANENT_FENCE,
        line=shapely.LineString([(50, -100), (50, 300)]),
        electric=True,
        energizer_uid="shed",
    )
    (breach,) = _found(fence, *stay("weaners", (0, 0), 2, 6))
    assert (breach.caution, breach.weight, breach.reason_helps) == ("W2", "plan", "never")
    assert not _found(fence, *stay("sows", (0, 0), 2, 6))


def test_earth_stakes_near_those_of_another_are_told_of_at_the_place() -> None:
    barn = Place(uid="barn", kind=PlaceKind.ENERGIZER, name="Barn unit", point=shapely.Point(-40, 0))

    def stakes(uid: str, east: float) -> Place:
        return Place(uid=uid, kind=PlaceKind.EARTH_ROD, name=uid, point=shapely.Point(east, 0))

    (breach,) = _found(barn, stakes("one", -66), stakes("other", -56.1))
    assert (breach.table, breach.weight, breach.caution, breach.day) == ("places", "fact", "W7", None)
    assert breach.is_about("one")
    assert breach.is_about("other")
    assert not _found(barn, stakes("one", -66), stakes("other", -55.9))


def test_where_nothing_tells_of_stakes_energizers_side_by_side_want_care() -> None:
    near = Place(uid="far", kind=PlaceKind.ENERGIZER, name="Barn unit", point=shapely.Point(-70.1, 0))
    (breach,) = _found(near)
    assert breach.weight == "care"
