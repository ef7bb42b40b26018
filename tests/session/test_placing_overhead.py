"""Distances from overhead lines that are typed, beside those in print."""

from __future__ import annotations

from datetime import timedelta

import pytest
import shapely

from pigmap.document.edits import add_place, add_way, amend, record_stay
from pigmap.drawing.words import render
from pigmap.records import Farm, PlaceKind, WayKind
from pigmap.session.placing import Judgement, judge
from tests.document.example_farm import DAY, GROUP, KIND, PADDOCK, done, example, square

MOVE = DAY + timedelta(days=5)
SOURCE = "requirements for electric animal fences, annex BB.1, after IEC 60335-2-76"


def judged(off_m: float, voltage_kv: float | None, clearance_m: float | None) -> Judgement:
    """Judge a place whose east side is so far from an overhead line."""
    line = shapely.LineString([(110 + off_m, -50), (110 + off_m, 200)])
    on = done(
        example(),
        record_stay(GROUP, PADDOCK, DAY),
        add_way(WayKind.OVERHEAD_LINE, line, voltage_kv=voltage_kv, clearance_m=clearance_m, name="Line 3"),
    )
    return judge(on, {}, square(1), on.net_kinds[KIND], MOVE, group_uid=GROUP)


def cares(found: Judgement) -> list[tuple[str, str]]:
    return [(render(each.text), render(each.remedy)) for each in found.warnings if each.care]


ASK = (
    "Ask the owner of the line which distance holds there, and keep the larger until you know. Local rules come first."
)


def test_a_typed_distance_below_print_is_told_of_with_both_and_the_source() -> None:
    found = judged(3.0, 11.0, 2.5)
    assert cares(found) == [
        (
            f"2.5 m is entered as the distance from Line 3; the least in print for its voltage is 4 m ({SOURCE}).",
            ASK,
        )
    ]
    assert found.fits
    assert not found.hard
    assert found.warnings[0].spot is not None


@pytest.mark.parametrize(("height_m", "fits"), [(None, False), (4.8, False), (4.9, True)])
def test_where_the_lowest_wire_is_known_to_hang_high_enough_a_paddock_fits_below(
    height_m: float | None, fits: bool
) -> None:
    line = shapely.LineString([(85, -50), (85, 200)])
    on = done(
        example(),
        record_stay(GROUP, PADDOCK, DAY),
        add_way(WayKind.OVERHEAD_LINE, line, voltage_kv=11.0, name="Line 3", uid="line"),
        amend("ways", "line", height_m=height_m),
    )
    found = judge(on, {}, square(1), on.net_kinds[KIND], MOVE, group_uid=GROUP)
    assert (found.fits, found.hard) == (fits, not fits)


def test_where_the_voltage_is_not_known_it_says_so() -> None:
    assert cares(judged(7.0, None, 6.0)) == [
        (
            "6 m is entered as the distance from Line 3; the least in print where the voltage is not known is 8 m "
            f"({SOURCE}).",
            ASK,
        )
    ]


def test_within_the_typed_distance_it_is_hard_and_both_are_told() -> None:
    found = judged(1.0, 11.0, 2.0)
    assert [warning.hard for warning in found.warnings] == [True, False]
    assert render(found.warnings[0].text).endswith("Keep at least 2 m off; its owner can tell you the distance.")
    assert len(cares(found)) == 1


@pytest.mark.parametrize(("off", "clearance"), [(3.0, 4.0), (4.5, 5.0), (4.02, 2.0), (3.0, None)])
def test_a_distance_as_in_print_or_more_and_ground_beyond_it_take_no_words(off: float, clearance: float | None) -> None:
    assert cares(judged(off, 11.0, clearance)) == []


def test_a_distance_of_nothing_is_one_too() -> None:
    assert cares(judged(3.0, 11.0, 0.0))[0][0].startswith("0 m is entered as the distance from Line 3;")


def test_half_metres_are_not_rounded_away() -> None:
    fence = shapely.LineString([(0, 8), (400, 8)])
    on = done(
        example(),
        record_stay(GROUP, PADDOCK, DAY),
        add_place(PlaceKind.ENERGIZER, shapely.Point(0, 0), uid="barn"),
        add_place(PlaceKind.ENERGIZER, shapely.Point(9, 0), uid="battery"),
        add_way(WayKind.PERMANENT_FENCE, fence, electric=True, energizer_uid="barn"),
    )
    found = judge(on, {}, square(1), on.net_kinds[KIND], MOVE, group_uid=GROUP)
    assert render(found.warnings[0].text).count("keep them 2.5 m off")


def test_a_farm_without_lines_has_no_words_on_them() -> None:
    on: Farm = done(example(), record_stay(GROUP, PADDOCK, DAY))
    assert judge(on, {}, square(1), on.net_kinds[KIND], MOVE, group_uid=GROUP).warnings == ()
