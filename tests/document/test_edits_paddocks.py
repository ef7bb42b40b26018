from __future__ import annotations

from collections.abc import Sequence
from datetime import timedelta

import pytest
import shapely

from pigmap.document.edits import (
    add_net_kind,
    free_names,
    lay_row,
    move_paddock,
    own_nets,
    place_paddock,
    plan_stay,
    record_stay,
    remove,
    rename,
    reshape_paddock,
)
from pigmap.errors import EditError
from pigmap.geometry.rectangle import Rectangle
from pigmap.records import Farm, StayState
from pigmap.records import remove as taken_out
from pigmap.records.side_nets import SideNets
from tests.document.example_farm import DAY, FIELD, GROUP, KIND, PADDOCK, done, example, square

FIVE_DAYS = timedelta(days=5)


def test_a_paddock_is_named_after_the_field_under_it_with_the_next_free_number() -> None:
    farm = done(example(), place_paddock(square(1), net_kind_uid=KIND, uid="b"))
    paddock = farm.paddocks["b"]
    assert (paddock.name, paddock.field_uid) == ("Long Field 2", FIELD)
    assert (paddock.nets_long, paddock.nets_wide) == (1, 1)


def test_numbers_go_on_from_the_highest_and_a_paddock_outside_every_field_has_none_of_theirs() -> None:
    farm = done(example(), rename("paddocks", PADDOCK, "Long Field 8"))
    farm = done(farm, place_paddock(square(1), uid="b"), place_paddock(Rectangle(900, 900, 0, 9_000, 9_000), uid="c"))
    assert farm.paddocks["b"].name == "Long Field 9"
    assert (farm.paddocks["c"].name, farm.paddocks["c"].field_uid) == ("Paddock 1", None)
    assert free_names(farm, FIELD, 2) == ["Long Field 10", "Long Field 11"]


def test_walked_corners_are_a_paddock_without_whole_nets() -> None:
    ground = shapely.Polygon([(10, 10), (61, 12), (58, 55), (9, 50)])
    farm = done(example(), place_paddock(ground, net_kind_uid=KIND, uid="b"))
    assert farm.paddocks["b"].outline == ground
    assert farm.paddocks["b"].nets_long is None


def test_placing_for_a_group_plans_its_stay_for_its_usual_days() -> None:
    farm = done(
        example(), place_paddock(square(1), group_uid=GROUP, in_on=DAY, uid="b", stay_uid="s", why="dry ground")
    )
    stay = farm.stays["s"]
    assert (stay.state, stay.in_on, stay.out_on) == (StayState.PLANNED, DAY, DAY + FIVE_DAYS)
    assert stay.ground == farm.paddocks["b"].outline
    assert stay.why_planned == "dry ground"


def test_a_row_is_placed_with_one_stay_after_another() -> None:
    farm = done(
        example(),
        record_stay(GROUP, PADDOCK, DAY, uid="now"),
        lay_row(
            [square(1), square(2), square(3)],
            net_kind_uid=KIND,
            group_uid=GROUP,
            in_on=DAY + FIVE_DAYS,
            days_each=4,
            uids=["b", "c", "d"],
        ),
    )
    assert [farm.paddocks[uid].name for uid in "bcd"] == ["Long Field 2", "Long Field 3", "Long Field 4"]
    planned = sorted((stay for stay in farm.stays.values() if stay.uid != "now"), key=lambda stay: stay.in_on)
    assert [(stay.paddock_uid, (stay.in_on - DAY).days) for stay in planned] == [("b", 5), ("c", 9), ("d", 13)]
    assert farm.stays["now"].out_on == DAY + FIVE_DAYS


def test_a_row_of_one_and_of_many_is_named_for_its_number() -> None:
    assert str(lay_row([square(1)]).label) == "A paddock placed."
    assert str(lay_row([square(1), square(2)]).label) == "A row of 2 paddocks laid."


def test_an_empty_row_is_refused() -> None:
    with pytest.raises(EditError) as refused:
        lay_row([])
    assert str(refused.value) == "The row has no paddock in it. Drag on until the next paddock shows."


def test_a_moved_paddock_takes_running_and_planned_stays_along_and_leaves_the_past() -> None:
    farm = done(
        example(),
        record_stay(GROUP, PADDOCK, DAY - 3 * FIVE_DAYS, DAY - 2 * FIVE_DAYS, uid="past"),
        record_stay(GROUP, PADDOCK, DAY, uid="now"),
        plan_stay(GROUP, PADDOCK, DAY + 20 * FIVE_DAYS, uid="later"),
        move_paddock(PADDOCK, 100.0, 20.0),
    )
    assert farm.paddocks[PADDOCK].outline.bounds == (110, 30, 160, 80)
    grounds = {uid: farm.stays[uid].ground.bounds[0] for uid in ("past", "now", "later")}
    assert grounds == {"past": 10, "now": 110, "later": 110}


def test_a_reshaped_paddock_counts_its_nets_anew() -> None:
    farm = done(example(), reshape_paddock(PADDOCK, Rectangle(10, 10, 0, 100_000, 50_000)))
    assert (farm.paddocks[PADDOCK].nets_long, farm.paddocks[PADDOCK].nets_wide) == (2, 1)
    farm = done(farm, reshape_paddock(PADDOCK, shapely.box(0, 0, 30, 40)))
    assert farm.paddocks[PADDOCK].nets_long is None


def test_corners_that_close_no_ground_are_refused() -> None:
    crossed = shapely.Polygon([(0, 0), (10, 10), (10, 0), (0, 10)])
    for edit in (place_paddock(crossed), reshape_paddock(PADDOCK, crossed)):
        with pytest.raises(EditError) as refused:
            done(example(), edit)
        assert str(refused.value) == (
            "The corners of the paddock close no ground, or its sides cross. Go round it once, from corner to corner."
        )


def test_nets_or_a_group_that_are_gone_are_said_to_be_gone() -> None:
    for edit, kind in (
        (place_paddock(square(1), net_kind_uid="x"), "net kind"),
        (place_paddock(square(1), group_uid="x", in_on=DAY), "group"),
        (lay_row([square(1)], group_uid="x", in_on=DAY), "group"),
        (move_paddock("x", 1.0, 1.0), "paddock"),
    ):
        with pytest.raises(EditError, match=f"The {kind} is not there any more"):
            done(example(), edit)


# Sides of nets of more than one length

HALF = "half"
MIXED = ((KIND, 1), (HALF, 1)), ((KIND, 1),)
SIDES = (*MIXED, *MIXED)


def with_halves() -> Farm:
    return done(example(), add_net_kind("25 m nets", (5_000,) * 5, nets=4, uid=HALF))


def mixed(corner: tuple[float, float] = (60.0, 10.0)) -> Rectangle:
    return Rectangle(*corner, 0.0, 75_000, 50_000)


def test_a_paddock_keeps_which_nets_its_sides_have() -> None:
    farm = done(with_halves(), place_paddock(mixed(), net_kind_uid=KIND, side_nets=SIDES, uid="b"))
    paddock = farm.paddocks["b"]
    assert (paddock.net_kind_uid, paddock.nets_long, paddock.nets_wide) == (KIND, None, None)
    assert paddock.side_nets == (f"1 {KIND}, 1 {HALF}", f"1 {KIND}")


def test_all_paddocks_of_a_row_have_the_same_nets() -> None:
    row = [mixed(), mixed((60.0, 60.0))]
    farm = done(with_halves(), lay_row(row, net_kind_uid=KIND, side_nets=SIDES, uids=("b", "c")))
    assert {farm.paddocks[uid].side_nets for uid in ("b", "c")} == {(f"1 {KIND}, 1 {HALF}", f"1 {KIND}")}


@pytest.mark.parametrize(
    ("sides", "said"),
    [
        ((*MIXED, ((KIND, 2),), ((KIND, 1),)), r"they are 75 m, 50 m, 100 m, 50 m, the sides 75 m, 50 m, 75 m, 50 m"),
        ((((KIND, 1),),) * 4, r"they are 50 m, 50 m, 50 m, 50 m, the sides 75 m, 50 m, 75 m, 50 m"),
        (MIXED, r"they are 75 m, 50 m, the sides 75 m, 50 m, 75 m, 50 m"),
    ],
)
def test_nets_that_do_not_close_the_sides_are_refused(sides: Sequence[SideNets], said: str) -> None:
    edit = place_paddock(mixed(), net_kind_uid=KIND, side_nets=sides)
    with pytest.raises(EditError, match=said) as refused:
        done(with_halves(), edit)
    assert "Give each side nets that are as long as it; opposite sides have one length." in str(refused.value)


def test_nets_of_a_kind_that_is_not_there_are_refused() -> None:
    with pytest.raises(EditError):
        done(example(), place_paddock(mixed(), net_kind_uid=KIND, side_nets=SIDES))


def test_a_moved_paddock_keeps_its_nets_and_one_of_another_shape_does_not() -> None:
    farm = done(with_halves(), place_paddock(mixed(), net_kind_uid=KIND, side_nets=SIDES, uid="b"))
    assert done(farm, move_paddock("b", 10, 5)).paddocks["b"].side_nets == farm.paddocks["b"].side_nets
    assert done(farm, reshape_paddock("b", mixed((80.0, 20.0)))).paddocks["b"].side_nets
    other = shapely.Polygon([(60, 10), (140, 10), (135, 60), (60, 60)])
    assert done(farm, reshape_paddock("b", other)).paddocks["b"].side_nets == ()


def test_a_kind_that_sides_are_told_of_is_not_removed() -> None:
    farm = done(with_halves(), own_nets(HALF, 0, DAY))
    farm = farm.after([taken_out(net) for net in farm.nets.values() if net.net_kind_uid == HALF])
    assert HALF not in done(farm, remove("net_kinds", HALF)).net_kinds
    placed = done(farm, place_paddock(mixed(), net_kind_uid=KIND, side_nets=SIDES, uid="b"))
    with pytest.raises(EditError, match="paddock") as refused:
        done(placed, remove("net_kinds", HALF))
    assert "leave the kind as it is" in str(refused.value)
