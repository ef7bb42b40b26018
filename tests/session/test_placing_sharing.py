"""What the ghost says where it shares a part of a side only."""

from __future__ import annotations

from datetime import timedelta

import shapely

from pigmap.document.edits import place_paddock, record_stay
from pigmap.drawing.words import render
from pigmap.geometry.rectangle import Rectangle
from pigmap.records import Farm
from pigmap.session.placing import Judgement, judge
from tests.document.example_farm import DAY, GROUP, KIND, OTHERS, PADDOCK, done, example, square

MOVE = DAY + timedelta(days=5)


def judged(on: Farm, rectangle: Rectangle) -> Judgement:
    return judge(on, {}, rectangle, on.net_kinds[KIND], MOVE, group_uid=GROUP)


def said(found: Judgement) -> list[tuple[str, str]]:
    return [(render(each.text), render(each.remedy)) for each in found.warnings]


def farm() -> Farm:
    return done(example(), record_stay(GROUP, PADDOCK, DAY))


def test_a_part_of_a_side_tells_what_it_costs_and_the_shift_to_the_whole() -> None:
    found = judged(farm(), square(1).shifted(0, 5 * 3_572))
    assert found.fits
    assert found.nets_to_carry == 4
    assert said(found) == [("It shares 32 of 50 m: 1 net more than with the whole side.", "Set it 5 posts south.")]


def test_the_shift_goes_the_way_in_which_the_side_lies() -> None:
    found = judged(farm(), square(1).shifted(0, -2 * 3_572))
    assert ("It shares 43 of 50 m: 1 net more than with the whole side.", "Set it 2 posts north.") in said(found)


def test_a_whole_side_and_none_at_all_say_nothing() -> None:
    assert said(judged(farm(), square(1))) == []
    assert said(judged(farm(), square(2))) == []


def test_half_a_post_off_the_shift_is_told_in_metres() -> None:
    found = judged(farm(), square(1).shifted(0, 6_000))
    assert said(found) == [("It shares 44 of 50 m: 1 net more than with the whole side.", "Set it 6.0 m south.")]


def test_where_the_side_that_stands_is_shorter_a_longer_one_is_looked_for() -> None:
    short = done(
        farm(),
        place_paddock(shapely.box(230, 10, 260, 40), net_kind_uid=KIND, uid="short"),
        record_stay(OTHERS, "short", DAY),
    )
    found = judged(short, Rectangle(260, 10, 0, 50_000, 50_000))
    assert said(found) == [
        ("It shares 30 of 50 m: 1 net more than with the whole side.", "Share a side that is as long, if there is one.")
    ]


def test_where_something_is_against_the_place_sharing_is_no_matter() -> None:
    found = judged(farm(), square(1).shifted(0, -15_000))
    assert [text for text, _ in said(found)] == ["The south side leaves Long Field."]


def test_whole_nets_that_are_shared_say_nothing_where_no_shift_shares_more() -> None:
    assert said(judged(farm(), Rectangle(60, 10, 0, 50_000, 100_000))) == []
