from __future__ import annotations

from collections import Counter
from collections.abc import Iterable
from dataclasses import replace
from datetime import date, timedelta

import pytest
import shapely

from pigmap.builtin.reports.sheet_nets import net_lines
from pigmap.document.edits import place_paddock
from pigmap.drawing.on_day import on_day
from pigmap.drawing.words import render
from pigmap.fence.books import Books
from pigmap.fence.need_words import need_sentences
from pigmap.fence.needs import need, tally
from pigmap.fence.of_day import nets_in_the_morning, nets_while_placing
from pigmap.fence.of_move import Nets
from pigmap.fence.pool import Piece
from pigmap.geometry.rectangle import Rectangle
from pigmap.planning.moves_of_day import moves_of_day
from pigmap.records import Energizer, Farm, Net, NetKind, Place, PlaceKind, Record, Way, WayKind, change
from pigmap.session.placing import judge
from pigmap.session.placing.ground import PlacingGround
from tests.fence.plans import Box, Visit, on, plan, row, wandering
from tests.planning.invented import KIND, TODAY

HALF = NetKind(uid="half", name="25 m nets", tape="white", bays_mm=(25_000,))
TWO_HALVES: list[Record] = [HALF, *(Net(uid=f"half {at}", net_kind_uid="half") for at in range(2))]


def _told(nets: Iterable[Nets]) -> dict[str, int]:
    return {each.kind.uid: each.count for each in nets if each.kind is not None and each.count}


def _booked(pieces: Iterable[Piece]) -> dict[str, int]:
    return dict(Counter(piece.kind_uid for piece in pieces))


@pytest.mark.parametrize("seed", [11, 12])
def test_cards_and_books_tell_the_same_of_every_move(seed: int) -> None:
    farm = plan(wandering(seed, 40), nets=30)
    books = Books(farm, TODAY)
    for booked in books.moves:
        (move,) = moves_of_day(farm, booked.day, TODAY)
        nets = move.nets
        assert _told(nets.to_set) == _booked(booked.to_set)
        assert _told(nets.to_leave) == _booked(booked.to_leave)
        assert _told(nets.to_take_up) == _booked(booked.to_take_up)


@pytest.mark.parametrize("seed", [13, 14])
def test_while_a_place_is_sought_as_many_nets_are_spare_as_the_move_finds_and_as_many_are_carried(seed: int) -> None:
    visits = wandering(seed, 25)
    whole = plan(visits, nets=30)
    for at, booked in enumerate(Books(whole, TODAY).moves, start=4):
        group, stay = booked.new.group_uid, whole.stays[booked.new.stay_uid]
        until = [each for each in visits if each.group != group or on(each.first) < stay.in_on]
        before = plan(until, nets=30)
        box = shapely.bounds(stay.ground).tolist()
        place = Rectangle(box[0], box[1], 0.0, round(1000 * (box[2] - box[0])), round(1000 * (box[3] - box[1])))
        judged = judge(before, {}, place, KIND, stay.in_on, group_uid=group, ground=_ground(before, stay.in_on, group))
        assert judged.nets_to_carry == len(booked.to_set), at
        assert judged.nets_to_leave == len(booked.to_leave), at
        assert judged.spare_nets == 30 - (booked.during["kind"] - len(booked.to_set)), at


def _ground(farm: Farm, day: date, group: str) -> PlacingGround:
    return PlacingGround(farm, day, group, today=TODAY)


def test_nets_of_another_length_that_fill_in_are_told_by_kind_on_the_card_in_the_list_and_in_the_books() -> None:
    farm = plan(row(50, 50, 3), *TWO_HALVES, nets=6)
    books = Books(farm, TODAY)
    assert [_booked(move.to_set) for move in books.moves] == [
        {"kind": 2, "half": 2},
        {"kind": 3},
        {"kind": 2, "half": 2},
    ]
    (move,) = moves_of_day(farm, on(4), TODAY)
    assert _told(move.nets.to_set) == {"kind": 2, "half": 2}
    found = need(books, KIND)
    assert found is not None
    assert [str(each) for each in need_sentences(books, found)] == [
        "The plan takes at most 6 at once, first on 2026-05-24, when Sows go to Paddock 1. "
        "6 are in good order, so there are enough.",
        "Nets of another length fill in at 2 moves, first on 2026-05-24, when Sows go to Paddock 1.",
    ]
    shown = on_day(farm, TODAY, today=TODAY)
    coming = next(each for each in shown.planned if each.stay is not None and each.stay.uid == "stay 1")
    lines = net_lines(farm, coming, shown.running, (), TODAY)
    assert [(render(line.deed), render(line.nets)) for line in lines[:2]] == [
        ("set", "2 \N{MULTIPLICATION SIGN} 50 m, blue tape"),
        ("set", "2 \N{MULTIPLICATION SIGN} 25 m, white tape"),
    ]
    assert [tally(books, kind, on(4)).spare for kind in (KIND, HALF)] == [3, 0]
    assert [nets_while_placing(farm, on(4), "", TODAY).free(kind) for kind in (KIND, HALF)] == [3, 0]


def test_nets_of_another_length_fill_in_only_where_some_lack_and_only_as_far_as_they_close_it() -> None:
    assert {piece.kind_uid for move in Books(plan(row(50, 50, 3), *TWO_HALVES, nets=7), TODAY).moves
            for piece in move.to_set} == {"kind"}  # fmt: skip
    books = Books(plan(row(50, 50, 3), *TWO_HALVES, nets=5), TODAY)  # 100 m are free for 150 m
    assert _booked(books.moves[0].to_set) == {"kind": 3}
    assert books.moves[0].during == {"kind": 7}


def test_moves_of_a_day_go_on_from_where_all_before_them_left_the_nets() -> None:
    farm = plan(row(60, 40, 4), nets=8)  # a net that is shared in part stays up
    nets = nets_in_the_morning(farm, on(12), TODAY)
    assert nets.free(KIND) == 3
    assert Books(farm, TODAY).counts(on(8)) == {"kind": 5}


def test_a_group_that_already_has_a_place_for_that_day_is_as_if_it_had_none() -> None:
    farm = plan(row(50, 50, 3), nets=9)
    assert nets_while_placing(farm, on(8), "sows", TODAY).free(KIND) == 5
    assert nets_while_placing(farm, on(8), "", TODAY).free(KIND) == 5
    assert nets_while_placing(farm, TODAY, "sows", TODAY).free(KIND) == 9


@pytest.mark.parametrize(
    ("electric", "fed_by", "sets"), [(False, None, 2), (True, "own", 2), (True, "other", 3), (True, None, 3)]
)
def test_the_books_lean_only_on_permanent_fences_that_may_close(electric: bool, fed_by: str | None, sets: int) -> None:
    fence = Way(
        uid="fence",
        kind=WayKind.PERMANENT_FENCE,
        line=shapely.LineString([(0, 50), (0, 100)]),
        electric=electric,
        energizer_uid=fed_by,
    )
    places = [Place(uid=uid, kind=PlaceKind.ENERGIZER, point=shapely.Point(500, 500)) for uid in ("own", "other")]
    own = Energizer(uid="energizer", name="Own", place_uid="own")
    visits = [Visit("sows", Box(0, 0, 50, 50), 0, 4), Visit("sows", Box(0, 50, 50, 100), 4, 8)]
    farm = plan(visits, fence, own, *places, nets=8)
    farm = farm.after([change(each, replace(each, energizer_uid=own.uid)) for each in farm.paddocks.values()])
    (booked,) = Books(farm, TODAY).moves
    (move,) = moves_of_day(farm, on(4), TODAY)
    assert len(booked.to_set) == sets
    assert _told(move.nets.to_set) == {"kind": sets}


def test_a_place_for_the_day_after_the_last_that_is_planned_finds_the_old_fence_standing() -> None:
    farm = plan([Visit("sows", Box(0, 0, 50, 50), 0, 4)], nets=8)
    placed = farm.after(
        place_paddock(
            Rectangle(0.0, 50.0, 0.0, 50_000, 50_000), net_kind_uid="kind", group_uid="sows", in_on=on(4), uid="next"
        ).changes(farm)
    )
    assert nets_while_placing(farm, on(4), "sows", TODAY).free(KIND) == 4
    (move,) = moves_of_day(placed, on(4), TODAY)
    assert _told(move.nets.to_set) == {"kind": 3}
    assert TODAY + timedelta(days=4) == on(4)
