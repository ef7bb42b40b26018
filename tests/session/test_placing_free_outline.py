from __future__ import annotations

from dataclasses import replace
from datetime import timedelta

import pytest
import shapely

from pigmap.document.edits import add_keep_out, add_way, record_stay
from pigmap.geometry.free_outline import FreeOutline
from pigmap.records import Edit, Farm, Reason, WayKind
from pigmap.session.placing import Judgement, PlacingGround, judge
from pigmap.session.placing.walking import Walking
from tests.document.example_farm import DAY, FIELD, GROUP, KIND, PADDOCK, done, example, square

MOVE = DAY + timedelta(days=5)
SEVEN, FOURTEEN = 7 * 3.572, 50.0
L_SHAPE = ((60, 10), (110, 10), (110, 10 + SEVEN), (60 + SEVEN, 10 + SEVEN), (60 + SEVEN, 60), (60, 60))
"""Beside the group's paddock, which stands from 10 to 60 m east and north."""


def farm(*edits: Edit) -> Farm:
    return done(example(), record_stay(GROUP, PADDOCK, DAY, uid="now"), *edits)


def judged(points: tuple[tuple[float, float], ...], *edits: Edit) -> Judgement:
    on = farm(*edits)
    return judge(on, {}, FreeOutline(points), on.net_kinds[KIND], MOVE, group_uid=GROUP)


def said(judgement: Judgement) -> list[tuple[str, str]]:
    return [(str(warning.text), str(warning.remedy)) for warning in judgement.warnings]


def test_an_l_beside_the_present_paddock_takes_nets_by_its_run() -> None:
    found = judged(L_SHAPE)
    assert (found.nets_to_carry, found.nets_to_leave, found.spare_nets, found.field_uid) == (3, 1, 12, FIELD)
    assert found.area_m2 == pytest.approx(50**2 - (50 - SEVEN) ** 2)
    assert said(found) == []


def test_it_is_judged_as_the_rectangle_that_it_is() -> None:
    rectangle = square(1)
    corners = tuple((float(x), float(y)) for x, y in rectangle.corners)
    on = farm(add_keep_out(shapely.Point(100, 30).buffer(3), Reason.POND, name="Pond"))
    kind = on.net_kinds[KIND]
    one = judge(on, {}, rectangle, kind, MOVE, group_uid=GROUP)
    other = judge(on, {}, FreeOutline(corners), kind, MOVE, group_uid=GROUP)
    for name in ("nets_to_carry", "nets_to_leave", "spare_nets", "area_m2", "field_uid", "keep_out_share"):
        assert getattr(one, name) == pytest.approx(getattr(other, name)), name
    assert [warning.text for warning in one.warnings] == [warning.text for warning in other.warnings]


def test_the_side_that_touches_is_named_and_set_back_alone() -> None:
    tree = add_keep_out(shapely.Point(112, 20).buffer(1), Reason.ROOTS, name="Old oak", net_m=3.0)
    assert said(judged(L_SHAPE, tree)) == [
        ("The east side comes within 1.0 m of Old oak. Keep 3 m off.", "Set its east side 1 post west.")
    ]


def test_a_tree_in_the_free_corner_of_an_l_is_no_matter() -> None:
    tree = add_keep_out(shapely.Point(100, 50).buffer(1), Reason.ROOTS, name="Old oak", net_m=3.0)
    assert said(judged(L_SHAPE, tree)) == []


def test_an_overhead_line_stays_hard() -> None:
    line = add_way(WayKind.OVERHEAD_LINE, shapely.LineString([(90, -20), (95, 140)]), name="The line")
    found = judged(L_SHAPE, line)
    assert found.hard


def test_beyond_the_field_is_told_with_the_side_and_the_way_back() -> None:
    points = ((60, 10), (110, 10), (110, -3), (60, -3))
    (warning,) = judged(points[::-1]).warnings[:1]
    assert str(warning.text) == "The south side leaves Long Field."
    assert str(warning.remedy) == "Set its south side 1 post north."


def test_corners_between_posts_take_stakes() -> None:
    points = ((60, 10), (108, 10), (108, 60), (60, 60))
    assert said(judged(points))[0] == (
        "2 corners fall between two posts.",
        "Take 2 stakes for them.",
    )


def test_odd_bays_are_told_with_the_nearest_corner_that_closes() -> None:
    found = said(judged(((60, 10), (110, 10), (110, 46), (60, 60))))
    assert found[-1] == (
        "Round to where its nets end it is 38 whole bays and 2.2 m; a bay is 3.6 m.",
        "Set its north-east corner 1.7 m east, or leave 1.4 m of the last bay slack.",
    )


def test_clockwise_and_back_it_has_the_same_nets_and_posts_from_either_end() -> None:
    on = farm()
    kind = on.net_kinds[KIND]
    there = judge(on, {}, FreeOutline(L_SHAPE), kind, MOVE, group_uid=GROUP)
    back = judge(on, {}, FreeOutline(L_SHAPE[::-1]), kind, MOVE, group_uid=GROUP)
    assert there.nets_to_carry == back.nets_to_carry
    assert there.fits
    assert back.fits


def test_too_few_nets_are_told_as_for_a_rectangle() -> None:
    on = farm()
    ground = PlacingGround(on, MOVE, GROUP)
    ground._spare[KIND] = 2
    found = judge(on, {}, FreeOutline(L_SHAPE), on.net_kinds[KIND], MOVE, ground=ground)
    assert said(found)[0][0] == "1 net short: it takes 3, 2 are spare."


def test_the_next_corner_falls_on_a_post_from_the_shared_side_on() -> None:
    on = farm()
    walking = Walking(PlacingGround(on, MOVE, GROUP), on.net_kinds[KIND])
    points = [(60.0, 60.0), (60.0, 10.0)]
    assert walking.set_mm(points) == (0, 0)
    caught = walking.next(94.4, 10.3, points, 3.0)
    assert caught.by == "angle"
    assert caught.point == pytest.approx((60 + 10 * 3.572, 10.0))
    assert walking.bays(*walking.set_mm([*points, caught.point])[-2:]) == (10, 0)


def test_a_corner_near_one_that_closes_in_whole_bays_is_that_one() -> None:
    on = farm()
    kind = replace(on.net_kinds[KIND], bays_mm=(2_000,) * 10)
    walking = Walking(PlacingGround(on, MOVE, GROUP), kind, standing=False, fences=False, field_edges=False)
    caught = walking.next(221.7, 71.2, [(200.0, 60.0), (230.0, 60.0)], 4.0)
    before, after = (
        shapely.Point(caught.point).distance(shapely.Point(each)) for each in ((230.0, 60.0), (200.0, 60.0))
    )
    assert before / 2 == pytest.approx(round(before / 2), abs=1e-6)
    assert (30 + before + after) / 2 == pytest.approx(round((30 + before + after) / 2), abs=1e-6)


def test_a_closed_outline_is_walked_from_the_end_of_what_stands() -> None:
    on = farm()
    walking = Walking(PlacingGround(on, MOVE, GROUP), on.net_kinds[KIND])
    around = [(110.0, 10.0), (110.0, 60.0), (60.0, 60.0), (60.0, 10.0)]
    assert walking.begins_at(around) == 2  # from north to south along the paddock that stands
    assert walking.begins_at(around[::-1]) == 0
    assert walking.begins_at([(200.0, 10.0), (230.0, 10.0), (230.0, 60.0)]) == 0
