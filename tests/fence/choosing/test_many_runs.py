from __future__ import annotations

import random
from functools import cache
from itertools import product

import numpy as np
import pytest

from pigmap.errors import PlanError
from pigmap.fence.choosing import covers, many_runs
from pigmap.fence.choosing.by_run import ByRun
from pigmap.fence.choosing.covers import covers_of
from pigmap.fence.choosing.many_runs import counts_for_runs
from pigmap.fence.choosing.one_run import counts_for_run
from pigmap.fence.choosing.programme import Programme
from pigmap.fence.choosing.supply import Counts, Supply

Cost = tuple[int, int]


def _best_of_all(needs: list[int], supply: Supply) -> Cost | None:
    """Return least length and fewest nets over every way to share the nets out, useless nets too."""

    @cache
    def best(run: int, left: Counts) -> Cost | None:
        if run == len(needs):
            return (0, 0)
        found: list[Cost] = []
        for taken in product(*(range(count + 1) for count in left)):
            reach = sum(count * length for count, length in zip(taken, supply.lengths_mm, strict=True))
            rest = (
                best(run + 1, tuple(a - b for a, b in zip(left, taken, strict=True))) if reach >= needs[run] else None
            )
            if rest is not None:
                found.append((reach + rest[0], sum(taken) + rest[1]))
        return min(found, default=None)

    return best(0, supply.nets)


def _cost(chosen: list[Counts], supply: Supply) -> Cost:
    return (
        sum(count * length for each in chosen for count, length in zip(each, supply.lengths_mm, strict=True)),
        sum(map(sum, chosen)),
    )


def _random_case(rng: np.random.Generator) -> tuple[list[int], Supply]:
    lengths = [
        (50_000, 25_000),
        (50_000, 35_000, 12_500),
        (50_000, 49_987, 25_013),
        (50_037, 25_013, 12_497),
        (7, 5, 3),
    ][rng.integers(5)]
    nets = tuple(rng.integers(0, 5, len(lengths)).tolist())
    runs = int(rng.integers(2, 5))
    return rng.integers(1, 2 * lengths[0], runs).tolist(), Supply(lengths, nets)


def test_hundreds_of_sets_of_runs_take_the_nets_that_trying_all_finds() -> None:
    rng = np.random.default_rng(11)
    short = contested = 0
    for _ in range(300):
        needs, supply = _random_case(rng)
        found, wanted = counts_for_runs(needs, supply), _best_of_all(needs, supply)
        assert (found is None) is (wanted is None), (needs, supply)
        short += found is None
        if found is None:
            continue
        assert supply.holds(found)
        assert all(supply.length_mm(each) >= need for each, need in zip(found, needs, strict=True))
        assert _cost(found, supply) == wanted, (needs, supply)
        alone = [_best_of_all([need], supply) for need in needs]
        contested += wanted != tuple(sum(each) for each in zip(*(cost for cost in alone if cost), strict=True))
    assert short > 60
    assert contested > 30, "no case in which runs want the same nets"


def test_where_few_choices_are_looked_at_first_the_answer_is_the_same(monkeypatch: pytest.MonkeyPatch) -> None:
    rng = np.random.default_rng(12)
    cases = [_random_case(rng) for _ in range(100)]
    at_once = [counts_for_runs(*case) for case in cases]
    monkeypatch.setattr(many_runs, "FIRST_COVERS", 1)
    looked_on = 0
    for (needs, supply), before in zip(cases, at_once, strict=True):
        found = counts_for_runs(needs, supply)
        looked_on += found is not None and any(
            each != tuple(covers_of(need, *supply)[0, 1:].tolist()) for each, need in zip(found, needs, strict=True)
        )
        assert (found is None) is (before is None)
        if found is not None and before is not None:
            assert _cost(found, supply) == _cost(before, supply)
    assert looked_on > 20


def test_four_sides_of_fifty_metres_take_four_nets_and_leave_nothing() -> None:
    assert counts_for_runs([50_000] * 4, Supply((50_000,), (4,))) == [(1,)] * 4


def test_a_net_that_another_run_needs_more_is_left_to_it() -> None:
    # Alone each would take the net of 35 m; the second cannot do without it.
    supply = Supply((50_000, 35_000), (1, 1))
    assert counts_for_runs([34_000, 35_000], supply) in ([(1, 0), (0, 1)], [(0, 1), (1, 0)])
    assert counts_for_runs([34_000, 36_000], supply) == [(0, 1), (1, 0)]
    assert counts_for_runs([36_000, 36_000], supply) is None


def test_a_millimetre_decides() -> None:
    supply = Supply((50_000, 49_999), (1, 1))
    assert counts_for_runs([49_999, 50_000], supply) == [(0, 1), (1, 0)]
    assert counts_for_runs([50_000, 50_000], supply) is None


def test_of_many_nets_none_too_many_is_taken_where_the_length_is_the_same() -> None:
    # 200 runs, a thousandth of whose length outweighs no net: what a solver leaves open by default.
    supply = Supply((40_000, 20_000), (150, 101))
    found = counts_for_runs([40_000] * 200, supply)
    assert found is not None
    assert sum(map(sum, found)) == 150 + 100


def test_the_order_of_runs_does_not_matter() -> None:
    rng = np.random.default_rng(13)
    for _ in range(40):
        needs, supply = _random_case(rng)
        order = rng.permutation(len(needs)).tolist()
        found, turned = counts_for_runs(needs, supply), counts_for_runs([needs[run] for run in order], supply)
        assert (found is None) is (turned is None)
        if found is not None and turned is not None:
            assert sorted(zip([needs[run] for run in order], turned, strict=True)) == sorted(
                zip(needs, found, strict=True)
            )


def test_a_smaller_stock_never_gives_a_better_answer() -> None:
    rng = np.random.default_rng(14)
    compared = 0
    for _ in range(120):
        needs, supply = _random_case(rng)
        fewer = supply._replace(nets=tuple(max(0, nets - int(rng.integers(0, 2))) for nets in supply.nets))
        more, less = counts_for_runs(needs, supply), counts_for_runs(needs, fewer)
        if less is not None:
            assert more is not None
            assert _cost(more, supply) <= _cost(less, fewer)
            compared += 1
    assert compared > 20


def test_every_choice_that_can_do_without_no_net_is_listed_once_the_best_first() -> None:
    lengths, stock, need = (50, 35, 25, 12), (3, 2, 3, 4), 117
    listed = covers_of(need, lengths, stock).tolist()
    wanted = [
        (reach, sum(counts), counts)
        for counts in product(*(range(most + 1) for most in stock))
        if (reach := int(np.dot(counts, lengths))) >= need
        and all(reach - length < need for count, length in zip(counts, lengths, strict=True) if count)
    ]
    assert len(wanted) > 10
    assert sorted((reach, tuple(counts)) for reach, *counts in listed) == sorted(
        (reach, each) for reach, _, each in wanted
    )
    assert [(reach, sum(counts)) for reach, *counts in listed] == sorted((reach, nets) for reach, nets, _ in wanted)


def test_runs_that_the_same_choices_close_share_their_columns() -> None:
    supply = Supply((50_000, 25_000), (40, 60))
    apart = Programme(supply, [covers_of(need, *supply) for need in (60_000, 110_000)])
    together = Programme(supply, [covers_of(need, *supply) for need in (60_000, 61_000, 62_000, 110_000, 120_000)])
    assert len(together._table.most) == len(apart._table.most)


def test_long_runs_are_shared_out_without_looking_at_all_that_closes_them(monkeypatch: pytest.MonkeyPatch) -> None:
    supply = Supply((50_000, 49_987, 30_480, 25_013), (16, 11, 14, 12))
    needs = [712_345, 687_654, 600_001]
    assert max(len(covers_of(need, *supply)) for need in needs) > many_runs.FIRST_COVERS
    found = counts_for_runs(needs, supply)
    monkeypatch.setattr(many_runs, "FIRST_COVERS", 10_000)
    at_once = counts_for_runs(needs, supply)
    assert found is not None
    assert at_once is not None
    assert _cost(found, supply) == _cost(at_once, supply)


def test_millions_of_choices_are_refused(monkeypatch: pytest.MonkeyPatch) -> None:
    monkeypatch.setattr(covers, "MOST_ROWS", 10)
    with pytest.raises(PlanError) as raised:
        covers_of(900_000, (50_000, 35_000, 25_000), (20, 20, 20))
    assert str(raised.value.message) == "There are millions of ways to share 3 kinds of nets out over runs this long."
    assert str(raised.value.remedy) == "Choose fewer kinds for them."


class _Left:
    """What the solver gives where its time is over."""

    status, x = 1, None


def test_where_nothing_is_found_in_time_it_is_said_with_what_to_do(monkeypatch: pytest.MonkeyPatch) -> None:
    monkeypatch.setattr("scipy.optimize.milp", lambda *_, **__: _Left)
    with pytest.raises(PlanError) as raised:
        counts_for_runs([34_000, 35_000], Supply((50_000, 35_000), (1, 1)))
    assert str(raised.value.message) == (
        "It takes too long to see whether 2 stretches can be closed by the nets that are free."
    )
    assert str(raised.value.remedy) == "Close some of them first, or leave more nets for them."


def test_what_was_found_when_the_time_was_over_is_not_said_to_be_best(monkeypatch: pytest.MonkeyPatch) -> None:
    from scipy.optimize import milp

    def ended(*given: object, **more: object) -> object:
        done = milp(*given, **more)
        done.status = 1
        return done

    needs, supply = [34_000, 35_000], Supply((50_000, 35_000), (1, 1))
    sure = counts_for_runs(needs, supply)
    monkeypatch.setattr("scipy.optimize.milp", ended)
    found = counts_for_runs(needs, supply)
    assert found is not None
    assert sure is not None
    assert (_cost(found, supply), found.sure, sure.sure) == (_cost(sure, supply), False, True)


def test_the_two_roads_come_to_the_same() -> None:
    rng = random.Random(17)
    for _ in range(40):
        lengths = tuple(sorted(rng.sample((50_000, 35_000, 30_480, 25_013, 12_500), 3), reverse=True))
        supply = Supply(lengths, tuple(rng.randint(1, 4) for _ in lengths))
        needs = sorted(rng.randint(5_000, 130_000) for _ in range(3))
        alone = [counts_for_run(need, *supply) for need in needs]
        if sum(needs) > supply.reach_mm or None in alone:
            continue
        least = [supply.length_mm(each) for each in alone if each is not None]
        by_run = ByRun(least, supply).solved(60.0)
        by_covers = Programme(supply, [covers_of(need, *supply) for need in needs]).solved(60.0)
        assert by_run.sure
        assert by_covers.sure
        assert (by_run.counts is None) is (by_covers.counts is None)
        if by_run.counts is not None and by_covers.counts is not None:
            assert _cost(by_run.counts, supply) == _cost(by_covers.counts, supply)
