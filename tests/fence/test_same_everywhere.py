"""Wherever and whichever way round a farm lies, its moves take the same nets, and none is lost on the way."""

from __future__ import annotations

from collections import Counter
from collections.abc import Callable
from dataclasses import replace
from itertools import product

import pytest
import shapely
from hypothesis import given, settings
from hypothesis import strategies as st
from shapely.affinity import rotate, scale, translate

from pigmap.fence.books import Books
from pigmap.fence.choice import choose_nets
from pigmap.fence.count import PLAY_MM
from pigmap.fence.fitted import Spare
from pigmap.records import Farm, NetKind
from tests.fence.plans import on, plan, row, wandering
from tests.planning.invented import TODAY

Placing = Callable[[shapely.Polygon], shapely.Polygon]
LENGTHS_MM = (50_000, 35_000, 25_000, 12_500)


def _placed(farm: Farm, place: Placing) -> Farm:
    def there(outline: shapely.Polygon) -> shapely.Polygon:
        return shapely.orient_polygons(place(outline))  # as the farm file keeps them

    return replace(
        farm,
        paddocks={uid: replace(each, outline=there(each.outline)) for uid, each in farm.paddocks.items()},
        stays={uid: replace(each, ground=there(each.ground)) for uid, each in farm.stays.items()},
    )


def _counted(farm: Farm) -> list[tuple[int, int, int, int]]:
    return [
        (len(move.to_set), len(move.to_take_up), move.during["kind"], move.after["kind"])
        for move in Books(farm, TODAY).moves
    ]


@settings(max_examples=12, deadline=None)
@given(seed=st.integers(0, 10_000), degrees=st.floats(0, 360), east=st.floats(-3e4, 3e4), north=st.floats(-3e4, 3e4))
def test_a_farm_that_is_turned_and_moved_takes_as_many_nets_at_every_move(
    seed: int, degrees: float, east: float, north: float
) -> None:
    farm = plan(wandering(seed, 30), nets=40)
    there = _placed(farm, lambda shape: rotate(translate(shape, east, north), degrees, origin=(0, 0)))
    assert _counted(there) == _counted(farm)


@pytest.mark.parametrize("size", [(50, 50), (60, 40), (40, 60), (75, 25), (100, 50), (50, 25)])
@pytest.mark.parametrize("over", [(-1, 1), (1, -1)])
def test_a_row_that_is_mirrored_takes_as_many_nets_at_most(size: tuple[int, int], over: tuple[int, int]) -> None:
    farm = plan(row(*size, 8), nets=40)
    there = _placed(farm, lambda shape: scale(shape, *over, origin=(0, 0)))
    assert max(during for _, _, during, _ in _counted(there)) == max(during for _, _, during, _ in _counted(farm))


@settings(max_examples=8, deadline=None)
@given(seed=st.integers(0, 10_000))
def test_nets_are_conserved_over_all_moves(seed: int) -> None:
    books = Books(plan(wandering(seed, 60), nets=60), TODAY)
    standing = books.at_first["kind"]
    for move in books.moves:
        standing += len(move.to_set)
        assert move.during["kind"] == standing
        standing -= len(move.to_take_up)
        assert move.after["kind"] == standing
        assert not {id(each) for each in move.to_set} & {id(each) for each in move.to_take_up}
    for day in (0, 17, 43):
        names = Counter(each.net.uid for each in books.standing(on(day)) if each.net is not None)
        assert set(names.values()) <= {1}
        assert sum(names.values()) == books.counts(on(day))["kind"]


@settings(max_examples=40, deadline=None)
@given(
    nets=st.lists(st.sampled_from(LENGTHS_MM), min_size=1, max_size=8),
    needs=st.lists(st.integers(1_000, 150_000), min_size=1, max_size=2),
)
def test_every_choice_of_up_to_eight_nets_is_the_best_of_all(nets: list[int], needs: list[int]) -> None:
    kinds = {length: NetKind(uid=str(length), name=f"{length}", bays_mm=(length,)) for length in LENGTHS_MM}
    stock = Counter(nets)
    found = choose_nets(needs, [Spare(kinds[length], count) for length, count in stock.items()])
    best: tuple[int, int] | None = None
    for dealt in product(range(len(needs) + 1), repeat=len(nets)):  # 0 is a net that stays behind
        reach = Counter[int]()
        for run, length in zip(dealt, nets, strict=True):
            reach[run] += length
        if all(reach[run] >= max(need - PLAY_MM, 1) for run, need in enumerate(needs, start=1)):
            taken = sum(map(bool, dealt))
            cost = sum(reach[run] for run in range(1, len(needs) + 1)), taken
            best = cost if best is None else min(best, cost)
    if best is None or found is None:
        assert best is None
        assert found is None
    else:
        assert (sum(each.left_mm for each in found) + sum(needs), sum(each.taken for each in found)) == best
