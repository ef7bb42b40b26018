from __future__ import annotations

from itertools import combinations, permutations, product

import numpy as np
import pytest

from pigmap.errors import PlanError
from pigmap.fence import ways
from pigmap.fence.fitted import Spare
from pigmap.fence.rectangles import closed_rectangles, even_rectangles, nearest_rectangle, rectangles_of
from pigmap.records import NetKind

PLAY = 100
THIRTEEN = NetKind(name="13 bays", bays_mm=(3846,) * 12 + (3848,))
FOURTEEN = NetKind(name="14 bays", bays_mm=(3572,) * 13 + (3564,))
FEET = NetKind(name="164 ft nets", bays_mm=(3810,) * 13 + (457,))


@pytest.mark.parametrize("bays", range(1, 61))
def test_equal_bays_close_as_many_rectangles_as_there_are_ways_to_halve_an_even_number(bays: int) -> None:
    wanted = {(short, long) for short in range(1, bays) for long in range(short, bays) if 2 * short + 2 * long == bays}
    found = even_rectangles(bays)
    assert set(found) == wanted
    assert len(found) == (0 if bays % 2 else bays // 4)
    assert [*found] == sorted(found, key=lambda sides: -sides[0] * sides[1])


@pytest.mark.parametrize("kind", [THIRTEEN, FOURTEEN], ids=lambda kind: kind.name)
@pytest.mark.parametrize("nets", range(1, 7))
def test_nets_of_equal_bays_close_the_rectangles_of_their_number_of_bays(kind: NetKind, nets: int) -> None:
    found = rectangles_of([Spare(kind, nets)])
    assert [each.bays for each in found] == [*even_rectangles(nets * len(kind.bays_mm))]


@pytest.mark.parametrize(
    ("kind", "nets", "bays", "metres", "area"),
    [
        (THIRTEEN, 2, (6, 7), (23.08, 26.92), 621.3),
        (FOURTEEN, 1, (3, 4), (10.71, 14.29), 153.1),
        (FOURTEEN, 2, (7, 7), (25.0, 25.0), 625.0),
        (FOURTEEN, 3, (10, 11), (35.71, 39.29), 1403.1),
        (FOURTEEN, 4, (14, 14), (50.0, 50.0), 2500.0),
    ],
)
def test_the_largest_rectangle_of_nets_of_fifty_metres(
    kind: NetKind, nets: int, bays: tuple[int, int], metres: tuple[float, float], area: float
) -> None:
    # Derived: 50 m in equal bays; the nets here have bays of whole millimetres.
    best = rectangles_of([Spare(kind, nets)])[0]
    assert best.bays == bays
    assert (best.short_mm / 1000, best.long_mm / 1000) == pytest.approx(metres, abs=0.02)
    assert best.area_m2 == pytest.approx(area, abs=0.3)


def _of_all(nets: list[NetKind]) -> set[tuple[int, int]]:
    """Return the sides of every rectangle in every order of nets, of all four corners at all posts."""
    found = set()
    for row in set(permutations(nets)):
        for turns in product((1, -1), repeat=len(row)):
            posts = np.cumsum(
                [0, *(bay for kind, turn in zip(row, turns, strict=True) for bay in kind.bays_mm[::turn])]
            )
            for corners in combinations(posts[:-1].tolist(), 4):
                one, two, three, four = np.diff([*corners, corners[0] + int(posts[-1])]).tolist()
                if abs(one - three) <= PLAY and abs(two - four) <= PLAY:
                    short, long = sorted((min(one, three), min(two, four)))
                    found.add((short, long))
    return found


def test_with_bays_of_any_length_every_rectangle_is_found_and_no_other() -> None:
    rng = np.random.default_rng(18)
    some = 0
    for _ in range(50):
        kinds = [
            NetKind(
                name=str(number),
                bays_mm=(
                    *(int(rng.choice([3_000, 4_000])),) * int(rng.integers(1, 4)),
                    int(rng.choice([500, 1_000, 2_040])),
                ),
            )
            for number in range(2)
        ]
        nets = [kinds[kind] for kind in rng.integers(0, 2, rng.integers(1, 5))]
        found = rectangles_of([Spare(kind, nets.count(kind)) for kind in dict.fromkeys(nets)])
        wanted = _of_all(nets)
        some += bool(wanted)
        assert {(each.short_mm, each.long_mm) for each in found} <= wanted
        for short, long in wanted:  # those that differ by the play stand for one another
            assert any(abs(each.short_mm - short) + abs(each.long_mm - long) <= PLAY for each in found)
        assert [each.area_m2 for each in found] == sorted((each.area_m2 for each in found), reverse=True)
    assert some >= 10


@pytest.mark.parametrize(("nets", "shapes"), [(1, 0), (2, 13), (3, 0), (4, 40)])
def test_an_odd_last_bay_leaves_other_rectangles_than_equal_bays(nets: int, shapes: int) -> None:
    # 164 ft at 12.5 ft are 13.12 bays. One and three nets never have two corners half the way round apart.
    assert len(rectangles_of([Spare(FEET, nets)])) == shapes
    assert len(even_rectangles(14 * nets)) > 0


def test_corners_are_at_posts_and_opposite_sides_alike() -> None:
    for each in rectangles_of([Spare(FEET, 2), Spare(FOURTEEN, 1)]):
        posts = ways.posts_of(each.nets).tolist()
        assert all(corner in posts for corner in each.corners_mm)
        sides = np.diff([*each.corners_mm, each.corners_mm[0] + posts[-1]])
        assert abs(sides[0] - sides[2]) <= PLAY
        assert abs(sides[1] - sides[3]) <= PLAY


def test_where_no_rectangle_closes_it_says_how_many_posts_to_leave_out() -> None:
    with pytest.raises(PlanError) as raised:
        closed_rectangles([Spare(THIRTEEN, 1)])
    assert str(raised.value.message) == "The nets (1 of 50 m) close no rectangle with its corners at posts."
    assert str(raised.value.remedy) == "Leave out the last post and fold that end back: 11.5 m by 11.5 m."
    with pytest.raises(PlanError) as raised:
        closed_rectangles([Spare(FEET, 3)])
    assert str(raised.value.remedy) == "Leave out the last 2 posts and fold that end back: 38.1 m by 34.7 m."
    nearest = nearest_rectangle([Spare(THIRTEEN, 1)])
    assert nearest is not None
    assert (nearest.folded_bays, nearest.bays) == (1, (3, 3))


def test_nets_too_small_for_any_rectangle_ask_for_one_more() -> None:
    with pytest.raises(PlanError, match="close no rectangle with its corners at posts") as raised:
        closed_rectangles([Spare(NetKind(name="three bays", bays_mm=(5_000,) * 3), 1)])
    assert str(raised.value.remedy) == "Take one net more."
    assert closed_rectangles([Spare(THIRTEEN, 4)])[0].bays == (13, 13)


def test_of_very_many_orders_only_the_nets_as_given_are_looked_at(monkeypatch: pytest.MonkeyPatch) -> None:
    spare = [Spare(FEET, 1), Spare(FOURTEEN, 1)]
    assert len([*ways.ways_of(spare)]) == 4
    monkeypatch.setattr(ways, "MOST_WAYS", 3)
    assert [*ways.ways_of(spare)] == [((FEET, False), (FOURTEEN, False))]
