from __future__ import annotations

from itertools import permutations, product

import numpy as np
import pytest

from pigmap.errors import PlanError
from pigmap.fence.depth import depth_of, even_depth, nearest_depth
from pigmap.fence.fitted import Spare
from pigmap.records import NetKind

THIRTEEN = NetKind(name="13 bays", bays_mm=(3846,) * 12 + (3848,))
FOURTEEN = NetKind(name="14 bays", bays_mm=(3572,) * 13 + (3564,))
FEET = NetKind(name="164 ft nets", bays_mm=(3810,) * 13 + (457,))


@pytest.mark.parametrize(
    ("bays", "standing", "carried", "deep"),
    [(13, 1, 3, 13), (13, 2, 4, 13), (14, 1, 3, 14), (14, 1, 4, 21), (14, 2, 3, 7), (14, 2, 4, 14)],
)
def test_equal_bays_are_half_as_deep_as_the_carried_nets_have_more_bays(
    bays: int, standing: int, carried: int, deep: int
) -> None:
    assert even_depth(standing * bays, carried * bays) == deep
    kind = THIRTEEN if bays == 13 else FOURTEEN
    found = depth_of(50_000 * standing, [Spare(kind, carried)])
    assert found.deep_mm == pytest.approx(deep * 50_000 / bays, abs=20)
    assert found.side_mm == pytest.approx(50_000 * standing, abs=100)


@pytest.mark.parametrize(("standing", "carried"), [(13, 26), (13, 52), (26, 39)])
def test_an_odd_rest_of_equal_bays_closes_nothing(standing: int, carried: int) -> None:
    with pytest.raises(PlanError, match="cannot have as many posts as each other"):
        even_depth(standing, carried)
    with pytest.raises(PlanError, match="cannot have both far corners at posts"):
        depth_of(standing * 50_000 // 13, [Spare(THIRTEEN, carried // 13)])


def test_it_says_which_side_would_do() -> None:
    with pytest.raises(PlanError) as raised:
        even_depth(12, 15)
    assert str(raised.value.message) == (
        "The side that stays is 12 posts long, and the nets to carry 15: "
        "the sides beside it cannot have as many posts as each other."
    )
    assert str(raised.value.remedy) == (
        "Set one corner of the shared side 1 post nearer: 2 posts deep, or 1 post farther out: 1 post deep."
    )
    assert (even_depth(11, 15), even_depth(13, 15)) == (2, 1)


def test_nets_that_do_not_reach_round_say_so() -> None:
    for carried in (10, 14, 15):
        with pytest.raises(PlanError, match="they do not reach round") as raised:
            even_depth(14, carried)
        assert str(raised.value.remedy) == "Carry more nets, or share a shorter side."
    with pytest.raises(PlanError, match=r"The nets to carry \(1 of 50 m\) do not reach round from a side of 60.0 m"):
        depth_of(60_000, [Spare(FOURTEEN, 1)])


def test_with_odd_last_bays_the_side_that_comes_nearest_is_named() -> None:
    assert depth_of(49_987, [Spare(FEET, 3)])[:2] == (49_987, 49_987)
    with pytest.raises(PlanError) as raised:
        depth_of(40_000, [Spare(FEET, 3)])
    assert str(raised.value) == (
        "From a side of 40.0 m the nets to carry (3 of 49.987 m) cannot have both far corners at posts. "
        "Share 50.0 m: 50.0 m deep."
    )
    with pytest.raises(PlanError, match=r"Share 53.8 m: 73.1 m deep"):
        depth_of(50_000, [Spare(THIRTEEN, 4)])
    with pytest.raises(PlanError, match=r"Share 42.3 m of it: 53.8 m deep"):
        depth_of(45_000, [Spare(THIRTEEN, 3)])


def test_hundreds_of_sides_are_met_as_near_as_trying_all_posts_finds() -> None:
    rng = np.random.default_rng(19)
    kinds = [NetKind(name="a", bays_mm=(4_000,) * 4 + (1_500,)), NetKind(name="b", bays_mm=(3_000,) * 3 + (2_050,))]
    for _ in range(200):
        nets = [kinds[kind] for kind in rng.integers(0, 2, rng.integers(1, 4))]
        side = int(rng.integers(2_000, 30_000))
        found = nearest_depth(side, [Spare(kind, nets.count(kind)) for kind in dict.fromkeys(nets)])
        misses = [abs(far - side) for far in _far_sides(nets)]
        if found is None:
            assert not misses
        else:
            assert abs(found.side_mm - side) == min(misses)


def _far_sides(nets: list[NetKind]) -> list[int]:
    found = []
    for row in set(permutations(nets)):
        for turns in product((1, -1), repeat=len(row)):
            posts = np.cumsum(
                [0, *(bay for kind, turn in zip(row, turns, strict=True) for bay in kind.bays_mm[::turn])]
            ).tolist()
            inner = posts[1:-1]
            found += [
                other - one for one in inner for other in inner if other > one and abs(one + other - posts[-1]) <= 100
            ]
    return found
