"""What the ghost counts and says where a place leans on a permanent fence."""

from __future__ import annotations

from typing import Any

import pytest
import shapely

from pigmap.document.edits import add_way
from pigmap.drawing.words import render
from pigmap.records import Farm, WayKind
from pigmap.session.placing import Judgement, PlacingGround, judge
from tests.document.example_farm import GROUP, KIND, done, square
from tests.document.leaning_farm import MOVE, leaning_farm


def farm(**fence: Any) -> Farm:
    return leaning_farm(name="Lane fence", **fence)


def judged(on: Farm, number: int = 1) -> Judgement:
    ground = PlacingGround(on, MOVE, GROUP, fences=True)
    return judge(on, {}, square(number), on.net_kinds[KIND], MOVE, group_uid=GROUP, ground=ground)


def said(found: Judgement) -> list[tuple[str, str]]:
    return [(render(each.text), render(each.remedy)) for each in found.warnings]


def test_a_fence_that_is_not_electric_takes_the_place_of_nets_and_is_told_of() -> None:
    found = judged(farm())
    assert found.fits
    assert (found.nets_to_carry, found.nets_to_leave) == (2, 1)
    assert [run.length_mm for run in found.leaning_runs] == [50_000]
    assert [run.length_mm for run in found.shared_runs] == [50_000]
    assert said(found) == [
        (
            "Lane fence closes 50 m of it and is not electric, so the last net is a far end.",
            "Tie the ends of the nets to it with something that does not conduct, clear of its metal, and look "
            "whether pigs respect it.",
        )
    ]


def test_to_a_fence_of_the_same_energizer_nets_may_be_joined() -> None:
    found = judged(farm(electric=True, energizer_uid="shed"))
    assert found.fits
    assert found.nets_to_carry == 2
    assert said(found) == [
        (
            "Lane fence closes 50 m of it; the same energizer feeds it.",
            "Nets may be joined to it. Look that its wires are low enough for the smallest pig.",
        )
    ]


@pytest.mark.parametrize(
    ("fence", "begin", "remedy"),
    [
        (
            {"electric": True, "energizer_uid": "barn"},
            "Lane fence is live from another energizer. Never join nets to it: keep them 2.5 m off",
            "Set it elsewhere, or feed both fences from one energizer.",
        ),
        (
            {"electric": True},
            "Lane fence is live; nothing tells from which energizer. Do not join nets to it: keep them 2.5 m off",
            "Set it elsewhere. If one energizer feeds both, draw that fence again and say so.",
        ),
    ],
)
def test_a_fence_of_another_energizer_or_an_unknown_one_is_hard(
    fence: dict[str, object], begin: str, remedy: str
) -> None:
    on = farm(**fence)
    found = judged(on)
    assert found.hard
    assert found.nets_to_carry == 3
    assert found.leaning_runs == ()
    text, shift = said(found)[0]
    assert text.startswith(begin)
    assert text.endswith("the space between closed by a panel that does not conduct.")
    assert shift == "Set it 1 post north."
    (warning,) = found.warnings
    assert warning.reasons == ()
    narrow = done(on, add_way(WayKind.PATH, shapely.LineString([(0, 60.5), (400, 60.5)])))
    assert remedy in [shift for _, shift in said(judged(narrow))]


def test_what_leans_alone_shares_no_side() -> None:
    found = judged(farm(), 3)
    assert (found.nets_to_carry, found.nets_to_leave) == (3, 0)
    assert found.shared_runs == ()


def test_a_ghost_is_drawn_to_no_fence_that_it_must_keep_off() -> None:
    free, kept = farm(), farm(electric=True, energizer_uid="barn")
    beside = [PlacingGround(on, MOVE, GROUP).snap_sides(standing=False, fences=True) for on in (free, kept)]
    assert [len(sides) for sides in beside] == [2, 0]
