from __future__ import annotations

from dataclasses import replace
from datetime import timedelta

import pytest

from pigmap.fence.books import Books
from pigmap.fence.need_words import need_sentences
from pigmap.fence.needs import Need, need, own_sets, spare_sets, tally
from pigmap.records import Net, NetCondition, NetRepair
from tests.conftest import published
from tests.fence.plans import Box, Visit, not_crossed, on, plan, row, use
from tests.planning.invented import KIND, TODAY

TORN = [Net(uid="torn", net_kind_uid="kind", condition=NetCondition.DAMAGED)]


def _need(books: Books) -> Need:
    found = need(books, KIND)
    assert found is not None
    return found


def _said(books: Books) -> list[str]:
    return [str(sentence) for sentence in need_sentences(books, _need(books))]


def test_owned_are_standing_spare_or_damaged() -> None:
    books = Books(plan(row(50, 50, 3), nets=6, owned=TORN), TODAY)
    assert tally(books, KIND, TODAY) == (7, 4, 2, 1, 0)
    assert tally(books, KIND, on(4)) == (7, 4, 2, 1, 0)
    assert tally(books, KIND, on(90)) == (7, 0, 6, 1, 0)


def test_a_damaged_net_that_stands_is_not_taken_from_the_spare_ones() -> None:
    box = Box(0, 0, 50, 50)
    uses = [use(f"use {side}", box, side, 0, -3, net_uid="torn" if side == 2 else None) for side in range(4)]
    books = Books(plan([Visit("sows", box, -3, 4)], *uses, nets=6, owned=TORN), TODAY)
    assert tally(books, KIND, TODAY) == (7, 4, 3, 1, 0)


def _torn(day: int) -> Net:
    return Net(uid="torn", net_kind_uid="kind", condition=NetCondition.DAMAGED, damaged_on=on(day))


def test_a_damaged_net_counts_until_the_day_it_was_damaged_and_from_the_day_it_is_mended() -> None:
    books = Books(plan(row(50, 50, 3), nets=6, owned=[_torn(-2)]), TODAY)
    assert [tally(books, KIND, on(day)).damaged for day in (-3, -2, 0, 9)] == [0, 1, 1, 1]
    repair = NetRepair(uid="repair", net_uid="torn", mended_on=on(5), damaged_on=on(-2))
    mended = Net(uid="torn", net_kind_uid="kind")
    books = Books(plan(row(50, 50, 3), repair, nets=6, owned=[mended]), TODAY)
    assert [tally(books, KIND, on(day)).damaged for day in (-3, -2, 4, 5)] == [0, 1, 1, 0]


def test_a_net_that_is_torn_makes_the_plan_short_from_that_day_on_until_it_is_mended() -> None:
    assert _need(Books(plan(row(50, 50, 3), nets=7), TODAY)).short is None
    short = _need(Books(plan(row(50, 50, 3), nets=6, owned=[_torn(0)]), TODAY)).short
    assert short is not None
    assert short.day == on(4)
    repair = NetRepair(uid="repair", net_uid="torn", mended_on=on(4), damaged_on=on(0))
    mended = plan(row(50, 50, 3), repair, nets=6, owned=[Net(uid="torn", net_kind_uid="kind")])
    assert _need(Books(mended, TODAY)).short is None
    late = plan(row(50, 50, 3), replace(repair, mended_on=on(5)), nets=6, owned=[Net(uid="torn", net_kind_uid="kind")])
    found = _need(Books(late, TODAY))
    assert found.short is not None
    assert (found.short.day, found.short_by, found.lacking) == (on(4), 1, 1)


def test_more_that_stand_than_there_are_is_said_as_it_is() -> None:
    books = Books(plan(row(50, 50, 0), nets=3), TODAY)
    assert tally(books, KIND, TODAY) == (3, 4, 0, 0, 1)
    assert _said(books) == [
        "4 stand today, and 3 are owned in good order: 1 too few.",
        "Buy or borrow 1, or plan a smaller paddock or one beside a fence that stands.",
    ]


def test_where_pigs_did_not_cross_what_lacks_today_and_at_a_later_move_are_both_told() -> None:
    books = Books(not_crossed(10), TODAY)
    found = _need(books)
    assert found.later is not None
    assert (found.later.day, found.later_by) == (on(4), 1)
    assert _said(books)[:2] == [
        "11 stand today, and 10 are owned in good order: 1 too few.",
        "The plan takes 11 on 2026-05-24, when Sows go to Paddock 2, and 10 are in good order: 1 too few.",
    ]
    assert _need(Books(not_crossed(11), TODAY)).later is None


def test_nets_bought_and_given_up_count_from_their_day() -> None:
    owned = [
        Net(uid="late", net_kind_uid="kind", first_used_on=on(6)),
        Net(uid="old", net_kind_uid="kind", retired_on=on(10)),
    ]
    books = Books(plan(row(50, 50, 3), nets=5, owned=owned), TODAY)
    assert [tally(books, KIND, on(day)).owned for day in (0, 6, 10)] == [6, 7, 6]
    found = _need(books)
    assert found.short is not None
    assert (found.short.day, found.short_by, found.lacking) == (on(4), 1, 1)
    assert found.with_one_more is None


def test_the_peak_its_day_and_the_move_are_told() -> None:
    books = Books(plan(row(60, 40, 3), nets=8), TODAY)
    found = _need(books)
    assert (found.peak.nets, found.peak.day, found.short, found.spare_set) == (8, on(8), None, 3)
    assert _said(books) == [
        "The plan takes at most 8 at once, first on 2026-05-28, when Sows go to Paddock 2. "
        "8 are in good order, so there are enough."
    ]


def test_the_first_day_that_is_short_what_mends_it_and_what_one_more_buys_are_told() -> None:
    visits = [*row(50, 50, 2), *(each for each in row(100, 50, 2, group="weaners", west=300))]
    later = [each._replace(first=each.first and each.first + 5, end=(each.end or 0) + 5) for each in visits[3:]]
    books = Books(plan([*visits[:3], *later], nets=12, owned=TORN), TODAY)
    found = _need(books)
    assert found.short is not None
    assert (found.short.day, found.short_by, found.lacking) == (on(4), 1, 2)
    assert found.with_one_more is not None
    assert found.with_one_more.day == on(9)
    assert _said(books) == [
        "The plan takes 13 on 2026-05-24, when Sows go to Paddock 1, and 12 are in good order: 1 too few.",
        "At most it takes 14 at once, on 2026-05-29, when Weaners go to Paddock 4.",
        "Mend what is damaged and buy or borrow 1, or plan a smaller paddock or one beside a fence that stands.",
        "With 1 more it falls short on 2026-05-29, when Weaners go to Paddock 4.",
    ]


def test_what_is_damaged_is_to_be_mended_before_anything_is_bought() -> None:
    books = Books(plan(row(50, 50, 2), nets=6, owned=TORN), TODAY)
    assert _said(books)[1] == "Mend the damaged one, or plan a smaller paddock or one beside a fence that stands."


def test_what_is_to_be_bought_is_told_at_the_price_of_the_keeper() -> None:
    farm = plan(row(50, 50, 2), nets=5)
    priced = replace(KIND, price=118.5)
    books = Books(replace(farm, net_kinds={"kind": priced}), TODAY)
    found = need(books, priced)
    assert found is not None
    assert [*map(str, need_sentences(books, found))][1] == (
        "Buy or borrow 2 (237 at your price), or plan a smaller paddock or one beside a fence that stands."
    )


def test_a_spare_set_more_is_told_where_the_plan_lacks_more_than_one() -> None:
    visits = [each for west, name in ((0, "a"), (300, "b")) for each in row(50, 50, 2, group=name, west=west)]
    books = Books(plan(visits, nets=4), TODAY)
    found = _need(books)
    assert (found.lacking, found.spare_set) == (7, 3)
    assert found.with_a_set_more is not None
    assert _said(books)[-1] == "With 3 more there are still too few today."


def test_groups_that_share_a_spare_set_need_fewer_nets() -> None:
    visits = [each for at in range(6) for each in row(50, 50, 2, group=f"group {at}", west=300 * at)]
    books = Books(plan(visits, nets=27), TODAY)
    assert _need(books).short is None
    assert _need(books).peak.nets == spare_sets(6).one_set == 27
    groups, shared, each = own_sets(books, KIND)
    assert (groups, shared, each) == (6, 3, 18)
    assert books.at_first["kind"] + each == spare_sets(6).own_three == 42


def test_counts_of_spare_sets_are_those_of_the_trade() -> None:
    cases = [
        (row["given"], int(row["expected"]), row["what"]) for row in published("fence_nets.csv") if row["id"] == "F6"
    ]
    sets = spare_sets(6)
    assert [expected for _, expected, _ in cases] == [sets.one_set, sets.to_jump, sets.own_four, sets.own_three]
    assert sets.in_vehicle == 29
    assert sets.saved(120.0) == pytest.approx(15 * 120.0)


def test_nothing_that_stands_needs_nothing() -> None:
    assert need(Books(plan([], nets=7), TODAY), KIND) is None


def test_a_plan_is_told_from_the_day_that_is_today() -> None:
    farm = plan(row(50, 50, 3), nets=7)
    later = Books(farm, TODAY + timedelta(days=1))
    assert _need(later).peak.day == on(4)
