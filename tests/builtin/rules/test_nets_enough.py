from __future__ import annotations

from dataclasses import replace
from datetime import timedelta

import shapely

from pigmap.builtin.rules.nets_enough import rule
from pigmap.document.edits import net_damaged, net_mended
from pigmap.records import Way, WayKind, change, remove
from tests.fence.plans import Box, Visit, not_crossed, plan, row, use
from tests.planning.invented import TODAY, farm_with, stay
from tests.planning.invented import TODAY as PLANS_FROM


def test_eight_nets_are_enough_for_two_paddocks_of_four_and_a_move_takes_spare_ones() -> None:
    standing = [*stay("sows", (0, 0), -2, 4), *stay("weaners", (100, 0), -2, 9)]
    assert not list(rule.breaches(farm_with(*standing), TODAY))
    rows = [*standing, *stay("sows", (50, 0), 4, 9)]  # between the two: a net on either open side
    assert not list(rule.breaches(farm_with(*rows, nets=10), TODAY))
    (breach,) = rule.breaches(farm_with(*rows), TODAY)
    assert str(breach.words) == "Sows go to 50 0 on 2026-05-24 with 2 of the 50 m nets to set and 0 spare: 2 too few."
    assert str(breach.remedy) == "Plan a smaller paddock or one that uses a standing fence, or mend or buy 2."
    assert (breach.weight, breach.uid) == ("plan", "sows 50 0 4")


def test_sides_that_end_within_a_net_take_more_than_their_length() -> None:
    visits = [*row(60, 40, 12)]  # 200 m round, as four nets are
    assert not list(rule.breaches(plan(visits, nets=8), PLANS_FROM))
    (breach,) = rule.breaches(plan(visits, nets=7), PLANS_FROM)
    assert str(breach.words) == (
        "Sows go to Paddock 2 on 2026-05-28 with 3 of the 50 m nets to set and 2 spare: 1 too few. "
        "10 later moves are short, too."
    )
    assert breach.also == tuple(f"stay {at}" for at in range(3, 13))


def test_moves_that_are_short_after_one_that_is_not_are_told_anew() -> None:
    squares = [Visit("sows", Box(0, 50 * at, 50, 50 * at + 50), 4 * at, 4 * at + 4) for at in range(6)]
    larger = [squares[2]._replace(box=Box(0, 100, 50, 200)), squares[3]._replace(box=Box(0, 200, 50, 250))]
    jump = squares[5]._replace(box=Box(500, 0, 550, 50))
    found = [
        *rule.breaches(
            plan([*squares[:2], *larger, squares[4]._replace(box=Box(0, 250, 50, 300)), jump], nets=7), PLANS_FROM
        )
    ]
    assert [breach.uid for breach in found] == ["stay 2", "stay 5"]
    assert found[0].also == ("stay 3",)


def test_a_reason_for_one_move_is_none_for_those_after_it() -> None:
    farm = plan(row(50, 50, 4), nets=6)
    second = farm.stays["stay 2"]
    told = farm.after([change(second, replace(second, why_planned="nets are borrowed"))])
    assert [breach.uid for breach in rule.breaches(told, PLANS_FROM)] == ["stay 1", "stay 2", "stay 3"]


def test_a_damaged_net_is_missed() -> None:
    farm = farm_with(*stay("sows", (0, 0), -2, 4), *stay("weaners", (100, 0), -2, 9), damaged=1)
    (breach,) = rule.breaches(farm, TODAY)
    assert str(breach.words) == (
        "8 of the 50 m nets stand on 2026-05-20, for Sows, Weaners; the farm owns 7 in good order."
    )
    assert str(breach.remedy) == "Count the nets again, or say which kind stands there."
    assert breach.weight == "fact"


def test_a_net_that_is_mended_before_the_move_is_not_missed() -> None:
    farm = plan(row(50, 50, 2), nets=7)
    torn = farm.after(net_damaged("net 000", TODAY).changes(farm))
    assert [breach.uid for breach in rule.breaches(torn, TODAY)] == ["stay 1"]
    mended = torn.after(net_mended("net 000", TODAY + timedelta(days=4)).changes(torn))
    assert not list(rule.breaches(mended, TODAY))


def test_too_many_of_today_do_not_hide_a_later_move_that_lacks_some() -> None:
    fact, planned = rule.breaches(not_crossed(10), TODAY)
    assert str(fact.words) == (
        "11 of the 50 m nets stand on 2026-05-20, for Sows, Weaners; the farm owns 10 in good order."
    )
    assert str(planned.words) == (
        "Sows go to Paddock 2 on 2026-05-24 with 3 of the 50 m nets to set and 2 spare: 1 too few. "
        "1 later move is short, too."
    )
    assert not list(rule.breaches(not_crossed(11), TODAY))


def test_a_damaged_net_that_stays_up_is_not_missed_at_the_moves_of_others() -> None:
    box = Box(300, 0, 350, 50)
    visits = [*row(50, 50, 1), Visit("weaners", box, 0, 9)]
    uses = [use(f"use {side}", box, side, 2, -3, net_uid="net 000" if side == 2 else None) for side in range(4)]
    farm = plan(visits, *uses, nets=11)
    torn = farm.after(net_damaged("net 000", TODAY).changes(farm))
    assert not list(rule.breaches(torn, TODAY))
    assert list(rule.breaches(plan(visits, *uses, nets=10), TODAY))


def test_a_plan_that_takes_too_many_is_named_on_its_first_day_with_what_is_short() -> None:
    farm = farm_with(*stay("sows", (0, 0), -2, 4), *stay("weaners", (100, 0), 2, 9), nets=6)
    (breach,) = rule.breaches(farm, TODAY)
    assert breach.weight == "plan"
    assert breach.day == TODAY + timedelta(days=2)
    assert str(breach.remedy) == "Plan a smaller paddock or one that uses a standing fence, or mend or buy 2."


def test_a_permanent_fence_takes_no_net() -> None:
    fence = Way(uid="fence", kind=WayKind.PERMANENT_FENCE, line=shapely.LineString([(0, 0), (300, 0)]))
    rows = [*stay("sows", (0, 0), -2, 4), *stay("weaners", (100, 0), -2, 9)]
    assert list(rule.breaches(farm_with(*rows, nets=6), TODAY))
    assert not list(rule.breaches(farm_with(fence, *rows, nets=6), TODAY))


def test_what_stood_in_the_past_is_not_counted() -> None:
    farm = farm_with(*stay("sows", (0, 0), -9, -4), *stay("weaners", (100, 0), -9, -4), nets=4)
    assert not list(rule.breaches(farm, TODAY))


def test_a_stay_with_no_day_out_ends_where_the_groups_next_begins() -> None:
    farm = farm_with(*stay("sows", (0, 0), -2, None), *stay("sows", (50, 0), 3, 6), nets=7)
    assert not list(rule.breaches(farm, TODAY))  # four and the three of the move, not two paddocks of four


def test_fewer_nets_than_the_paddock_takes_where_pigs_are_is_named() -> None:
    farm = farm_with(*stay("sows", (0, 0), -2, 4), nets=3)
    (breach,) = rule.breaches(farm, TODAY)
    assert "4 of the 50 m nets stand" in str(breach.words)


def test_a_side_that_two_groups_share_takes_its_net_once() -> None:
    rows = [*stay("sows", (0, 0), -2, 4), *stay("weaners", (50, 0), -1, 9)]
    assert not list(rule.breaches(farm_with(*rows, nets=7), TODAY))
    (breach,) = rule.breaches(farm_with(*rows, nets=6), TODAY)
    assert str(breach.words).startswith("7 of the 50 m nets stand on 2026-05-20")


def test_nets_are_counted_by_their_length_on_the_ground() -> None:
    farm = farm_with(*stay("sows", (0, 0), -2, 4), nets=4)
    assert not list(rule.breaches(farm, TODAY))
    wide = replace(farm, projection=replace(farm.projection, ground_per_grid=1.25))
    (breach,) = rule.breaches(wide, TODAY)  # 200 grid metres are 250 m of ground
    assert str(breach.words).startswith("5 of the 50 m nets stand")


def test_a_stay_whose_paddock_or_group_is_gone_does_not_stop_the_count() -> None:
    farm = farm_with(*stay("sows", (0, 0), -2, 4), *stay("weaners", (100, 0), -2, 9), nets=3)
    (breach,) = rule.breaches(farm.after([remove(farm.paddocks["paddock 0 0"])]), TODAY)
    assert str(breach.words).startswith("4 of the 50 m nets stand on 2026-05-20, for Weaners;")
    (breach,) = rule.breaches(farm.after([remove(farm.groups["sows"])]), TODAY)
    assert "for Weaners, pigs of a group that is gone;" in str(breach.words)
