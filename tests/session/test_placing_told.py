"""What the ghost says of a paddock whose sides have nets of more than one length."""

from __future__ import annotations

from datetime import timedelta

from pigmap.document.edits import add_net_kind, place_paddock, record_stay
from pigmap.drawing.words import render
from pigmap.fence.told import sides_with_kinds
from pigmap.geometry.rectangle import Rectangle
from pigmap.records import Farm
from pigmap.records.side_nets import SideNets
from pigmap.session.placing import Judgement, judge
from tests.document.example_farm import DAY, GROUP, KIND, OTHERS, PADDOCK, done, example

MOVE = DAY + timedelta(days=5)
HALF = "half"
SIDES: tuple[SideNets, ...] = (((KIND, 1), (HALF, 1)), ((KIND, 1),)) * 2
BESIDE = Rectangle(60.0, 10.0, 0.0, 75_000, 50_000)


def farm(halves: int, *, far: bool = False) -> Farm:
    on = done(
        example(), record_stay(GROUP, PADDOCK, DAY), add_net_kind("25 m nets", (5_000,) * 5, nets=halves, uid=HALF)
    )
    if not far:
        return on
    wide = place_paddock(Rectangle(200.0, 10.0, 0.0, 150_000, 100_000), net_kind_uid=KIND, uid="far")
    return done(on, wide, record_stay(OTHERS, "far", DAY))


def judged(on: Farm, rectangle: Rectangle = BESIDE) -> Judgement:
    return judge(on, {}, rectangle, on.net_kinds[KIND], MOVE, group_uid=GROUP, told=sides_with_kinds(on, SIDES))


def said(found: Judgement) -> list[tuple[str, int]]:
    return [(each.kind.uid, each.nets) for each in found.nets_of_kinds]


def test_the_nets_of_open_sides_are_carried_as_they_were_told() -> None:
    found = judged(farm(4))
    assert (found.nets_to_carry, said(found)) == (5, [(KIND, 3), (HALF, 2)])
    alone = judged(farm(4), BESIDE.shifted(20_000, 0))
    assert (alone.nets_to_carry, said(alone)) == (6, [(KIND, 4), (HALF, 2)])


def test_the_next_of_a_row_shares_the_side_that_was_told() -> None:
    on = farm(4)
    told = sides_with_kinds(on, SIDES)
    above = BESIDE.shifted(0, 50_000)
    found = judge(on, {}, above, on.net_kinds[KIND], MOVE, group_uid=GROUP, also_standing=(BESIDE,), told=told)
    assert (found.nets_to_carry, said(found), found.nets_to_leave) == (4, [(KIND, 3), (HALF, 1)], 2)


def test_each_kind_that_is_short_is_said_with_its_length() -> None:
    found = judged(farm(1))
    short = [warning for warning in found.warnings if not warning.care]
    assert [render(each.text) for each in short] == ["1 net of 25 m short: it takes 2, 1 are spare."]
    assert render(short[0].remedy) == "Carry 4 \u00d7 50 m: nets of other lengths close it too."
    none = judged(farm(1, far=True))
    assert [render(each.text) for each in none.warnings if not each.care] == [
        "1 net of 50 m short: it takes 3, 2 are spare.",
        "1 net of 25 m short: it takes 2, 1 are spare.",
    ]
    assert render(none.warnings[0].remedy) == "Share a longer side, or take nets up elsewhere first."


def test_of_one_kind_alone_nothing_is_told_of_kinds() -> None:
    on = farm(4)
    found = judge(on, {}, BESIDE, on.net_kinds[KIND], MOVE, group_uid=GROUP)
    assert (found.nets_to_carry, found.nets_of_kinds) == (4, ())
