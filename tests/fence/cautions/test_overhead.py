from __future__ import annotations

import math
from itertools import pairwise

import numpy as np
import pytest
import shapely

from pigmap.fence.cautions.caution import Caution, LiveGround
from pigmap.fence.cautions.overhead import ASK, along_m, is_clear, overhead_lines, slant_m
from pigmap.records import Way, WayKind
from tests.fence.cautions.invented import GROUND, HERE, farm_with, said, upright

TURNED = shapely.Polygon([(0, 0), (30, -40), (70, -10), (40, 30)])
"""A square of 50 m, turned by 53 degrees from north."""


def beside(off_m: float, ground: shapely.Polygon = TURNED, **more: object) -> list[Caution]:
    east = ground.bounds[2] + off_m
    return [*overhead_lines(farm_with(upright(WayKind.OVERHEAD_LINE, east, **more)), LiveGround("North 3", ground))]


@pytest.mark.parametrize(("volts", "least"), [(0.4, 3.0), (11.0, 4.0), (33.0, 4.0), (132.0, 8.0), (None, 8.0)])
def test_beside_a_line_the_printed_distance_for_its_voltage_is_kept(volts: float | None, least: float) -> None:
    (near,) = beside(least - 0.1, voltage_kv=volts)
    assert (near.id, near.level, near.held) == ("W3", "stop", "never")
    assert not beside(least, voltage_kv=volts)
    assert not beside(least + 0.1, voltage_kv=volts)


def test_under_a_line_nothing_stands_since_nobody_knows_how_high_it_hangs() -> None:
    (under,) = beside(-20.0, voltage_kv=11.0, name="Long line")
    assert under.held == "never"
    assert said(under) == [
        (
            "North 3 lies under Long line, and nothing tells how high that hangs.",
            "Set it 4 m or more to one side. Where the owner of the line lets a fence pass under it, cross near a "
            "right angle (60° or more). Local rules come first.",
        )
    ]


def test_too_near_says_how_near_and_what_is_in_print_or_was_told() -> None:
    ends = "Set it clear of the line. Its owner can tell you the distance; local rules come first."
    assert said(*beside(3.95, voltage_kv=11.0)) == [
        ("North 3 is 3.9 m from the overhead line; the least in print for 11 kV is 4 m.", ends)
    ]
    assert said(*beside(7.0)) == [
        (
            "North 3 is 7.0 m from the overhead line; the least in print where the voltage is not known is 8 m.",
            ends,
        )
    ]
    assert said(*beside(14.9, voltage_kv=11.0, clearance_m=15.0)) == [
        ("North 3 is 14.9 m from the overhead line; 15 m was told for that line.", ends)
    ]
    assert not beside(15.1, voltage_kv=11.0, clearance_m=15.0)


def test_less_than_print_that_was_told_wants_care_and_no_more() -> None:
    (care,) = beside(3.0, voltage_kv=11.0, clearance_m=2.5)
    assert (care.level, care.held) == ("warn", "care")
    assert said(care) == [
        (
            "North 3 keeps the 2.5 m that was told for the overhead line; the least in print for its voltage is 4 m.",
            str(ASK),
        )
    ]
    (unknown,) = beside(7.0, clearance_m=6.0)
    assert "where the voltage is not known is 8 m" in str(unknown.words)


@pytest.mark.parametrize(("off_m", "found"), [(14.9, 1), (15.0, 0), (15.1, 0)])
def test_a_side_that_runs_along_a_line_wants_care_within_fifteen_metres(off_m: float, found: int) -> None:
    cautions = beside(off_m, GROUND, voltage_kv=11.0)
    assert len(cautions) == found
    for each in cautions:
        assert each.held == "care"
        assert said(each) == [
            (
                "North 3 has a side along the overhead line, 14.9 m off.",
                "Turn it across, or stay more than 15 m off: a long wire beside a power line can become live from it.",
            )
        ]


@pytest.mark.parametrize("deg", [0.0, 20.0, 29.0, 31.0, 45.0, 59.0, 61.0, 90.0])
def test_a_side_is_along_a_line_by_its_direction(deg: float) -> None:
    """The same by walking along each side in steps of a centimetre."""
    way = np.array([math.sin(math.radians(deg)), math.cos(math.radians(deg))])
    line = shapely.LineString([np.array([55, 25]) - 300 * way, np.array([55, 25]) + 300 * way])
    walked = 0.0
    corners = shapely.get_coordinates(GROUND)
    for one, other in pairwise(corners):
        side = (other - one) / np.hypot(*(other - one))
        if abs(float(side @ way)) > math.cos(math.radians(30)):
            at = one + np.arange(0.005, 50, 0.01)[:, None] * side
            off = np.abs((at - [55, 25]) @ [way[1], -way[0]])
            walked += 0.01 * int((off < 15.0).sum())
    assert along_m(farm_with(), GROUND, line) == pytest.approx(walked, abs=0.05)


def test_heights_count_aslant_where_they_are_known() -> None:
    assert slant_m(5.2, 0.9, 0.0) == pytest.approx(4.3)
    assert slant_m(5.2, 0.9, 4.3) == pytest.approx(4.3 * math.sqrt(2))
    assert not is_clear(4.8, 0.9, 0.0, 11.0)
    assert is_clear(4.8, 0.9, 1.0, 11.0)
    assert not is_clear(0.5, 0.9, 1.0, 11.0)


@pytest.mark.parametrize(("height_m", "stops"), [(4.8, 1), (4.9, 0), (5.0, 0)])
def test_under_a_line_a_net_stands_where_its_lowest_wire_hangs_high_enough(height_m: float, stops: int) -> None:
    # 4 m are in print up to 33 kV, and a net is 0.9 m high: from 4.9 m on.
    found = beside(-25.0, GROUND, voltage_kv=11.0, height_m=height_m)
    assert [each.level for each in found] == ["stop"] * stops


def test_a_wire_that_hangs_too_low_is_told_with_its_height_and_how_far_beside_is_enough() -> None:
    (low,) = beside(-25.0, GROUND, voltage_kv=11.0, height_m=4.5)
    assert (low.id, low.level, low.held) == ("W3", "stop", "never")
    # 4.5 m less 0.9 m of net is 3.6 m above; the root of 16 less 12.96 is 1.744 m beside.
    assert said(low) == [
        (
            "North 3 lies under or beside the overhead line, whose lowest wire hangs 4.5 m high: from a net of 0.9 m "
            "that is less than the 4 m to keep.",
            "Set it 1.8 m or more to one side, as seen from above. Wires hang lower in hot weather and under load: the "
            "owner of the line can tell you how low. Local rules come first.",
        )
    ]
    assert len(beside(1.7, voltage_kv=11.0, height_m=4.5)) == 1
    assert not beside(1.8, voltage_kv=11.0, height_m=4.5)


def test_a_distance_that_was_told_for_a_line_counts_from_its_lowest_wire_too() -> None:
    (told,) = beside(-25.0, GROUND, voltage_kv=11.0, clearance_m=6.0, height_m=6.0)
    assert told.level == "stop"
    assert not beside(-25.0, GROUND, voltage_kv=11.0, clearance_m=5.0, height_m=6.0)


@pytest.mark.parametrize(("deg", "aslant"), [(90.0, 0), (61.0, 0), (59.0, 1), (45.0, 1)])
def test_a_side_under_a_line_crosses_it_near_a_right_angle(deg: float, aslant: int) -> None:
    run = 300 * np.array([math.cos(math.radians(deg)), math.sin(math.radians(deg))])
    middle = np.array([25.0, 50.0])  # a side from west to east; the line ends inside, so that it crosses no other
    line = shapely.LineString([middle - run / 20, middle + run])
    farm = farm_with(Way(kind=WayKind.OVERHEAD_LINE, line=line, voltage_kv=11.0, height_m=9.0))
    found = [each for each in overhead_lines(farm, HERE) if "aslant" in str(each.words)]
    assert len(found) == aslant
    assert [each.held for each in found] == ["care"] * aslant
    for each in found:
        assert said(each) == [
            (
                "North 3 has a side that passes under the overhead line aslant.",
                "Turn it to cross near a right angle (60° or more). Local rules come first.",
            )
        ]


def test_other_ways_are_no_lines() -> None:
    assert not [*overhead_lines(farm_with(Way(kind=WayKind.ROAD, line=shapely.LineString([(0, 0), (9, 9)]))), HERE)]
