from __future__ import annotations

import numpy as np
import pytest

from pigmap.errors import PlanError
from pigmap.fence.choice import choose_nets, chosen_nets
from pigmap.fence.choosing.lacking import nets_lacking
from pigmap.fence.fitted import Spare
from pigmap.records import NetKind

FIFTY = NetKind(name="50 m nets", bays_mm=(3572,) * 13 + (3564,))
HALF = NetKind(name="25 m nets", bays_mm=(3571,) * 6 + (3574,))


def _said(lengths: list[int], spare: list[Spare]) -> tuple[str, str]:
    with pytest.raises(PlanError) as raised:
        chosen_nets(lengths, spare)
    return str(raised.value.message), str(raised.value.remedy)


def test_nets_that_are_too_short_together_say_by_how_much_and_how_many_more_would_do() -> None:
    assert _said([240_000], [Spare(FIFTY, 3), Spare(HALF, 1)]) == (
        "Nets are to close 240.0 m. Those that are free reach 175.0 m: 65.0 m short.",
        "Add 2 nets of 50 m or 3 nets of 25 m, or make it smaller.",
    )


def test_nets_that_are_long_enough_but_too_few_say_that_none_serves_two_stretches() -> None:
    assert _said([20_000] * 4, [Spare(FIFTY, 2), Spare(HALF, 1)]) == (
        "Nets are to close 4 stretches, 80.0 m together. Those that are free reach 125.0 m, "
        "but no net serves two stretches.",
        "Add 1 net of 50 m or 1 net of 25 m, or make it smaller.",
    )


def test_where_none_is_free_it_says_so() -> None:
    assert _said([20_000], [Spare(FIFTY, 0)]) == (
        "Nets are to close 20.0 m, and none is free.",
        "Add 1 net of 50 m, or make it smaller.",
    )


def test_where_no_nets_are_entered_it_asks_for_them() -> None:
    assert _said([20_000], []) == (
        "Nets are to close 20.0 m, and none are entered.",
        "Say how many nets you own, and how long they are.",
    )


def test_so_many_more_close_it_and_one_less_does_not() -> None:
    rng = np.random.default_rng(15)
    compared = 0
    for _ in range(40):
        lengths = rng.integers(5_000, 120_000, rng.integers(1, 5)).tolist()
        spare = [Spare(FIFTY, int(rng.integers(0, 4))), Spare(HALF, int(rng.integers(0, 4)))]
        if choose_nets(lengths, spare) is not None:
            continue
        for number, each in enumerate(nets_lacking(lengths, spare).more):
            enough = [*spare]
            enough[number] = Spare(each.kind, spare[number].nets + each.nets)
            assert choose_nets(lengths, enough) is not None
            enough[number] = Spare(each.kind, spare[number].nets + each.nets - 1)
            assert choose_nets(lengths, enough) is None
            compared += 1
    assert compared > 25
