from __future__ import annotations

import pytest
import shapely
from hypothesis import given, settings
from hypothesis import strategies as st
from shapely import affinity
from shapely.geometry.base import BaseGeometry

from pigmap.fence.choice import Choice, choose_nets, chosen_nets
from pigmap.fence.count import nets_along
from pigmap.fence.fitted import Spare
from pigmap.geometry.runs import open_runs
from pigmap.records import NetKind

FIFTY = NetKind(name="50 m nets", bays_mm=(3572,) * 13 + (3564,))
FEET = NetKind(name="164 ft nets", bays_mm=(3810,) * 13 + (457,))
HALF = NetKind(name="25 m nets", bays_mm=(3571,) * 6 + (3574,))
RED = NetKind(name="25 m nets, red tape", bays_mm=(5_000,) * 5)


def _said(choice: Choice) -> list[tuple[str, int]]:
    return [(each.kind.name, each.nets) for each in choice.nets]


@pytest.mark.parametrize("length", [0, 1, 50, 100, 101, 49_987, 50_000, 50_100, 50_101, 150_100, 150_101, 240_000])
@pytest.mark.parametrize("kind", [FIFTY, FEET, HALF], ids=lambda kind: kind.name)
def test_of_one_kind_as_many_are_chosen_as_are_counted(kind: NetKind, length: int) -> None:
    (choice,) = chosen_nets([length], [Spare(kind, 99)])
    assert choice.taken == nets_along(length, kind)
    assert choice.left_mm == choice.taken * kind.length_mm - length


def test_a_run_that_is_longer_by_its_play_takes_no_other_net() -> None:
    (choice,) = chosen_nets([150_100], [Spare(FIFTY, 4), Spare(HALF, 4)])
    assert _said(choice) == [("50 m nets", 3)]
    assert choice.left_mm == -100
    (choice,) = chosen_nets([150_101], [Spare(FIFTY, 4), Spare(HALF, 4)])
    assert _said(choice) == [("50 m nets", 3), ("25 m nets", 1)]


def test_kinds_of_one_length_count_together_and_the_first_is_used_up_first() -> None:
    choices = chosen_nets([25_000, 50_000, 25_000], [Spare(RED, 2), Spare(HALF, 2)])
    assert [_said(choice) for choice in choices] == [
        [("25 m nets, red tape", 1)],
        [("25 m nets, red tape", 1), ("25 m nets", 1)],
        [("25 m nets", 1)],
    ]
    assert choose_nets([25_000] * 5, [Spare(RED, 2), Spare(HALF, 2)]) is None


def test_no_runs_and_runs_of_no_length_take_no_nets() -> None:
    assert choose_nets([], [Spare(FIFTY, 4)]) == ()
    assert choose_nets([], []) == ()
    assert choose_nets([0], []) == (Choice((), 0),)
    assert choose_nets([0, 50_000], [Spare(FIFTY, 1)]) == (Choice((), 0), Choice((Spare(FIFTY, 1),), 0))


def test_the_order_in_which_kinds_are_named_does_not_matter() -> None:
    spare = [Spare(HALF, 3), Spare(FEET, 2), Spare(FIFTY, 2)]
    lengths = [74_000, 99_980, 50_050]
    assert choose_nets(lengths, spare) == choose_nets(lengths, spare[::-1])


PADDOCKS = st.builds(
    lambda wide, deep, cut_wide, cut_deep: shapely.Polygon(
        [
            (0, 0),
            (wide, 0),
            (wide, deep - cut_deep),
            (wide - cut_wide, deep - cut_deep),
            (wide - cut_wide, deep),
            (0, deep),
        ]
    ),
    st.integers(20, 120),
    st.integers(20, 120),
    st.integers(5, 15),
    st.integers(5, 15),
)


@settings(max_examples=60, deadline=None)
@given(
    PADDOCKS,
    st.integers(1, 359),
    st.booleans(),
    st.tuples(st.integers(-(10**6), 10**6), st.integers(-(10**6), 10**6)),
    st.lists(st.integers(0, 12), min_size=3, max_size=3),
)
def test_turning_moving_and_mirroring_a_paddock_changes_no_net(
    paddock: shapely.Polygon, degrees: int, mirrored: bool, move: tuple[int, int], nets: list[int]
) -> None:
    spare = [Spare(kind, count) for kind, count in zip((FIFTY, FEET, HALF), nets, strict=True)]
    fence = shapely.LineString([(0.0, 0.0), (paddock.bounds[2], 0.0)])
    before = choose_nets([run.length_mm for run in open_runs(paddock, [fence])], spare)
    there = [_placed(shape, degrees, mirrored, move) for shape in (paddock, fence)]
    assert isinstance(there[0], shapely.Polygon)
    after = choose_nets([run.length_mm for run in open_runs(there[0], [there[1]])], spare)
    assert after == before


def _placed(shape: BaseGeometry, degrees: int, mirrored: bool, move: tuple[int, int]) -> BaseGeometry:
    turned = affinity.rotate(shape, degrees, origin=(0, 0))
    if mirrored:
        turned = affinity.scale(turned, -1.0, 1.0, origin=(0, 0))
    return affinity.translate(turned, *move)


@settings(max_examples=80, deadline=None)
@given(
    st.lists(st.integers(1_000, 130_000), min_size=1, max_size=5),
    st.lists(st.tuples(st.integers(0, 6), st.integers(0, 6)), min_size=3, max_size=3),
)
def test_a_smaller_stock_never_leaves_less_over(lengths: list[int], nets: list[tuple[int, int]]) -> None:
    kinds = (FIFTY, FEET, HALF)
    less = choose_nets(lengths, [Spare(kind, min(pair)) for kind, pair in zip(kinds, nets, strict=True)])
    more = choose_nets(lengths, [Spare(kind, max(pair)) for kind, pair in zip(kinds, nets, strict=True)])
    if less is not None:
        assert more is not None
        assert _worth(more) <= _worth(less)


def _worth(choices: tuple[Choice, ...]) -> tuple[int, int]:
    return sum(choice.left_mm for choice in choices), sum(choice.taken for choice in choices)
