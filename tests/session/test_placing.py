from __future__ import annotations

import time
from datetime import date, timedelta
from typing import Any

import numpy as np
import pytest
import shapely

from pigmap.document.edits import (
    add_field,
    add_keep_out,
    add_net_kind,
    add_place,
    add_way,
    amend,
    change_setting,
    place_paddock,
    plan_stay,
    record_stay,
    remove,
    set_net_condition,
    set_purpose,
)
from pigmap.geometry.rectangle import Rectangle
from pigmap.ground import prepare
from pigmap.records import (
    Edit,
    Farm,
    NetCondition,
    PlaceKind,
    Reason,
    Stay,
    StayState,
    Use,
    WayKind,
    add,
)
from pigmap.session.placing import Judgement, PlacingGround, judge
from tests.document.example_farm import DAY, FIELD, GROUP, KIND, OTHERS, PADDOCK, done, example, square

MOVE = DAY + timedelta(days=5)


def farm(*edits: Edit) -> Farm:
    """Return the example farm with the group in its first paddock, and more."""
    return done(example(), record_stay(GROUP, PADDOCK, DAY, uid="now"), *edits)


def judged(on: Farm, rectangle: Rectangle, day: date = MOVE, **more: Any) -> Judgement:
    return judge(on, {}, rectangle, on.net_kinds[KIND], day, **{"group_uid": GROUP, **more})


def said(judgement: Judgement) -> list[tuple[str, str]]:
    return [(str(warning.text), str(warning.remedy)) for warning in judgement.warnings]


def test_beside_the_present_paddock_three_nets_are_carried_and_one_is_left() -> None:
    found = judged(farm(), square(1))
    assert (found.nets_to_carry, found.nets_to_leave, found.spare_nets) == (3, 1, 12)
    assert (found.area_m2, found.field_uid, found.outside_share, found.keep_out_share) == (2500.0, FIELD, 0.0, 0.0)
    assert found.fits
    assert said(found) == []


def test_the_first_paddock_of_a_farm_takes_four() -> None:
    found = judged(example(), square(0))
    assert (found.nets_to_carry, found.nets_to_leave, found.spare_nets) == (4, 0, 16)


def test_a_half_side_counts_by_its_run() -> None:
    found = judged(farm(), square(1).shifted(0, 25_000))
    assert (found.nets_to_carry, found.nets_to_leave) == (4, 1)


def test_the_next_of_a_row_leans_on_the_one_before_it() -> None:
    found = judged(farm(), square(2), also_standing=(square(1),))
    assert (found.nets_to_carry, found.nets_to_leave) == (3, 1)


def test_a_planned_paddock_closes_a_side_on_the_day_after_it_and_not_before() -> None:
    row = farm(place_paddock(square(1), net_kind_uid=KIND, group_uid=GROUP, in_on=MOVE, uid="b"))
    assert judged(row, square(2), MOVE + timedelta(days=5)).nets_to_carry == 3
    assert judged(row, square(2), MOVE).nets_to_carry == 4


def test_a_permanent_fence_closes_a_side_only_when_it_is_to_count() -> None:
    fenced = farm(add_way(WayKind.PERMANENT_FENCE, shapely.LineString([(0, 10), (400, 10)])))
    kind = fenced.net_kinds[KIND]
    assert judged(fenced, square(1)).nets_to_carry == 3
    ground = PlacingGround(fenced, MOVE, GROUP, fences=True)
    found = judge(fenced, {}, square(1), kind, MOVE, ground=ground)
    assert (found.nets_to_carry, found.nets_to_leave) == (2, 1)


def test_each_neighbour_leaves_its_own_nets_of_its_own_kind() -> None:
    short = farm(
        add_net_kind("25 m nets", (3572,) * 7, uid="short"),
        place_paddock(square(2), net_kind_uid="short", uid="c"),
        record_stay(OTHERS, "c", DAY),
    )
    # One net of 50 m to the west; 50 m in nets of 25.004 m take two to the east.
    found = judged(short, square(1))
    assert (found.nets_to_carry, found.nets_to_leave) == (2, 3)


def test_a_pond_is_named_with_the_side_the_distance_and_the_shift() -> None:
    pond = farm(add_keep_out(shapely.box(155, 0, 190, 120), Reason.POND, net_m=6.0))
    found = judged(pond, square(2).shifted(-2_000, 0))
    assert said(found) == [("The east side touches the pond. Keep 6 m off.", "Set it 3 posts west.")]
    assert not found.fits
    assert not found.hard
    (warning,) = found.warnings
    assert warning.spot is not None
    assert warning.spot[0] == pytest.approx(158.0)
    assert found.keep_out_share == pytest.approx(9 / 50, abs=0.001)


def test_within_the_distance_only_it_says_how_near() -> None:
    pond = farm(add_keep_out(shapely.box(114, 0, 140, 120), Reason.POND, name="Mill Pond", net_m=6.0))
    assert said(judged(pond, square(1).shifted(0, 3_572))) == [
        ("The east side comes within 4.0 m of Mill Pond. Keep 6 m off.", "Set it elsewhere, or make it smaller.")
    ]


def test_a_shift_keeps_the_side_that_both_use_where_it_can() -> None:
    pond = farm(add_keep_out(shapely.box(90, 0, 100, 16), Reason.POND))
    assert said(judged(pond, square(1))) == [("The south side touches the pond.", "Set it 2 posts north.")]


def test_a_shift_along_a_side_of_which_less_was_used_keeps_it_too() -> None:
    # It shares 25 m of the 50; 8 posts south are 28.6 m, and then it shares more.
    pond = farm(add_keep_out(shapely.box(62, 57, 70, 120), Reason.POND))
    assert said(judged(pond, square(1).shifted(0, 25_000))) == [
        ("The north side touches the pond.", "Set it 8 posts south.")
    ]


def test_a_keep_out_wholly_inside_is_said_to_be_enclosed() -> None:
    well = farm(add_keep_out(shapely.Point(135, 35), Reason.WELL, net_m=5.0))
    assert said(judged(well, square(2))) == [("It encloses the well. Keep 5 m off.", "Set it 9 posts east.")]


def test_a_side_that_just_keeps_the_distance_is_clear() -> None:
    pond = farm(add_keep_out(shapely.box(116, 0, 140, 120), Reason.POND, net_m=6.0))
    assert said(judged(pond, square(1))) == []


def test_ground_that_floods_counts_in_its_months() -> None:
    flood = add_keep_out(
        shapely.box(0, 0, 400, 120), Reason.FLOOD, from_month_day="11-01", to_month_day="03-31", uid="river"
    )
    assert said(judged(farm(flood), square(1))) == []
    winter = judged(farm(flood), square(1), date(2026, 12, 1))
    floods = ("All of it lies in the ground that floods.", "Set it elsewhere, or make it smaller.")
    assert floods in said(winter)
    begins_meanwhile = judged(farm(flood), square(1), date(2026, 10, 29))  # for the usual five days
    assert floods in said(begins_meanwhile)


@pytest.mark.parametrize(
    ("voltage", "clearance", "off"), [(None, None, "8"), (11.0, None, "4"), (0.4, None, "3"), (132.0, 30.0, "30")]
)
def test_an_overhead_line_is_hard_and_its_owner_has_the_word(
    voltage: float | None, clearance: float | None, off: str
) -> None:
    line = shapely.LineString([(113.0, -50), (113.0, 200)])
    found = judged(farm(add_way(WayKind.OVERHEAD_LINE, line, voltage_kv=voltage, clearance_m=clearance)), square(1))
    if off == "3":
        assert found.fits
        return
    assert found.hard
    assert str(found.warnings[0].text) == (
        f"The east side comes within 3.0 m of the overhead line. Keep at least {off} m off; "
        "its owner can tell you the distance."
    )
    assert str(found.warnings[0].remedy) == "Set it elsewhere, clear of the line on all sides."


def test_an_overhead_line_over_it_is_hard_and_the_shift_is_said() -> None:
    crossed = farm(add_way(WayKind.OVERHEAD_LINE, shapely.LineString([(300, -50), (300, 200)]), name="Line 3"))
    found = judged(crossed, square(5))
    assert found.hard
    assert said(found) == [
        (
            "Line 3 passes over it, and nothing tells how high it hangs. Keep at least 8 m off; "
            "its owner can tell you the distance.",
            "Set it 6 posts west.",
        )
    ]
    keep_out = farm(add_keep_out(shapely.box(290, -10, 310, 130), Reason.OVERHEAD_LINE))
    assert said(judged(keep_out, square(5))) == [
        ("The overhead line passes over it. Its owner can tell you how far to keep off.", "Set it 6 posts west.")
    ]
    assert judged(keep_out, square(5)).hard


def test_a_fence_on_another_energizer_is_hard_within_two_and_a_half_metres() -> None:
    def fence(y: float) -> Farm:
        return farm(
            add_place(PlaceKind.ENERGIZER, shapely.Point(0, 0), uid="barn"),
            add_place(PlaceKind.ENERGIZER, shapely.Point(9, 0), uid="battery"),
            add_way(
                WayKind.PERMANENT_FENCE, shapely.LineString([(0, y), (400, y)]), electric=True, energizer_uid="barn"
            ),
        )

    found = judged(fence(8.0), square(1))
    assert found.hard
    assert said(found) == [
        (
            "The permanent fence is live from another energizer. Never join nets to it: keep them 2.5 m off, the "
            "space between closed by a panel that does not conduct.",
            "Set it 1 post north.",
        )
    ]
    assert judged(fence(7.5), square(1)).fits
    assert str(judged(fence(35.0), Rectangle(60, 10, 0, 50_000, 100_000)).warnings[0].remedy) == (
        "Set it elsewhere, or feed both fences from one energizer."
    )


def test_a_path_through_it_can_be_allowed() -> None:
    found = judged(farm(add_way(WayKind.PATH, shapely.LineString([(0, 40), (400, 40)]))), square(1))
    assert not found.hard
    assert said(found) == [
        (
            "The path runs through it.",
            "Set it 9 posts north.",
        )
    ]
    middle = judged(
        farm(add_way(WayKind.PATH, shapely.LineString([(0, 70), (400, 70)]))), Rectangle(60, 10, 0, 50_000, 100_000)
    )
    assert str(middle.warnings[0].remedy) == (
        "Set it to one side, or ask whoever it belongs to and leave a safe way through."
    )


def test_beyond_the_edge_of_the_field_the_side_and_the_shift_are_said() -> None:
    found = judged(farm(), square(1).shifted(0, -15_000))
    assert said(found) == [("The south side leaves Long Field.", "Set it 2 posts north.")]
    assert found.outside_share == pytest.approx(4.9 / 50, abs=0.001)


def test_a_side_on_the_edge_of_the_field_is_inside() -> None:
    assert judged(farm(), Rectangle(60, 0, 0, 50_000, 50_000)).outside_share == 0.0
    assert judged(farm(), Rectangle(60, 70, 0, 50_000, 50_000)).fits


def test_a_field_that_bends_into_the_side_is_said_to_be_left() -> None:
    hole = [(540, 40), (560, 40), (560, 60), (540, 60)]
    bank = shapely.Polygon([(500, 0), (700, 0), (700, 120), (500, 120)], [hole])
    bent = done(farm(), add_field("Bank", bank))
    assert said(judged(bent, Rectangle(525, 20, 0, 50_000, 50_000)))[0][0] == "Part of it is not in Bank."


def test_outside_every_field_it_says_so() -> None:
    for on in (farm(), Farm(document_uid="", projection=example().projection).after([add(example().net_kinds[KIND])])):
        found = judged(on, square(30))
        assert ("It lies outside every field.", "Set it inside a field, or draw one round it first.") in said(found)
        assert found.outside_share == 1.0
        assert found.field_uid is None


def test_two_fields_side_by_side_are_one_ground() -> None:
    wide = done(farm(), add_field("Next", shapely.box(400, 0, 600, 120), uid="next"))
    found = judged(wide, Rectangle(390, 10, 0, 50_000, 50_000))
    assert (found.outside_share, found.field_uid) == (0.0, "next")


def test_ground_that_still_stands_is_not_free() -> None:
    found = judged(farm(), square(0).shifted(30_000, 0))
    assert said(found) == [
        ("It covers part of Long Field 1, which still stands then.", "Set it 6 posts east."),
    ]


def test_ground_that_others_have_on_those_days_is_not_free() -> None:
    taken = farm(
        place_paddock(square(1), uid="b"), plan_stay(OTHERS, "b", MOVE + timedelta(days=2), MOVE + timedelta(days=6))
    )
    assert said(judged(taken, square(1))) == [
        (
            "Part of it is taken by Weaners from 2026-05-08 to 2026-05-12.",
            "Set it elsewhere, or go there from 2026-05-12 on.",
        )
    ]
    assert judged(taken, square(1), MOVE + timedelta(days=6)).fits
    running = farm(place_paddock(square(1), uid="b"), record_stay(OTHERS, "b", MOVE + timedelta(days=2)))
    assert said(judged(running, square(1))) == [
        (
            "Part of it is taken by Weaners from 2026-05-08 on, with no day out set.",
            "Set it elsewhere, or make it smaller.",
        )
    ]


def test_too_few_spare_nets_are_said_with_their_number() -> None:
    short = farm()
    for uid in list(short.nets)[:10]:
        short = done(short, set_net_condition(uid, NetCondition.DAMAGED))
    assert said(judged(short, square(1))) == [
        ("1 net short: it takes 3, 2 are spare.", "Share a longer side, or take nets up elsewhere first.")
    ]
    assert said(judged(short, square(3))) == [
        (
            "2 nets short: this paddock shares no side.",
            "Set it beside a paddock that stands, or take nets up elsewhere first.",
        )
    ]


def test_a_closed_field_is_closed() -> None:
    closed = farm(set_purpose(FIELD, "04-01", "06-30", Use.CLOSED))
    assert said(judged(closed, square(1))) == [
        ("Long Field is closed until 2026-06-30.", "Choose a day after that, or another field.")
    ]
    assert judged(closed, square(1), date(2026, 7, 1)).fits


def test_a_field_that_is_given_up_is_no_ground() -> None:
    given_up = farm(amend("fields", FIELD, retired_on=DAY))
    assert said(judged(given_up, square(1)))[0][0] == "It lies outside every field."


def test_rest_and_rooting_under_it_come_from_the_ground_and_want_care_only() -> None:
    used = farm(
        place_paddock(square(1), uid="b"),
        record_stay(OTHERS, "b", DAY - timedelta(days=30), DAY - timedelta(days=20)),
        set_purpose(FIELD, "01-01", "12-31", Use.GRAZE_LIGHTLY, rest_days_wanted=85, rooting_wanted=0.0),
        change_setting("units", "metric"),
    )
    state = prepare(used, FIELD).on(MOVE)
    kind = used.net_kinds[KIND]
    found = judge(used, {FIELD: state}, square(1), kind, MOVE, group_uid=GROUP)
    assert found.rest_least_days == 25
    assert found.rest_mean_days == pytest.approx(25.0)
    assert found.never_used_share == 0.0
    assert found.unknown_share == pytest.approx(0.0, abs=0.05)
    assert found.rooting is not None
    texts = [text for text, _ in said(found)]
    assert texts[0] == "Some of it has rested 25 d; 85 d are wanted."
    assert texts[1].endswith("of it is rooted; at most 0 is wanted.")
    assert [remedy for _, remedy in said(found)] == [
        "Choose ground that has rested longer, or a later day.",
        "Choose ground that is greener, or a later day.",
    ]
    assert found.fits
    welcome = done(used, amend("purposes", next(iter(used.purposes)), purpose=Use.TURN_OVER, rooting_wanted=None))
    turned = judge(welcome, {FIELD: state}, square(1), kind, MOVE, group_uid=GROUP)
    assert [text for text, _ in said(turned)] == ["Some of it has rested 25 d; 85 d are wanted."]
    unsaid = done(used, remove("purposes", next(iter(used.purposes))))
    usual = judge(unsaid, {FIELD: state}, square(1), kind, MOVE, group_uid=GROUP)
    assert [text for text, _ in said(usual)] == ["Some of it has rested 25 d; 30 d are wanted."]
    fresh = judge(used, {FIELD: state}, square(3), kind, MOVE, group_uid=GROUP)
    assert (fresh.rest_least_days, fresh.rest_mean_days, fresh.unknown_share) == (-1, None, 1.0)


def test_without_computed_ground_nothing_is_said_about_it() -> None:
    found = judged(farm(), square(1))
    assert (found.rest_least_days, found.rooting, found.seen_on) == (None, None, None)


def test_hard_warnings_come_first() -> None:
    both = farm(
        add_keep_out(shapely.box(115, 0, 120, 120), Reason.POND, net_m=6.0),
        add_way(WayKind.OVERHEAD_LINE, shapely.LineString([(112, -50), (112, 200)])),
    )
    assert [warning.hard for warning in judged(both, square(1)).warnings] == [True, False]


@pytest.mark.parametrize(
    ("turned", "facing"), [(0, "east"), (30, "north-east"), (90, "north"), (200, "west"), (-45, "south-east")]
)
def test_sides_are_named_for_the_way_they_face(turned: float, facing: str) -> None:
    first = Rectangle(500, 500, turned, 50_000, 50_000)
    (ux, uy), _ = first.axes
    x, y = first.centre
    pond = shapely.Point(x + 27 * ux, y + 27 * uy).buffer(3)
    on = farm(add_keep_out(pond, Reason.POND), add_field("Far", shapely.Point(x, y).buffer(300)))
    assert said(judged(on, first)) == [(f"The {facing} side touches the pond.", f"Set it 1 post {opposite(facing)}.")]


def opposite(facing: str) -> str:
    winds = ["east", "north-east", "north", "north-west", "west", "south-west", "south", "south-east"]
    return winds[(winds.index(facing) + 4) % 8]


def test_a_ghost_finds_the_sides_it_may_rest_on() -> None:
    on = farm(
        add_way(WayKind.PERMANENT_FENCE, shapely.LineString([(0, 10), (400, 10)])),
        place_paddock(square(3), uid="d"),
        record_stay(OTHERS, "d", DAY),
    )
    ground = PlacingGround(on, MOVE, GROUP)
    assert len(ground.snap_sides()) == 8
    assert len(ground.snap_sides(standing=False)) == 0
    assert len(ground.snap_sides(fences=True, field_edges=True)) == 8 + 2 + 4
    assert ground.snap_sides().edges[:4].reshape(-1, 2)[:, 0].max() == 60.0  # the group's own paddock comes first


def crowded() -> Farm:
    """Return a farm with 5,000 stays in 400 paddocks, most of them past."""
    base = farm(add_field("Plain", shapely.box(0, 200, 1100, 1300), uid="plain"))
    paddocks = [
        place_paddock(Rectangle(50 * i, 200 + 50 * j, 0, 50_000, 50_000), uid=f"{i}-{j}")
        for i in range(20)
        for j in range(20)
    ]
    rows = [row for edit in paddocks for row in edit(base)]
    grounds = {row.uid: row.after.outline for row in rows}  # type: ignore[union-attr]
    stays = []
    for number in range(5_000):
        uid = rows[number % 400].uid
        into = DAY - timedelta(days=900) + timedelta(days=number // 5)
        out = into + timedelta(days=5)
        state = StayState.PAST if out < DAY else StayState.PLANNED
        stays.append(Stay(group_uid=OTHERS, paddock_uid=uid, ground=grounds[uid], state=state, in_on=into, out_on=out))
    return base.after([*rows, *(add(stay) for stay in stays)])


def test_figures_follow_the_pointer_on_a_farm_of_five_thousand_stays() -> None:
    on = crowded()
    ground = PlacingGround(on, MOVE, GROUP)
    judged(on, square(1), ground=ground)
    took = []
    for x, y in np.random.default_rng(2).uniform(0, 1000, (60, 2)):
        began = time.perf_counter()
        judged(on, Rectangle(x, 200 + y, 7.0, 50_000, 50_000), ground=ground)
        took.append(time.perf_counter() - began)
    # Meant to take 33 ms at most; a busy machine gets three times that.
    assert np.median(took) < 0.1


def test_a_gate_in_its_side_wants_care_and_is_said_in_the_plan_too() -> None:
    corner = square(1).outline.exterior.coords[0]
    gated = farm(add_place(PlaceKind.GATE, shapely.Point(corner), name="Lane gate"))
    found = judged(gated, square(1))
    remedy = "Leave the gate free, or keep it shut and tell whoever uses it."
    assert said(found) == [("It covers Lane gate: nobody gets through while pigs are there.", remedy)]
    assert found.fits
    assert found.warnings[0].spot == pytest.approx(corner)
