from __future__ import annotations

from itertools import permutations, product

import numpy as np
import pytest
import shapely

from pigmap.fence import order
from pigmap.fence.fitted import Spare
from pigmap.fence.laid import laid
from pigmap.fence.order import lay_nets, lay_run
from pigmap.geometry.runs import Run, open_runs
from pigmap.records import NetKind

FIFTY = NetKind(name="50 m nets", bays_mm=(3572,) * 13 + (3564,))
FEET = NetKind(name="164 ft nets", bays_mm=(3810,) * 13 + (457,))
HALF = NetKind(name="25 m nets", bays_mm=(4000,) * 6 + (1000,))
EVEN = NetKind(name="even nets", bays_mm=(10_000,) * 3)


def _least_of_all(length: int, corners: list[int], nets: list[NetKind]) -> int:
    """Return how near the farthest corner can be to a post, over every order and both ways round of each net."""
    found = []
    for row in set(permutations(nets)):
        for ways in product((1, -1), repeat=len(row)):
            bays = [bay for kind, way in zip(row, ways, strict=True) for bay in kind.bays_mm[::way]]
            posts = np.cumsum([0, *bays])
            posts = np.append(posts[posts < length - 100], length)
            found.append(max(int(np.abs(posts - corner).min()) for corner in corners))
    return min(found)


def test_hundreds_of_runs_are_laid_as_well_as_trying_all_orders_finds() -> None:
    rng = np.random.default_rng(17)
    better = 0
    for _ in range(300):
        nets = [(FIFTY, FEET, HALF, EVEN)[kind] for kind in rng.integers(0, 4, rng.integers(1, 5))]
        whole = sum(kind.length_mm for kind in nets)
        length = whole - int(rng.integers(-100, min(kind.length_mm for kind in nets) - 100))
        corners = sorted(rng.integers(1, length, rng.integers(1, 5)).tolist())
        spare = [Spare(kind, nets.count(kind)) for kind in dict.fromkeys(nets)]
        found = lay_nets(length, corners, spare)
        wanted = _least_of_all(length, corners, nets)
        assert found.farthest_off_mm == wanted, (length, corners, [kind.name for kind in nets])
        assert sorted(net.kind.name for net in found.nets) == sorted(kind.name for kind in nets)
        better += wanted < max(
            corner.off_mm for corner in laid(length, corners, [(net, False) for net in nets]).corners
        )
    assert better > 100


def test_six_nets_of_six_kinds_are_laid_in_the_best_of_all_their_orders() -> None:
    kinds = [NetKind(name=f"{number}", bays_mm=(3_000 + 170 * number,) * 5 + (900,)) for number in range(6)]
    whole = sum(kind.length_mm for kind in kinds)
    corners = [whole // 4, whole // 2, 3 * whole // 4]
    found = lay_nets(whole, corners, [Spare(kind, 1) for kind in kinds])
    as_given = laid(whole, corners, [(kind, False) for kind in kinds])
    assert found.farthest_off_mm < as_given.farthest_off_mm
    assert found.farthest_off_mm == _least_of_some(whole, corners, kinds)


def _least_of_some(length: int, corners: list[int], kinds: list[NetKind]) -> int:
    """Return the same as `_least_of_all`, giving an order up as soon as a corner is no better than the best so far."""
    best = length
    stack: list[tuple[int, int, frozenset[int]]] = [(0, 0, frozenset())]
    while stack:
        begin, worst, used = stack.pop()
        if worst >= best:
            continue
        if len(used) == len(kinds):
            best = worst
        for number in set(range(len(kinds))) - used:
            for way in (1, -1):
                posts = begin + np.cumsum([0, *kinds[number].bays_mm[::way]])
                inside = [corner for corner in corners if begin < corner <= posts[-1]]
                off = max((int(np.abs(posts - corner).min()) for corner in inside), default=0)
                stack.append((int(posts[-1]), max(worst, off), used | {number}))
    return best


def test_where_all_orders_are_as_good_nets_stand_as_they_are_named() -> None:
    found = lay_nets(130_000, [], [Spare(FIFTY, 2), Spare(EVEN, 1)])
    assert [(net.kind.name, net.turned) for net in found.nets] == [
        ("50 m nets", False),
        ("50 m nets", False),
        ("even nets", False),
    ]


def test_very_many_nets_are_laid_as_given_or_the_other_way_round(monkeypatch: pytest.MonkeyPatch) -> None:
    monkeypatch.setattr(order, "MOST_STEPS", 3)
    nets = [Spare(HALF, 1), Spare(EVEN, 2)]
    assert [net.kind for net in lay_nets(85_000, [4_000], nets).nets] == [HALF, EVEN, EVEN]
    other = lay_nets(85_000, [10_000], nets)
    assert [(net.kind, net.turned) for net in other.nets] == [(EVEN, True), (EVEN, True), (HALF, True)]
    assert other.farthest_off_mm == 0


def test_a_run_on_the_map_is_laid_with_its_own_corners() -> None:
    (run,) = open_runs(shapely.box(0, 0, 70, 30), [])
    found = lay_run(run, [Spare(EVEN, 7)])
    assert [corner.at_mm for corner in found.corners] in ([30_000, 100_000, 130_000], [70_000, 100_000, 170_000])
    assert found.farthest_off_mm == 0
    scaled = lay_run(Run(run.line, 220_000, ring=True), [Spare(EVEN, 7)], ground_per_grid=1.1)
    assert scaled.corners[0].at_mm in (33_000, 77_000)


def test_no_nets_lay_nothing() -> None:
    assert lay_nets(0, [], []).nets == ()
