from __future__ import annotations

from itertools import product

import numpy as np
import pytest

from pigmap.fence.choosing.one_run import counts_for_run


def _best_of_all(need: int, lengths: list[int], stock: list[int]) -> tuple[int, int] | None:
    """Return least length and fewest nets of every way to take nets: each net is in or out."""
    nets = [length for length, most in zip(lengths, stock, strict=True) for _ in range(most)]
    ways = ((sum(taken), len(taken)) for taken in _subsets(nets) if sum(taken) >= need)
    return min(ways, default=None)


def _subsets(nets: list[int]) -> list[list[int]]:
    return [[net for net, taken in zip(nets, way, strict=True) if taken] for way in product((0, 1), repeat=len(nets))]


def test_thousands_of_runs_take_the_nets_that_trying_all_finds() -> None:
    rng = np.random.default_rng(26)
    measures = [[50_000, 25_000, 12_500], [50_000, 49_987, 25_013], [7_000, 5_000, 3_000], [41, 23, 17, 11]]
    without = 0
    for case in range(2_000):
        lengths = measures[case % 4]
        stock = rng.multinomial(rng.integers(0, 9), np.full(len(lengths), 1 / len(lengths))).tolist()
        need = int(rng.integers(1, 6 * lengths[0]))
        found = counts_for_run(need, lengths, stock)
        wanted = _best_of_all(need, lengths, stock)
        without += wanted is None
        if wanted is None:
            assert found is None, (need, lengths, stock)
            continue
        assert found is not None, (need, lengths, stock)
        assert all(0 <= count <= most for count, most in zip(found, stock, strict=True))
        assert (int(np.dot(found, lengths)), sum(found)) == wanted, (need, lengths, stock)
    assert 300 < without < 1_500


@pytest.mark.parametrize(
    ("need", "lengths", "left"), [(27, (8, 5), 1), (28, (8, 5), 0), (59, (11, 7), 1), (60, (11, 7), 0)]
)
def test_from_a_times_b_less_a_less_b_on_two_lengths_without_a_common_measure_leave_nothing_over(
    need: int, lengths: tuple[int, int], left: int
) -> None:
    # Derived: a b - a - b is the largest number that is no sum of a and b.
    counts = counts_for_run(need, lengths, (99, 99))
    assert counts is not None
    assert int(np.dot(counts, lengths)) - need == left


@pytest.mark.parametrize("lengths", [(8, 5), (11, 7), (13, 12)])
def test_every_longer_run_is_closed_without_a_rest(lengths: tuple[int, int]) -> None:
    long, short = lengths
    largest = long * short - long - short
    for need in range(largest, largest + long + short):
        counts = counts_for_run(need, lengths, (99, 99))
        assert counts is not None
        assert int(np.dot(counts, lengths)) - need == (1 if need == largest else 0)


def test_a_hundred_and_ten_metres_take_three_nets_of_fifty_and_twenty_five_and_leave_fifteen() -> None:
    assert counts_for_run(110_000, (50_000, 25_000), (9, 9)) == (2, 1)


def test_nothing_takes_nothing_and_no_nets_close_nothing() -> None:
    assert counts_for_run(0, (50_000,), (2,)) == (0,)
    assert counts_for_run(0, (), ()) == ()
    assert counts_for_run(1, (), ()) is None
    assert counts_for_run(1, (50_000,), (0,)) is None


def test_a_long_run_of_many_kinds_is_still_exact_to_the_millimetre() -> None:
    lengths, stock = (50_000, 49_987, 30_480, 25_013), (20, 20, 20, 20)
    counts = counts_for_run(1_234_567, lengths, stock)
    assert counts is not None
    # Every millimetre: a second way through sums of any order, one net at a time.
    fewest = {0: 0}
    for length, most in zip(lengths, stock, strict=True):
        fewest = {
            reach: min(
                fewest[reach - times * length] + times for times in range(most + 1) if reach - times * length in fewest
            )
            for reach in {each + times * length for each in fewest for times in range(most + 1)}
        }
    best = min((reach, nets) for reach, nets in fewest.items() if reach >= 1_234_567)
    assert (int(np.dot(counts, lengths)), sum(counts)) == best
