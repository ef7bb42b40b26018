"""Choose the nets of many runs from a scarce stock of four kinds, beside the plain integer programme of the same."""

from __future__ import annotations

from collections.abc import Callable, Iterator
from functools import partial
from itertools import product
from time import process_time
from typing import TypeVar

import numpy as np

from pigmap.fence.choice import choose_nets
from pigmap.fence.fitted import Spare
from pigmap.records import NetKind
from tests.benchmarks.sticks import Measured

LENGTHS = {
    "metres": (50_000, 35_000, 25_000, 12_500),
    "metres and feet": (50_000, 49_987, 30_480, 25_013),
}
"""Nets [mm]: with a common measure of 2.5 m, and with none but the millimetre."""
BY_HAND = (50_037, 34_991, 25_013, 12_497)
"""Nets as measured by hand [mm], that nearly divide one another: the plain programme takes half a minute for some."""
SHARES = (0.45, 0.25, 0.25, 0.15)
"""What nets of each kind reach of all runs: little more than they need."""
RUNS = (100, 300)
Found = TypeVar("Found")


def case(runs: int, lengths: tuple[int, ...], seed: int) -> tuple[list[int], list[Spare]]:
    """Make runs of 18 to 160 m to the millimetre, invented, and a stock for them."""
    rng = np.random.default_rng(seed)
    needs = rng.integers(18_000, 160_001, runs).tolist()
    kinds = [NetKind(name=f"{length} mm", bays_mm=(length,)) for length in lengths]
    nets = [int(sum(needs) * share / length) + 1 for share, length in zip(SHARES, lengths, strict=True)]
    return needs, [Spare(kind, count) for kind, count in zip(kinds, nets, strict=True)]


def timed(work: Callable[[], Found]) -> tuple[Found, float]:
    """Return what some work gives, and the processor time of all threads it took [s]."""
    began = process_time()
    found = work()
    return found, process_time() - began


def plain(needs: list[int], spare: list[Spare]) -> tuple[int, int]:
    """Return length and nets of the best choice [mm]: a column for every choice of every run, nothing done together."""
    from scipy.optimize import LinearConstraint, milp
    from scipy.sparse import csr_array

    lengths = [each.kind.length_mm for each in spare]
    choices = [(run, counts) for run, need in enumerate(needs) for counts in every_choice(need - 100, lengths)]
    of_run = csr_array(([1.0] * len(choices), ([run for run, _ in choices], range(len(choices)))))
    nets = np.array([counts for _, counts in choices], dtype=np.float64)
    reach = nets @ np.array(lengths)
    done = milp(
        reach * 1_000 + nets.sum(axis=1),
        integrality=np.ones(len(choices)),
        bounds=(0, 1),
        constraints=[
            LinearConstraint(of_run, 1, 1),
            LinearConstraint(csr_array(nets.T), 0, np.array([each.nets for each in spare], dtype=np.float64)),
        ],
        options={"mip_rel_gap": 0.0},
    )
    assert done.status == 0, done.message
    return round(float(reach @ done.x)), round(float(nets.sum(axis=1) @ done.x))


def every_choice(need: int, lengths: list[int]) -> Iterator[tuple[int, ...]]:
    """Yield every choice that reaches a length and does not without any one of its nets."""
    for counts in product(*(range(-(-need // length) + 1) for length in lengths)):
        over = sum(count * length for count, length in zip(counts, lengths, strict=True)) - need
        if 0 <= over < min(length for count, length in zip(counts, lengths, strict=True) if count):
            yield counts


def measure_choice(*, quick: bool) -> dict[str, Measured]:
    """Measure the slowest of some cases; each must come to what the plain programme comes to."""
    choose_nets(*case(12, LENGTHS["metres"], 0))  # the first choice also loads the solver
    found = {f"choice-{runs}": _measured(runs, 1 if quick else 5) for runs in RUNS}
    by_hand = [timed(partial(choose_nets, *case(100, BY_HAND, seed)))[1] for seed in range(1 if quick else 10)]
    note = f"half of {len(by_hand)} cases within {np.median(by_hand):.2f} s"
    return found | {"choice-by-hand": Measured(max(by_hand), note=note)}


def _measured(runs: int, seeds: int) -> Measured:
    ours: list[float] = []
    ratios: list[float] = []
    for name, seed in product(LENGTHS, range(seeds)):
        needs, spare = case(runs, LENGTHS[name], seed)
        choices, took = timed(partial(choose_nets, needs, spare))
        (length, nets), stick = timed(partial(plain, needs, spare))
        assert choices is not None
        assert sum(choice.left_mm for choice in choices) + sum(needs) == length, (name, seed)
        assert sum(choice.taken for choice in choices) == nets, (name, seed)
        ours.append(took)
        ratios.append(took / stick)
    note = f"half of {len(ours)} cases within {np.median(ours):.2f} s; all as good as the stick finds"
    return Measured(max(ours), float(np.median(ratios)), note=note)
