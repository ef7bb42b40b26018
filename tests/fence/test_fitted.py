from __future__ import annotations

from itertools import pairwise, product

import numpy as np
import pytest
from hypothesis import given
from hypothesis import strategies as st

from pigmap.fence.fitted import CLICKED_M, CLICKED_SHARE, Spare, laid_along, laid_as_told, nets_that_fit
from pigmap.geometry.runs import Run
from pigmap.records import NetKind

FIFTY = NetKind(uid="fifty", name="50 m nets", bays_mm=(3572,) * 13 + (3564,))
HALF = NetKind(uid="half", name="25 m nets", bays_mm=(3572,) * 6 + (3568,))


def _fit(metres: float, fifty: int, half: int) -> dict[str, int] | None:
    found = nets_that_fit(_run((0, 0), (metres, 0)), [Spare(FIFTY, fifty), Spare(HALF, half)])
    return None if found is None else {kind.uid: nets for kind, nets in found}


@pytest.mark.parametrize(
    ("metres", "fifty", "half", "wanted"),
    [
        (200.0, 14, 2, {"fifty": 4}),
        (203.5, 14, 2, {"fifty": 4}),  # the corners were clicked by eye
        (171.0, 14, 2, {"fifty": 3, "half": 1}),
        (148.0, 14, 2, {"fifty": 3}),
        (98.0, 1, 2, {"fifty": 1, "half": 2}),
        (200.0, 3, 1, None),
        (10.0, 0, 0, None),
    ],
)
def test_the_nets_that_come_nearest_are_taken(
    metres: float, fifty: int, half: int, wanted: dict[str, int] | None
) -> None:
    assert _fit(metres, fifty, half) == wanted


@given(st.integers(1, 400_000), st.integers(0, 6), st.integers(0, 6))
def test_along_a_straight_run_it_is_the_nearest_of_all_choices(length_mm: int, fifty: int, half: int) -> None:
    least = length_mm - round(CLICKED_M * 1000 + CLICKED_SHARE * length_mm)
    choices = [
        (abs(long * 50_000 + short * 25_000 - length_mm), long + short)
        for long, short in product(range(fifty + 1), range(half + 1))
        if long * 50_000 + short * 25_000 >= least
    ]
    found = _fit(length_mm / 1000, fifty, half)
    if found is None:
        assert not choices
        return
    reach = found.get("fifty", 0) * 50_000 + found.get("half", 0) * 25_000
    assert (abs(reach - length_mm), sum(found.values())) == min(choices)


@pytest.mark.parametrize(
    ("long", "wide", "wanted"),
    [
        (49.0, 26.0, {"fifty": 2, "half": 2}),
        (26.0, 49.0, {"fifty": 2, "half": 2}),
        (50.7, 24.4, {"fifty": 2, "half": 2}),
        (49.0, 50.5, {"fifty": 4}),
        (101.0, 49.0, {"fifty": 6}),
    ],
)
def test_nets_that_are_as_long_as_the_sides_come_before_fewer_that_go_round_corners(
    long: float, wide: float, wanted: dict[str, int]
) -> None:
    run = _run((0, 0), (long, 0), (long, wide), (0, wide), (0, 0))
    found = nets_that_fit(run, [Spare(FIFTY, 14), Spare(HALF, 2)])
    assert found is not None
    assert {kind.uid: nets for kind, nets in found} == wanted


def test_nets_that_someone_counted_are_all_laid_even_where_they_are_too_many() -> None:
    run = _run((0, 0), (49, 0), (49, 26), (0, 26), (0, 0))
    laid = laid_as_told(run, [Spare(FIFTY, 3), Spare(HALF, 2)], 1.0)
    assert [net.kind.uid for net in laid].count("fifty") == 3
    assert len(laid) == 5
    assert sum(net.line.length for net in laid) == pytest.approx(150)
    assert min(net.line.length for net in laid) > 10


def _run(*points: tuple[float, float]) -> Run:
    line = np.array(points)
    return Run(line, round(float(np.hypot(*np.diff(line, axis=0).T).sum()) * 1000))


def test_each_net_ends_at_a_corner_where_one_does() -> None:
    run = _run((0, 0), (25, 0), (25, 50), (0, 50))
    laid = laid_along(run, [Spare(FIFTY, 1), Spare(HALF, 2)], 1.0)
    assert [net.kind.uid for net in laid] == ["half", "fifty", "half"]
    assert [round(net.line.length) for net in laid] == [25, 50, 25]


def test_a_net_that_ends_as_good_as_at_a_corner_ends_there() -> None:
    laid = laid_along(_run((0, 0), (51, 0), (51, 49.5), (0, 49)), [Spare(FIFTY, 3)], 1.0)
    assert [net.line.length for net in laid] == pytest.approx([51, 49.5, 51], abs=0.01)


def test_nets_are_drawn_out_to_a_run_that_seems_longer_and_the_last_is_folded_in_a_shorter_one() -> None:
    longer = laid_along(_run((0, 0), (52, 0), (52, 52)), [Spare(FIFTY, 2)], 1.0)
    assert [net.line.length for net in longer] == pytest.approx([52, 52])
    shorter = laid_along(_run((0, 0), (50, 0), (50, 40)), [Spare(FIFTY, 2)], 1.0)
    assert [net.line.length for net in shorter] == pytest.approx([50, 40])


@given(st.floats(5, 200), st.floats(5, 200), st.integers(0, 4), st.integers(0, 4))
def test_nets_follow_each_other_and_none_is_left_over_that_is_needed(
    one: float, other: float, fifty: int, half: int
) -> None:
    run = _run((0.0, 0.0), (one, 0.0), (one, other))
    chosen = nets_that_fit(run, [Spare(FIFTY, fifty), Spare(HALF, half)])
    if chosen is None:
        return
    laid = laid_along(run, chosen, 1.0)
    assert len(laid) == sum(each.nets for each in chosen)
    assert sum(net.line.length for net in laid) == pytest.approx(one + other)
    for before, after in pairwise(laid):
        assert before.line.coords[-1] == pytest.approx(after.line.coords[0])
