"""Nets of sides of more than one length, as a row keeps them."""

from __future__ import annotations

import pytest
from hypothesis import given
from hypothesis import strategies as st

from pigmap.records.side_nets import SIDES, SideNets, read, written

SIDE = st.lists(
    st.tuples(st.sampled_from(["fifty", "half", "0190-a"]), st.integers(1, 40)), min_size=1, max_size=3
).map(tuple)


@given(st.lists(SIDE, min_size=SIDES, max_size=SIDES))
def test_what_is_written_reads_the_same(sides: list[SideNets]) -> None:
    assert read(written(sides)) == tuple(sides)


def test_opposite_sides_that_hold_the_same_are_written_once() -> None:
    assert written([(("fifty", 1),), (("half", 2),)] * 2) == ("1 fifty", "2 half")


@pytest.mark.parametrize(
    "kept", [(), ("1 fifty",), ("1 fifty", ""), ("0 fifty", "1 half"), ("1 fifty", "half"), ("1 fifty", "1", "2", "3")]
)
def test_what_tells_no_nets_is_as_if_nothing_was_said(kept: tuple[str, ...]) -> None:
    assert read(kept) == ()
