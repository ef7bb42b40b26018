from __future__ import annotations

from collections import Counter
from dataclasses import replace

import pytest
import shapely

from pigmap.fence.books import Books, books_of
from pigmap.records import Check, Farm, Net, NetCondition, NetRepair, Way, WayKind, add, change
from tests.conftest import published
from tests.fence.paces import PACE_M, Pace, told
from tests.fence.plans import Box, Visit, on, plan, row, use, wandering
from tests.planning.invented import KIND, TODAY

CASES = {row["id"]: row for row in published("fence_pool.csv")}
SHAPES = ("F7-50x50", "F7-60x40-sharing-60", "F7-40x60-sharing-40", "75x25-sharing-75", "100x50-sharing-100",
          "50x25-sharing-50")  # fmt: skip


def test_every_printed_case_is_there() -> None:
    assert tuple(CASES) == SHAPES


@pytest.mark.parametrize("name", SHAPES)
def test_the_pool_of_each_shape_leaks_as_it_was_worked_out(name: str) -> None:
    case = {key: int(value) for key, value in CASES[name].items() if key != "id"}
    moves = Books(plan(row(case["shared_m"], case["deep_m"], 12)), TODAY).moves
    assert len(moves) == 12
    assert max(move.during["kind"] for move in moves) == case["pool"]
    assert {move.after["kind"] for move in moves[1:]} == {case["standing"]}
    assert {len(move.to_set) for move in moves} == {case["spare"]}


@pytest.mark.parametrize("name", SHAPES)
def test_a_count_along_the_chain_alone_says_the_same(name: str) -> None:
    shared, deep, pool, standing, spare = (int(CASES[name][key]) for key in tuple(CASES[name])[1:])
    # The far side of each paddock lies on its run of nets from `deep` to `deep + shared`, nets end every 50 m.
    carried = -(-(shared + 2 * deep) // 50)
    stays = sum(50 * at < deep + shared and 50 * (at + 1) > deep for at in range(carried))
    assert (carried + stays + carried, stays + carried, carried) == (pool, standing, spare)


@pytest.mark.parametrize("seed", [1, 2])
def test_a_thousand_moves_go_as_a_count_of_paces_tells(seed: int) -> None:
    visits = wandering(seed, 1000)
    books = Books(plan(visits), TODAY)
    at_first, expected = told(visits)
    assert books.at_first["kind"] == at_first
    found = [(len(m.to_set), len(m.to_take_up), m.during["kind"], m.after["kind"]) for m in books.moves]
    assert found == [each[:4] for each in expected]
    assert len(found) == 1000
    for at in range(0, 1000, 37):
        lines = Counter(each.line.bounds for each in books.standing(books.moves[at].day))
        assert lines == Counter(_bounds(net) for net in expected[at].nets)


@pytest.mark.parametrize("degrees", [17.0, 90.0, 211.5])
def test_a_farm_that_is_turned_takes_as_many_nets(degrees: float) -> None:
    visits = wandering(5, 120)
    told_of = [
        [(len(move.to_set), len(move.to_take_up), move.during["kind"]) for move in Books(farm, TODAY).moves]
        for farm in (plan(visits), plan(visits, turned_deg=degrees))
    ]
    assert told_of[0] == told_of[1]


def _bounds(net: frozenset[Pace]) -> tuple[float, float, float, float]:
    return (
        min(x for x, _, _ in net),
        min(y for _, y, _ in net),
        max(x + PACE_M * (way == "east") for x, _, way in net),
        max(y + PACE_M * (way == "north") for _, y, way in net),
    )


@pytest.mark.parametrize("seed", [3, 4])
def test_over_a_thousand_moves_no_net_is_in_two_places_and_none_is_lost(seed: int) -> None:
    visits = wandering(seed, 1000)
    need = max(move.during["kind"] for move in Books(plan(visits), TODAY).moves)
    farm = plan(visits, nets=need)
    books = Books(farm, TODAY)
    for at, move in enumerate(books.moves):
        set_now = {books.identities.of_piece(piece, move.day) for piece in move.to_set}
        taken = {books.identities.of_piece(piece, on(at)) for piece in move.to_take_up}
        assert None not in set_now | taken
        assert not set_now & taken  # the old sides are free only after the new ones stand
        if at % 50 == 0:
            stand = [each.net.uid for each in books.standing(move.day) if each.net is not None]
            assert len(stand) == len(set(stand)) == move.after["kind"]
            assert set(stand) <= set(farm.nets)


def test_what_lacks_nets_at_a_move_gets_those_that_are_taken_up_and_what_is_never_there_has_no_name() -> None:
    for nets, lacking in ((7, 0), (5, 0), (4, 0), (3, 1)):
        books = Books(plan(row(50, 50, 3), nets=nets), TODAY)
        assert books.moves[0].during == {"kind": 7}
        for day in (TODAY, on(4), on(11)):
            there = [each.net for each in books.standing(day)]
            assert (len(there), there.count(None)) == (4, lacking)


def test_a_net_stands_nowhere_while_it_is_damaged_and_may_before_and_after() -> None:
    torn = Net(uid="a torn one", net_kind_uid="kind", condition=NetCondition.DAMAGED, damaged_on=on(4))
    farm = plan(row(50, 50, 3), nets=7, owned=[torn])

    def days_of(farm: Farm) -> list[int]:
        books = Books(farm, TODAY)
        there = {day: {each.net.uid for each in books.standing(on(day)) if each.net is not None} for day in range(16)}
        return [day for day, uids in there.items() if torn.uid in uids]

    assert days_of(farm) == []  # the first paddock stands until the day on which it is torn, and one side longer
    late = farm.after([change(torn, replace(torn, damaged_on=on(9)))])
    assert set(days_of(late)) <= set(range(9))
    assert days_of(late)
    mended = NetRepair(uid="repair", net_uid=torn.uid, damaged_on=on(1), mended_on=on(8))
    sound = replace(torn, condition=NetCondition.SOUND, damaged_on=None)
    assert min(days_of(farm.after([change(torn, sound), add(mended)]))) == 8


def test_a_net_that_was_written_down_by_its_number_stands_where_it_was_written_down() -> None:
    box = Box(0, 0, 50, 50)
    owned = [Net(uid="seven", number="7", net_kind_uid="kind"), Net(uid="eight", number="8", net_kind_uid="kind")]
    uses = [use(f"use {side}", box, side, 0, -3, net_uid="eight" if side == 2 else None) for side in range(4)]
    farm = plan([Visit("sows", box, -3, 4), Visit("sows", Box(0, 50, 50, 100), 4, 8)], *uses, owned=owned, nets=8)
    books = Books(farm, TODAY)
    by_side = {each.line.centroid.coords[0]: each for each in books.standing(TODAY)}
    north = by_side[(25.0, 50.0)]
    assert north.net is not None
    assert (north.net.number, north.recorded, north.group_uid) == ("8", True, "sows")
    stand = {each.net.number for each in books.standing(on(4)) if each.net is not None}
    assert "8" in stand  # the side that both use
    assert all(each.recorded == (each.net is north.net) for each in books.standing(on(4)))


def test_two_records_of_one_side_are_one_net() -> None:
    sows, weaners = Box(0, 0, 50, 50), Box(50, 0, 100, 50)
    uses = [use(f"a {side}", sows, side, 0) for side in range(4)] + [
        use(f"b {side}", weaners, side, 1) for side in range(4)
    ]
    books = Books(plan([Visit("sows", sows, 0, 4), Visit("weaners", weaners, 0, 9)], *uses, nets=8), TODAY)
    assert books.counts(TODAY) == {"kind": 7}
    assert len({each.net.uid for each in books.standing(TODAY) if each.net is not None}) == 7
    assert books.counts(on(4)) == {"kind": 4}  # the side stays for the weaners


def test_a_net_keeps_its_name_through_the_records_of_one_place() -> None:
    old, new = Box(0, 0, 50, 50), Box(0, 50, 50, 100)
    uses = [use(f"old {side}", old, side, 0, -8, taken_on=on(-4)) for side in range(4)]
    uses += [use(f"new {side}", new, side, 1, -4) for side in range(4)]
    books = Books(plan([Visit("sows", new, -4, 4)], *uses, nets=7), TODAY)
    before = {each.line.centroid.coords[0]: each.net for each in books.standing(on(-5))}
    now = {each.line.centroid.coords[0]: each.net for each in books.standing(TODAY)}
    assert before[(25.0, 50.0)] is now[(25.0, 50.0)] is not None
    assert len({net.uid for net in before.values() if net}) == len({net.uid for net in now.values() if net}) == 4


def test_a_net_written_down_in_two_places_is_where_it_was_written_down_last() -> None:
    sows, weaners = Box(0, 0, 50, 50), Box(200, 0, 250, 50)
    uses = [use("first", sows, 0, 0, -5, net_uid="net 000"), use("then", weaners, 0, 1, -2, net_uid="net 000")]
    books = Books(plan([Visit("sows", sows, -5, 4), Visit("weaners", weaners, -2, 9)], *uses, nets=4), TODAY)
    nets = {each.paddock_uid: each.net.uid if each.net else None for each in books.standing(TODAY)}
    assert nets["paddock 1"] == "net 000" != nets["paddock 0"]
    assert nets["paddock 0"] is not None


def test_nets_left_standing_where_nobody_is_stand_until_the_next_move_can_use_them() -> None:
    left, sows = Box(500, 0, 550, 50), Box(0, 0, 50, 50)
    uses = [use(f"left {side}", left, side, 2, -9) for side in range(4)]
    farm = plan(
        [Visit("sows", sows, 0, 4), Visit("sows", Box(0, 50, 50, 100), 4, 8), Visit("weaners", left, 20, 30)], *uses
    )
    books = Books(farm, TODAY)
    alone = [each for each in books.standing(TODAY) if not each.group_uid]
    assert [each.paddock_uid for each in alone] == ["paddock 2"] * 4
    assert books.counts(TODAY) == {"kind": 8}
    assert books.moves[0].during == {"kind": 7}


def test_a_permanent_fence_takes_no_net() -> None:
    fence = Way(uid="fence", kind=WayKind.PERMANENT_FENCE, line=shapely.LineString([(0, -50), (0, 900)]))
    books = Books(plan(row(50, 50, 3), fence), TODAY)
    assert books.at_first == {"kind": 3}
    assert [len(move.to_set) for move in books.moves] == [2, 2, 2]


def test_pigs_go_where_others_are_only_after_those_have_gone() -> None:
    first, second, third = (Box(at, 0, at + 50, 50) for at in (0, 50, 100))
    visits = [Visit("a", first, 0, 4), Visit("b", second, 0, 4), Visit("a", second, 4, 8), Visit("b", third, 4, 8)]
    assert [move.new.group_uid for move in Books(plan(visits), TODAY).moves] == ["b", "a"]


def test_the_move_that_frees_nets_goes_before_the_one_that_binds_them() -> None:
    visits = [*row(50, 50, 1, group="a"), *row(100, 100, 1, group="b", west=500)]
    smaller = Visit("b", Box(500, 100, 550, 150), 4, 8)
    larger = Visit("a", Box(0, 50, 50, 150), 4, 8)
    books = Books(plan([visits[0], larger, visits[2], smaller]), TODAY)
    assert [move.new.group_uid for move in books.moves] == ["b", "a"]


def test_a_stay_whose_paddock_is_gone_is_left_out_and_the_rest_is_told() -> None:
    farm = plan([*row(50, 50, 2), Visit("weaners", Box(300, 0, 350, 50), 0, 9)])
    gone = replace(farm, paddocks={uid: each for uid, each in farm.paddocks.items() if uid != "paddock 3"})
    assert Books(gone, TODAY).at_first == {"kind": 4}


def test_a_farm_without_nets_or_stays_has_empty_books() -> None:
    books = Books(plan([]), TODAY)
    assert books.standing(TODAY) == books.standing(on(5)) == books.standing(on(-5)) == ()
    assert books.moves == ()


def test_books_are_kept_until_something_changes_that_they_rest_on() -> None:
    farm = plan(row(50, 50, 2), nets=7)
    books = books_of(farm, TODAY)
    checked = farm.after([add(Check(uid="check", paddock_uid="paddock 0", checked_on=TODAY))])
    assert books_of(checked, TODAY) is books
    assert books_of(checked, on(1)) is not books
    net = farm.nets["net 000"]
    torn = checked.after([change(net, replace(net, condition=NetCondition.DAMAGED))])
    assert books_of(torn, TODAY) is not books


def test_lengths_on_the_ground_count_not_those_of_the_grid() -> None:
    farm = plan(row(50, 50, 1))
    wide = replace(farm, projection=replace(farm.projection, ground_per_grid=1.25))
    assert Books(wide, TODAY).at_first == {"kind": 5}  # 200 m of the grid are 250 m of ground
    assert KIND.length_m == 50
