from __future__ import annotations

import numpy as np
import pytest
import shapely
from hypothesis import given, settings
from hypothesis import strategies as st

from pigmap.ground import GroundState, Known, prepare
from pigmap.ground.dung import times_in_and_out, zone_ground
from pigmap.records import ChangeSet, GearKind, GearPlace, StayState, add, change, gear_standing
from pigmap.session.ground_changes import touched_fields
from tests.conftest import published
from tests.ground.invented import SOUTH, WEST, farm, field, herd, on, paddock, square, stay

PADDOCK = square(0, 0, 50)


def gear(kind: GearKind, east: float, north: float, day: int = 0, **more: object) -> GearPlace:
    told: dict[str, object] = {"uid": f"{kind} {east} {north} {day}", "group_uid": "g"} | more
    return GearPlace(kind=kind, set_on=on(day), point=shapely.Point(WEST + east, SOUTH + north), **told)  # type: ignore[arg-type]


def laid(state: GroundState, name: str = "n_kg_ha") -> float:
    """Return all that lies on the field, in kg/ha times cells."""
    return float(np.nansum(np.where(state.ground.region_of >= 0, state.cells(name), 0.0)))


HUT, SHADE = gear(GearKind.HUT, 5, 5), gear(GearKind.SHADE, 45, 5)
BASE = (field(), paddock(), *herd(), stay("s", 0, 7))


def test_more_falls_on_the_printed_share_of_the_ground_as_printed() -> None:
    (row,) = published("ground_dung.csv")
    there, elsewhere = times_in_and_out(float(row["area_pct"]) / 100.0)
    assert round(there, 2) == float(row["times_there"])
    assert round(elsewhere, 2) == float(row["times_elsewhere"])


def test_the_zone_is_15_hundredths_of_the_paddock_between_hut_and_shade() -> None:
    zone = zone_ground(PADDOCK, [(GearKind.HUT, HUT.point), (GearKind.SHADE, SHADE.point)])
    assert zone is not None
    assert zone.area == pytest.approx(0.15 * PADDOCK.area, rel=1e-4)
    assert zone.contains(shapely.Point(WEST + 25, SOUTH + 5))
    assert not zone.contains(HUT.point)
    assert not zone.contains(shapely.Point(WEST + 25, SOUTH + 45))


@pytest.mark.parametrize("kinds", [(), (GearKind.HUT,), (GearKind.SHADE,), (GearKind.SHADE, GearKind.DRINKER)])
def test_dung_is_spread_evenly_where_shade_and_a_hut_or_feeder_have_no_place(kinds: tuple[GearKind, ...]) -> None:
    assert zone_ground(PADDOCK, [(kind, HUT.point) for kind in kinds]) is None


def test_gear_changes_where_it_falls_and_not_how_much() -> None:
    even = prepare(farm(*BASE), "f").on(on(10))
    zoned = prepare(farm(*BASE, HUT, SHADE), "f").on(on(10))
    for name in ("n_kg_ha", "p_kg_ha"):
        assert laid(zoned, name) == pytest.approx(laid(even, name), rel=1e-6)
        here = zoned.cells(name)[zoned.cells("load_kg_d_m2") > 0]
        flat = even.cells(name).max()
        assert here.max() / flat == pytest.approx(3.27, abs=0.12)
        assert here.min() / flat == pytest.approx(0.60, abs=0.02)
    assert np.array_equal(zoned.cells("rooting"), even.cells("rooting"), equal_nan=True)
    assert np.array_equal(zoned.cells("rest_days"), even.cells("rest_days"))


@settings(max_examples=15, deadline=None)
@given(st.lists(st.tuples(st.floats(1, 49), st.floats(1, 49)), min_size=2, max_size=4), st.integers(0, 6))
def test_the_sum_over_a_paddock_is_that_of_its_group_wherever_gear_stands(
    spots: list[tuple[float, float]], day: int
) -> None:
    kinds = (GearKind.SHADE, GearKind.HUT, GearKind.FEEDER, GearKind.SHADE)
    places = [
        gear(kind, *spot, day if at > 1 else 0, uid=f"g{at}")
        for at, (kind, spot) in enumerate(zip(kinds, spots, strict=False))
    ]
    even, zoned = prepare(farm(*BASE), "f").on(on(10)), prepare(farm(*BASE, *places), "f").on(on(10))
    assert laid(zoned) == pytest.approx(laid(even), rel=1e-5)


def test_a_paddock_on_two_fields_lays_what_its_group_leaves_on_both_together() -> None:
    halves = (field("f", square(0, 0, 24, 50)), field("g", square(24, 0, 26, 50)))
    rows = (*halves, paddock(), *herd(), stay("s", 0, 7))
    even, zoned = farm(*rows), farm(*rows, gear(GearKind.HUT, 5, 5), gear(GearKind.SHADE, 15, 5))
    sums = [sum(laid(prepare(each, uid).on(on(10))) for uid in ("f", "g")) for each in (even, zoned)]
    assert sums[1] == pytest.approx(sums[0], rel=0.01)
    assert laid(prepare(zoned, "f").on(on(10))) > 1.3 * laid(prepare(even, "f").on(on(10)))


def test_gear_set_elsewhere_within_a_stay_moves_the_zone_from_that_day() -> None:
    moved = (gear(GearKind.HUT, 5, 45, 3), gear(GearKind.SHADE, 45, 45, 3))
    ground = prepare(farm(*BASE, HUT, SHADE, *moved), "f")
    before, after = ground.on(on(3)), ground.on(on(7))
    south, north = (2, 12), (22, 12)  # cells of 2 m: 5 m and 45 m north, halfway across
    assert before.cells("n_kg_ha")[south] > 4 * before.cells("n_kg_ha")[north]
    assert after.cells("n_kg_ha")[north] > after.cells("n_kg_ha")[2, 2]
    assert laid(after) == pytest.approx(laid(prepare(farm(*BASE), "f").on(on(7))), rel=1e-6)


def test_it_makes_no_difference_how_a_stay_is_split() -> None:
    whole = prepare(farm(*BASE, HUT, SHADE), "f")
    split = prepare(farm(*BASE[:-1], stay("s", 0, 3), stay("t", 3, 7), HUT, SHADE), "f")
    for day in (2, 3, 5, 9):
        one, other = whole.on(on(day)), split.on(on(day))
        assert np.allclose(one.cells("n_kg_ha"), other.cells("n_kg_ha"), rtol=1e-6, equal_nan=True)


def test_gear_touches_the_ground_of_its_stay_and_what_is_renewed_is_what_is_made_anew() -> None:
    before, after = farm(*BASE), farm(*BASE, HUT, SHADE)
    assert touched_fields(before, after, ChangeSet((add(HUT), add(SHADE)))) == {"f"}
    known = Known()
    prepare(before, "f", known=known)
    renewed, anew = prepare(after, "f", known=known).on(on(10)), prepare(after, "f").on(on(10))
    assert np.array_equal(renewed.cells("n_kg_ha"), anew.cells("n_kg_ha"), equal_nan=True)
    again = prepare(after, "f", known=known)
    assert np.array_equal(again.on(on(10)).cells("n_kg_ha"), anew.cells("n_kg_ha"), equal_nan=True)


def test_gear_stands_until_its_like_is_set_elsewhere_or_the_pigs_leave() -> None:
    later, beside = gear(GearKind.HUT, 30, 5, 4), gear(GearKind.FEEDER, 30, 30, 2)
    stands = gear_standing(farm(*BASE, HUT, later, beside))
    days = {each.place.uid: (each.first, each.end) for each in stands}
    assert days == {HUT.uid: (on(0), on(4)), later.uid: (on(4), on(7)), beside.uid: (on(2), on(7))}


def test_gear_of_a_stay_goes_with_it_when_its_first_day_becomes_another() -> None:
    named = gear(GearKind.HUT, 5, 5, 0, stay_uid="s")
    (stands,) = gear_standing(farm(*BASE[:-1], stay("s", 2, 7), named))
    assert (stands.first, stands.end) == (on(2), on(7))
    assert not gear_standing(farm(*BASE, gear(GearKind.HUT, 5, 5, 20)))


def test_gear_of_a_running_stay_stands_without_an_end() -> None:
    rows = (*BASE[:-1], stay("s", 0, None, state=StayState.RUNNING), HUT)
    (stands,) = gear_standing(farm(*rows), on(3))
    assert stands.end is None
    assert touched_fields(farm(*rows), farm(*rows), ChangeSet((change(HUT, HUT),))) == {"f"}
