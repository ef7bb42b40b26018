"""What the ghost says of other energizers, barbed wire, overhead lines, keep-outs and public ways."""

from __future__ import annotations

from datetime import timedelta

import pytest
import shapely

from pigmap.document.edits import (
    add_keep_out,
    add_place,
    add_way,
    change_setting,
    place_paddock,
    plan_stay,
    record_stay,
)
from pigmap.drawing.words import render
from pigmap.records import Edit, Energizer, Farm, PlaceKind, Reason, WayKind, add
from pigmap.session.placing import Judgement, judge
from pigmap.text import Text
from tests.document.example_farm import DAY, GROUP, KIND, OTHERS, PADDOCK, done, example, square

MOVE = DAY + timedelta(days=5)
OWN = Energizer(uid="own", name="Own unit", group_uid=GROUP)
YARD = Energizer(uid="yard", name="Yard unit", place_uid="shed")


def told(*energizers: Energizer) -> Edit:
    return Edit(Text("Told."), lambda _: [add(each) for each in energizers])


def farm(*edits: Edit) -> Farm:
    return done(example(), record_stay(GROUP, PADDOCK, DAY, uid="now"), *edits)


def judged(*edits: Edit, number: float = 1) -> Judgement:
    on = farm(*edits)
    return judge(on, {}, square(number), on.net_kinds[KIND], MOVE, group_uid=GROUP)  # type: ignore[arg-type]


def said(found: Judgement) -> list[tuple[str, str]]:
    return [(render(each.text), render(each.remedy)) for each in found.warnings]


def beside(off_m: float, *edits: Edit, energizers: tuple[Energizer, ...] = (OWN, YARD)) -> Judgement:
    """Judge the second square while others stand so far east of it."""
    ground = shapely.box(110 + off_m, 10, 160 + off_m, 60)
    return judged(told(*energizers), place_paddock(ground, uid="theirs", name="Theirs"), *edits)


@pytest.mark.parametrize(("off_m", "hard"), [(0.0, True), (2.4, True), (2.5, False), (2.6, False)])
def test_beside_nets_that_another_energizer_feeds_the_distance_is_kept(off_m: float, hard: bool) -> None:
    stands = record_stay(OTHERS, "theirs", DAY)
    assert beside(off_m, stands).hard is hard
    assert not beside(off_m, stands, energizers=(YARD,)).hard
    assert not beside(off_m, stands, energizers=()).hard


def test_it_says_whose_they_are_and_what_to_do() -> None:
    assert said(beside(0.0, record_stay(OTHERS, "theirs", DAY)))[0] == (
        "Theirs is live from an energizer of its own. Keep nets of another energizer 2.5 m off.",
        "Set it elsewhere, or feed both fences from one energizer.",
    )


def test_nets_that_are_planned_for_the_same_days_count_too() -> None:
    assert beside(0.0, plan_stay(OTHERS, "theirs", MOVE, MOVE + timedelta(days=3))).hard
    assert not beside(0.0, plan_stay(OTHERS, "theirs", MOVE + timedelta(days=90), MOVE + timedelta(days=95))).hard


def test_a_fence_of_the_energizer_that_feeds_the_group_may_be_joined() -> None:
    shed = add_place(PlaceKind.ENERGIZER, shapely.Point(0, 0), uid="shed")
    barn = add_place(PlaceKind.ENERGIZER, shapely.Point(9, 0), uid="barn")
    line = shapely.LineString([(0, 10), (400, 10)])
    fence = add_way(WayKind.PERMANENT_FENCE, line, electric=True, energizer_uid="shed")
    with_own = Energizer(uid="own", name="Own unit", group_uid=GROUP, place_uid="shed")
    assert not judged(shed, barn, fence, told(with_own)).hard
    assert judged(shed, barn, fence, told(OWN)).hard


def test_another_distance_that_a_place_asks_for_is_heard() -> None:
    stands = record_stay(OTHERS, "theirs", DAY)
    assert not beside(2.9, stands).hard
    assert beside(2.9, stands, change_setting("energizers apart", 3.0, unit="m")).hard


def test_barbed_wire_can_be_overridden_with_a_reason() -> None:
    line = shapely.LineString([(0, 10), (400, 10)])
    found = judged(add_way(WayKind.PERMANENT_FENCE, line, name="March fence", note="barbed"))
    assert not found.hard
    assert not found.fits
    assert said(found) == [
        (
            "March fence has barbed wire, as its name or note says. Keep live wires 0.15 m off.",
            "Set it 1 post north.",
        )
    ]
    assert "the barbed wire is taken off" in [str(each) for each in found.warnings[0].reasons]
    off = shapely.LineString([(0, 9.8), (400, 9.8)])
    assert judged(add_way(WayKind.PERMANENT_FENCE, off, name="March fence", note="barbed")).fits


def test_where_no_shift_helps_barbed_wire_has_a_remedy_all_the_same() -> None:
    lines = [shapely.LineString([(east, -100), (east, 300)]) for east in range(85, 400, 45)]
    fences = [add_way(WayKind.PERMANENT_FENCE, line, name="Barbed fence") for line in lines]
    found = judged(*fences)
    assert (
        "Barbed fence has barbed wire, as its name or note says. Keep live wires 0.15 m off.",
        "Set it elsewhere, or on posts of its own beside that fence.",
    ) in said(found)


def test_signs_along_a_road_and_a_side_along_a_line_want_care() -> None:
    road = add_way(WayKind.ROAD, shapely.LineString([(0, 6), (400, 6)]))
    line = add_way(WayKind.OVERHEAD_LINE, shapely.LineString([(0, 70), (400, 70)]), voltage_kv=11.0)
    found = judged(road, line)
    assert found.fits
    assert said(found) == [
        (
            "It has a side along the overhead line, 10.0 m off.",
            "Turn it across, or stay more than 15 m off: a long wire beside a power line can become live from it.",
        ),
        (
            "It stands along the road for 58 m: 3 warning signs.",
            "Hang one at each end and at each crossing, at most 50 m apart. Local rules come first.",
        ),
    ]


@pytest.mark.parametrize(
    ("across", "words", "remedy"),
    [
        (
            add_keep_out(shapely.box(75, -10, 80, 130), Reason.POND, name="Duck pond", net_m=5.0),
            "The south side touches Duck pond. Keep 5 m off.",
            "Set it 7 posts east.",
        ),
        (
            add_way(WayKind.OVERHEAD_LINE, shapely.LineString([(80, -10), (80, 130)]), voltage_kv=11.0),
            "The overhead line passes over it, and nothing tells how high it hangs. Keep at least 4 m off; "
            "its owner can tell you the distance.",
            "Set it 7 posts east.",
        ),
        (
            add_way(WayKind.OVERHEAD_LINE, shapely.LineString([(80, -10), (80, 130)])),
            "The overhead line passes over it, and nothing tells how high it hangs. Keep at least 8 m off; "
            "its owner can tell you the distance.",
            "Set it 8 posts east.",
        ),
    ],
    ids=["keep-out", "overhead line", "overhead line of unknown height and voltage"],
)
def test_a_paddock_across_a_keep_out_or_an_overhead_line_of_unknown_height(
    across: Edit, words: str, remedy: str
) -> None:
    found = judged(across)
    assert not found.fits
    assert found.hard is ("overhead" in words)
    assert said(found)[0] == (words, remedy)
